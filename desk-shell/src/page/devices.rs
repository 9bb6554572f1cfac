//! The devices and members of the squad, the form that gives a device more, and
//! the questions before what cannot be simply undone.

use maud::{Markup, html};
use pitside_screen::record::{Action, Choice, Confirm, DeviceRow, Devices, Link, MemberRow};

use super::layout::{Frame, sentences};
use super::path_of;

/// What an action that went through says afterwards, by the action.
const DONE: [(&str, &str); 11] = [
    ("remove", "The device was removed. The others hear of it at their next sync."),
    ("take-in", "What had come late counts now. The device stays removed."),
    ("readmit", "The removal was taken back."),
    ("give", "The device was given more. The others hear of it at their next sync."),
    ("same", "The two entries are one athlete now."),
    ("two-persons", "They are two athletes again."),
    ("leave", "The member left the squad. The data stay until they are erased."),
    ("keep-until", "The date was changed."),
    ("come-back", "The member is back in the squad."),
    (
        "erase",
        "The member was erased here. The other devices hear of it at their next sync. \
         Delete the backups and files that still hold the data.",
    ),
    ("share", "Changed. The other devices hear of it at their next sync."),
];

/// The sentence of an action that went through.
pub(super) fn done(action: &str) -> Option<&'static str> {
    DONE.iter().find(|(known, _)| *known == action).map(|(_, sentence)| *sentence)
}

/// That sentence, drawn; nothing where nothing was done.
pub(super) fn said(done: Option<&str>) -> Markup {
    html! { @if let Some(done) = done { p.said role="status" { (done) } } }
}

pub(super) fn page(frame: &Frame, screen: &Devices, done: Option<&str>) -> Markup {
    frame.page(
        "/devices",
        &screen.title,
        html! {
            h1 { (screen.title) }
            (said(done))
            @for notice in &screen.notices { (self::notice(notice)) }
            p { (screen.note) }
            ul.rows { @for row in &screen.devices { li { (device(frame, row)) } } }
            ul.leads { @for link in &screen.links { li { a href=(path_of(&link.route)) { (link.text) } } } }
            @if !screen.members.is_empty() {
                h2 { "Members" }
                @if !screen.leave_note.is_empty() {
                    p.quiet {
                        (screen.leave_note)
                        " All that is held about one member as a file: " code { "pitside member export NAME" }
                        ", with this page closed."
                    }
                }
                ul.rows { @for row in &screen.members { li { (member(frame, row)) } } }
            }
            @if !screen.same_note.is_empty() && screen.members.len() > 1 { (same(frame, screen)) }
        },
    )
}

/// A notice that leads on, unless this is where it leads.
fn notice(notice: &Link) -> Markup {
    html! {
        p.notice {
            (notice.text)
            @if notice.route != "devices" { " " a href=(path_of(&notice.route)) { "Look at it" } }
        }
    }
}

fn device(frame: &Frame, row: &DeviceRow) -> Markup {
    html! {
        div {
            h3 { (row.title) @if row.here { " " span.quiet { "(this one)" } } }
            p.quiet { "Key " code { (row.short) } }
            @if !row.removed.is_empty() { p.apart { (row.removed) } }
            (sentences("limits", &row.given))
            @for sentence in [&row.since, &row.met] { @if !sentence.is_empty() { p.quiet { (sentence) } } }
            @for sentence in &row.has { p.quiet { (sentence) } }
            @if !row.clock.is_empty() { p.apart { (row.clock) } }
        }
        div.acts {
            @for action in &row.actions { (button(frame, action, "device", &row.id, &row.title)) }
        }
    }
}

/// A button, or the way to the page that asks first.
fn button(frame: &Frame, action: &Action, field: &str, id: &str, about: &str) -> Markup {
    let label = format!("{}: {about}", action.text);
    html! {
        @if action.route.is_empty() {
            form method="post" action=(format!("/do/{}", action.id)) {
                (frame.form.field())
                input type="hidden" name=(field) value=(id);
                button.plain type="submit" aria-label=(label) { (action.text) }
            }
        } @else {
            a.button href=(path_of(&action.route)) aria-label=(label) { (action.text) }
        }
    }
}

