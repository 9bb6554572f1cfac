//! The page: the screens as HTML, served on the loopback of this machine only.
//!
//! One file a page; [`layout`] is around each, [`guard`] before each, and
//! `style.css` has every colour and size. Nothing here computes: the records of
//! `pitside-screen` are drawn as they come.

mod aside;
mod athlete;
mod body;
mod card;
mod check_in;
mod devices;
mod exercises;
mod guard;
mod guide;
mod invite;
mod jumps;
mod lane;
mod layout;
mod plan;
mod rules;
mod session;
mod sharing;
mod squad;
mod take;
mod targets;
mod week;

use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use axum::Router;
use axum::extract::rejection::{FormRejection, PathRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use maud::Markup;
use pitside_book::clock::Clock;
use pitside_screen::record::{
    AdviceForm, CheckInForm, ControlForm, DeviceRow, GiveForm, HeightForm, HurtForm, LimitForm, RuleForm,
    TargetForm, TestForm,
};
use pitside_screen::{Companion, Env, ScreenError};
use serde::Deserialize;

use guard::FormToken;
use layout::Frame;
pub(crate) use take::Shelf;

/// The largest form that is read.
const MAX_FORM: usize = 64 * 1024;

/// An invitation as the page shows it.
pub(crate) struct Invited {
    /// What a QR code carries.
    pub(crate) text: String,
    /// When it ends, in words.
    pub(crate) until: String,
    /// Where phones reach this machine.
    pub(crate) addresses: Vec<String>,
}

/// Makes an invitation, or says why not.
pub(crate) type Inviter = Box<dyn Fn() -> Result<Invited, String> + Send + Sync>;

/// What the pages are drawn from.
pub(crate) struct Desk {
    /// The open book.
    pub(crate) companion: Companion,
    /// The clock of this machine.
    pub(crate) clock: Arc<dyn Clock>,
    /// Makes invitations.
    pub(crate) invite: Inviter,
    /// What the address of the first visit carries; new at every start.
    pub(crate) token: String,
    /// Where the page is served.
    pub(crate) address: SocketAddr,
    /// Set once the book was found to be damaged.
    pub(crate) damaged: Arc<AtomicBool>,
    /// The clips that are open for marking.
    pub(crate) shelf: Shelf,
}

impl Desk {
    fn env(&self) -> Env {
        crate::device::env(&*self.clock)
    }
}

/// What the handlers share.
struct Pages {
    desk: Arc<Desk>,
    frame: Frame,
}

type Shared = State<Arc<Pages>>;

/// The pages and what stands before them. It reads the book once, for what is
/// said on every page, so it blocks.
pub(crate) fn router(desk: Arc<Desk>) -> Router {
    // A book that cannot be read says so on every page, which is said then.
    let demo_note = desk.companion.squad(&desk.env()).map(|squad| squad.demo_note).unwrap_or_default();
    let form = FormToken::of(&desk.token);
    let damaged = Arc::clone(&desk.damaged);
    let pages = Arc::new(Pages { desk, frame: Frame { demo_note, form, damaged } });
    Router::new()
        .route("/", get(board))
        .route("/athlete/{id}", get(one_athlete))
        .route("/session/{id}", get(one_session))
        .route("/settle", post(settle))
        .route("/devices", get(all_devices))
        .route("/give/{key}", get(give_form))
        .route("/remove/{key}", get(ask_removal))
        .route("/erase/{id}", get(ask_erasure))
        .route("/aside", get(not_counted))
        .route("/targets", get(all_targets))
        .route("/rules", get(all_rules))
        .route("/body", get(one_body))
        .route("/card", get(one_card))
        .route("/check-in", get(one_check_in))
        .route("/sharing/{id}", get(one_sharing))
        .route("/wishes", get(all_wishes))
        .route("/do/{action}", post(act))
        .route("/invite", get(invite_form).post(invite))
        .route("/guide", get(guide))
        .route("/style.css", get(style))
        .merge(take::routes())
        .merge(exercises::routes())
        .merge(jumps::routes())
        .merge(plan::routes())
        .fallback(nowhere)
        .method_not_allowed_fallback(no_such_method)
        .layer(DefaultBodyLimit::max(MAX_FORM))
        .layer(middleware::from_fn_with_state(Arc::clone(&pages), guard::guard))
        .with_state(pages)
}

/// A page, or why there is none.
enum Answer {
    Page(Markup),
    Trouble(StatusCode, Markup),
    GoTo(String),
}

impl IntoResponse for Answer {
    fn into_response(self) -> Response {
        match self {
            Self::Page(page) => page.into_response(),
            Self::Trouble(status, page) => (status, page).into_response(),
            Self::GoTo(path) => Redirect::to(&path).into_response(),
        }
    }
}

impl Pages {
    /// Draws a page away from the threads that serve: the book blocks.
    async fn draw(
        self: Arc<Self>,
        page: impl FnOnce(&Self, &Env) -> Result<Answer, ScreenError> + Send + 'static,
    ) -> Answer {
        let pages = Arc::clone(&self);
        let drawn = tokio::task::spawn_blocking(move || {
            let env = pages.desk.env();
            page(&pages, &env).unwrap_or_else(|e| pages.refused(&e))
        })
        .await;
        drawn.unwrap_or_else(|_| {
            self.trouble(
                StatusCode::INTERNAL_SERVER_ERROR,
                "That did not work",
                "The page could not be drawn. The book is as it was.",
            )
        })
    }

    fn trouble(&self, status: StatusCode, title: &str, sentence: &str) -> Answer {
        Answer::Trouble(status, self.frame.trouble(title, sentence))
    }

    /// What a screen or an action says instead of doing it.
    fn refused(&self, error: &ScreenError) -> Answer {
        let status = status_of(error);
        let title = match status {
            StatusCode::NOT_FOUND => "Not found",
            StatusCode::BAD_REQUEST => "That did not work",
            _ => "The book cannot be used",
        };
        self.trouble(status, title, &sentence_of(error.to_string()))
    }

    /// The one part of an address that names something.
    fn named(&self, path: OnePath) -> Result<String, Answer> {
        path.map(|Path(name)| name).map_err(|e| self.misread(e.status()))
    }

    /// Whom a page is about, as its address says.
    fn whom(&self, query: WhomQuery) -> Result<String, Answer> {
        query.map(|Query(whom)| whom.member).map_err(|e| self.misread(e.status()))
    }

    /// The fields of a form that this start drew.
    fn sent(&self, form: Filled) -> Result<Sent, Answer> {
        let Form(fields) = form.map_err(|e| self.misread(e.status()))?;
        let sent = Sent(fields);
        if self.frame.form.is(sent.one("form")) { Ok(sent) } else { Err(self.stale()) }
    }

    /// What is said to an address or a form that cannot be read.
    fn misread(&self, status: StatusCode) -> Answer {
        let sentence = match status {
            StatusCode::PAYLOAD_TOO_LARGE => "The form is larger than any form of this page.",
            _ => "The address or the form could not be read. Go back and try once more.",
        };
        self.trouble(status, "That did not work", sentence)
    }

    /// What is said to a form that this start did not draw.
    fn stale(&self) -> Answer {
        let sentence = "The form belongs to an earlier start, or does not come from the page. \
                        Nothing was changed; open the page anew.";
        self.trouble(StatusCode::FORBIDDEN, "That did not work", sentence)
    }
}

/// The status of an answer that says why a screen or an action brought nothing.
fn status_of(error: &ScreenError) -> StatusCode {
    match error {
        ScreenError::NotFound { .. } => StatusCode::NOT_FOUND,
        ScreenError::Refused { .. } | ScreenError::NotAllowed { .. } => StatusCode::BAD_REQUEST,
        ScreenError::Book { .. } | ScreenError::Closed => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

/// An error as a sentence: errors begin small and without a full stop, since they also
/// stand inside sentences.
fn sentence_of(mut error: String) -> String {
    if let Some(first) = error.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    format!("{}.", error.trim_end_matches('.'))
}

async fn board(State(pages): Shared) -> Answer {
    pages.draw(|p, env| Ok(Answer::Page(squad::page(&p.frame, &p.desk.companion.squad(env)?)))).await
}

#[derive(Deserialize)]
struct Window {
    #[serde(default)]
    before: String,
}

async fn one_athlete(
    State(pages): Shared,
    id: Result<Path<String>, PathRejection>,
    window: Result<Query<Window>, QueryRejection>,
) -> Answer {
    let (id, window) = match (id, window) {
        (Ok(Path(id)), Ok(Query(window))) => (id, window),
        (Err(e), _) => return pages.misread(e.status()),
        (_, Err(e)) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            let athlete = p.desk.companion.athlete(env, &id, &window.before)?;
            Ok(Answer::Page(athlete::page(&p.frame, &athlete)))
        })
        .await
}

async fn one_session(State(pages): Shared, id: OnePath) -> Result<Answer, Answer> {
    let id = pages.named(id)?;
    Ok(pages
        .draw(move |p, env| Ok(Answer::Page(session::page(&p.frame, &p.desk.companion.session(env, &id)?))))
        .await)
}

#[derive(Deserialize)]
struct Settlement {
    #[serde(default)]
    form: String,
    member: String,
    choice: String,
    back: String,
}

async fn settle(State(pages): Shared, form: Result<Form<Settlement>, FormRejection>) -> Answer {
    let form = match form {
        Ok(Form(form)) if pages.frame.form.is(&form.form) => form,
        Ok(_) => return pages.stale(),
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            p.desk.companion.settle(env, &form.member, &form.choice)?;
            // Back to a page of this server, whatever the form says.
            let back = p.desk.companion.check_route(&form.back).unwrap_or_default();
            Ok(Answer::GoTo(path_of(&back)))
        })
        .await
}

/// What was just done, so that the page can say it.
#[derive(Deserialize)]
struct After {
    #[serde(default)]
    done: String,
}

type AfterQuery = Result<Query<After>, QueryRejection>;
type OnePath = Result<Path<String>, PathRejection>;

async fn all_devices(State(pages): Shared, after: AfterQuery) -> Answer {
    let done = match after {
        Ok(Query(after)) => devices::done(&after.done),
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| Ok(Answer::Page(devices::page(&p.frame, &p.desk.companion.devices(env)?, done))))
        .await
}

async fn give_form(State(pages): Shared, key: OnePath) -> Result<Answer, Answer> {
    let key = pages.named(key)?;
    Ok(pages
        .draw(move |p, env| {
            let screen = p.desk.companion.devices(env)?;
            let may_give = |row: &&DeviceRow| row.id == key && row.actions.iter().any(|a| a.id == "give");
            let missing = || ScreenError::NotFound { what: "device that this one may give more".to_owned() };
            let row = screen.devices.iter().find(may_give).ok_or_else(missing)?;
            Ok(Answer::Page(devices::give(&p.frame, &screen, row)))
        })
        .await)
}

async fn ask_removal(State(pages): Shared, key: OnePath) -> Result<Answer, Answer> {
    let key = pages.named(key)?;
    Ok(pages
        .draw(move |p, env| {
            let confirm = p.desk.companion.confirm_removal(env, &key)?;
            Ok(Answer::Page(devices::confirm(&p.frame, &confirm, "remove", "device", &key)))
        })
        .await)
}

async fn ask_erasure(State(pages): Shared, id: OnePath) -> Result<Answer, Answer> {
    let id = pages.named(id)?;
    Ok(pages
        .draw(move |p, env| {
            let confirm = p.desk.companion.confirm_erasure(env, &id)?;
            Ok(Answer::Page(devices::confirm(&p.frame, &confirm, "erase", "member", &id)))
        })
        .await)
}

async fn not_counted(State(pages): Shared) -> Answer {
    pages.draw(|p, env| Ok(Answer::Page(aside::page(&p.frame, &p.desk.companion.aside(env)?)))).await
}

async fn one_sharing(State(pages): Shared, id: OnePath, after: AfterQuery) -> Answer {
    let (id, done) = match (id, after) {
        (Ok(Path(id)), Ok(Query(after))) => (id, devices::done(&after.done)),
        (Err(e), _) => return pages.misread(e.status()),
        (_, Err(e)) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            Ok(Answer::Page(sharing::page(&p.frame, &p.desk.companion.sharing(env, &id)?, done)))
        })
        .await
}

