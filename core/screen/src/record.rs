//! The typed records of the screens: final words and numbers, in order.
//!
//! A row has an `id` that stays the same while the thing does, and a `spoken`
//! sentence for a screen reader that says all that the row shows. A shell draws
//! records and forwards actions; it decides nothing.

pub use crate::effort::Reminder;
pub use crate::plan::record::{
    Between, DoneRow, PlanForm, PlanFormPage, PlanRow, PlanRowForm, PlannedSession, PlannedSets, Plans,
};
pub use crate::settings::Switch;

/// A sentence that leads somewhere.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Link {
    /// The words.
    pub text: String,
    /// Where to.
    pub route: String,
}

/// A label and its value.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Pair {
    /// What it is.
    pub label: String,
    /// What is known of it.
    pub value: String,
}

/// A figure that stands behind others, with what it is and is not.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Detail {
    /// What it is, as a word.
    pub id: String,
    /// What it is.
    pub label: String,
    /// The figure, or why there is none.
    pub value: String,
    /// What it says and what it does not; may be empty.
    pub note: String,
    /// All of it.
    pub spoken: String,
}

/// Something a person should look at. It says what was seen, by which rule,
/// where the rule comes from, and what can be done; it never predicts.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Notice {
    /// What comes first: 0 what makes the rest doubtful (this device was removed, its
    /// clock is off), 1 what hurts, 2 what a limit rules out, 3 load, 4 devices and
    /// data.
    pub rank: u8,
    /// Whom it is about.
    pub who: String,
    /// Where more of it stands.
    pub route: String,
    /// What was seen.
    pub saw: String,
    /// The rule.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
    /// What can be done.
    pub may_do: String,
    /// All of it.
    pub spoken: String,
}

/// One figure of a week.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Figure {
    /// The label of the week.
    pub week: String,
    /// The figure, for instance contacts.
    pub text: String,
    /// A second one beside it, for instance energy; empty where there is none.
    pub more: String,
    /// The figure's part of the largest in its row, 0 to 1, for a small bar.
    pub share: f64,
    /// Days of the week are unknown, so the figure may be too low.
    pub incomplete: bool,
    /// All of it.
    pub spoken: String,
}

/// A row of weekly figures, the oldest first, this week last.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct WeekRow {
    /// The word of the kind, or `session-rpe`.
    pub id: String,
    /// A kind of contact, or session-RPE.
    pub label: String,
    /// The weeks.
    pub weeks: Vec<Figure>,
    /// The hardest contact of this week; empty where there is none.
    pub hardest: String,
    /// All of it.
    pub spoken: String,
}

/// A time read from a clip.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Time {
    /// The take it comes from and the place in it.
    pub id: String,
    /// What was timed.
    pub label: String,
    /// The value with its uncertainty: `0.145 s ± 7 ms`.
    pub value: String,
    /// When, and whether the clip was drawn by a program.
    pub note: String,
    /// Seconds.
    pub seconds: f64,
    /// 95 % half-width with judging, seconds.
    pub half_width: f64,
    /// All of it.
    pub spoken: String,
}

/// A contact in a lane.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Bar {
    /// Touchdown, seconds from the left edge.
    pub start: f64,
    /// Toe-off.
    pub end: f64,
    /// The edge fades over this many seconds on either side of an event.
    pub fade: f64,
    /// The duration in words.
    pub label: String,
    /// Where a contact of the length of its target would end; `None` without a target.
    pub target: Option<f64>,
}

/// A flight in a lane: no foot on the ground.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Air {
    /// Toe-off, seconds from the left edge.
    pub start: f64,
    /// Touchdown.
    pub end: f64,
    /// The duration in words.
    pub label: String,
}

/// One foot's line in a lane.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Foot {
    /// Left, right or both.
    pub label: String,
    /// Its contacts.
    pub bars: Vec<Bar>,
}

/// A mark of the time below a lane.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Tick {
    /// Seconds from the left edge.
    pub at: f64,
    /// The time in words.
    pub text: String,
}

/// The picture of the house: a line a foot, contacts as bars, flights as gaps,
/// uncertainty as a fading edge.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Lane {
    /// Its length in seconds.
    pub seconds: f64,
    /// A line each.
    pub feet: Vec<Foot>,
    /// The flights between them.
    pub flights: Vec<Air>,
    /// Marks of the time, from 0 on.
    pub ticks: Vec<Tick>,
    /// How it is read.
    pub legend: String,
    /// The same in words.
    pub spoken: String,
}

/// One of two or more values that stand side by side.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ClashValue {
    /// What to settle with to keep this one.
    pub choice: String,
    /// What it says.
    pub text: String,
    /// Who wrote it and when.
    pub written: String,
    /// The button that keeps it.
    pub keep: String,
}

/// A fact that two people wrote differently. Both values are kept until a
/// person settles it.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Clash {
    /// The member to settle with; empty for one about the squad itself.
    pub member: String,
    /// What it is about.
    pub what: String,
    /// The same, and that it was written differently.
    pub title: String,
    /// That all are kept, and which is computed with.
    pub note: String,
    /// The values, the newest first; the first is the one computed with.
    pub values: Vec<ClashValue>,
    /// Whether this device may settle it.
    pub can_settle: bool,
    /// Who does, where it may not; else empty.
    pub settled_by: String,
    /// All of it.
    pub spoken: String,
}

/// One athlete on the squad board.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct AthleteRow {
    /// The member.
    pub id: String,
    /// Where more stands.
    pub route: String,
    /// The name, or what stands for it.
    pub name: String,
    /// Level and age in words.
    pub about: String,
    /// The last session.
    pub last_session: Option<Link>,
    /// Contacts and energy by kind, and session-RPE.
    pub rows: Vec<WeekRow>,
    /// The newest contact times.
    pub times: Vec<Time>,
    /// What hurts, where it is shared.
    pub hurts: Vec<String>,
    /// Said where what hurts is not shared.
    pub private_note: String,
    /// Limits that hold today.
    pub limits: Vec<String>,
    /// How many facts clash, in words; empty for none.
    pub clashes: String,
    /// All of it.
    pub spoken: String,
}

/// The squad board.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Squad {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// Said where the squad is invented.
    pub demo_note: String,
    /// This week in words.
    pub week: String,
    /// What to look at first.
    pub notices: Vec<Notice>,
    /// What to say where there is nothing to look at, or no athlete yet.
    pub empty: String,
    /// The athletes by name.
    pub athletes: Vec<AthleteRow>,
    /// What two people wrote differently about the squad itself: its name, its
    /// exercises.
    pub clashes: Vec<Clash>,
    /// What holds for every figure here.
    pub notes: Vec<String>,
}

