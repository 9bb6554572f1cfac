//! What the addresses of jumps and their forms say.

use std::sync::Arc;

use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::routing::{get, post};
use pitside_screen::ScreenError;
use pitside_screen::record::{AttemptForm, Choice, CompetitionForm, JumpsForm};

use super::super::{Answer, Filled, Pages, Sent, Shared};
use super::competition::{self, WITHDRAWN, pairs};

/// The routes of jumps.
pub(in crate::page) fn routes() -> Router<Arc<Pages>> {
    Router::new()
        .route("/jumps", get(one_athlete))
        .route("/jumps/day", get(day).post(save))
        .route("/jumps/withdraw", post(withdraw))
}

type Asked = Result<Query<Vec<(String, String)>>, QueryRejection>;

async fn one_athlete(State(pages): Shared, asked: Asked) -> Answer {
    let asked = match asked {
        Ok(Query(asked)) => Sent(asked),
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            let form = JumpsForm {
                wind_from: asked.one("wind_from").to_owned(),
                wind_to: asked.one("wind_to").to_owned(),
                fouls: asked.one("fouls").to_owned(),
                before: asked.one("before").to_owned(),
            };
            let screen = p.desk.companion.jumps(env, asked.one("member"), &form)?;
            Ok(Answer::Page(super::page(&p.frame, &screen)))
        })
        .await
}

/// What holds for all attempts, from an address or a form.
fn form_of(sent: &Sent) -> CompetitionForm {
    CompetitionForm {
        member: sent.one("member").to_owned(),
        event: sent.one("event").to_owned(),
        day: sent.one("day").to_owned(),
        place: sent.one("place").to_owned(),
        competition: sent.one("kind") != "training",
        indoor: sent.ticked("indoor"),
        wind_rule: sent.one("wind_rule").to_owned(),
        board: sent.one("board").to_owned(),
        pit: sent.one("pit").to_owned(),
        athletes: sent.all("athlete"),
    }
}

async fn day(State(pages): Shared, asked: Asked) -> Answer {
    let asked = match asked {
        Ok(Query(asked)) => Sent(asked),
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            let screen = p.desk.companion.competition_day(env, &form_of(&asked), asked.one("editing"))?;
            Ok(Answer::Page(competition::page(&p.frame, &screen, asked.one("saved"))))
        })
        .await
}

/// Where the next attempt is written down, with what was just done.
fn address(form: &CompetitionForm, saved: &str) -> Result<String, ScreenError> {
    let mut all = pairs(form);
    all.push(("saved", saved));
    let query = serde_urlencoded::to_string(all)
        .map_err(|e| ScreenError::NotFound { what: format!("address for it: {e}") })?;
    Ok(format!("/jumps/day?{query}"))
}

/// Chooses what was chosen on the form.
fn choose(choices: &mut [Choice], chosen: &str) {
    for choice in choices {
        choice.chosen = choice.id == chosen;
    }
}

async fn save(State(pages): Shared, filled: Filled) -> Result<Answer, Answer> {
    let sent = pages.sent(filled)?;
    Ok(pages
        .draw(move |p, env| {
            let (form, editing) = (form_of(&sent), sent.one("editing"));
            let row = AttemptForm {
                attempt: sent.one("attempt").to_owned(),
                distance: sent.one("distance").to_owned(),
                wind: sent.one("wind").to_owned(),
                toe: sent.one("toe").to_owned(),
                start: sent.one("start").to_owned(),
                run_up: sent.one("run_up").to_owned(),
                hop: sent.one("hop").to_owned(),
                step: sent.one("step").to_owned(),
                jump: sent.one("jump").to_owned(),
            };
            let companion = &p.desk.companion;
            let saved = companion.save_attempt(env, &form, &row, editing)?;
            if saved.troubles.is_empty() {
                return Ok(Answer::GoTo(address(&form, &saved.id)?));
            }
            // What was typed stands there again, with what is wrong beside it.
            let mut screen = companion.competition_day(env, &form, editing)?;
            (screen.row, screen.troubles) = (row, saved.troubles);
            if !editing.is_empty() {
                choose(&mut screen.events, &form.event);
                choose(&mut screen.wind_rules, &form.wind_rule);
                choose(&mut screen.boards, &form.board);
                screen.form = form;
            }
            Ok(Answer::Trouble(StatusCode::BAD_REQUEST, competition::page(&p.frame, &screen, "")))
        })
        .await)
}

async fn withdraw(State(pages): Shared, filled: Filled) -> Result<Answer, Answer> {
    let sent = pages.sent(filled)?;
    Ok(pages
        .draw(move |p, env| {
            let form = p.desk.companion.withdraw_attempt(env, sent.one("editing"))?;
            Ok(Answer::GoTo(address(&form, WITHDRAWN)?))
        })
        .await)
}