async fn all_targets(State(pages): Shared) -> Answer {
    pages.draw(|p, env| Ok(Answer::Page(targets::page(&p.frame, &p.desk.companion.targets(env)?)))).await
}

/// Whom a page is about; empty for the squad, or for the one whom this device serves.
#[derive(Deserialize)]
struct Whom {
    #[serde(default)]
    member: String,
}

type WhomQuery = Result<Query<Whom>, QueryRejection>;

async fn all_rules(State(pages): Shared, whom: WhomQuery) -> Result<Answer, Answer> {
    let member = pages.whom(whom)?;
    Ok(pages
        .draw(move |p, env| Ok(Answer::Page(rules::page(&p.frame, &p.desk.companion.rules(env, &member)?))))
        .await)
}

async fn one_body(State(pages): Shared, whom: WhomQuery) -> Result<Answer, Answer> {
    let member = pages.whom(whom)?;
    Ok(pages
        .draw(move |p, env| Ok(Answer::Page(body::page(&p.frame, &p.desk.companion.body(env, &member)?))))
        .await)
}

async fn one_card(State(pages): Shared, whom: WhomQuery) -> Result<Answer, Answer> {
    let member = pages.whom(whom)?;
    Ok(pages
        .draw(move |p, env| Ok(Answer::Page(card::page(&p.frame, &p.desk.companion.card(env, &member)?))))
        .await)
}

