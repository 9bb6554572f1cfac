//! Attempts are written down: one short row, sent by Enter.

use maud::{Markup, html};
use pitside_screen::record::{AttemptRow, Choice, CompetitionDay, CompetitionForm, FieldTrouble};

use super::super::layout::{Frame, options, sentences};
use super::super::{athlete, path_of};
use super::{attempts, field};

/// The fields of the form that is said once, as they stand in an address.
pub(super) fn pairs(form: &CompetitionForm) -> Vec<(&'static str, &str)> {
    let kind = if form.competition { "competition" } else { "training" };
    let mut pairs = vec![
        ("member", form.member.as_str()),
        ("event", &form.event),
        ("day", &form.day),
        ("place", &form.place),
        ("kind", kind),
        ("wind_rule", &form.wind_rule),
        ("board", &form.board),
        ("pit", &form.pit),
    ];
    pairs.extend(form.indoor.then_some(("indoor", "yes")));
    pairs.extend(form.athletes.iter().map(|athlete| ("athlete", athlete.as_str())));
    pairs
}

/// The same, carried along unseen; `without` is a field that is seen.
fn carried(form: &CompetitionForm, without: &str) -> Markup {
    html! {
        @for (name, value) in pairs(form).into_iter().filter(|(name, _)| *name != without) {
            input type="hidden" name=(name) value=(value);
        }
    }
}

/// `saved` is the attempt that was just written down, or empty.
pub(super) fn page(frame: &Frame, screen: &CompetitionDay, saved: &str) -> Markup {
    let form = &screen.form;
    frame.page(
        "/jumps/day",
        &screen.title,
        html! {
            @if let Some(jumps) = &screen.jumps { p.from { a href=(path_of(&jumps.route)) { (jumps.text) } } }
            h1 { (screen.title) }
            @if screen.ready && screen.editing.is_empty() { (switch(form, &screen.switch)) }
            @if screen.ready { p.week { (screen.about) } }
            @if let Some(row) = screen.attempts.iter().find(|row| row.id == saved) { (written(row)) }
            @if saved == WITHDRAWN { p.said role="status" { "Taken back." } }
            @if screen.ready { (row(frame, screen)) } @else { (set_up(screen)) }
            @if screen.ready && screen.editing.is_empty() {
                section aria-labelledby="written" {
                    h2 #written { "Written down" }
                    @if screen.attempts.is_empty() { p.quiet { "No attempt of that day yet." } }
                    (attempts(&screen.attempts))
                }
                details.notes {
                    summary { "Another day, place or event; which athletes" }
                    (set_up(screen))
                }
            }
            (athlete::cautions(&screen.cautions))
        },
    )
}

/// Stands in an address for an attempt that was taken back.
pub(super) const WITHDRAWN: &str = "withdrawn";

fn written(row: &AttemptRow) -> Markup {
    html! { p.said role="status" { "Written down: " (row.spoken) } }
}

/// The athletes, one press each.
fn switch(form: &CompetitionForm, athletes: &[Choice]) -> Markup {
    html! {
        @if athletes.len() > 1 {
            form.switch method="get" action="/jumps/day" aria-label="Athletes" {
                (carried(form, "member"))
                @for athlete in athletes {
                    button.plain[!athlete.chosen] type="submit" name="member" value=(athlete.id)
                        aria-current=[athlete.chosen.then_some("true")] { (athlete.text) }
                }
            }
        }
    }
}

