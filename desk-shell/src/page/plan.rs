//! Planned sessions: an athlete's, and the form by which one is planned for several, changed
//! and withdrawn.

use std::sync::Arc;

use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::routing::get;
use maud::{Markup, html};
use pitside_screen::ScreenError;
use pitside_screen::record::{Choice, PlanForm, PlanFormPage, PlanRow, PlanRowForm, Plans};
use serde::Deserialize;

use super::check_in::said as said_of;
use super::layout::{Frame, sentences};
use super::{Answer, Pages, Sent, Shared, athlete, path_of};

/// Rows that can be filled in beside those that are there; what is left empty is no row.
const SPARE: usize = 6;
/// Rows of a plan.
const MOST: usize = 24;

pub(super) fn routes() -> Router<Arc<Pages>> {
    Router::new().route("/plan", get(shown)).route("/plans", get(list))
}

/// What to show: the form of the plan `id`, of a copy of `copy`, or of a new one for
/// `member`, who may be left out.
#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    member: String,
    #[serde(default)]
    id: String,
    #[serde(default)]
    copy: String,
    #[serde(default)]
    done: String,
}

type AskedQuery = Result<Query<Asked>, QueryRejection>;

async fn shown(State(pages): Shared, asked: AskedQuery) -> Answer {
    let asked = match asked {
        Ok(Query(asked)) => asked,
        Err(e) => return pages.misread(e.status()),
    };
    pages
        .draw(move |p, env| {
            let copy = !asked.copy.is_empty();
            let plan = if copy { &asked.copy } else { &asked.id };
            let screen = p.desk.companion.plan_form(env, &asked.member, plan, copy)?;
            Ok(Answer::Page(form(&p.frame, &screen, asked.done == "several")))
        })
        .await
}

async fn list(State(pages): Shared, asked: AskedQuery) -> Answer {
    let member = match asked {
        Ok(Query(asked)) => asked.member,
        Err(e) => return pages.misread(e.status()),
    };
    pages.draw(move |p, env| Ok(Answer::Page(plans(&p.frame, &p.desk.companion.plans(env, &member)?)))).await
}

fn plans(frame: &Frame, screen: &Plans) -> Markup {
    frame.page(
        "",
        &screen.title,
        html! {
            p.from { a href=(path_of(&screen.athlete.route)) { (screen.athlete.text) } }
            h1 { (screen.title) }
            p { (screen.about) }
            @if screen.may_plan {
                p { a href=(format!("/plan?member={}", screen.member)) { "Plan a session" } }
            }
            section aria-labelledby="coming" {
                h2 #coming { "From today on" }
                @if !screen.none.is_empty() { p.quiet { (screen.none) } }
                (rows(frame, &screen.coming, screen.may_plan, true))
            }
            @if !screen.earlier.is_empty() {
                section aria-labelledby="earlier" {
                    h2 #earlier { "The last four weeks" }
                    (rows(frame, &screen.earlier, screen.may_plan, false))
                }
            }
        },
    )
}

fn rows(frame: &Frame, rows: &[PlanRow], may_plan: bool, coming: bool) -> Markup {
    html! {
        ul.rows {
            @for row in rows {
                li {
                    div {
                        h3 { (row.day) ": " (row.purpose) }
                        ol { @for sets in &row.rows { li { (sets) } } }
                        @if !row.note.is_empty() { p { (row.note) } }
                        @if !row.progress.is_empty() { p.quiet { (row.progress) } }
                        @if !row.clash.is_empty() { p.quiet { (row.clash) } }
                        @if may_plan {
                            p {
                                @if coming { a href=(path_of(&row.route)) { "Change it" } " · " }
                                a href=(format!("/plan?copy={}", row.id)) { "Plan it again for another day" }
                            }
                        }
                    }
                    @if may_plan && coming { (withdraw(frame, &row.id, &row.seen, &row.day)) }
                }
            }
        }
    }
}

fn withdraw(frame: &Frame, plan: &str, seen: &str, day: &str) -> Markup {
    html! {
        form.acts method="post" action="/do/withdraw-plan" {
            (frame.form.field())
            input type="hidden" name="plan" value=(plan);
            input type="hidden" name="seen" value=(seen);
            button.plain type="submit" aria-label=(format!("Withdraw the session of {day}")) { "Withdraw it" }
        }
    }
}

