//! One exercise.

use maud::{Markup, html};
use pitside_screen::record::{ContactCard, ExercisePage, NumberRow};

use super::super::layout::{Frame, sentences};

pub(super) fn page(frame: &Frame, screen: &ExercisePage) -> Markup {
    let id = screen.id.as_str();
    frame.page(
        "",
        &screen.title,
        html! {
            p.from { a href="/exercises" { "All exercises" } }
            h1 { (screen.title) }
            p { (screen.about) }
            @if !screen.cue.is_empty() { p { span.quiet { "Cue: " } (screen.cue) } }
            dl.card {
                @for pair in &screen.card { div { dt { (pair.label) } dd { (pair.value) } } }
            }
            p.quiet { (screen.source) }
            p.acts {
                a.button href=(format!("/exercise/{id}/copy")) { "Add one like it" }
                a.button href=(format!("/exercise/{id}/change")) { "Change it" }
            }
            @if !screen.cautions.is_empty() {
                section.cautions aria-labelledby="cautions" {
                    h2 #cautions { "See to this first" }
                    (sentences("", &screen.cautions))
                }
            }
            section aria-labelledby="contacts" {
                h2 #contacts { "One repetition, contact by contact" }
                ul.sets { @for contact in &screen.contacts { (card(contact)) } }
            }
            section aria-labelledby="like" {
                h2 #like { "Beside the events" }
                p.quiet { (screen.like_note) }
                div.beside {
                    @for card in &screen.likeness {
                        div {
                            h3 { (card.event) }
                            dl.cases { @for part in &card.parts { dt { (part.label) } dd { (part.value) } } }
                        }
                    }
                }
            }
        },
    )
}

fn card(contact: &ContactCard) -> Markup {
    html! {
        li {
            div {
                h3 { (contact.label) }
                p { "On the ground " (contact.seconds) }
                p.quiet { (contact.mark) }
            }
            div {
                p { "landing " (contact.landing) ", along the leg" }
                p { (contact.push) }
                @for number in &contact.numbers { (unfolded(number)) }
            }
        }
    }
}

/// A number that unfolds into what it rests on.
pub(in super::super) fn unfolded(number: &NumberRow) -> Markup {
    html! {
        details {
            summary { (number.label) ": " (number.value) }
            p { (number.symbols) }
            p { (number.numbers) }
            @if !number.inputs.is_empty() {
                ul {
                    @for input in &number.inputs {
                        li {
                            (input.symbol) ", " (input.label) ": " (input.value) " (" (input.origin)
                            @if !input.uncertainty.is_empty() { "; " (input.uncertainty) }
                            ")"
                        }
                    }
                }
            }
            p { (number.uncertainty) }
            p { (number.source) }
        }
    }
}