async fn one_check_in(State(pages): Shared, whom: WhomQuery) -> Result<Answer, Answer> {
    let member = pages.whom(whom)?;
    Ok(pages
        .draw(move |p, env| {
            let screen = p.desk.companion.check_in_form(env, &member)?;
            Ok(Answer::Page(check_in::page(&p.frame, &screen, &member)))
        })
        .await)
}

async fn all_wishes(State(pages): Shared) -> Answer {
    pages.draw(|p, env| Ok(Answer::Page(sharing::wishes(&p.frame, &p.desk.companion.wishes(env)?)))).await
}

/// The fields of a form as they were sent; one may stand several times.
struct Sent(Vec<(String, String)>);

impl Sent {
    fn one(&self, name: &str) -> &str {
        self.0.iter().find(|(n, _)| n == name).map_or("", |(_, value)| value)
    }
    fn all(&self, name: &str) -> Vec<String> {
        self.0.iter().filter(|(n, _)| n == name).map(|(_, value)| value.clone()).collect()
    }
    fn ticked(&self, name: &str) -> bool {
        self.one(name) == "yes"
    }
}

/// A form as it came.
type Filled = Result<Form<Vec<(String, String)>>, FormRejection>;

async fn act(State(pages): Shared, action: OnePath, form: Filled) -> Result<Answer, Answer> {
    let action = pages.named(action)?;
    let form = pages.sent(form)?;
    Ok(pages.draw(move |p, env| perform(&p.desk.companion, env, &action, &form)).await)
}

