//! The page on which a clip is timed: the clip is opened here, its pictures are shown
//! there, and every mark comes back to be computed.
//!
//! `decode.js` shows exactly frame n; `mark.js` is what a person does. Neither computes
//! a time.

mod index;
mod markup;
mod pictures;
mod shelf;

use std::path::Path as FilePath;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use pitside_screen::ScreenError;
use serde::{Deserialize, Serialize};
use tower_http::services::ServeFile;

use super::{Answer, Pages, Shared, path_of, sentence_of, status_of};
use index::{Index, Progress, Sent};
use pictures::Drawing;
pub(crate) use shelf::Shelf;
use shelf::ShelfError;

/// The header in which the page's script carries what its forms carry.
const FORM: &str = "x-form";

/// The routes of the page and of its script.
pub(super) fn routes() -> Router<Arc<Pages>> {
    Router::new()
        .route("/take", get(page))
        .route("/take/mark.js", get(|| script(include_str!("mark.js"))))
        .route("/take/decode.js", get(|| script(include_str!("decode.js"))))
        .route("/take/clip", post(receive))
        .route("/take/listed", post(open_listed))
        .route("/take/clip/{id}", get(one_clip))
        .route("/take/clip/{id}/bytes", get(bytes))
        .route("/take/clip/{id}/track", post(other_track))
        .route("/take/clip/{id}/pictures", get(progress).post(draw))
        .route("/take/clip/{id}/pictures/bytes", get(picture_bytes))
        .route("/take/clip/{id}/marked", post(marked))
        .route("/take/clip/{id}/save", post(save))
        .route("/take/clip/{id}/close", post(close))
}

/// What the script is told instead of an answer.
struct Trouble(StatusCode, String);

#[derive(Serialize)]
struct Said {
    trouble: String,
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        (self.0, axum::Json(Said { trouble: sentence_of(self.1) })).into_response()
    }
}

impl From<ShelfError> for Trouble {
    fn from(error: ShelfError) -> Self {
        let status = match &error {
            ShelfError::Clip(_) | ShelfError::NotOurs | ShelfError::Sending(_) => StatusCode::BAD_REQUEST,
            ShelfError::TooLarge | ShelfError::TooLong { .. } => StatusCode::PAYLOAD_TOO_LARGE,
            ShelfError::Changed => StatusCode::CONFLICT,
            ShelfError::Arriving => StatusCode::TOO_MANY_REQUESTS,
            ShelfError::Full => StatusCode::INSUFFICIENT_STORAGE,
            ShelfError::NotListed | ShelfError::Closed => StatusCode::NOT_FOUND,
            ShelfError::Io { .. } => StatusCode::INTERNAL_SERVER_ERROR,
        };
        Self(status, error.to_string())
    }
}

impl From<ScreenError> for Trouble {
    fn from(error: ScreenError) -> Self {
        Self(status_of(&error), error.to_string())
    }
}

type Told<T> = Result<axum::Json<T>, Trouble>;

/// Does what blocks away from the threads that serve.
async fn apart<T: Send + 'static>(
    what: impl FnOnce() -> Result<T, Trouble> + Send + 'static,
) -> Result<T, Trouble> {
    let done = tokio::task::spawn_blocking(what).await;
    done.unwrap_or_else(|_| {
        let sentence = "That did not work; the book is as it was";
        Err(Trouble(StatusCode::INTERNAL_SERVER_ERROR, sentence.to_owned()))
    })
}

impl Pages {
    /// Whether the script is the one of a page that this start drew.
    fn is_own(&self, headers: &HeaderMap) -> Result<(), Trouble> {
        let sent = headers.get(FORM).and_then(|form| form.to_str().ok()).unwrap_or_default();
        if self.frame.form.is(sent) {
            return Ok(());
        }
        let sentence = "The page belongs to an earlier start. Nothing was changed; open it anew";
        Err(Trouble(StatusCode::FORBIDDEN, sentence.to_owned()))
    }
}

/// What the address of the page says.
#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    member: String,
    #[serde(default)]
    set: String,
}

async fn page(State(pages): Shared, asked: Result<Query<Asked>, QueryRejection>) -> Answer {
    let asked = match asked {
        Ok(Query(asked)) => asked,
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            let form = p.desk.companion.marking_form(env, &asked.member, &asked.set)?;
            Ok(Answer::Page(markup::page(&p.frame, &form, &p.desk.shelf.listed())))
        })
        .await
}

async fn script(text: &'static str) -> impl IntoResponse {
    ([(header::CONTENT_TYPE, HeaderValue::from_static("text/javascript; charset=utf-8"))], text)
}

/// A clip that the browser sends: its bytes are the body.
async fn receive(State(pages): Shared, headers: HeaderMap, body: Body) -> Told<Index> {
    pages.is_own(&headers)?;
    let lies = pages.desk.shelf.receive(body).await?;
    apart(move || Ok(axum::Json(Index::of(&*pages.desk.shelf.shelve(lies)?)))).await
}

