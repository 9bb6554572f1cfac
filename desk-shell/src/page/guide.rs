//! The first days of a coach and of an athlete.

use maud::{Markup, html};

use super::layout::Frame;

/// What may happen, and what to do then.
const CASES: [(&str, &str); 8] = [
    (
        "The coach's laptop is lost",
        "On a new one type “pitside recover” and the recovery key, then pair each phone again with “pitside pair”. \
         Each phone brings what it has. The new laptop ranks before the lost one: remove that under “Devices”. \
         What only the laptop had is in its backup, or gone.",
    ),
    (
        "A phone is lost or stolen",
        "Remove it under “Devices”. What it wrote counts as far as it had arrived by then. It gets nothing more. \
         What is on it stays on it: its own lock protects that.",
    ),
    (
        "Two coaches remove each other's device",
        "The device that was admitted first stays, the founder's before all. The recovery key can remove any \
         device: “pitside device remove DEVICE --recovery-key FILE”.",
    ),
    (
        "A removed device brings late entries",
        "They are kept and shown under “Not counted”. If they are meant, choose “Count what came late” beside the \
         device. It stays removed.",
    ),
    (
        "A backup was put back",
        "The device notices and goes on in new logs. The next sync brings back what other devices have. \
         Nothing that was written since is written over.",
    ),
    (
        "A phone was set up anew without its key",
        "It is a new device. Invite it for the same member, “pitside pair --member ID” (“pitside squad” lists the \
         ids), and it gets back what you have. If the athlete was entered a second time, join the two entries under “Devices”. Remove the old device.",
    ),
    (
        "Somebody stops sharing what hurts",
        "Nothing more is sent from the next sync on, and what was sent is no longer shown. It stays on the devices \
         that have it until it is erased.",
    ),
    (
        "A member leaves",
        "“pitside member export NAME” writes all that is held about the member. Under “Devices” say that the member \
         left, and until when the data are kept: the board reminds you. Then erase. The member's own phone is asked. \
         Backups and files that were handed over are not reached: delete them yourself.",
    ),
];

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
                    li { "Under “Time a clip” step through an athlete’s clip and press the gap between “not yet” and “on the ground”: foot and event are known from the exercise. Only times are kept." }
                    li { "Where two people wrote one thing differently, both stand side by side until you keep one." }
                }
            }
            section aria-labelledby="athlete" {
                h2 #athlete { "An athlete" }
                ol {
                    li { "Log at once, with no connection and before any pairing: the device makes its own book." }
                    li { "Film a few contacts in slow motion from the side, camera still, foot and ground in view. Send the original, not a copy from a messenger: copies lose the clock." }
                    li { "Mark the gap between the last picture before the touchdown and the first one on the ground, and the same at the toe-off; a picture that could be either is in doubt. A clip whose clock is unknown gives no time, only the reason and what would settle it." }
                    li { "Say when a day was a rest day. A day without an entry is unknown, not rest." }
                    li { "Rate the session about 30 minutes after its end." }
                    li { "What hurts stays on your own devices unless you share it." }
                }
            }
            }
            section aria-labelledby="lost" {
                h2 #lost { "When something is lost or changes" }
                dl.cases { @for (case, what) in CASES { dt { (case) } dd { (what) } } }
                p.quiet {
                    "Commands are typed while this page is closed. " code { "pitside COMMAND --help" } " says more."
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
