//! The board: what to look at first, then everybody.

use maud::{Markup, html};
use pitside_screen::record::{AthleteRow, Notice, Squad};

use super::layout::{Frame, sentences};
use super::{athlete, lane, path_of, week};

pub(super) fn page(frame: &Frame, squad: &Squad) -> Markup {
    frame.page(
        "/",
        &squad.title,
        html! {
            h1 { (squad.title) }
            p.week { (squad.week) }
            section aria-labelledby="look" {
                h2 #look { "To look at" }
                (look(squad))
            }
            (athlete::clashes(frame, &squad.clashes, "squad"))
            @if !squad.athletes.is_empty() {
                section aria-labelledby="athletes" {
                    h2 #athletes { "Athletes" }
                    @for athlete in &squad.athletes { (row(athlete)) }
                }
            }
            details.notes {
                summary { "How to read these figures" }
                (sentences("", &squad.notes))
            }
        },
    )
}

/// Who needs a look: notices, then what two people wrote differently, then what
/// hurts those of whom no notice speaks.
fn look(squad: &Squad) -> Markup {
    let clashes = squad.athletes.iter().filter(|a| !a.clashes.is_empty());
    let hurts = squad
        .athletes
        .iter()
        .filter(|a| !a.hurts.is_empty() && squad.notices.iter().all(|n| n.route != a.route));
    let (clashes, hurts): (Vec<_>, Vec<_>) = (clashes.collect(), hurts.collect());
    html! {
        @if squad.notices.is_empty() && clashes.is_empty() && hurts.is_empty() {
            p.quiet { (squad.empty) }
        } @else {
            ul.look {
                @for notice in &squad.notices { li { (self::notice(notice, true)) } }
                @for athlete in clashes { li.notice { (name(athlete)) " " (athlete.clashes) "." } }
                @for athlete in hurts { li.notice { (name(athlete)) " Hurts: " (athlete.hurts.join("; ")) "." } }
            }
        }
    }
}

fn name(athlete: &AthleteRow) -> Markup {
    html! { strong { a href=(path_of(&athlete.route)) { (athlete.name) } } }
}

/// A notice: what was seen, one tap above what may be done, by which rule, and
/// where that comes from. With the name where it is not under one.
pub(super) fn notice(notice: &Notice, named: bool) -> Markup {
    html! {
        details.notice {
            summary {
                @if named && !notice.who.is_empty() { strong { (notice.who) } " " }
                (notice.saw)
            }
            dl.because {
                dt { "What you may do" } dd { (notice.may_do) }
                dt { "Rule" } dd { (notice.rule) }
                dt { "Where the rule comes from" } dd { (notice.source) }
            }
            @if named {
                p { a href=(path_of(&notice.route)) { (leads_to(&notice.route)) } }
            }
        }
    }
}

/// What the link of a notice opens.
fn leads_to(route: &str) -> &'static str {
    match route.split('/').next() {
        Some("session") => "Open the session",
        Some("wishes") => "Open what is asked",
        Some("devices") => "Open the devices",
        Some("aside") => "Open what is not counted",
        Some("erase") => "What erasing means",
        _ => "Open the athlete's page",
    }
}

fn row(athlete: &AthleteRow) -> Markup {
    html! {
        article.athlete {
            div.who {
                h3 { a href=(path_of(&athlete.route)) { (athlete.name) } }
                p.quiet { (athlete.about) }
                @if let Some(last) = &athlete.last_session {
                    p { "Last session " a href=(path_of(&last.route)) { (last.text) } }
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
                @if !athlete.private_note.is_empty() { p.label { (athlete.private_note) } }
                @if !athlete.clashes.is_empty() { p { (athlete.clashes) "." } }
            }
            div.what {
                (week::table(&format!("{}, contacts and energy by week", athlete.name), &athlete.rows))
                @if !athlete.times.is_empty() {
                    p.label { "Newest contact times" }
                    @for (at, time) in athlete.times.iter().enumerate() {
                        p.time {
                            (lane::small(&format!("t-{}-{at}", athlete.id), time))
                            span.figure { (time.value) }
                            span.quiet { (time.label) " · " (time.note) }
                        }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use pitside_book::clock::Stamp;
    use pitside_book::store::{Draft, Filter};
    use pitside_model::facts::{Fact, Scope, field_name, kind};
    use pitside_screen::{Companion, Env};
    use tempfile::TempDir;

    use super::*;
    use crate::page::guard::FormToken;

    #[test]
    fn what_clashes_about_the_squad_is_settled_on_the_board() {
        let folder = TempDir::new().unwrap();
        let book = Arc::new(crate::device::create(folder.path(), false).unwrap());
        let now = Stamp { ms: 1_795_608_000_000, zone_min: 0 };
        book.found("Quay jumps", now).unwrap();
        let env = Env { language: "en".to_owned(), zone_min: 0, hour24: true, now_ms: now.ms };
        let companion = Companion::over(Arc::clone(&book));
        let frame =
            Frame { demo_note: String::new(), form: FormToken::of("a token"), damaged: Default::default() };
        let board = |companion: &Companion| page(&frame, &companion.squad(&env).unwrap()).into_string();
        assert!(!board(&companion).contains("action=\"/settle\""));

        let name = Filter { kind: Some(kind::SQUAD), field: Some(field_name::NAME), ..Filter::default() };
        let subject = book.held(&name).unwrap()[0].key.subject;
        let other = Draft::about(subject, Fact::SquadName("Quay sprints".to_owned()));
        book.write(Scope::Squad, &other, Stamp { ms: now.ms + 60_000, ..now }).unwrap();
        let drawn = board(&companion);
        assert_eq!(drawn.matches("action=\"/settle\"").count(), 2, "{drawn}");
        assert!(
            drawn.contains("name=\"member\" value=\"\"") && drawn.contains("name=\"back\" value=\"squad\"")
        );
        let choices: Vec<&str> =
            drawn.split("name=\"choice\" value=\"").skip(1).filter_map(|c| c.split('"').next()).collect();
        companion.settle(&env, "", choices[1]).unwrap();
        assert!(!board(&companion).contains("action=\"/settle\""));
    }
}
