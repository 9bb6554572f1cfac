//! One athlete.

use maud::{Markup, html};
use pitside_screen::record::{Athlete, Clash, SessionRow, TakeRow};

use super::layout::{page as layout, sentences};
use super::{lane, path_of, squad, week};

pub(super) fn page(athlete: &Athlete) -> Markup {
    let back = format!("athlete/{}", athlete.id);
    layout(
        &athlete.title,
        "",
        html! {
            h1 { (athlete.title) }
            (squad::notices(&athlete.notices, false))
            (clashes(&athlete.clashes, &athlete.id, &back))
            section aria-labelledby="weeks" {
                h2 #weeks { "Eight weeks" }
                (week::table(&format!("{}, contacts and energy by week", athlete.title), &athlete.rows))
            }
            @if !athlete.takes.is_empty() {
                section aria-labelledby="takes" {
                    h2 #takes { "Timed contacts" }
                    @for take in &athlete.takes { (self::take(take)) }
                }
            }
            @if !athlete.limits.is_empty() {
                section aria-labelledby="limits" { h2 #limits { "Limits" } (sentences("limits", &athlete.limits)) }
            }
            @if !athlete.hurts.is_empty() || !athlete.private_note.is_empty() {
                section aria-labelledby="hurts" {
                    h2 #hurts { "What hurts" }
                    (sentences("hurts", &athlete.hurts))
                    @if !athlete.private_note.is_empty() { p.quiet { (athlete.private_note) } }
                }
            }
            section aria-labelledby="sessions" {
                h2 #sessions { "Sessions" }
                @if athlete.sessions.is_empty() { p.quiet { "No session has arrived." } }
                ul.sessions { @for session in &athlete.sessions { (session_line(session)) } }
                @if !athlete.older.is_empty() {
                    p { a href=(format!("/athlete/{}?before={}", athlete.id, athlete.older)) { "Older sessions" } }
                }
            }
            section aria-labelledby="card" {
                h2 #card { "Card" }
                dl.card { @for pair in &athlete.card { div { dt { (pair.label) } dd { (pair.value) } } } }
            }
            (sentences("cautions", &athlete.cautions))
        },
    )
}

fn session_line(session: &SessionRow) -> Markup {
    html! {
        li {
            a href=(path_of(&session.route)) { (session.day) }
            " " (session.text) " "
            span.quiet { (session.figures) }
            @if !session.kept.is_empty() { span.quiet { " · " (session.kept) } }
        }
    }
}

/// A take with its lane.
pub(super) fn take(take: &TakeRow) -> Markup {
    html! {
        figure.take {
            figcaption { (take.title) }
            (lane::large(&format!("l-{}", take.id), &take.lane))
            @if !take.times.is_empty() {
                ul.times { @for time in &take.times { li { (time.label) ": " span.figure { (time.value) } } } }
            }
            p.quiet { (take.note) }
        }
    }
}

/// What two people wrote differently, with a button to keep each value.
pub(super) fn clashes(clashes: &[Clash], member: &str, back: &str) -> Markup {
    html! {
        @for clash in clashes {
            section.clash aria-label=(clash.spoken) {
                h2 { (clash.what) ": written differently by two people" }
                p.quiet { "Both are kept until you choose. The first is the one computed with." }
                ul {
                    @for value in &clash.values {
                        li {
                            form method="post" action="/settle" {
                                input type="hidden" name="member" value=(member);
                                input type="hidden" name="choice" value=(value.choice);
                                input type="hidden" name="back" value=(back);
                                span { strong { (value.text) } " " span.quiet { (value.written) } }
                                button type="submit" { "Keep this one" }
                            }
                        }
                    }
                }
            }
        }
    }
}
