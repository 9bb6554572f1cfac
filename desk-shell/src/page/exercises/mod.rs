//! The squad's exercises: the list by kind, one exercise with its numbers unfolded, and the form by which one is
//! added or changed.

mod form;
mod one;

use std::sync::Arc;

use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::routing::get;
use maud::{Markup, html};
use pitside_screen::record::{ExerciseQuery, Exercises};
use serde::Deserialize;

pub(super) use form::read;
pub(super) use one::unfolded;

use super::layout::{Frame, options};
use super::{Answer, OnePath, Pages, Shared, path_of};

pub(super) fn routes() -> Router<Arc<Pages>> {
    Router::new()
        .route("/exercises", get(list))
        .route("/exercise/{id}", get(shown))
        .route("/exercise/{id}/copy", get(copied))
        .route("/exercise/{id}/change", get(changed))
}

#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    name: String,
    #[serde(default)]
    by: String,
    #[serde(default)]
    event: String,
}

async fn list(State(pages): Shared, asked: Result<Query<Asked>, QueryRejection>) -> Answer {
    let query = match asked {
        Ok(Query(asked)) => ExerciseQuery { search: asked.name, sort: asked.by, event: asked.event },
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| Ok(Answer::Page(page(&p.frame, &p.desk.companion.exercises(env, &query)?))))
        .await
}

async fn shown(State(pages): Shared, id: OnePath) -> Result<Answer, Answer> {
    let id = pages.named(id)?;
    Ok(pages
        .draw(move |p, env| Ok(Answer::Page(one::page(&p.frame, &p.desk.companion.exercise(env, &id)?))))
        .await)
}

async fn copied(State(pages): Shared, id: OnePath) -> Result<Answer, Answer> {
    let id = pages.named(id)?;
    Ok(pages
        .draw(move |p, env| {
            Ok(Answer::Page(form::page(&p.frame, &p.desk.companion.copy_exercise(env, &id)?)))
        })
        .await)
}

async fn changed(State(pages): Shared, id: OnePath) -> Result<Answer, Answer> {
    let id = pages.named(id)?;
    Ok(pages
        .draw(move |p, env| {
            Ok(Answer::Page(form::page(&p.frame, &p.desk.companion.change_exercise(env, &id)?)))
        })
        .await)
}

fn page(frame: &Frame, screen: &Exercises) -> Markup {
    frame.page(
        "/exercises",
        &screen.title,
        html! {
            h1 { (screen.title) }
            p { (screen.about) }
            @if !screen.missing.is_empty() {
                form.acts.said method="post" action="/do/take-in-exercises" {
                    (frame.form.field())
                    span { (screen.missing) }
                    button.plain type="submit" { "Take them in" }
                }
            }
            form.fields.row method="get" action="/exercises" role="search" {
                label { "Name has" input type="text" name="name" value=(screen.search) maxlength="80"; }
                label { "In order of" select name="by" { (options(&screen.sorts)) } }
                label { "Event to be like" select name="event" { (options(&screen.events)) } }
                button type="submit" { "Show" }
            }
            p.quiet { (screen.found) }
            @for group in &screen.groups {
                section aria-labelledby=(group.id) {
                    h2 id=(group.id) { (group.label) }
                    div.scroll tabindex="0" role="region" aria-label=(group.label) {
                        table.sessions.exercises {
                            thead { tr {
                                th scope="col" { "Exercise" }
                                th scope="col" { "Hardest landing, along the leg" }
                                th scope="col" { "Push" }
                                th scope="col" { "On the ground" }
                                @if !screen.like.is_empty() { th scope="col" { (screen.like) } }
                                th scope="col" { "Behind it" }
                            } }
                            tbody {
                                @for row in &group.rows {
                                    tr {
                                        th scope="row" { a href=(path_of(&row.route)) { (row.name) } }
                                        td { (row.landing) }
                                        td { (row.push) }
                                        td { (row.contact) }
                                        @if !screen.like.is_empty() { td { (row.like) } }
                                        td.quiet { (row.mark) }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        },
    )
}