/// A session in a list.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct SessionRow {
    /// The session.
    pub id: String,
    /// Where it stands.
    pub route: String,
    /// The day in words.
    pub day: String,
    /// Its purpose and what was done.
    pub text: String,
    /// Contacts and session-RPE.
    pub figures: String,
    /// Where it is kept: only here, or on another device too.
    pub kept: String,
    /// All of it.
    pub spoken: String,
}

/// A take: the events read from one clip.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct TakeRow {
    /// The take.
    pub id: String,
    /// What it shows and when.
    pub title: String,
    /// Its time in one line, and how it stands to its target; empty where nothing is timed.
    pub line: String,
    /// Its picture.
    pub lane: Lane,
    /// Its contacts in order.
    pub times: Vec<Time>,
    /// What may be said of them, or that this camera cannot tell, as sentences.
    pub said: Vec<String>,
    /// What to bear in mind.
    pub note: String,
    /// All of it.
    pub spoken: String,
}

/// One athlete.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Athlete {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The member.
    pub id: String,
    /// The name.
    pub title: String,
    /// The card.
    pub card: Vec<Pair>,
    /// What to look at first.
    pub notices: Vec<Notice>,
    /// Contacts and energy by kind, and session-RPE, over eight weeks.
    pub rows: Vec<WeekRow>,
    /// What stands behind these: monotony, averages, hardest contacts, legs.
    pub details: Vec<Detail>,
    /// The newest takes.
    pub takes: Vec<TakeRow>,
    /// The sessions, the newest first.
    pub sessions: Vec<SessionRow>,
    /// Other training of the weeks that are shown, the newest first.
    pub other: Vec<String>,
    /// The cursor for older sessions; empty at the end.
    pub older: String,
    /// What hurts, where it is shared.
    pub hurts: Vec<String>,
    /// Said where what hurts is not shared.
    pub private_note: String,
    /// Limits, those that hold today first.
    pub limits: Vec<String>,
    /// What two people wrote differently.
    pub clashes: Vec<Clash>,
    /// What else there is about the athlete: whom the private part is shared with,
    /// and where an owner takes the athlete off the roster.
    pub links: Vec<Link>,
    /// Cautions that hold for this athlete.
    pub cautions: Vec<String>,
}

/// A set of a session, or a run of equal ones.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct SetRow {
    /// The numbers of the contact whose landing is shown, each with what it rests on.
    pub numbers: Vec<NumberRow>,
    /// The set, the first of a run.
    pub id: String,
    /// What was done.
    pub text: String,
    /// The hardest landing of a repetition.
    pub landing: String,
    /// The hardest push of a repetition; empty where there is none.
    pub push: String,
    /// Whether the numbers are measured or estimated, in a word or two; empty
    /// where there are none.
    pub mark: String,
    /// What the numbers come from.
    pub source: String,
    /// Why it could not be computed; empty where it was.
    pub trouble: String,
    /// All of it.
    pub spoken: String,
}

/// What a session adds up to, of one kind.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct KindRow {
    /// The word of the kind.
    pub id: String,
    /// The kind of contact.
    pub label: String,
    /// The kind with its contacts and energy, in one line.
    pub text: String,
    /// Contacts.
    pub contacts: String,
    /// Energy of both legs.
    pub energy: String,
    /// The left leg's contacts and energy.
    pub left: String,
    /// The right leg's.
    pub right: String,
    /// The hardest contact.
    pub hardest: String,
    /// Contacts in drills of the warm-up, which are in no other column; empty where none were.
    pub warm_up: String,
    /// All of it.
    pub spoken: String,
}

/// One session.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Session {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The session.
    pub id: String,
    /// Purpose, or what stands for it.
    pub title: String,
    /// The athlete.
    pub athlete: Link,
    /// Day, conditions, effort.
    pub card: Vec<Pair>,
    /// The sets in order.
    pub sets: Vec<SetRow>,
    /// Totals by kind.
    pub totals: Vec<KindRow>,
    /// Landings in the pit, which are in none of them; empty where there was none.
    pub pit: String,
    /// Takes of its sets.
    pub takes: Vec<TakeRow>,
    /// What two people wrote differently.
    pub clashes: Vec<Clash>,
    /// Cautions of what was done.
    pub cautions: Vec<String>,
    /// What holds for every figure here.
    pub notes: Vec<String>,
}

/// What is wrong with a field of a form, to be said beside it.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct FieldTrouble {
    /// The field, by its name in the form's record; empty for the form as a whole.
    pub field: String,
    /// What is wrong and what is accepted.
    pub text: String,
}

/// One attempt at the long or triple jump.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct AttemptRow {
    /// The attempt.
    pub id: String,
    /// Where it is changed and taken back.
    pub route: String,
    /// Which attempt of the day, or the event where no number was written.
    pub title: String,
    /// The distance in metres, or that it was a foul.
    pub outcome: String,
    /// The wind as it was read, to the tenth; empty where nothing was said of it.
    pub wind: String,
    /// Whether the wind would allow a record, and why not; empty for a foul.
    pub record: String,
    /// Where the toe was, what the board cost, and the length from toe to mark.
    pub board: String,
    /// The run-up and the start mark, how the line was watched and how far the pit is.
    pub run_up: String,
    /// Phases, shares and class of a triple jump; why there are none; empty for a long jump.
    pub phases: String,
    /// Contact times and the speed lost, where a take is linked.
    pub times: String,
    /// What to bear in mind; empty for nothing.
    pub note: String,
    /// All of it.
    pub spoken: String,
}

/// The attempts of one day at one place.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct JumpDay {
    /// Day and place, the same as long as they are.
    pub id: String,
    /// The day, competition or training, and the place.
    pub title: String,
    /// The attempts in order.
    pub attempts: Vec<AttemptRow>,
    /// What they add to the day's training.
    pub training: String,
}

/// What attempts of one event from one run-up say together.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct JumpGroup {
    /// Event and run-up, the same as long as they are.
    pub id: String,
    /// Event and run-up in words.
    pub title: String,
    /// How many attempts and fouls.
    pub count: String,
    /// Bests and the mean with its interval, a sentence each.
    pub distances: Vec<String>,
    /// Bias, spread and fouls at the board, a sentence each.
    pub board: Vec<String>,
    /// How far to move the start mark for the share of fouls that was picked.
    pub shift: Vec<String>,
    /// All of it.
    pub spoken: String,
}