/// Does what a form asks for, and leads to the page that says so.
fn perform(companion: &Companion, env: &Env, action: &str, form: &Sent) -> Result<Answer, ScreenError> {
    let (device, member) = (form.one("device"), form.one("member"));
    match action {
        "remove" => companion.remove_device(env, device)?,
        "take-in" => companion.take_in(env, device)?,
        "readmit" => companion.readmit_device(env, device)?,
        "give" => {
            let given = GiveForm {
                role: form.one("role").to_owned(),
                members: form.all("member"),
                everyone: form.ticked("everyone"),
                limits: form.ticked("limits"),
                consent: form.ticked("consent"),
            };
            companion.give(env, device, &given)?;
        }
        "same" => companion.same_person(env, member, form.one("other"))?,
        "two-persons" => companion.two_persons(env, member)?,
        "leave" | "keep-until" => companion.leave(env, member, form.one("until"))?,
        "come-back" => companion.come_back(env, member)?,
        "erase" => companion.erase_member(env, member).map(|_| ())?,
        "share" => {
            companion.share_with(env, member, form.one("to"), form.ticked("given"))?;
            // A member that is known by now: its id is safe in an address.
            let sharing = companion.sharing(env, member)?;
            return Ok(Answer::GoTo(format!("/sharing/{}?done=share", sharing.member)));
        }
        "set-target" => {
            companion.set_target(env, &target(form)?)?;
            return Ok(Answer::GoTo("/targets".to_owned()));
        }
        "remove-target" => {
            companion.remove_target(env, form.one("target"))?;
            return Ok(Answer::GoTo("/targets".to_owned()));
        }
        "save-exercise" => {
            let id = companion.save_exercise(env, &exercises::read(form))?;
            return Ok(Answer::GoTo(format!("/exercise/{id}")));
        }
        "take-in-exercises" => {
            companion.take_in_exercises(env)?;
            return Ok(Answer::GoTo("/exercises".to_owned()));
        }
        "set-rule" | "rule-back" => {
            if action == "set-rule" {
                companion.set_rule(env, &rule(form))?;
            } else {
                companion.take_rule_back(env, member, form.one("rule"))?;
            }
            return Ok(Answer::GoTo(with_member("/rules", &companion.rules(env, member)?.member)));
        }
        "save-plan" => {
            let filled = plan::read(form)?;
            let written = companion.save_plan(env, &filled)?;
            let several = filled.id.is_empty() && written.len() > 1;
            return Ok(Answer::GoTo(match written.first() {
                Some(id) if !several => {
                    let page = companion.plan_form(env, "", id, false)?;
                    path_of(&page.back)
                }
                _ => "/plan?done=several".to_owned(),
            }));
        }
        "withdraw-plan" => {
            let member = companion.withdraw_plan(env, form.one("plan"), form.one("seen"))?;
            return Ok(Answer::GoTo(with_member("/plans", &member)));
        }
        "save-card" => {
            companion.save_card(env, &card::read(form))?;
            return Ok(Answer::GoTo(format!("/athlete/{}", form.one("member"))));
        }
        "save-test" | "save-height" | "save-control" | "save-limit" | "save-advice" | "end-body" => {
            write_body(companion, env, action, form)?;
            return Ok(Answer::GoTo(with_member("/body", &companion.body(env, member)?.member)));
        }
        "check-in" => {
            companion.check_in(env, member, &check_in(form)?)?;
            return Ok(Answer::GoTo(with_member("/check-in", &companion.sharing(env, member)?.member)));
        }
        "agree" => {
            companion.agree_to_erase(env, member)?;
            return Ok(Answer::GoTo("/wishes".to_owned()));
        }
        "keep" => {
            companion.keep_what_is_here(member)?;
            return Ok(Answer::GoTo("/wishes".to_owned()));
        }
        _ => return Err(ScreenError::NotFound { what: "action of that name".to_owned() }),
    }
    Ok(Answer::GoTo(format!("/devices?done={action}")))
}

