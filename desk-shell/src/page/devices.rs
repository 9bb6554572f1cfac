//! The squad's devices, and what is held and does not count.

use maud::{Markup, html};
use pitside_screen::record::{ApartRow, Devices};

use super::layout::{Frame, sentences};

pub(super) fn page(frame: &Frame, devices: &Devices) -> Markup {
    frame.page(
        "/devices",
        &devices.title,
        html! {
            h1 { (devices.title) }
            (sentences("notices", &devices.notices))
            ul.rows {
                @for row in &devices.devices {
                    li aria-label=(row.spoken) {
                        code { (row.short) } " " (row.role)
                        @if !row.state.is_empty() { " · " span.quiet { (row.state) } }
                    }
                }
            }
            p.quiet {
                "Remove a device, take late entries in, or give it more: " code { "pitside device" }
                ", with this page closed. Members who leave, and erasing: " code { "pitside member" } "."
            }
            h2 { "Held, and not counted" }
            (apart(&devices.uncounted, "Everything that is held here counts."))
            h2 { "Received, and refused" }
            (apart(&devices.refused, "Nothing was refused."))
        },
    )
}

fn apart(rows: &[ApartRow], none: &str) -> Markup {
    html! {
        @if rows.is_empty() {
            p { (none) }
        } @else {
            ul.rows { @for row in rows { li aria-label=(row.spoken) { (row.text) br; span.quiet { (row.why) } } } }
        }
    }
}