/// Which attempts are compared, and for which share of fouls the start mark is moved.
/// Texts as they were typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct JumpsForm {
    /// With at least this wind, m/s; empty for any.
    pub wind_from: String,
    /// With at most this wind, m/s; empty for any.
    pub wind_to: String,
    /// The share of toes over the line to aim at, in percent; empty for 10.
    pub fouls: String,
    /// The cursor of the window of days; empty for the newest.
    pub before: String,
}

/// The jumps of one athlete.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Jumps {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The member.
    pub member: String,
    /// The heading.
    pub title: String,
    /// The athlete.
    pub athlete: Link,
    /// Where attempts are written down.
    pub competition: Link,
    /// The form as it stands, with the share of fouls filled in.
    pub form: JumpsForm,
    /// What is wrong with the form: such a field then does not narrow.
    pub troubles: Vec<FieldTrouble>,
    /// By event and run-up.
    pub groups: Vec<JumpGroup>,
    /// The days, the newest first.
    pub days: Vec<JumpDay>,
    /// The cursor for older days; empty at the end.
    pub older: String,
    /// Said where there is no attempt; empty where there is one.
    pub empty: String,
    /// What holds for every figure here.
    pub notes: Vec<String>,
    /// Cautions of what is done here.
    pub cautions: Vec<String>,
}

/// What holds for all attempts of one athlete at one competition, said once. Texts as they
/// were typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct CompetitionForm {
    /// The athlete.
    pub member: String,
    /// `long-jump` or `triple-jump`.
    pub event: String,
    /// The day, `2026-11-25`; empty for today.
    pub day: String,
    /// Where; empty for nothing.
    pub place: String,
    /// A competition, not training.
    pub competition: bool,
    /// Indoors.
    pub indoor: bool,
    /// How the wind is read: `from-mark`, `from-start`, `otherwise`, `no-gauge` or empty.
    pub wind_rule: String,
    /// How the line is watched: `plane`, `indicator`, `by-eye`, `zone` or empty.
    pub board: String,
    /// From the foul line to the pit in metres; empty for not known.
    pub pit: String,
    /// The athletes to switch between; empty for all.
    pub athletes: Vec<String>,
}

/// One attempt as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct AttemptForm {
    /// Which attempt of the day; empty for none.
    pub attempt: String,
    /// Metres, or `x` for a foul.
    pub distance: String,
    /// m/s, following wind positive; empty for not read.
    pub wind: String,
    /// Centimetres from the line, negative behind it; empty for not read.
    pub toe: String,
    /// The start mark, metres before the line; empty for not read.
    pub start: String,
    /// Strides of the run-up, or its metres with `m` behind them; empty for not known.
    pub run_up: String,
    /// The hop of a triple jump in metres; empty for not measured.
    pub hop: String,
    /// The step.
    pub step: String,
    /// The jump.
    pub jump: String,
}

/// Attempts are written down, one after the other.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct CompetitionDay {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// What holds for every attempt, in words; empty before it is chosen.
    pub about: String,
    /// What holds for every attempt, as it stands.
    pub form: CompetitionForm,
    /// Whether athlete and event are chosen, so that attempts can be written down.
    pub ready: bool,
    /// The athletes to switch between; the one whose attempts these are is chosen.
    pub switch: Vec<Choice>,
    /// All athletes; those to switch between are chosen.
    pub members: Vec<Choice>,
    /// The events.
    pub events: Vec<Choice>,
    /// How the wind can be read.
    pub wind_rules: Vec<Choice>,
    /// How the line can be watched.
    pub boards: Vec<Choice>,
    /// The attempt to be filled in: number, start mark and run-up stand there already.
    pub row: AttemptForm,
    /// Whether the event has phases.
    pub asks_phases: bool,
    /// The attempt that is being changed; empty for a new one.
    pub editing: String,
    /// Which attempt that is, in words; empty for a new one.
    pub editing_note: String,
    /// What is wrong with a field.
    pub troubles: Vec<FieldTrouble>,
    /// The athlete's attempts of that day and event, the newest first.
    pub attempts: Vec<AttemptRow>,
    /// How the fields are filled in.
    pub hints: Vec<String>,
    /// Where the athlete's jumps stand; nothing before an athlete is chosen.
    pub jumps: Option<Link>,
    /// Cautions of what is done here.
    pub cautions: Vec<String>,
}

/// What came of an attempt that was sent.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct AttemptSaved {
    /// The attempt; empty where it was not written down.
    pub id: String,
    /// What is wrong with a field: nothing was written then.
    pub troubles: Vec<FieldTrouble>,
}

/// The phone's first screen.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Today {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The day in words.
    pub title: String,
    /// What comes before all else: that this device was removed, that the coach
    /// asks to erase, that the book is a copy, that the clock is off.
    pub notices: Vec<Link>,
    /// How much is on this device only.
    pub carried: String,
    /// Today's sessions.
    pub sessions: Vec<SessionRow>,
    /// What was planned for today.
    pub plans: Vec<PlannedSession>,
    /// The first session that is planned after today, of each athlete of this device, and
    /// where it stands.
    pub coming: Vec<Link>,
    /// The rest and the lock between two sets of it, where somebody is between two.
    pub between: Option<Between>,
    /// What can be done from here.
    pub actions: Vec<Link>,
    /// The question for later that this device is to remind of.
    pub reminder: Option<Reminder>,
    /// Limits that hold today.
    pub limits: Vec<String>,
    /// Said to whoever is about to train.
    pub cautions: Vec<String>,
}

/// What a phone leads to beside its first screens.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct More {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// What a person at this device should know of its book, the gravest first.
    pub notices: Vec<Link>,
    /// Where to.
    pub links: Vec<Link>,
    /// Black on white, for the sun.
    pub sun: Switch,
}

/// Something that can be done about a row: a method of the companion, or a
/// screen that asks first.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Action {
    /// Which: `remove`, `take-in`, `readmit`, `give`, `leave`, `keep-until`,
    /// `come-back`, `erase`, `two-persons`, `agree`, `keep`.
    pub id: String,
    /// The words on the button.
    pub text: String,
    /// The screen that says what it means before it is done; empty where the
    /// action is done at once.
    pub route: String,
}

