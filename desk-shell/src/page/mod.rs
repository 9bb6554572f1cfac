//! The page: the screens as HTML, served on the loopback of this machine only.
//!
//! One file a page; [`layout`] is around each, [`guard`] before each, and
//! `style.css` has every colour and size. Nothing here computes: the records of
//! `pitside-screen` are drawn as they come.

mod athlete;
mod guard;
mod guide;
mod invite;
mod lane;
mod layout;
mod session;
mod squad;
mod week;

use std::net::SocketAddr;
use std::sync::Arc;

use axum::Router;
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use maud::Markup;
use pitside_book::clock::Clock;
use pitside_screen::{Companion, Env, ScreenError};
use serde::Deserialize;

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
}

impl Desk {
    fn env(&self) -> Env {
        let now = self.clock.now();
        Env { language: "en".to_owned(), zone_min: now.zone_min, hour24: true, now_ms: now.ms }
    }
}

type Shared = State<Arc<Desk>>;

/// The pages and what stands before them.
pub(crate) fn router(desk: Arc<Desk>) -> Router {
    Router::new()
        .route("/", get(board))
        .route("/athlete/{id}", get(one_athlete))
        .route("/session/{id}", get(one_session))
        .route("/settle", post(settle))
        .route("/invite", get(invite_form).post(invite))
        .route("/guide", get(guide))
        .route("/style.css", get(style))
        .fallback(nowhere)
        .layer(DefaultBodyLimit::max(MAX_FORM))
        .layer(middleware::from_fn_with_state(Arc::clone(&desk), guard::guard))
        .with_state(desk)
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

/// Draws a page away from the threads that serve: the book blocks.
async fn draw(
    desk: Arc<Desk>,
    page: impl FnOnce(&Desk, &Env) -> Result<Answer, ScreenError> + Send + 'static,
) -> Answer {
    let drawn = tokio::task::spawn_blocking(move || {
        let env = desk.env();
        page(&desk, &env).unwrap_or_else(|e| {
            let status = match e {
                ScreenError::NotFound { .. } => StatusCode::NOT_FOUND,
                ScreenError::Refused { .. } | ScreenError::NotAllowed { .. } => StatusCode::BAD_REQUEST,
                _ => StatusCode::INTERNAL_SERVER_ERROR,
            };
            Answer::Trouble(status, layout::trouble("That did not work", &e.to_string()))
        })
    })
    .await;
    drawn.unwrap_or_else(|_| {
        let sentence = "The page could not be drawn. The book is as it was.";
        Answer::Trouble(StatusCode::INTERNAL_SERVER_ERROR, layout::trouble("That did not work", sentence))
    })
}

async fn board(State(desk): Shared) -> Answer {
    draw(desk, |desk, env| Ok(Answer::Page(squad::page(&desk.companion.squad(env)?)))).await
}

#[derive(Deserialize)]
struct Window {
    #[serde(default)]
    before: String,
}

async fn one_athlete(State(desk): Shared, Path(id): Path<String>, Query(window): Query<Window>) -> Answer {
    draw(desk, move |desk, env| {
        Ok(Answer::Page(athlete::page(&desk.companion.athlete(env, &id, &window.before)?)))
    })
    .await
}

async fn one_session(State(desk): Shared, Path(id): Path<String>) -> Answer {
    draw(desk, move |desk, env| Ok(Answer::Page(session::page(&desk.companion.session(env, &id)?)))).await
}

#[derive(Deserialize)]
struct Settlement {
    member: String,
    choice: String,
    back: String,
}

async fn settle(State(desk): Shared, Form(form): Form<Settlement>) -> Answer {
    draw(desk, move |desk, env| {
        desk.companion.settle(env, &form.member, &form.choice)?;
        // Back to a page of this server, whatever the form says.
        let back = desk.companion.check_route(&form.back).unwrap_or_default();
        Ok(Answer::GoTo(path_of(&back)))
    })
    .await
}

async fn invite_form(State(desk): Shared) -> Answer {
    draw(desk, |_, _| Ok(Answer::Page(invite::form()))).await
}

async fn invite(State(desk): Shared) -> Answer {
    draw(desk, |desk, _| {
        Ok(match (desk.invite)() {
            Ok(invited) => Answer::Page(invite::page(&invited)),
            Err(why) => Answer::Trouble(StatusCode::CONFLICT, layout::trouble("No invitation", &why)),
        })
    })
    .await
}

async fn guide() -> Markup {
    guide::page()
}

async fn style() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, HeaderValue::from_static("text/css; charset=utf-8"))], include_str!("style.css"))
}

async fn nowhere() -> Answer {
    Answer::Trouble(
        StatusCode::NOT_FOUND,
        layout::trouble("There is no such page", "The board is the way back."),
    )
}

/// Where a screen's route is served.
fn path_of(route: &str) -> String {
    match route {
        "squad" | "" => "/".to_owned(),
        other => format!("/{other}"),
    }
}
