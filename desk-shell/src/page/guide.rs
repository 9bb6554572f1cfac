//! The first days of a coach and of an athlete.

use maud::{Markup, html};

use super::layout::Frame;

pub(super) fn page(frame: &Frame) -> Markup {
    frame.page(
        "/guide",
        "First days",
        html! {
            h1 { "First days" }
            div.beside {
            section aria-labelledby="coach" {
                h2 #coach { "A coach" }
                ol {
                    li { "Found the squad: " code { "pitside serve --found \"NAME\"" } ". The book and this device's key are made in one folder; keep it safe." }
                    li { "Invite each athlete's phone from the page “Invite a phone”. Phones reach this machine only when you open it: " code { "pitside serve --listen ADDRESS:PORT" } "." }
                    li { "Athletes without a device: while the page is closed, put them on the roster with " code { "pitside log --new-member NAME" } " and log for them with " code { "--member NAME" } "." }
                    li { "Read the board from the top: what to look at, then everybody. A week with unknown days is marked incomplete, and nothing is judged on it." }
                    li { "Where two people wrote one thing differently, both stand side by side until you keep one." }
                }
            }
            section aria-labelledby="athlete" {
                h2 #athlete { "An athlete" }
                ol {
                    li { "Log at once, with no connection and before any pairing: the device makes its own book." }
                    li { "Film a few contacts in slow motion from the side, camera still, foot and ground in view. Send the original, not a copy from a messenger: copies lose the clock." }
                    li { "Mark the first frame surely on the ground and the first surely off it. A clip whose clock is unknown gives no time, only the reason." }
                    li { "Say when a day was a rest day. A day without an entry is unknown, not rest." }
                    li { "Rate the session about 30 minutes after its end." }
                    li { "What hurts stays on your own devices unless you share it." }
                }
            }
            }
            section.cautions aria-labelledby="care" {
                h2 #care { "Cautions" }
                ul {
                    li { "High jumps from boxes, one-leg work with a run-in and event take-offs are intense: few, rested, on good ground, and only after the easier forms are mastered." }
                    li { "The young, and those whose age is not known: two jumping days a week, not in a row, by skill and not by age, with a guardian's consent and a qualified coach." }
                    li { "New pain, a limp, swelling, giving way, pain at night or on one bony spot, low back pain on arching, or pain that rises from week to week: stop, and have it seen by a licensed practitioner." }
                    li { "Nothing here is a diagnosis, predicts an injury or calls a load harmless. Local rules and licensed practice come first." }
                }
            }
        },
    )
}