/// One attempt.
fn row(frame: &Frame, screen: &CompetitionDay) -> Markup {
    let (row, troubles) = (&screen.row, &screen.troubles);
    let editing = !screen.editing.is_empty();
    html! {
        @if editing { h2 { (screen.editing_note) } }
        @for trouble in troubles.iter().filter(|trouble| !seen(&trouble.field, editing, screen.asks_phases)) {
            p.notice role="alert" { (trouble.text) }
        }
        form.fields.attempt method="post" action="/jumps/day" {
            (frame.form.field())
            div.fields.row {
                (field("Attempt", "attempt", &row.attempt, troubles))
                (field("Distance, m, or x", "distance", &row.distance, troubles))
                (field("Wind, m/s", "wind", &row.wind, troubles))
                (field("Toe, cm (− behind)", "toe", &row.toe, troubles))
                (field("Start mark, m", "start", &row.start, troubles))
                (field("Run-up, strides", "run_up", &row.run_up, troubles))
                @if screen.asks_phases {
                    (field("Hop, m", "hop", &row.hop, troubles))
                    (field("Step, m", "step", &row.step, troubles))
                    (field("Jump, m", "jump", &row.jump, troubles))
                }
                button type="submit" { "Save" }
            }
            @if editing {
                input type="hidden" name="editing" value=(screen.editing);
                input type="hidden" name="member" value=(screen.form.member);
                @for athlete in &screen.form.athletes { input type="hidden" name="athlete" value=(athlete); }
                (conditions(screen))
                button type="submit" { "Save" }
            } @else { (carried(&screen.form, "")) }
        }
        @if editing {
            form method="post" action="/jumps/withdraw" {
                (frame.form.field())
                input type="hidden" name="editing" value=(screen.editing);
                button.plain type="submit" { "Take this attempt back" }
            }
        }
        details.notes {
            summary { "How the fields are filled in" }
            (sentences("", &screen.hints))
        }
    }
}

/// Whether a field stands on the page, so that what is wrong with it is said there.
fn seen(field: &str, editing: bool, phases: bool) -> bool {
    match field {
        "attempt" | "distance" | "wind" | "toe" | "start" | "run_up" => true,
        "hop" | "step" | "jump" => phases,
        "day" | "place" | "pit" | "event" | "wind_rule" | "board" => editing,
        _ => false,
    }
}

/// A choice with what is wrong with it beside it.
fn select(label: &str, name: &str, choices: &[Choice], troubles: &[FieldTrouble]) -> Markup {
    html! {
        label {
            (label)
            select name=(name) { (options(choices)) }
            @for trouble in troubles.iter().filter(|trouble| trouble.field == name) {
                span.apart { (trouble.text) }
            }
        }
    }
}

/// Where and how it is jumped.
fn conditions(screen: &CompetitionDay) -> Markup {
    let (form, troubles) = (&screen.form, &screen.troubles);
    html! {
        (select("Event", "event", &screen.events, troubles))
        label {
            "Day"
            input type="date" name="day" value=(form.day);
            @for trouble in troubles.iter().filter(|trouble| trouble.field == "day") {
                span.apart { (trouble.text) }
            }
        }
        label {
            "Competition or training"
            select name="kind" {
                option value="competition" selected[form.competition] { "competition" }
                option value="training" selected[!form.competition] { "training" }
            }
        }
        (field("Place", "place", &form.place, troubles))
        label.tick { input type="checkbox" name="indoor" value="yes" checked[form.indoor]; "Indoors" }
        (select("Wind", "wind_rule", &screen.wind_rules, troubles))
        (select("Foul line", "board", &screen.boards, troubles))
        (field("From the line to the pit, m", "pit", &form.pit, troubles))
    }
}

/// What is said once for all attempts; it stays in the address.
fn set_up(screen: &CompetitionDay) -> Markup {
    html! {
        form.fields method="get" action="/jumps/day" {
            label {
                "Athlete"
                select name="member" {
                    @for member in &screen.members {
                        option value=(member.id) selected[member.id == screen.form.member] { (member.text) }
                    }
                }
            }
            (conditions(screen))
            @if screen.members.len() > 1 {
                fieldset {
                    legend { "Athletes to switch between (none ticked: all)" }
                    @for member in &screen.members {
                        label.tick { input type="checkbox" name="athlete" value=(member.id) checked[member.chosen]; (member.text) }
                    }
                }
            }
            button type="submit" { "Write attempts down" }
        }
    }
}
