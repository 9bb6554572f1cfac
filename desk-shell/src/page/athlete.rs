//! One athlete.

use maud::{Markup, html};
use pitside_screen::record::{Athlete, Clash, Detail, Pair, SessionRow, TakeRow};

use super::layout::{Frame, sentences};
use super::{lane, path_of, squad, week};

pub(super) fn page(frame: &Frame, athlete: &Athlete) -> Markup {
    let back = format!("athlete/{}", athlete.id);
    // What bounds today's work stands before the figures; that there is nothing, after them.
    let bound = !athlete.limits.is_empty() || !athlete.hurts.is_empty();
    frame.page(
        "",
        &athlete.title,
        html! {
            h1 { (athlete.title) }
            @for notice in &athlete.notices { (squad::notice(notice, false)) }
            (clashes(frame, &athlete.clashes, &back))
            @if bound { (bounds(athlete)) }
            section aria-labelledby="weeks" {
                h2 #weeks { "Week by week" }
                (week::table(&format!("{}, contacts and energy by week", athlete.title), &athlete.rows))
                (details(&athlete.details))
            }
            @if !athlete.takes.is_empty() {
                section aria-labelledby="takes" {
                    h2 #takes { "Timed contacts" }
                    @for take in &athlete.takes { (self::take(take)) }
                }
            }
            @if !bound { (bounds(athlete)) }
            section aria-labelledby="sessions" {
                h2 #sessions { "Sessions" }
                @if athlete.sessions.is_empty() { p.quiet { "No session has arrived." } }
                @else { (sessions(&athlete.sessions)) }
                @if !athlete.other.is_empty() {
                    details {
                        summary { "Other training of these weeks" }
                        (sentences("", &athlete.other))
                    }
                }
                @if !athlete.older.is_empty() {
                    p { a href=(format!("/athlete/{}?before={}", athlete.id, athlete.older)) { "Older sessions" } }
                }
            }
            section aria-labelledby="card" {
                h2 #card { "Card" }
                (card(&athlete.card))
            }
            p { a href=(format!("/take?member={}", athlete.id)) { "Time a clip" } }
            ul.leads { @for link in &athlete.links { li { a href=(path_of(&link.route)) { (link.text) } } } }
            (cautions(&athlete.cautions))
        },
    )
}

/// Limits and what hurts.
fn bounds(athlete: &Athlete) -> Markup {
    html! {
        div.beside {
            @if !athlete.limits.is_empty() {
                section aria-labelledby="limits" {
                    h2 #limits { "Limits" }
                    (sentences("limits", &athlete.limits))
                }
            }
            @if !athlete.hurts.is_empty() || !athlete.private_note.is_empty() {
                section aria-labelledby="hurts" {
                    h2 #hurts { "What hurts" }
                    (sentences("hurts", &athlete.hurts))
                    @if !athlete.private_note.is_empty() { p.quiet { (athlete.private_note) } }
                }
            }
        }
    }
}

fn sessions(sessions: &[SessionRow]) -> Markup {
    html! {
        table.sessions {
            thead {
                tr {
                    th scope="col" { "Day" }
                    th scope="col" { "What was done, contacts and load" }
                }
            }
            tbody {
                @for session in sessions {
                    tr {
                        th scope="row" { a href=(path_of(&session.route)) { (session.day) } }
                        td {
                            div.done {
                                span { (session.text) }
                                span.quiet {
                                    (session.figures)
                                    @if !session.kept.is_empty() { " · " (session.kept) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Figures behind the weeks, for whoever asks.
fn details(details: &[Detail]) -> Markup {
    html! {
        @if !details.is_empty() {
            details {
                summary { "What stands behind these weeks" }
                dl.card {
                    @for detail in details {
                        div {
                            dt { (detail.label) }
                            dd { (detail.value) @if !detail.note.is_empty() { br; span.quiet { (detail.note) } } }
                        }
                    }
                }
            }
        }
    }
}

/// Labels and values.
pub(super) fn card(pairs: &[Pair]) -> Markup {
    html! { dl.card { @for pair in pairs { div { dt { (pair.label) } dd { (pair.value) } } } } }
}

/// What to take care of.
pub(super) fn cautions(cautions: &[String]) -> Markup {
    html! {
        @if !cautions.is_empty() {
            section.cautions aria-labelledby="cautions" {
                h2 #cautions { "Cautions" }
                (sentences("", cautions))
            }
        }
    }
}

/// A take with its lane.
pub(super) fn take(take: &TakeRow) -> Markup {
    html! {
        figure.take {
            figcaption { (take.title) }
            (lane::large(&format!("l-{}", take.id), &take.title, &take.lane))
            @if !take.times.is_empty() {
                ul.times { @for time in &take.times { li { (time.label) " " span.figure { (time.value) } } } }
            }
            (sentences("limits", &take.said))
            p.quiet { (take.note) }
        }
    }
}

/// What two people wrote differently, with a button to keep each value.
pub(super) fn clashes(frame: &Frame, clashes: &[Clash], back: &str) -> Markup {
    html! {
        @for clash in clashes {
            section.clash aria-label=(clash.spoken) {
                h2 { (clash.what) ": written differently by two people" }
                p.quiet { (clash.note) }
                ul {
                    @for value in &clash.values {
                        li {
                            @if clash.can_settle {
                                form method="post" action="/settle" {
                                    (frame.form.field())
                                    input type="hidden" name="member" value=(clash.member);
                                    input type="hidden" name="choice" value=(value.choice);
                                    input type="hidden" name="back" value=(back);
                                    p { strong { (value.text) } " " span.quiet { (value.written) } }
                                    button type="submit" aria-label=(format!("Keep {}", value.text)) { "Keep this one" }
                                }
                            } @else {
                                p { strong { (value.text) } " " span.quiet { (value.written) } }
                            }
                        }
                    }
                }
                @if !clash.can_settle { p.quiet { (clash.settled_by) } }
            }
        }
    }
}