/// One device of the squad.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct DeviceRow {
    /// Its key in hexadecimal.
    pub id: String,
    /// The first letters of the key in groups, as both sides can read them out.
    pub short: String,
    /// Whose it is and what it is.
    pub title: String,
    /// Whether it is this one.
    pub here: bool,
    /// The same letters in words, and that it is this one.
    pub key: String,
    /// What it was given, a sentence each.
    pub given: Vec<String>,
    /// Since when it is in the squad; empty where that is not known.
    pub since: String,
    /// When it was last met, or that it was not; empty for this device.
    pub met: String,
    /// By how much its clock is apart, from ten minutes on; else empty.
    pub clock: String,
    /// How many of the sets that were written here it confirmed, or may have from a
    /// file; for this device how many nobody else is known to have.
    pub has: Vec<String>,
    /// That it was removed, and what of it does not count; else empty.
    pub removed: String,
    /// What can be done about it here.
    pub actions: Vec<Action>,
    /// All of it.
    pub spoken: String,
}

/// One member as the owner keeps the roster.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct MemberRow {
    /// The member.
    pub id: String,
    /// The athlete's screen; empty for one who left.
    pub route: String,
    /// The name, or what stands for it.
    pub name: String,
    /// Whom the private part is shared with; none for one who left.
    pub sharing: Option<Link>,
    /// That the member left, until when the data are kept, that two first entries
    /// are one; empty for none of these.
    pub standing: String,
    /// What can be done about it here.
    pub actions: Vec<Action>,
    /// All of it.
    pub spoken: String,
}

/// The devices and members of the squad.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Devices {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// What to say where there is no squad yet, or this device may change nothing.
    pub note: String,
    /// What a person at this device should know of its book, the gravest first.
    pub notices: Vec<Link>,
    /// This device first, then the coach's, then by whose they are; removed ones last.
    pub devices: Vec<DeviceRow>,
    /// What belongs to it: what is held and not counted, what the coach asks, whom
    /// the members of this device share with.
    pub links: Vec<Link>,
    /// The members by name, those who left last.
    pub members: Vec<MemberRow>,
    /// The roles that can be given; empty where this device gives none.
    pub roles: Vec<Choice>,
    /// What tying two members means; empty where this device ties none.
    pub same_note: String,
    /// What taking a member off the roster means; empty where it cannot.
    pub leave_note: String,
}

/// What a device is to be given more.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct GiveForm {
    /// The word of the role.
    pub role: String,
    /// The members it is given.
    pub members: Vec<String>,
    /// Every member, those of later days too.
    pub everyone: bool,
    /// It may write these members' limits.
    pub limits: bool,
    /// It may write these members' consent.
    pub consent: bool,
}

/// What is said before something that cannot be simply undone.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Confirm {
    /// The question.
    pub title: String,
    /// What it means, a sentence each.
    pub means: Vec<String>,
    /// What it does not reach, a sentence each; empty where nothing is to be said.
    pub not_reached: Vec<String>,
    /// The files that are known and that it does not reach, each with when.
    pub files: Vec<String>,
    /// The button that does it.
    pub yes: String,
    /// The way back.
    pub no: Link,
}

/// An entry that is held and does not count.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ApartRow {
    /// The entry.
    pub id: String,
    /// What kind of fact it is, and of whom where that is known.
    pub what: String,
    /// Who wrote it and when, by that device's clock.
    pub written: String,
    /// Why it does not count.
    pub reason: String,
    /// What can be done.
    pub may_do: String,
    /// All of it.
    pub spoken: String,
}

/// A removed device of which entries came late.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LateRow {
    /// Its key in hexadecimal.
    pub id: String,
    /// Whose it is, and how many came late.
    pub text: String,
    /// Counts them, done at once.
    pub take_in: Action,
}

/// A delivery that was refused and set aside.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct RefusedRow {
    /// Why.
    pub reason: String,
    /// Who sent it.
    pub from: String,
    /// When, how much, how often.
    pub when: String,
    /// All of it.
    pub spoken: String,
}

/// What is held and not counted.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Apart {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// That nothing is dropped.
    pub note: String,
    /// The removed devices whose late entries can be counted; empty where this device may
    /// not count them.
    pub late: Vec<LateRow>,
    /// Entries that wait or do not count, the newest first.
    pub entries: Vec<ApartRow>,
    /// What to say where there is none.
    pub no_entries: String,
    /// Entries beyond those listed, in words; empty where all are listed.
    pub more: String,
    /// What was refused, the newest first.
    pub refused: Vec<RefusedRow>,
    /// What to say where nothing was.
    pub no_refused: String,
}

/// Whom one audience of a member's private part is.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ShareRow {
    /// The word to share with.
    pub id: String,
    /// Who they are.
    pub text: String,
    /// Whether it is shared with them.
    pub given: bool,
    /// That it is shared, or not, or that two people disagree.
    pub state: String,
    /// All of it.
    pub spoken: String,
}

/// Whom a member's private part is shared with.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Sharing {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The member.
    pub member: String,
    /// The heading.
    pub title: String,
    /// What the private part is.
    pub about: String,
    /// Each audience for itself.
    pub rows: Vec<ShareRow>,
    /// Whether this device may change it.
    pub may_change: bool,
    /// Who may, where this device may not; else empty.
    pub who_may: String,
    /// What withdrawing means.
    pub withdrawing: String,
}

/// What the coach asks of this device.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Wishes {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// Each wish, answered with keeping or not answered yet.
    pub wishes: Vec<Wish>,
    /// What to say where there is none; else empty.
    pub none: String,
}

/// A wish of the coach that this device erase what it keeps of a member.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Wish {
    /// The member.
    pub member: String,
    /// What is asked.
    pub title: String,
    /// What each answer means, a sentence each.
    pub means: Vec<String>,
    /// That it was answered with keeping; else empty.
    pub answered: String,
    /// Agree, or keep.
    pub actions: Vec<Action>,
}

/// One of several to choose from.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Choice {
    /// What to give back.
    pub id: String,
    /// The words.
    pub text: String,
    /// The heading it stands under; empty for none.
    pub group: String,
    /// Whether it is chosen.
    pub chosen: bool,
}

/// Something that speaks against a set, or is to be borne in mind: what was found, by
/// which line, where the line comes from, and what can be done. It never predicts, and
/// never calls anything harmless.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Said {
    /// How grave it is, in a word or two.
    pub grade: String,
    /// Whether the set is not to be offered or planned. What was done is logged all the
    /// same.
    pub refuses: bool,
    /// What was found.
    pub saw: String,
    /// The line it stands against.
    pub rule: String,
    /// Where the line comes from.
    pub source: String,
    /// What can be done.
    pub may_do: String,
    /// All of it.
    pub spoken: String,
}