fn read<T: for<'a> Deserialize<'a>>(body: &Bytes) -> Result<T, Trouble> {
    serde_json::from_slice(body)
        .map_err(|e| Trouble(StatusCode::BAD_REQUEST, format!("what the page sent cannot be read: {e}")))
}

#[derive(Deserialize)]
struct Named {
    name: String,
}

async fn open_listed(State(pages): Shared, headers: HeaderMap, body: Bytes) -> Told<Index> {
    pages.is_own(&headers)?;
    let Named { name } = read(&body)?;
    apart(move || Ok(axum::Json(Index::of(&*pages.desk.shelf.open_listed(&name)?)))).await
}

async fn one_clip(State(pages): Shared, Path(id): Path<String>) -> Told<Index> {
    apart(move || Ok(axum::Json(Index::of(&*pages.desk.shelf.get(&id)?)))).await
}

#[derive(Deserialize)]
struct Chosen {
    track: u32,
}

async fn other_track(
    State(pages): Shared,
    Path(id): Path<String>,
    headers: HeaderMap,
    body: Bytes,
) -> Told<Index> {
    pages.is_own(&headers)?;
    let Chosen { track } = read(&body)?;
    apart(move || Ok(axum::Json(Index::of(&*pages.desk.shelf.open_track(&id, track)?)))).await
}

/// The part of a file that the request asks for.
async fn part(path: &FilePath, request: Request) -> Result<Response, Trouble> {
    let served = ServeFile::new(path).try_call(request).await;
    let failed = |e| Trouble(StatusCode::INTERNAL_SERVER_ERROR, format!("the clip could not be read: {e}"));
    let mut response = served.map_err(failed)?.into_response();
    // Bytes, whatever the file is called: no browser shall play them by themselves.
    let bytes = HeaderValue::from_static("application/octet-stream");
    response.headers_mut().insert(header::CONTENT_TYPE, bytes);
    Ok(response)
}

async fn bytes(State(pages): Shared, Path(id): Path<String>, request: Request) -> Result<Response, Trouble> {
    let shelved = pages.desk.shelf.get(&id)?;
    shelved.lies.check()?;
    part(shelved.lies.path(), request).await
}

async fn draw(State(pages): Shared, Path(id): Path<String>, headers: HeaderMap) -> Told<Progress> {
    pages.is_own(&headers)?;
    apart(move || {
        let shelved = pages.desk.shelf.get(&id)?;
        shelved.lies.check()?;
        shelved.pictures.draw(shelved.lies.path());
        Ok(axum::Json(Progress::of(&shelved.pictures.drawing())))
    })
    .await
}

async fn progress(State(pages): Shared, Path(id): Path<String>) -> Told<Progress> {
    let shelved = pages.desk.shelf.get(&id)?;
    Ok(axum::Json(Progress::of(&shelved.pictures.drawing())))
}

async fn picture_bytes(
    State(pages): Shared,
    Path(id): Path<String>,
    request: Request,
) -> Result<Response, Trouble> {
    match pages.desk.shelf.get(&id)?.pictures.drawing() {
        Drawing::Drawn(drawn) => part(&drawn.path, request).await,
        _ => Err(Trouble(StatusCode::NOT_FOUND, "there are no such pictures".to_owned())),
    }
}

async fn marked(
    State(pages): Shared,
    Path(id): Path<String>,
    headers: HeaderMap,
    body: Bytes,
) -> Told<index::Answer> {
    pages.is_own(&headers)?;
    let sent: Sent = read(&body)?;
    apart(move || {
        let shelved = pages.desk.shelf.get(&id)?;
        let marked = pages.desk.companion.marked(&pages.desk.env(), &shelved.open, &sent.into())?;
        Ok(axum::Json(marked.into()))
    })
    .await
}

/// Where the take stands that was saved.
#[derive(Serialize)]
struct Saved {
    path: String,
}

async fn save(State(pages): Shared, Path(id): Path<String>, headers: HeaderMap, body: Bytes) -> Told<Saved> {
    pages.is_own(&headers)?;
    let sent: Sent = read(&body)?;
    apart(move || {
        let shelved = pages.desk.shelf.get(&id)?;
        let route = pages.desk.companion.save_take(&pages.desk.env(), &shelved.open, &sent.into())?;
        Ok(axum::Json(Saved { path: path_of(&route) }))
    })
    .await
}

#[derive(Deserialize)]
struct Close {
    delete: bool,
}

async fn close(
    State(pages): Shared,
    Path(id): Path<String>,
    headers: HeaderMap,
    body: Bytes,
) -> Result<StatusCode, Trouble> {
    pages.is_own(&headers)?;
    let Close { delete } = read(&body)?;
    apart(move || {
        pages.desk.shelf.close(&id, delete)?;
        Ok(StatusCode::NO_CONTENT)
    })
    .await
}
