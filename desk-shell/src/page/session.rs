//! One session.

use maud::{Markup, html};
use pitside_screen::record::Session;

use super::layout::{Frame, sentences};
use super::{athlete, exercises, path_of};

pub(super) fn page(frame: &Frame, session: &Session) -> Markup {
    let back = format!("session/{}", session.id);
    let warm_up = session.totals.iter().any(|total| !total.warm_up.is_empty());
    let member = session.athlete.route.trim_start_matches("athlete/");
    frame.page(
        "",
        &session.title,
        html! {
            p.from { a href=(path_of(&session.athlete.route)) { (session.athlete.text) } }
            h1 { (session.title) }
            (athlete::clashes(frame, &session.clashes, &back))
            (athlete::card(&session.card))
            section aria-labelledby="sets" {
                h2 #sets { "Sets" }
                @if session.sets.is_empty() { p.quiet { "No set has arrived." } }
                ol.sets {
                    @for set in &session.sets {
                        li {
                            div {
                                p { strong { (set.text) } }
                                p.quiet { a href=(format!("/take?member={member}&set={}", set.id)) { "Time a clip of it" } }
                            }
                            div {
                                @for said in [&set.trouble, &set.landing, &set.push] {
                                    @if !said.is_empty() { p { (said) } }
                                }
                                @if !set.source.is_empty() {
                                    details { summary { @if !set.mark.is_empty() { (set.mark) " · " } "where these numbers come from" }
                                        p.quiet { (set.source) }
                                        @for number in &set.numbers { (exercises::unfolded(number)) }
                                    }
                                }
                            }
                        }
                    }
                }
            }
            @if !session.totals.is_empty() {
                section aria-labelledby="totals" {
                    h2 #totals { "Totals by kind" }
                    div.scroll tabindex="0" role="group" aria-label="Totals by kind" {
                        table.totals {
                            thead {
                                tr {
                                    th scope="col" { "Kind" }
                                    th scope="col" { "Contacts" }
                                    th scope="col" { "Energy" }
                                    th scope="col" { "Left leg" }
                                    th scope="col" { "Right leg" }
                                    th scope="col" { "Hardest contact" }
                                    @if warm_up { th scope="col" { "In the warm-up" } }
                                }
                            }
                            tbody {
                                @for total in &session.totals {
                                    tr {
                                        th scope="row" { (total.label) }
                                        td { (total.contacts) }
                                        td { (total.energy) }
                                        td { (total.left) }
                                        td { (total.right) }
                                        td.hardest { (total.hardest) }
                                        @if warm_up { td { (total.warm_up) } }
                                    }
                                }
                            }
                        }
                    }
                    @if !session.pit.is_empty() { p.quiet { (session.pit) } }
                }
            }
            @if !session.takes.is_empty() {
                section aria-labelledby="takes" {
                    h2 #takes { "Timed contacts" }
                    @for take in &session.takes { (athlete::take(take)) }
                }
            }
            (athlete::cautions(&session.cautions))
            details.notes {
                summary { "How to read these figures" }
                (sentences("", &session.notes))
            }
        },
    )
}