/// One of the last exercises, to be done again.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Recent {
    /// Its name.
    pub text: String,
    /// What a form then says: as it was done last, with the other leg.
    pub form: SetForm,
    /// Whether it is the one that is filled in.
    pub chosen: bool,
}

/// An earlier session, to be done again as it was.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Again {
    /// The session.
    pub session: String,
    /// What is done again: the day, how many sets and contacts.
    pub text: String,
    /// Its sets in words, runs of equal ones as one.
    pub sets: Vec<String>,
    /// What speaks against them today, the gravest first.
    pub against: Vec<Said>,
    /// That it can be logged if it was done, where it is not to be offered; else empty.
    pub bound: String,
    /// All of it but what speaks against it.
    pub spoken: String,
}

/// The form of a set, filled in from its draft or from the last set.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LogSet {
    /// The heading.
    pub title: String,
    /// Whose set it is, on a phone of several; empty on a phone of one.
    pub athletes: Vec<Choice>,
    /// The last exercises, the newest first.
    pub recent: Vec<Recent>,
    /// The session before, as long as there is no set of today.
    pub again: Option<Again>,
    /// The button that unfolds all exercises.
    pub all: String,
    /// Beside the field in which a part of a name is typed.
    pub find: String,
    /// The outside load in words; empty where there is none.
    pub load: String,
    /// The button that takes the outside load off.
    pub no_load: String,
    /// The height of the box in words; empty where none is filled in.
    pub r#box: String,
    /// Says of a set that it is a drill of the warm-up.
    pub warm_up: String,
    /// The exercises by kind.
    pub exercises: Vec<Choice>,
    /// Which legs, as far as the exercise allows.
    pub legs: Vec<Choice>,
    /// What is filled in.
    pub form: SetForm,
    /// Whether the cue changes what the exercise comes to: it is asked before the box, since it outweighs it.
    pub asks_cue: bool,
    /// Whether the exercise has a box.
    pub asks_box: bool,
    /// Whether the exercise has a run-in.
    pub asks_approach: bool,
    /// How the exercise is done.
    pub about: String,
    /// What to see to before it; empty for none.
    pub caution: String,
    /// The limits that hold today, whatever is chosen.
    pub limits: Vec<String>,
    /// What speaks against the set that is filled in, the gravest first.
    pub against: Vec<Said>,
    /// That it can be logged if it was done, where it is not to be offered; else empty.
    pub bound: String,
}

/// What is filled in on the form of a set.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct SetForm {
    /// The exercise's id; empty for the last one.
    pub exercise: String,
    /// Sets alike.
    pub sets: u16,
    /// Repetitions of each.
    pub reps: u16,
    /// The word of the legs; empty for what the exercise suggests.
    pub leg: String,
    /// The height of the box in millimetres.
    pub box_mm: Option<u32>,
    /// The strides of the run-in.
    pub strides: Option<u16>,
    /// The outside load in grams.
    pub load_g: Option<u32>,
    /// The last 10 m of the run-in, timed, in milliseconds.
    pub last_10_m_ms: Option<u32>,
    /// The word of the cue, `short` or `high`; empty for none.
    pub cue: String,
    /// A drill of the warm-up.
    pub warm_up: bool,
}

/// Other training, as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct OtherForm {
    /// The day, `2026-11-25`; empty for today.
    pub day: String,
    /// What it was: `strength`, `running`, `general`, `other-sport`, `school` or `other`.
    pub work: String,
    /// Rating of perceived exertion in tenths, 0 to 100, where it was rated.
    pub rpe_tenths: Option<u16>,
    /// Minutes, 1 to 600, where it was rated.
    pub minutes: Option<u16>,
    /// In words; empty for nothing.
    pub note: String,
}

/// The form of a check-in.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct CheckIn {
    /// Who answers, on a phone of several; empty on a phone of one. As long as nobody is
    /// chosen nothing is asked.
    pub athletes: Vec<Choice>,
    /// The heading.
    pub title: String,
    /// Where it can hurt.
    pub parts: Vec<Choice>,
    /// On which side; none may be chosen.
    pub sides: Vec<Choice>,
    /// What the score means.
    pub score: String,
    /// What is asked beside it, whatever the score: each is to be seen by a licensed
    /// practitioner.
    pub signs: Vec<Choice>,
    /// What these questions are for.
    pub signs_about: String,
    /// What is filled in.
    pub form: CheckInForm,
    /// What was tapped today and is not saved; `None` where nothing was.
    pub draft: Option<CheckInDraft>,
    /// What follows from the check-ins of the last two weeks, the gravest first.
    pub said: Vec<Said>,
    /// The offer to end the session, where pain or a sign was told today; else empty.
    pub end: String,
    /// Who sees it.
    pub shared: String,
    /// When to stop and have it seen.
    pub caution: String,
}

/// What is filled in on the form of a check-in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct CheckInForm {
    /// The day, `2026-11-25`; empty for today.
    pub day: String,
    /// What hurts, at most 12; empty: asked, and nothing does.
    pub hurts: Vec<HurtForm>,
    /// Sleep in minutes, 0 to 1 440.
    pub sleep_min: Option<u16>,
    /// The words of the signs that were answered with yes: `limp`, `bony-spot`, `night`,
    /// `swelling`, `giving-way`, `on-arching`.
    pub signs: Vec<String>,
}

/// A check-in that is not saved, as it was left.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct CheckInDraft {
    /// Whether something hurts; `None` as long as it was not answered.
    pub hurting: Option<bool>,
    /// The rest of it. A score above 10 stands for one that was not said; it is not saved.
    pub form: CheckInForm,
}

/// One thing that hurts.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct HurtForm {
    /// The word of the place.
    pub part: String,
    /// The word of the side; empty where there are not two.
    pub side: String,
    /// From 0 (gone) to 10 (worst imaginable).
    pub score: u8,
}

/// One event as a person marked it on a clip: it lies between two frames, which count
/// from 0 in display order.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct Mark {
    /// `left`, `right` or `both`.
    pub foot: String,
    /// `touchdown` or `toe-off`.
    pub kind: String,
    /// The last frame surely before it.
    pub before: u32,
    /// The first frame surely after it. Frames in between are in doubt.
    pub after: u32,
}

