//! The board: what to look at first, then everybody.

use maud::{Markup, html};
use pitside_screen::record::{AthleteRow, Notice, Squad};

use super::layout::{page as layout, sentences};
use super::{lane, path_of, week};

pub(super) fn page(squad: &Squad) -> Markup {
    layout(
        &squad.title,
        &squad.demo_note,
        html! {
            h1 { (squad.title) }
            p.week { (squad.week) }
            section aria-labelledby="look" {
                h2 #look { "To look at" }
                @if squad.notices.is_empty() && disagreements(squad).next().is_none() { p.quiet { (squad.empty) } }
                (notices(&squad.notices, true))
                @for athlete in disagreements(squad) {
                    p.notice {
                        strong { a href=(path_of(&athlete.route)) { (athlete.name) } }
                        " " (athlete.clashes) "."
                    }
                }
            }
            section aria-labelledby="athletes" {
                h2 #athletes { "Athletes" }
                @for athlete in &squad.athletes { (row(athlete)) }
            }
            (sentences("apart", &squad.apart))
            details.notes {
                summary { "How to read these figures" }
                (sentences("", &squad.notes))
            }
        },
    )
}

fn disagreements(squad: &Squad) -> impl Iterator<Item = &AthleteRow> {
    squad.athletes.iter().filter(|a| !a.clashes.is_empty())
}

/// Notices; with the name where they are not under one.
pub(super) fn notices(notices: &[Notice], named: bool) -> Markup {
    html! {
        @for notice in notices {
            details.notice {
                summary {
                    @if named { strong { (notice.who) } " " }
                    (notice.saw)
                }
                p { (notice.may_do) }
                p.quiet { "Rule: " (notice.rule) " " (notice.source) }
                p { a href=(path_of(&notice.route)) { "See where it comes from" } }
            }
        }
    }
}

fn row(athlete: &AthleteRow) -> Markup {
    html! {
        article.athlete {
            div.who {
                h3 { a href=(path_of(&athlete.route)) { (athlete.name) } }
                p.quiet { (athlete.about) }
                @if let Some(last) = &athlete.last_session {
                    p { "Last: " a href=(path_of(&last.route)) { (last.text) } }
                } @else {
                    p.quiet { "No session in these weeks." }
                }
                @if !athlete.limits.is_empty() {
                    p.label { "Limits" }
                    (sentences("limits", &athlete.limits))
                }
                @if !athlete.hurts.is_empty() {
                    p.label { "Hurts" }
                    (sentences("hurts", &athlete.hurts))
                }
                @if !athlete.private_note.is_empty() { p.quiet { (athlete.private_note) } }
            }
            div.what {
                (week::table(&format!("{}, contacts and energy by week", athlete.name), &athlete.rows))
                @if !athlete.times.is_empty() {
                    p.label { "Newest contact times" }
                    @for (at, time) in athlete.times.iter().enumerate() {
                        p.time {
                            (lane::small(&format!("t-{}-{at}", athlete.id), time))
                            span.figure { (time.value) } " "
                            span.quiet { (time.label) " · " (time.note) }
                        }
                    }
                }
            }
        }
    }
}
