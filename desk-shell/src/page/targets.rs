//! The contact times to come below.

use maud::{Markup, html};
use pitside_screen::record::Targets;

use super::layout::{Frame, options};

pub(super) fn page(frame: &Frame, screen: &Targets) -> Markup {
    frame.page(
        "",
        &screen.title,
        html! {
            h1 { (screen.title) }
            p { (screen.about) }
            ul.rows {
                @for row in &screen.rows {
                    li {
                        div { h3 { (row.text) } p.quiet { (row.whose) ": " (row.source) } }
                        @if !row.id.is_empty() {
                            form.acts method="post" action="/do/remove-target" {
                                (frame.form.field())
                                input type="hidden" name="target" value=(row.id);
                                button.plain type="submit" aria-label=(format!("Take back: {}", row.spoken)) { "Take back" }
                            }
                        }
                    }
                }
            }
            section aria-labelledby="set" {
                h2 #set { "Set a target" }
                p.quiet { "It takes the place of one for the same contact and run-in." }
                form.fields method="post" action="/do/set-target" {
                    (frame.form.field())
                    label { "Exercise" select name="exercise" required { (options(&screen.exercises)) } }
                    label { "Whose"
                        select name="member" { option value="" { "the squad" } (options(&screen.members)) }
                    }
                    label { "Which contact of a repetition (empty: each)" input type="number" name="contact" min="1" max="300"; }
                    label { "With a run-in of so many strides only (empty: any)" input type="number" name="strides" min="1" max="40"; }
                    label { "Below, in milliseconds" input type="number" name="ms" min="30" max="3000" required; }
                    label { "Where it comes from" input type="text" name="source" maxlength="200" required; }
                    button type="submit" { "Set it" }
                }
            }
        },
    )
}