fn form(frame: &Frame, screen: &PlanFormPage, several: bool) -> Markup {
    let filled = &screen.form;
    let new = filled.id.is_empty();
    let shown = (filled.rows.len() + SPARE).min(MOST);
    let empty = PlanRowForm::default();
    frame.page(
        if new && screen.back.is_empty() { "/plan" } else { "" },
        &screen.title,
        html! {
            @if !screen.back.is_empty() { p.from { a href=(path_of(&screen.back)) { "Planned sessions" } } }
            h1 { (screen.title) }
            @if several { p.done role="status" { "Written down: each of the athletes has it as a plan of their own." } }
            p { (screen.about) }
            @if !screen.clash.is_empty() {
                section aria-label="Planned differently" {
                    p { "Two people planned this differently. Saving the form keeps what it says and lets the others go." }
                    (sentences("", &screen.clash))
                }
            }
            @for said in &screen.against { (said_of(said)) }
            @if screen.may_plan {
                form.fields.plan method="post" action="/do/save-plan" {
                    (frame.form.field())
                    input type="hidden" name="id" value=(filled.id);
                    input type="hidden" name="seen" value=(filled.seen);
                    label { "Day" input type="date" name="day" value=(filled.day) required; }
                    label.wide { "What it is for" input type="text" name="purpose" value=(filled.purpose) maxlength="80" required; }
                    label.wide { "What else to know" input type="text" name="note" value=(filled.note) maxlength="200"; }
                    @if new {
                        fieldset {
                            legend { "For whom: each gets a plan of their own" }
                            @for member in &screen.members {
                                label.tick {
                                    input type="checkbox" name="member" value=(member.id) checked[member.chosen];
                                    (member.text)
                                }
                            }
                        }
                    }
                    @for at in 0..shown { (row(screen, at, filled.rows.get(at).unwrap_or(&empty))) }
                    button type="submit" { "Write it down" }
                }
                @if !new { (withdraw(frame, &filled.id, &filled.seen, &filled.day)) }
            } @else { p.quiet { "This device may not plan for this athlete." } }
            (athlete::cautions(&screen.cautions))
        },
    )
}

/// The options of a select with one chosen by its id, under their headings.
fn chosen(choices: &[Choice], id: &str) -> Markup {
    let own = |choice: &Choice| Choice { chosen: choice.id == id, ..choice.clone() };
    super::layout::options(&choices.iter().map(own).collect::<Vec<_>>())
}

/// A number that is not filled in is left empty.
fn text<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

/// A part of a thousand, or of ten, as a decimal without idle zeros.
fn decimal(value: Option<u32>, scale: u32) -> String {
    value.map_or_else(String::new, |value| (f64::from(value) / f64::from(scale)).to_string())
}

fn row(screen: &PlanFormPage, at: usize, row: &PlanRowForm) -> Markup {
    let field = |label: &str, name: &str, value: &str| {
        html! {
            label { (label)
                input type="text" inputmode="decimal" name=(format!("{name}-{at}")) value=(value) maxlength="12" autocomplete="off";
            }
        }
    };
    let count = |n: u16| if n == 0 { String::new() } else { n.to_string() };
    let open = !row.exercise.is_empty() || at == 0;
    html! {
        details open[open] {
            summary { @if open { "Exercise " (at + 1) } @else { "One more exercise" } }
            input type="hidden" name=(format!("number-{at}")) value=(row.number);
            div.fields.row {
                label.wide { "Exercise"
                    select name=(format!("exercise-{at}")) {
                        option value="" { "no exercise" }
                        (chosen(&screen.exercises, &row.exercise))
                    }
                }
                (field("Place in the session", "place", &(at + 1).to_string()))
                (field("Sets", "sets", &count(row.sets)))
                (field("Repetitions of each", "reps", &count(row.reps)))
                label { "Legs"
                    select name=(format!("leg-{at}")) {
                        option value="" { "as the exercise suggests" }
                        (chosen(&screen.legs, &row.leg))
                    }
                }
                label.tick {
                    input type="checkbox" name=(format!("swap-{at}")) value="yes" checked[row.swap];
                    "Left and right in turn from set to set"
                }
                (field("Box, cm", "box", &decimal(row.box_mm, 10)))
                (field("Run-in, strides", "strides", &text(row.strides)))
                (field("or run-in, m", "run", &decimal(row.run_mm, 1_000)))
                (field("Outside load, kg", "load", &decimal(row.load_g, 1_000)))
                label { "Cue of the contacts"
                    select name=(format!("cue-{at}")) { option value="" { "none" } (chosen(&screen.cues, &row.cue)) }
                }
                label.wide { "The one thing to think of"
                    input type="text" name=(format!("say-{at}")) value=(row.say) maxlength="80";
                }
                (field("Rest after each set, s", "rest", &text(row.rest_s)))
                (field("or times the work", "times", &text(row.rest_times)))
                label.tick {
                    input type="checkbox" name=(format!("warm-{at}")) value="yes" checked[row.warm_up];
                    "A drill of the warm-up"
                }
            }
        }
    }
}

