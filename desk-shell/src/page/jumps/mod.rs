//! The jumps of one athlete, and the page on which attempts are written down.

mod competition;
mod routes;

use maud::{Markup, html};
use pitside_screen::record::{AttemptRow, FieldTrouble, JumpGroup, Jumps};

use super::layout::{Frame, sentences};
use super::{athlete, path_of};

pub(super) use routes::routes;

fn page(frame: &Frame, screen: &Jumps) -> Markup {
    let form = &screen.form;
    frame.page(
        "",
        &screen.title,
        html! {
            p.from { a href=(path_of(&screen.athlete.route)) { (screen.athlete.text) } }
            h1 { (screen.title) }
            p { a.button href=(path_of(&screen.competition.route)) { (screen.competition.text) } }
            @if !screen.empty.is_empty() { p { (screen.empty) } }
            @if !screen.groups.is_empty() || !screen.troubles.is_empty() {
                section aria-labelledby="alike" {
                    h2 #alike { "By run-up" }
                    form.fields.row method="get" action="/jumps" {
                        input type="hidden" name="member" value=(screen.member);
                        (field("Wind from, m/s", "wind_from", &form.wind_from, &screen.troubles))
                        (field("Wind to, m/s", "wind_to", &form.wind_to, &screen.troubles))
                        (field("Fouls to aim at, %", "fouls", &form.fouls, &screen.troubles))
                        button.plain type="submit" { "Compare" }
                    }
                    @if screen.groups.is_empty() { p.quiet { "No attempt in such a wind." } }
                    @for group in &screen.groups { (self::group(group)) }
                }
            }
            @if !screen.days.is_empty() {
                section aria-labelledby="days" {
                    h2 #days { "Attempts" }
                    @for day in &screen.days {
                        section.day aria-label=(day.title) {
                            h3 { (day.title) }
                            (attempts(&day.attempts))
                            @if !day.training.is_empty() { p.quiet { (day.training) } }
                        }
                    }
                    @if !screen.older.is_empty() {
                        p { a href=(format!("/jumps?member={}&before={}", screen.member, screen.older)) { "Older days" } }
                    }
                }
            }
            (athlete::cautions(&screen.cautions))
            details.notes {
                summary { "How to read these figures" }
                (sentences("", &screen.notes))
            }
        },
    )
}

fn group(group: &JumpGroup) -> Markup {
    html! {
        section.group aria-label=(group.title) {
            h3 { (group.title) }
            p.quiet { (group.count) }
            div.beside {
                (part("Distance", &group.distances))
                (part("At the board", &group.board))
                (part("Start mark", &group.shift))
            }
        }
    }
}

fn part(title: &str, said: &[String]) -> Markup {
    html! { @if !said.is_empty() { div { p.label { (title) } (sentences("limits", said)) } } }
}

/// Attempts as a list, each with a link to change it.
fn attempts(rows: &[AttemptRow]) -> Markup {
    html! {
        ul.attempts {
            @for row in rows {
                li {
                    div {
                        p { (row.title) }
                        p { span.figure.result { (row.outcome) } @if !row.wind.is_empty() { " · " (row.wind) } }
                        p.quiet { a href=(path_of(&row.route)) aria-label=(format!("Change {}, {}", row.title, row.outcome)) { "Change" } }
                    }
                    div.quiet {
                        @for said in [&row.record, &row.board, &row.run_up, &row.phases, &row.times, &row.note] {
                            @if !said.is_empty() { p { (said) } }
                        }
                    }
                }
            }
        }
    }
}

/// A field with what is wrong with it beside it.
fn field(label: &str, name: &str, value: &str, troubles: &[FieldTrouble]) -> Markup {
    let wrong: Vec<&str> = troubles
        .iter()
        .filter(|trouble| trouble.field == name)
        .map(|trouble| trouble.text.as_str())
        .collect();
    let about = format!("{name}-wrong");
    // Where one begins to type: at what is wrong, else at what is read first.
    let begins = troubles.first().map_or(name == "distance", |trouble| trouble.field == name);
    html! {
        label {
            (label)
            input type="text" inputmode="text" autocomplete="off" maxlength="80" name=(name) value=(value)
                autofocus[begins]
                aria-invalid=[(!wrong.is_empty()).then_some("true")]
                aria-describedby=[(!wrong.is_empty()).then_some(&about)];
            @if !wrong.is_empty() { span.apart #(about) { (wrong.join(" ")) } }
        }
    }
}
