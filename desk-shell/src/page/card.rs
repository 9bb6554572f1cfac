//! The card of an athlete, to be filled in.

use maud::{Markup, html};
use pitside_screen::record::{CardForm, CardPage, Choice};

use super::Sent;
use super::layout::{Frame, options};

pub(super) fn page(frame: &Frame, screen: &CardPage) -> Markup {
    let form = &screen.form;
    frame.page(
        "",
        &screen.title,
        html! {
            p.from { a href=(format!("/athlete/{}", form.member)) { "Back to the athlete" } }
            h1 { (screen.title) }
            p { (screen.about) }
            form.fields method="post" action="/do/save-card" {
                (frame.form.field())
                input type="hidden" name="member" value=(form.member);
                label { "Name" input type="text" name="name" value=(form.name) maxlength="60" autocomplete="off"; }
                label { "Day of birth" input type="date" name="born" value=(form.born); }
                label { "Level" select name="level" { (known(&screen.levels)) } }
                label { "Take-off leg, long jump" select name="take_off_leg" { (known(&screen.sides)) } }
                label { "Feet of the triple jump" select name="hop_pattern" { (known(&screen.patterns)) } }
                (number("Body mass, in kg", "mass_kg", &form.mass_kg))
                (number("Top speed, in m/s", "top_speed_m_s", &form.top_speed_m_s))
                (number("Its standard uncertainty, in m/s", "top_speed_u_m_s", &form.top_speed_u_m_s))
                (number("Time constant of the acceleration, in s", "tau_s", &form.tau_s))
                (number("Its standard uncertainty, in s", "tau_u_s", &form.tau_u_s))
                (number("Mean stride of the run-in, in m", "stride_m", &form.stride_m))
                button type="submit" { "Write it down" }
            }
        },
    )
}

fn number(label: &str, name: &str, value: &str) -> Markup {
    html! { label { (label) input type="text" inputmode="decimal" name=(name) value=(value) autocomplete="off"; } }
}

/// Choices, and that it is not known.
fn known(choices: &[Choice]) -> Markup {
    html! {
        option value="" { "not known" }
        (options(choices))
    }
}

/// What was filled in.
pub(super) fn read(form: &Sent) -> CardForm {
    let one = |name: &str| form.one(name).to_owned();
    CardForm {
        member: one("member"),
        name: one("name"),
        born: one("born"),
        level: one("level"),
        take_off_leg: one("take_off_leg"),
        hop_pattern: one("hop_pattern"),
        mass_kg: one("mass_kg"),
        top_speed_m_s: one("top_speed_m_s"),
        top_speed_u_m_s: one("top_speed_u_m_s"),
        tau_s: one("tau_s"),
        tau_u_s: one("tau_u_s"),
        stride_m: one("stride_m"),
    }
}
