//! The form of an exercise.

use maud::{Markup, html};
use pitside_screen::record::{Choice, ContactForm, ExerciseForm, ExerciseFormPage};

use super::super::Sent;
use super::super::layout::Frame;

/// The options of a select with one chosen by its id.
fn chosen(choices: &[Choice], id: &str) -> Markup {
    html! { @for choice in choices { option value=(choice.id) selected[choice.id == id] { (choice.text) } } }
}

fn select(label: &str, name: &str, choices: &[Choice], id: &str) -> Markup {
    html! { label { (label) select name=(name) required { (chosen(choices, id)) } } }
}

fn select_or(label: &str, name: &str, none: &str, choices: &[Choice], id: &str) -> Markup {
    html! { label { (label) select name=(name) { option value="" { (none) } (chosen(choices, id)) } } }
}

/// A text field for a number: a browser's own number field refuses what another locale writes.
fn number(label: &str, name: &str, value: &str) -> Markup {
    html! { label { (label) input type="text" inputmode="decimal" name=(name) value=(value) maxlength="12"; } }
}

pub(super) fn page(frame: &Frame, screen: &ExerciseFormPage) -> Markup {
    let form = &screen.form;
    frame.page(
        "",
        &screen.title,
        html! {
            p.from { a href="/exercises" { "All exercises" } }
            h1 { (screen.title) }
            p {
                "Usual numbers stand in for a contact that nobody has timed. They are of a trained adult at full effort; "
                "say where they come from, or that they are an estimate."
            }
            form.fields method="post" action="/do/save-exercise" {
                (frame.form.field())
                input type="hidden" name="id" value=(form.id);
                input type="hidden" name="seen" value=(form.seen);
                label { "Name" input type="text" name="name" value=(form.name) maxlength="80" required; }
                label { "How it is done, in one sentence; a cue after “; cue: ”"
                    input type="text" name="about" value=(form.about) maxlength="400" required;
                }
                (select("Kind of contact", "kind", &screen.kinds, &form.kind))
                (select("Direction", "direction", &screen.directions, &form.direction))
                (select("Legs", "legs", &screen.legs, &form.legs))
                (select("Knee", "knee", &screen.knees, &form.knee))
                (select("Landing", "landing", &screen.landings, &form.landing))
                (select("How the first contact is reached", "entry", &screen.entries, &form.entry))
                (number("Its number, in what stands there in brackets", "entry-value", &form.entry_value))
                (number("Strides of a run-in on or to the box (empty: none)", "box-strides", &form.box_strides))
                (number("Metres of a run-in on or to the box (empty: none)", "box-run-m", &form.box_run_m))
                (number("Onto a box of so many cm (empty: none)", "onto-cm", &form.onto_cm))
                (number("Over hurdles or boxes of so many cm (empty: none)", "over-cm", &form.over_cm))
                (number("Outside load in kg (empty: none)", "load-kg", &form.load_kg))
                (number("Outside load in % of body mass (empty: none)", "load-percent", &form.load_percent))
                (select_or("Cue that the times are told for", "cue", "short and high together", &screen.cues, &form.cue))
                (select_or("Surface", "surface", "any", &screen.surfaces, &form.surface))
                (number("Contacts of a repetition; the last one told below repeats", "contacts", &form.contacts))
                (number("Speed of the run-in lost in each contact, %", "loss-percent", &form.loss_percent))
                (select("What stands behind the numbers", "support", &screen.supports, &form.support))
                label { "Where they come from" input type="text" name="source" value=(form.source) maxlength="400" required; }
                @for (n, contact) in form.series.iter().enumerate() { (one_contact(screen, n, contact)) }
                button type="submit" { "Save" }
            }
        },
    )
}

fn one_contact(screen: &ExerciseFormPage, n: usize, contact: &ContactForm) -> Markup {
    html! {
        details open[!contact.mv.is_empty()] {
            summary {
                @if contact.mv.is_empty() { "One more contact" } @else { "Contact " (n + 1) }
            }
            div.fields.row {
                (select_or("What it does", "mv", "no such contact", &screen.moves, &contact.mv))
                (select("Legs", "c-legs", &screen.contact_legs, &contact.legs))
                (number("On the ground, ms", "contact-ms", &contact.contact_ms))
                (select("Then", "after", &screen.afters, &contact.after))
                (number("Flight, ms", "flight-ms", &contact.flight_ms))
                (select("Speed", "speed", &screen.speeds, &contact.speed))
                (number("its number", "speed-value", &contact.speed_value))
                (number("less m/s", "speed-less", &contact.speed_less))
                (number("Leg's angle, degrees", "angle-deg", &contact.angle_deg))
                (number("Next one higher by cm", "rise-cm", &contact.rise_cm))
                (number("Costs % of the speed", "c-loss-percent", &contact.loss_percent))
            }
        }
    }
}

/// The form as it was sent. Fields of contacts stand one after the other, one of each kind a contact.
pub(in super::super) fn read(sent: &Sent) -> ExerciseForm {
    let one = |name: &str| sent.one(name).to_owned();
    let moves = sent.all("mv");
    let columns = [
        "c-legs",
        "contact-ms",
        "after",
        "flight-ms",
        "speed",
        "speed-value",
        "speed-less",
        "angle-deg",
        "rise-cm",
        "c-loss-percent",
    ]
    .map(|name| sent.all(name));
    let cell = |column: usize, n: usize| columns[column].get(n).cloned().unwrap_or_default();
    let contact = |(n, mv): (usize, String)| ContactForm {
        mv,
        legs: cell(0, n),
        contact_ms: cell(1, n),
        after: cell(2, n),
        flight_ms: cell(3, n),
        speed: cell(4, n),
        speed_value: cell(5, n),
        speed_less: cell(6, n),
        angle_deg: cell(7, n),
        rise_cm: cell(8, n),
        loss_percent: cell(9, n),
    };
    ExerciseForm {
        id: one("id"),
        seen: one("seen"),
        name: one("name"),
        about: one("about"),
        kind: one("kind"),
        direction: one("direction"),
        legs: one("legs"),
        knee: one("knee"),
        landing: one("landing"),
        entry: one("entry"),
        entry_value: one("entry-value"),
        box_strides: one("box-strides"),
        box_run_m: one("box-run-m"),
        onto_cm: one("onto-cm"),
        over_cm: one("over-cm"),
        load_kg: one("load-kg"),
        load_percent: one("load-percent"),
        cue: one("cue"),
        surface: one("surface"),
        contacts: one("contacts"),
        loss_percent: one("loss-percent"),
        support: one("support"),
        source: one("source"),
        series: moves.into_iter().enumerate().map(contact).collect(),
    }
}