/// What settles a clock that is unknown: something in the clip itself whose time is
/// known.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Enum)]
pub enum Measurement {
    /// A ball that is let fall.
    Ball {
        /// When it leaves the hand; foot and kind are not read.
        released: Mark,
        /// When it meets the ground.
        landed: Mark,
        /// The height of its fall in millimetres.
        height_mm: u32,
        /// The standard uncertainty of that.
        height_u_mm: u32,
    },
    /// A running clock in the picture, read at two frames.
    Clock {
        /// The earlier frame.
        first: u32,
        /// What the clock shows there, in milliseconds.
        first_ms: u32,
        /// The later frame.
        second: u32,
        /// What it shows there.
        second_ms: u32,
        /// Its last digit in milliseconds.
        digit_ms: u32,
    },
}

/// What is filled in while a clip is marked.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct MarkForm {
    /// The athlete; empty on a device that serves one.
    pub member: String,
    /// The set that the clip shows; empty for none.
    pub set: String,
    /// The exercise where no set is chosen; empty for none.
    pub exercise: String,
    /// The day it was filmed where no set is chosen; empty for today.
    pub day: String,
    /// The capture rate that the person knows, in thousandths of a frame a second.
    pub capture_mhz: Option<u32>,
    /// What was measured in the clip.
    pub measured: Option<Measurement>,
    /// The marks, in the order of time.
    pub marks: Vec<Mark>,
}

/// What can be chosen before a clip is marked.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct MarkingForm {
    /// The heading.
    pub title: String,
    /// The athletes.
    pub members: Vec<Choice>,
    /// The sets of the chosen athlete in the last weeks, the newest first, by day.
    pub sets: Vec<Choice>,
    /// The exercises, by kind.
    pub exercises: Vec<Choice>,
    /// Today, as a form takes it.
    pub today: String,
    /// How to film, and what a clip cannot say.
    pub cautions: Vec<String>,
}

/// The clock of a clip.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ClockRow {
    /// Whether its times are real.
    pub text: String,
    /// What that rests on.
    pub evidence: Vec<String>,
    /// What may make the times other than they look.
    pub warnings: Vec<String>,
    /// Whether times can be computed. Where not, a capture rate or a measurement
    /// settles it.
    pub known: bool,
}

/// One mark in words.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct MarkRow {
    /// Which event, and between which frames.
    pub text: String,
    /// Whether frames in between are in doubt.
    pub doubted: bool,
}

/// The event that is expected next.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Expected {
    /// `left`, `right` or `both`.
    pub foot: String,
    /// `touchdown` or `toe-off`.
    pub kind: String,
    /// About which frame; `None` where nothing tells.
    pub frame: Option<u32>,
    /// The same in words.
    pub text: String,
}

/// What the marks on a clip come to so far.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Marked {
    /// The clock.
    pub clock: ClockRow,
    /// The marks, in their order.
    pub marks: Vec<MarkRow>,
    /// The event expected next; `None` where the exercise ends.
    pub expected: Option<Expected>,
    /// The take as it will stand on the screens; `None` where times cannot be computed.
    pub take: Option<TakeRow>,
    /// Why there are no times, or why these marks give none; else empty.
    pub trouble: String,
    /// Whether it can be saved as it is.
    pub may_save: bool,
}

/// A contact time to come below.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct TargetRow {
    /// What to take back; empty for a published one.
    pub id: String,
    /// Which contact, and how short.
    pub text: String,
    /// Whose it is.
    pub whose: String,
    /// Where it comes from.
    pub source: String,
    /// All of it.
    pub spoken: String,
}

/// The targets of contact times.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Targets {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// Which one holds.
    pub about: String,
    /// Those that were set, then the published ones of other exercises.
    pub rows: Vec<TargetRow>,
    /// The exercises, by kind.
    pub exercises: Vec<Choice>,
    /// The members, by name.
    pub members: Vec<Choice>,
}

/// A target as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct TargetForm {
    /// The exercise.
    pub exercise: String,
    /// Whose; empty for the squad.
    pub member: String,
    /// Which contact of a repetition, from 1; `None` for each.
    pub contact: Option<u16>,
    /// With a run-in of so many strides only.
    pub strides: Option<u16>,
    /// The contact time in milliseconds.
    pub ms: u32,
    /// Where it comes from.
    pub source: String,
}

/// A rule by which training is looked at.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct RuleRow {
    /// The word of the rule.
    pub id: String,
    /// The heading it stands under.
    pub group: String,
    /// What it is called.
    pub text: String,
    /// Its line in words, or that it is off.
    pub line: String,
    /// The number of the line as a form takes it; empty where the rule is off.
    pub value: String,
    /// The unit beside that field.
    pub unit: String,
    /// The lowest number a form takes.
    pub from: String,
    /// The highest.
    pub to: String,
    /// Who drew the line, with the source or the reason.
    pub drawn: String,
    /// Until when it holds; empty where that is open.
    pub until: String,
    /// The line that comes with the product, and its source, where another one holds; else
    /// empty.
    pub product: String,
    /// Whether it is off.
    pub off: bool,
    /// Whether it was drawn here, for this squad or this athlete, and can be taken back.
    pub own: bool,
    /// All of it.
    pub spoken: String,
}

/// The rules of a squad, or those that hold for one athlete.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Rules {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// Which line holds, and what a line is.
    pub about: String,
    /// The member; empty for the squad.
    pub member: String,
    /// The rules, by heading.
    pub rows: Vec<RuleRow>,
    /// The members, by name.
    pub members: Vec<Choice>,
    /// Whether this device may change them.
    pub may_change: bool,
    /// Who may, where this device may not; else empty.
    pub who_may: String,
}

/// A rule as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct RuleForm {
    /// The word of the rule.
    pub rule: String,
    /// Whose; empty for the squad.
    pub member: String,
    /// Nothing is judged by it.
    pub off: bool,
    /// The line in the shown unit; may be empty where the rule is off.
    pub line: String,
    /// Up to and including this day, `2026-11-25`; empty for open.
    pub until: String,
    /// Why; needed.
    pub reason: String,
}