/// A page about a member whom the book knows: the id is safe in an address.
fn with_member(page: &str, member: &str) -> String {
    if member.is_empty() { page.to_owned() } else { format!("{page}?member={member}") }
}

/// A number of a form; what is none is refused by the field's name.
fn number<T: std::str::FromStr>(field: &str, text: &str) -> Result<T, ScreenError> {
    text.trim().parse().map_err(|_| ScreenError::Refused {
        field: field.to_owned(),
        value: text.to_owned(),
        range: "a whole number".to_owned(),
    })
}

fn rule(form: &Sent) -> RuleForm {
    RuleForm {
        rule: form.one("rule").to_owned(),
        member: form.one("member").to_owned(),
        off: form.ticked("off"),
        line: form.one("line").to_owned(),
        until: form.one("until").to_owned(),
        reason: form.one("reason").to_owned(),
    }
}

/// Writes down, or takes back, what the page of an athlete's tests and limits asks for.
fn write_body(companion: &Companion, env: &Env, action: &str, form: &Sent) -> Result<(), ScreenError> {
    let one = |field: &str| form.one(field).to_owned();
    match action {
        "save-test" => companion.save_test(
            env,
            &TestForm {
                member: one("member"),
                test: one("test"),
                value: one("value"),
                side: one("side"),
                day: one("day"),
                note: one("note"),
            },
        ),
        "save-height" => {
            companion.save_height(env, &HeightForm { member: one("member"), cm: one("cm"), day: one("day") })
        }
        "save-control" => companion.save_control(
            env,
            &ControlForm {
                member: one("member"),
                exercise: one("exercise"),
                side: one("side"),
                control: one("control"),
                knee_inward: form.ticked("knee_inward"),
                trunk: form.ticked("trunk"),
                day: one("day"),
                note: one("note"),
            },
        ),
        "save-limit" => companion.save_limit(
            env,
            &LimitForm {
                member: one("member"),
                from: one("from"),
                until: one("until"),
                no_one_leg: one("no_one_leg"),
                no_approach: form.ticked("no_approach"),
                max_box_cm: one("max_box_cm"),
                said_by: one("said_by"),
                note: one("note"),
            },
        ),
        "save-advice" => companion.save_advice(
            env,
            &AdviceForm {
                member: one("member"),
                from: one("from"),
                until: one("until"),
                part: one("part"),
                side: one("side"),
                up_to: number("up to", form.one("up_to"))?,
                note: one("note"),
            },
        ),
        _ => return companion.end_body(env, form.one("member"), form.one("entry")),
    }
    .map(|_| ())
}