/// The form that gives a device more.
pub(super) fn give(frame: &Frame, screen: &Devices, row: &DeviceRow) -> Markup {
    frame.page(
        "",
        "Give a device more",
        html! {
            h1 { "Give a device more" }
            p { (row.title) ", key " code { (row.short) } }
            (sentences("limits", &row.given))
            form.fields method="post" action="/do/give" {
                (frame.form.field())
                input type="hidden" name="device" value=(row.id);
                label { "As" select name="role" { @for role in &screen.roles { (option(role)) } } }
                fieldset {
                    legend { "For whom (a coach's device needs nobody here)" }
                    label.tick { input type="checkbox" name="everyone" value="yes"; "Everyone, also who comes later" }
                    @for member in &screen.members {
                        label.tick { input type="checkbox" name="member" value=(member.id); (member.name) }
                    }
                }
                fieldset {
                    legend { "Only for an assistant coach, medical staff or a guardian" }
                    label.tick { input type="checkbox" name="limits" value="yes"; "May write their limits" }
                    label.tick { input type="checkbox" name="consent" value="yes"; "May say who sees what hurts" }
                }
                p.quiet {
                    "A coach's device admits and removes others and writes all but what is private. An assistant \
                     coach's writes training. Medical staff read what is shared with them. A guardian's reads all. \
                     What was given is not taken back one by one: remove the device for that."
                }
                div.acts { button type="submit" { "Give" } a.button href="/devices" { "No, back to the devices" } }
            }
        },
    )
}

fn option(choice: &Choice) -> Markup {
    html! { option value=(choice.id) selected[choice.chosen] { (choice.text) } }
}

fn member(frame: &Frame, row: &MemberRow) -> Markup {
    html! {
        div {
            h3 { @if row.route.is_empty() { (row.name) } @else { a href=(path_of(&row.route)) { (row.name) } } }
            @if !row.standing.is_empty() { p.quiet { (row.standing) } }
            @if let Some(link) = &row.sharing { p { a href=(path_of(&link.route)) { (link.text) } } }
        }
        div.acts {
            @for action in &row.actions {
                @if matches!(action.id.as_str(), "leave" | "keep-until") {
                    details {
                        summary aria-label=(format!("{}: {}", action.text, row.name)) { (action.text) }
                        form.fields method="post" action=(format!("/do/{}", action.id)) {
                            (frame.form.field())
                            input type="hidden" name="member" value=(row.id);
                            label { "Keep the data until (may stay empty)" input type="date" name="until"; }
                            button type="submit" {
                                @if action.id == "leave" { "Take off the board" } @else { "Set this date" }
                            }
                        }
                    }
                } @else { (button(frame, action, "member", &row.id, &row.name)) }
            }
        }
    }
}

/// Ties two first entries of one athlete.
fn same(frame: &Frame, screen: &Devices) -> Markup {
    let choose = |name: &str, label: &str| {
        html! {
            label {
                (label)
                select name=(name) required {
                    option value="" { "Choose" }
                    @for row in &screen.members { option value=(row.id) { (row.name) } }
                }
            }
        }
    };
    html! {
        h2 { "One athlete, entered twice" }
        p { (screen.same_note) }
        form.fields method="post" action="/do/same" {
            (frame.form.field())
            (choose("member", "First entry"))
            (choose("other", "Second entry"))
            button type="submit" { "Join the two" }
        }
    }
}

/// A question before it is done: `action` is done to what `field` names.
pub(super) fn confirm(frame: &Frame, screen: &Confirm, action: &str, field: &str, id: &str) -> Markup {
    frame.page(
        "",
        &screen.title,
        html! {
            h1 { (screen.title) }
            h2 { "What it means" }
            (sentences("", &screen.means))
            @if !screen.not_reached.is_empty() {
                h2 { "What it does not reach" }
                (sentences("", &screen.not_reached))
                (sentences("files", &screen.files))
            }
            form.acts method="post" action=(format!("/do/{action}")) {
                (frame.form.field())
                input type="hidden" name=(field) value=(id);
                button type="submit" { (screen.yes) }
                a.button href=(path_of(&screen.no.route)) { (screen.no.text) }
            }
        },
    )
}
