//! What is held and does not count, and what was refused.

use maud::{Markup, html};
use pitside_screen::record::Apart;

use super::layout::Frame;

pub(super) fn page(frame: &Frame, screen: &Apart) -> Markup {
    frame.page(
        "/aside",
        &screen.title,
        html! {
            h1 { (screen.title) }
            p { (screen.note) }
            @for row in &screen.late {
                form.acts method="post" action=(format!("/do/{}", row.take_in.id)) {
                    (frame.form.field())
                    input type="hidden" name="device" value=(row.id);
                    p.apart { (row.text) }
                    button.plain type="submit" aria-label=(format!("{}: {}", row.take_in.text, row.text)) {
                        (row.take_in.text)
                    }
                }
            }
            h2 { "Entries that wait or do not count" }
            @if screen.entries.is_empty() { p.quiet { (screen.no_entries) } } @else {
                ul.rows {
                    @for row in &screen.entries {
                        li {
                            div { h3 { (row.what) } p.quiet { (row.written) } }
                            div { p { (row.reason) } p.quiet { (row.may_do) } }
                        }
                    }
                }
            }
            @if !screen.more.is_empty() { p.quiet { (screen.more) } }
            h2 { "Refused and set aside" }
            @if screen.refused.is_empty() { p.quiet { (screen.no_refused) } } @else {
                ul.rows {
                    @for row in &screen.refused {
                        li { div { h3 { (row.from) } p.quiet { (row.when) } } div { p { (row.reason) } } }
                    }
                }
            }
        },
    )
}
