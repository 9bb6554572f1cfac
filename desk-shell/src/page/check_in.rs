//! How an athlete is whom this device serves: what hurts, what is to be seen at any score,
//! and the offer to end the session.

use maud::{Markup, html};
use pitside_screen::record::{CheckIn, Choice, HurtForm, Said};

use super::athlete::cautions;
use super::layout::{Frame, options};

/// Places that the form has room for; a phone has as many as hurt.
const PLACES: usize = 3;

pub(super) fn page(frame: &Frame, screen: &CheckIn, member: &str) -> Markup {
    let hurts = &screen.form.hurts;
    let empty = HurtForm::default();
    let places = PLACES.max(hurts.len());
    frame.page(
        "",
        &screen.title,
        html! {
            h1 { (screen.title) }
            @if !screen.end.is_empty() { p.notice role="status" { strong { (screen.end) } } }
            @for said in &screen.said { (self::said(said)) }
            form.fields method="post" action="/do/check-in" {
                (frame.form.field())
                input type="hidden" name="member" value=(member);
                p.quiet { (screen.shared) }
                @for n in 0..places {
                    @let hurt = hurts.get(n).unwrap_or(&empty);
                    fieldset.fields {
                        legend { "What hurts, " (n + 1) }
                        label { "Where" select name="part" {
                            option value="" { "nothing" } (options(&chosen(&screen.parts, &hurt.part)))
                        } }
                        label { "Which side" select name="side" {
                            option value="" { "there are not two" } (options(&chosen(&screen.sides, &hurt.side)))
                        } }
                        label { (screen.score) input type="number" name="score" min="0" max="10" value=(hurt.score); }
                    }
                }
                fieldset.fields {
                    legend { (screen.signs_about) }
                    @for sign in &screen.signs {
                        label.tick {
                            input type="checkbox" name="sign" value=(sign.id) checked[screen.form.signs.contains(&sign.id)];
                            (sign.text)
                        }
                    }
                }
                label { "Sleep, in minutes (empty: not said)"
                    input type="number" name="sleep" min="0" max="1440" value=[screen.form.sleep_min];
                }
                button type="submit" { "Write it down" }
            }
            (cautions(std::slice::from_ref(&screen.caution)))
        },
    )
}

fn chosen(choices: &[Choice], id: &str) -> Vec<Choice> {
    choices.iter().map(|choice| Choice { chosen: choice.id == id, ..choice.clone() }).collect()
}

/// What speaks against training on, or against a set.
pub(super) fn said(said: &Said) -> Markup {
    html! {
        section.notice aria-label=(said.spoken) {
            p { strong { (said.grade) ": " } (said.saw) }
            p { (said.rule) " " (said.may_do) }
            p.quiet { (said.source) }
        }
    }
}