/// The card of an athlete as it is filled in; what is empty is not known. Numbers have a
/// point or a comma, and at most three decimals.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct CardForm {
    /// Whose.
    pub member: String,
    /// The name the squad uses; empty leaves it as it is.
    pub name: String,
    /// The day of birth, `2008-05-31`.
    pub born: String,
    /// `beginner`, `intermediate` or `advanced`.
    pub level: String,
    /// `left` or `right`.
    pub take_off_leg: String,
    /// `llr` or `rrl`.
    pub hop_pattern: String,
    /// Body mass.
    pub mass_kg: String,
    /// The highest speed of a sprint.
    pub top_speed_m_s: String,
    /// Its standard uncertainty.
    pub top_speed_u_m_s: String,
    /// The time constant of the acceleration, beside the top speed.
    pub tau_s: String,
    /// Its standard uncertainty.
    pub tau_u_s: String,
    /// The mean length of a stride in the run-in.
    pub stride_m: String,
}

/// The form of a card.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct CardPage {
    /// The heading.
    pub title: String,
    /// What it is for.
    pub about: String,
    /// The levels.
    pub levels: Vec<Choice>,
    /// Left and right.
    pub sides: Vec<Choice>,
    /// The feet of a triple jump.
    pub patterns: Vec<Choice>,
    /// What is known.
    pub form: CardForm,
}

/// A fact about an athlete's body in a list.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct BodyRow {
    /// What to take back.
    pub id: String,
    /// What it says.
    pub text: String,
    /// That it does not hold, or no longer; else empty.
    pub note: String,
    /// All of it.
    pub spoken: String,
}

/// Tests, growth, landing control, limits and advice of an athlete.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Body {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The member.
    pub member: String,
    /// The heading.
    pub title: String,
    /// What is done with it.
    pub about: String,
    /// What speaks against plyometric work of any kind today, the gravest first.
    pub today_against: Vec<Said>,
    /// What to say where nothing does; else empty.
    pub today_none: String,
    /// Which tests before falls from higher boxes fall short, or are not known.
    pub depth_against: Vec<Said>,
    /// What to say where none does; else empty.
    pub depth_none: String,
    /// Results of tests, the newest first.
    pub tests: Vec<BodyRow>,
    /// Measured heights, the newest first.
    pub heights: Vec<BodyRow>,
    /// How fast the athlete grew, or what is missing to say it.
    pub growth: String,
    /// Judgements of landing control, the newest first.
    pub controls: Vec<BodyRow>,
    /// Limits, the newest first.
    pub limits: Vec<BodyRow>,
    /// A clinician's advice, the newest first.
    pub advice: Vec<BodyRow>,
    /// What an advice is for.
    pub advice_about: String,
    /// The tests, each with its unit.
    pub test_choices: Vec<Choice>,
    /// Left and right.
    pub sides: Vec<Choice>,
    /// How a landing can be controlled.
    pub control_choices: Vec<Choice>,
    /// Where it can hurt.
    pub parts: Vec<Choice>,
    /// On whose word a limit can stand.
    pub said_by: Vec<Choice>,
    /// The exercises, by kind.
    pub exercises: Vec<Choice>,
    /// Today, as a form takes it.
    pub today: String,
    /// Whether this device may write limits and advice.
    pub may_limit: bool,
    /// Who may, where this device may not; else empty.
    pub who_may: String,
}

/// The result of a test as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct TestForm {
    /// Whose; empty on a device that serves one.
    pub member: String,
    /// The word of the test.
    pub test: String,
    /// The result in kilograms, seconds or centimetres, as the test says.
    pub value: String,
    /// The word of the side, in a test of one leg; else empty.
    pub side: String,
    /// The day; empty for today.
    pub day: String,
    /// In words; empty for nothing.
    pub note: String,
}

/// A height of the body as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct HeightForm {
    /// Whose; empty on a device that serves one.
    pub member: String,
    /// Centimetres, 80 to 230.
    pub cm: String,
    /// The day; empty for today.
    pub day: String,
}

/// How landings were controlled, as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct ControlForm {
    /// Whose; empty on a device that serves one.
    pub member: String,
    /// The exercise.
    pub exercise: String,
    /// The word of the side; empty for both.
    pub side: String,
    /// `held`, `corrected` or `lost`.
    pub control: String,
    /// The knee came inward.
    pub knee_inward: bool,
    /// The trunk tipped or turned.
    pub trunk: bool,
    /// The day; empty for today.
    pub day: String,
    /// In words; empty for nothing.
    pub note: String,
}

/// A limit as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct LimitForm {
    /// Whose; empty on a device that serves one.
    pub member: String,
    /// The first day; empty for today.
    pub from: String,
    /// The last day; empty for until it is lifted.
    pub until: String,
    /// The word of the side without one-leg contacts; empty for none.
    pub no_one_leg: String,
    /// No run-in.
    pub no_approach: bool,
    /// Boxes up to so many centimetres; empty for any.
    pub max_box_cm: String,
    /// `coach` or `clinician`; empty for the coach.
    pub said_by: String,
    /// In words; empty for nothing.
    pub note: String,
}

/// What a clinician advised, as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct AdviceForm {
    /// Whose; empty on a device that serves one.
    pub member: String,
    /// The first day; empty for today.
    pub from: String,
    /// The last day; needed.
    pub until: String,
    /// The word of the place.
    pub part: String,
    /// The word of the side; empty where there are not two.
    pub side: String,
    /// Up to this score, 1 to 5.
    pub up_to: u8,
    /// Who said so and what; needed.
    pub note: String,
}

/// What the list of exercises is asked for.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct ExerciseQuery {
    /// What the name has in it; empty for all.
    pub search: String,
    /// `name`, `landing`, `push`, `contact-time`, or `like-` and a part of the likeness.
    pub sort: String,
    /// The event that the likeness is to: `long-jump`, `triple-jump`, `sprint`.
    pub event: String,
}

/// The squad's exercises by kind.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Exercises {
    /// The book's revision when this was read.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// What the numbers are.
    pub about: String,
    /// What was searched for.
    pub search: String,
    /// The orders there are.
    pub sorts: Vec<Choice>,
    /// The events to be like.
    pub events: Vec<Choice>,
    /// The part of the likeness that the rows tell; empty where they are sorted by something else.
    pub like: String,
    /// How many were found.
    pub found: String,
    /// By kind.
    pub groups: Vec<ExerciseGroup>,
    /// That the product has exercises that the squad has not; empty where it has them all.
    pub missing: String,
}

/// The exercises of one kind.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ExerciseGroup {
    /// The word of the kind.
    pub id: String,
    /// The kind.
    pub label: String,
    /// In the order that was asked for.
    pub rows: Vec<ExerciseRow>,
}