/// A check-in as the form has it: places without a name are left out.
fn check_in(form: &Sent) -> Result<CheckInForm, ScreenError> {
    let (parts, sides, scores) = (form.all("part"), form.all("side"), form.all("score"));
    let mut hurts = Vec::new();
    for ((part, side), score) in parts.into_iter().zip(sides).zip(scores) {
        if !part.is_empty() {
            hurts.push(HurtForm { part, side, score: number("score", &score)? });
        }
    }
    let sleep_min = match form.one("sleep").trim() {
        "" => None,
        minutes => Some(number("sleep", minutes)?),
    };
    Ok(CheckInForm { day: String::new(), hurts, sleep_min, signs: form.all("sign") })
}

/// A target as the form has it: numbers that are left empty stand for any.
fn target(form: &Sent) -> Result<TargetForm, ScreenError> {
    let number = |field: &str| match form.one(field).trim() {
        "" => Ok(None),
        text => text.parse().map(Some).map_err(|_| ScreenError::Refused {
            field: field.to_owned(),
            value: text.to_owned(),
            range: "a whole number".to_owned(),
        }),
    };
    Ok(TargetForm {
        exercise: form.one("exercise").to_owned(),
        member: form.one("member").to_owned(),
        contact: number("contact")?,
        strides: number("strides")?,
        ms: number("ms")?.map_or(0, u32::from),
        source: form.one("source").to_owned(),
    })
}

async fn invite_form(State(pages): Shared) -> Answer {
    Answer::Page(invite::form(&pages.frame))
}

#[derive(Deserialize)]
struct Invite {
    #[serde(default)]
    form: String,
}

async fn invite(State(pages): Shared, form: Result<Form<Invite>, FormRejection>) -> Answer {
    match form {
        Ok(Form(form)) if pages.frame.form.is(&form.form) => {}
        Ok(_) => return pages.stale(),
        Err(e) => return pages.misread(e.status()),
    }
    pages
        .draw(|p, _| {
            Ok(match (p.desk.invite)() {
                Ok(invited) => Answer::Page(invite::page(&p.frame, &invited)),
                Err(why) => p.trouble(StatusCode::CONFLICT, "No invitation", &why),
            })
        })
        .await
}

async fn guide(State(pages): Shared) -> Markup {
    guide::page(&pages.frame)
}

async fn style() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, HeaderValue::from_static("text/css; charset=utf-8"))], include_str!("style.css"))
}

async fn nowhere(State(pages): Shared) -> Answer {
    pages.trouble(StatusCode::NOT_FOUND, "There is no such page", "The board is the way back.")
}

async fn no_such_method(State(pages): Shared) -> Answer {
    let sentence = "This address is opened, or is sent a form, but not in this way.";
    pages.trouble(StatusCode::METHOD_NOT_ALLOWED, "That did not work", sentence)
}

/// Where a screen's route is served; what the page does not have leads to the board.
fn path_of(route: &str) -> String {
    match route.split_once('/') {
        Some(("jumps", member)) => format!("/jumps?member={member}"),
        Some(("competition", member)) => format!("/jumps/day?member={member}"),
        Some(("attempt", id)) => format!("/jumps/day?editing={id}"),
        Some(("exercise" | "athlete" | "session" | "give" | "remove" | "erase" | "sharing", _)) => {
            format!("/{route}")
        }
        Some((page @ ("body" | "card" | "plans" | "rules"), member)) => format!("/{page}?member={member}"),
        Some(("plan", id)) => format!("/plan?id={id}"),
        None if matches!(route, "exercises" | "devices" | "aside" | "wishes" | "check-in") => {
            format!("/{route}")
        }
        _ => "/".to_owned(),
    }
}
