//! What a person sees and what a person can do.
//!
//! [`Companion`] is the one object that a shell holds. It opens a book, gives
//! [screens](record) as typed records with final words and numbers, and takes
//! the actions. Every call is told an [`Env`]; screens are named by
//! [routes](route). All words come from `text/`.

uniffi::setup_scaffolding!();

mod apart;
mod assessed;
mod athlete;
mod athletes;
mod body;
mod card;
mod check_in;
mod clock;
mod companion;
mod correction;
mod course;
mod details;
mod devices;
mod effort;
mod env;
mod exchange;
mod exercises;
mod export;
mod failure;
mod figure;
mod group;
mod guard;
mod headings;
pub mod import;
mod job;
mod judged;
mod jumps;
mod labels;
#[cfg(unix)]
mod lent;
mod log_set;
mod log_today;
mod marking;
mod more;
mod naming;
mod newest;
mod notice;
mod own_course;
mod plan;
pub mod record;
mod repeat;
pub mod route;
mod rules;
mod session;
mod session_log;
mod settings;
mod sharing;
mod spike;
mod squad;
pub mod take;
mod targets;
mod text;
mod today;
mod training;
mod units;
mod wishes;
mod wording;

pub use companion::{BookTrouble, Companion, Effort, ScreenError, SessionForm};
pub use correction::Correction;
pub use effort::{EffortDraft, EffortPage, Reminder};
pub use env::Env;
pub use exchange::{Exchange, ExchangeEnd, Invited, KeptRow, KnownRow, WorkWords, work_words};
pub use export::{member_record, names};
pub use failure::{Failure, failure};
pub use group::{Group, GroupForm, GroupRow};
pub use headings::{Headings, headings};
pub use job::{Job, JobError, JobProgress, Nearby, Synced};
pub use labels::{Labels, labels};
#[cfg(unix)]
pub use lent::read_lent_clip;
pub use marking::OpenClip;
pub use own_course::{Condition, OwnCourse};
pub use session_log::{ConditionRow, LoggedSet, SessionLog};
pub use settings::{Chosen, Setting, Settings, Switch, spoken};
