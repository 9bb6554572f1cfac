//! Tests, growth, landing control, limits and a clinician's advice of one athlete.

use maud::{Markup, html};
use pitside_screen::record::{Body, BodyRow};

use super::check_in::said as said_of;
use super::layout::{Frame, options};

pub(super) fn page(frame: &Frame, screen: &Body) -> Markup {
    let send = |action: &str, text: &str, fields: Markup| form(frame, screen, action, text, &fields);
    let today = screen.today.as_str();
    frame.page(
        "",
        &screen.title,
        html! {
            h1 { (screen.title) }
            p { a href=(format!("/athlete/{}", screen.member)) { "Back to the athlete" } }
            p { (screen.about) }
            section aria-labelledby="now" {
                h2 #now { "Today" }
                @for said in &screen.today_against { (said_of(said)) }
                @if !screen.today_none.is_empty() { p.quiet { (screen.today_none) } }
            }
            section aria-labelledby="limits" {
                h2 #limits { "Limits" }
                (list(frame, screen, &screen.limits, screen.may_limit, "Lift it", "No limit is written down."))
                @if screen.may_limit {
                    (send("save-limit", "Write a limit down", html! {
                        label { "No one-leg contacts" select name="no_one_leg" { option value="" { "no such limit" } (options(&screen.sides)) } }
                        label.tick { input type="checkbox" name="no_approach" value="yes"; "No run-in" }
                        label { "Boxes and platforms up to, in cm (empty: no such limit)" input type="text" inputmode="decimal" name="max_box_cm" autocomplete="off"; }
                        label { "From" input type="date" name="from" value=(today) required; }
                        label { "Until, that day too (empty: until it is lifted)" input type="date" name="until"; }
                        label { "Said by" select name="said_by" { (options(&screen.said_by)) } }
                        label { "In words" input type="text" name="note" maxlength="200"; }
                    }))
                } @else { p.quiet { (screen.who_may) } }
            }
            section aria-labelledby="advice" {
                h2 #advice { "A clinician’s advice about pain" }
                p { (screen.advice_about) }
                (list(frame, screen, &screen.advice, screen.may_limit, "End it", "No advice is written down."))
                @if screen.may_limit {
                    (send("save-advice", "Write an advice down", html! {
                        label { "Where" select name="part" { (options(&screen.parts)) } }
                        label { "Which side" select name="side" { option value="" { "there are not two" } (options(&screen.sides)) } }
                        label { "Up to this score, 1 to 5 of 10" input type="number" name="up_to" min="1" max="5" required; }
                        label { "From" input type="date" name="from" value=(today) required; }
                        label { "Until, that day too" input type="date" name="until" required; }
                        label { "Who said so, and what" input type="text" name="note" maxlength="200" required; }
                    }))
                }
            }
            section aria-labelledby="tests" {
                h2 #tests { "Tests" }
                @for said in &screen.depth_against { (said_of(said)) }
                @if !screen.depth_none.is_empty() { p.quiet { (screen.depth_none) } }
                (list(frame, screen, &screen.tests, true, "Take back", "No test is written down."))
                (send("save-test", "Write a test down", html! {
                    label { "Test" select name="test" { (options(&screen.test_choices)) } }
                    label { "Result" input type="text" inputmode="decimal" name="value" required autocomplete="off"; }
                    label { "Side, for standing on one leg" select name="side" { option value="" { "both legs" } (options(&screen.sides)) } }
                    label { "Day" input type="date" name="day" value=(today) required; }
                    label { "In words" input type="text" name="note" maxlength="200"; }
                }))
            }
            section aria-labelledby="growth" {
                h2 #growth { "Growth" }
                p { (screen.growth) }
                (list(frame, screen, &screen.heights, true, "Take back", "No height is written down."))
                (send("save-height", "Write a height down", html! {
                    label { "Standing height, in cm" input type="text" inputmode="decimal" name="cm" required autocomplete="off"; }
                    label { "Day" input type="date" name="day" value=(today) required; }
                }))
            }
            section aria-labelledby="landings" {
                h2 #landings { "How landings are controlled" }
                (list(frame, screen, &screen.controls, true, "Take back", "Nothing is judged yet."))
                (send("save-control", "Judge a landing", html! {
                    label { "Exercise" select name="exercise" { (options(&screen.exercises)) } }
                    label { "Side" select name="side" { option value="" { "both legs" } (options(&screen.sides)) } }
                    label { "The landing" select name="control" { (options(&screen.control_choices)) } }
                    label.tick { input type="checkbox" name="knee_inward" value="yes"; "The knee came inward" }
                    label.tick { input type="checkbox" name="trunk" value="yes"; "The trunk tipped or turned" }
                    label { "Day" input type="date" name="day" value=(today) required; }
                    label { "In words" input type="text" name="note" maxlength="200"; }
                }))
            }
        },
    )
}

/// A form that stays closed until it is wanted.
fn form(frame: &Frame, screen: &Body, action: &str, text: &str, fields: &Markup) -> Markup {
    html! {
        div.acts {
            details {
                summary { (text) }
                form.fields method="post" action=(format!("/do/{action}")) {
                    (frame.form.field())
                    input type="hidden" name="member" value=(screen.member);
                    (fields)
                    button type="submit" { "Write it down" }
                }
            }
        }
    }
}

/// What is there, each with the way to take it back.
fn list(frame: &Frame, screen: &Body, rows: &[BodyRow], may_end: bool, end: &str, none: &str) -> Markup {
    html! {
        @if rows.is_empty() { p.quiet { (none) } } @else {
            ul.rows {
                @for row in rows {
                    li {
                        div { p { (row.text) } @if !row.note.is_empty() { p.quiet { (row.note) } } }
                        @if may_end {
                            form.acts method="post" action="/do/end-body" {
                                (frame.form.field())
                                input type="hidden" name="member" value=(screen.member);
                                input type="hidden" name="entry" value=(row.id);
                                button.plain type="submit" aria-label=(format!("{end}: {}", row.spoken)) { (end) }
                            }
                        }
                    }
                }
            }
        }
    }
}