/// What was filled in; rows without an exercise are left out, the others stand by their place.
pub(super) fn read(form: &Sent) -> Result<PlanForm, ScreenError> {
    let one = |name: &str| form.one(name).to_owned();
    let mut rows = Vec::new();
    for at in 0..MOST {
        let named = |name: &str| format!("{name}-{at}");
        let exercise = one(&named("exercise"));
        if exercise.is_empty() {
            continue;
        }
        let in_row = |name: &str| format!("{name} of exercise {}", at + 1);
        let number = |name: &str, label: &str| whole(&in_row(label), form.one(&named(name)));
        let part = |name: &str, label: &str, scale: u32| parts(&in_row(label), form.one(&named(name)), scale);
        let place = parts(&in_row("place"), form.one(&named("place")), 1_000)?;
        let row = PlanRowForm {
            number: number("number", "number")?.unwrap_or(0),
            exercise,
            sets: number("sets", "sets")?.unwrap_or(1),
            reps: number("reps", "repetitions")?.unwrap_or(0),
            leg: one(&named("leg")),
            swap: form.ticked(&named("swap")),
            box_mm: part("box", "box", 10)?,
            strides: number("strides", "strides")?,
            run_mm: part("run", "run-in", 1_000)?,
            load_g: part("load", "load", 1_000)?,
            cue: one(&named("cue")),
            say: one(&named("say")),
            rest_s: number("rest", "rest")?,
            rest_times: number("times", "times the work")?,
            warm_up: form.ticked(&named("warm")),
        };
        rows.push((place.unwrap_or(u32::MAX), row));
    }
    // Those of one place stay in the order of the form.
    rows.sort_by_key(|(place, _)| *place);
    Ok(PlanForm {
        id: one("id"),
        seen: one("seen"),
        members: form.all("member"),
        day: one("day"),
        purpose: one("purpose"),
        note: one("note"),
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    })
}

/// A whole number that may be left empty.
fn whole(field: &str, text: &str) -> Result<Option<u16>, ScreenError> {
    if text.trim().is_empty() { Ok(None) } else { super::number(field, text).map(Some) }
}

/// A decimal in so many parts of its unit, that may be left empty; a comma is a point.
fn parts(field: &str, text: &str, scale: u32) -> Result<Option<u32>, ScreenError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let value: Option<f64> = text.replace(',', ".").parse().ok();
    let value = value.map(|value| (value * f64::from(scale)).round());
    match value.filter(|value| (0.0..=f64::from(u32::MAX)).contains(value)) {
        Some(value) => Ok(Some(value as u32)),
        None => Err(ScreenError::Refused {
            field: field.to_owned(),
            value: text.to_owned(),
            range: "a number".to_owned(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sent(fields: &[(&str, &str)]) -> Sent {
        Sent(fields.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect())
    }

    #[test]
    fn rows_stand_by_their_place_and_those_without_an_exercise_are_none() {
        let form = read(&sent(&[
            ("day", "2026-11-25"),
            ("member", "a"),
            ("member", "b"),
            ("exercise-0", "x"),
            ("place-0", "2"),
            ("reps-0", "10"),
            ("box-0", "12,5"),
            ("exercise-1", ""),
            ("sets-1", "4"),
            ("exercise-2", "y"),
            ("place-2", "1.5"),
            ("number-2", "7"),
            ("swap-2", "yes"),
            ("rest-2", " 90 "),
        ]))
        .unwrap();
        assert_eq!(form.members, ["a", "b"]);
        let [first, second] = form.rows.as_slice() else { panic!("{form:?}") };
        assert_eq!(
            (first.exercise.as_str(), first.number, first.swap, first.rest_s),
            ("y", 7, true, Some(90))
        );
        assert_eq!((second.reps, second.sets, second.box_mm), (10, 1, Some(125)));
    }

    #[test]
    fn what_is_no_number_is_refused_by_its_exercise() {
        for (name, value) in [("sets-0", "many"), ("box-0", "-3"), ("load-0", "1e99"), ("place-0", "NaN")] {
            let e = read(&sent(&[("exercise-0", "x"), (name, value)])).unwrap_err();
            assert!(e.to_string().contains("of exercise 1"), "{e}");
        }
    }
}