/// One exercise in the list.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ExerciseRow {
    /// Its id.
    pub id: String,
    /// Where it stands.
    pub route: String,
    /// Its name.
    pub name: String,
    /// The landing of its hardest contact.
    pub landing: String,
    /// Its hardest push; empty where there is none.
    pub push: String,
    /// The time on the ground of the contact that lands hardest.
    pub contact: String,
    /// The part of the likeness that the list is sorted by; empty where it is not.
    pub like: String,
    /// Whether an estimate stands behind the numbers.
    pub mark: String,
    /// All of it.
    pub spoken: String,
}

/// One exercise.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ExercisePage {
    /// The book's revision when this was read.
    pub revision: u64,
    /// Its id.
    pub id: String,
    /// Its name.
    pub title: String,
    /// How it is done.
    pub about: String,
    /// What the athlete is told; empty where nothing is.
    pub cue: String,
    /// Its description.
    pub card: Vec<Pair>,
    /// The contacts of one repetition.
    pub contacts: Vec<ContactCard>,
    /// What to see to, and what the numbers leave out.
    pub cautions: Vec<String>,
    /// Whether an estimate stands behind the numbers.
    pub mark: String,
    /// What stands behind its usual times.
    pub source: String,
    /// How like the events it is.
    pub likeness: Vec<LikenessCard>,
    /// What the likeness is not.
    pub like_note: String,
}

/// A contact, or several alike, of a repetition.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ContactCard {
    /// The place of the first, from 0.
    pub id: String,
    /// Which, and what it does.
    pub label: String,
    /// Its landing.
    pub landing: String,
    /// Its push, or why there is none.
    pub push: String,
    /// Its time on the ground.
    pub seconds: String,
    /// Whether an estimate stands behind its numbers.
    pub mark: String,
    /// Each number with what it rests on.
    pub numbers: Vec<NumberRow>,
}

/// A number with what it rests on.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct NumberRow {
    /// The word of what it is.
    pub id: String,
    /// What it is.
    pub label: String,
    /// The number with its unit.
    pub value: String,
    /// The formula in symbols.
    pub symbols: String,
    /// The formula with numbers.
    pub numbers: String,
    /// Where the formula comes from.
    pub source: String,
    /// What was put in.
    pub inputs: Vec<InputRow>,
    /// Its uncertainty, or that none is known.
    pub uncertainty: String,
    /// All of it.
    pub spoken: String,
}

/// What was put into a formula.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct InputRow {
    /// What it is.
    pub label: String,
    /// Its symbol in the formula.
    pub symbol: String,
    /// Its value with the unit.
    pub value: String,
    /// Measured, stated or usual, and by whose word.
    pub origin: String,
    /// Its uncertainty; empty where none is known.
    pub uncertainty: String,
}

/// How like an event an exercise is, part by part.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LikenessCard {
    /// The event.
    pub event: String,
    /// The parts, never one number.
    pub parts: Vec<Pair>,
}

/// The form of an exercise, as far as it is filled in: numbers are texts, so that what cannot be read is named.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct ExerciseForm {
    /// The exercise that is changed; empty for a new one.
    pub id: String,
    /// The values that stood in the book when the form was drawn, with blanks between.
    pub seen: String,
    /// Its name.
    pub name: String,
    /// One sentence that says how it is done.
    pub about: String,
    /// The word of the kind.
    pub kind: String,
    /// The word of the direction.
    pub direction: String,
    /// The word of the legs.
    pub legs: String,
    /// The word of the knee.
    pub knee: String,
    /// The word of the landing.
    pub landing: String,
    /// The word of how the first contact is reached.
    pub entry: String,
    /// The number beside it: steps, ms, cm, strides or m.
    pub entry_value: String,
    /// Strides of a run-in on or to the box; empty for none.
    pub box_strides: String,
    /// Metres of a run-in on or to the box; empty for none.
    pub box_run_m: String,
    /// Height of a box jumped onto, cm; empty for none.
    pub onto_cm: String,
    /// Height of what is jumped over, cm; empty for none.
    pub over_cm: String,
    /// Outside load, kg; empty for none.
    pub load_kg: String,
    /// Outside load, % of body mass; empty for none.
    pub load_percent: String,
    /// The word of the cue that the times are told for; empty for both.
    pub cue: String,
    /// The word of the surface; empty for none.
    pub surface: String,
    /// Contacts of a repetition.
    pub contacts: String,
    /// Speed of the run-in lost in each contact, %.
    pub loss_percent: String,
    /// The word of what stands behind the times.
    pub support: String,
    /// Where they come from.
    pub source: String,
    /// The contacts of the series.
    pub series: Vec<ContactForm>,
}

/// One contact in the form of an exercise; one without a move is left out.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct ContactForm {
    /// The word of the move; empty for no contact.
    pub mv: String,
    /// The word of the legs.
    pub legs: String,
    /// Time on the ground, ms.
    pub contact_ms: String,
    /// The word of what follows.
    pub after: String,
    /// The flight that follows, ms; empty for none.
    pub flight_ms: String,
    /// The word of the speed.
    pub speed: String,
    /// The number beside it: m/s or %.
    pub speed_value: String,
    /// Taken off the speed of the run-in, m/s; empty for nothing.
    pub speed_less: String,
    /// The leg's angle, degrees.
    pub angle_deg: String,
    /// Rise of the ground to the next contact, cm; empty for none.
    pub rise_cm: String,
    /// Speed that this contact costs, %; empty for what the exercise says.
    pub loss_percent: String,
}

/// The form of an exercise with what can be chosen.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ExerciseFormPage {
    /// The heading.
    pub title: String,
    /// What is filled in.
    pub form: ExerciseForm,
    /// The kinds.
    pub kinds: Vec<Choice>,
    /// The directions.
    pub directions: Vec<Choice>,
    /// The legs of the exercise.
    pub legs: Vec<Choice>,
    /// How far the knee gives.
    pub knees: Vec<Choice>,
    /// What is done with the ground.
    pub landings: Vec<Choice>,
    /// How the first contact is reached.
    pub entries: Vec<Choice>,
    /// The cues.
    pub cues: Vec<Choice>,
    /// The surfaces.
    pub surfaces: Vec<Choice>,
    /// What stands behind the times.
    pub supports: Vec<Choice>,
    /// What a contact does.
    pub moves: Vec<Choice>,
    /// The legs of a contact.
    pub contact_legs: Vec<Choice>,
    /// What follows a contact.
    pub afters: Vec<Choice>,
    /// Where its speed comes from.
    pub speeds: Vec<Choice>,
}
