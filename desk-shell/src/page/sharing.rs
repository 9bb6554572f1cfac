//! For a device that serves members: whom the private part is shared with, and
//! what the coach asks to erase.

use maud::{Markup, html};
use pitside_screen::record::{Sharing, Wishes};

use super::devices::said;
use super::layout::{Frame, sentences};

pub(super) fn page(frame: &Frame, screen: &Sharing, done: Option<&str>) -> Markup {
    frame.page(
        "",
        &screen.title,
        html! {
            h1 { (screen.title) }
            (said(done))
            p { (screen.about) }
            ul.rows {
                @for row in &screen.rows {
                    li {
                        div { h3 { (row.text) } p.quiet { (row.state) } }
                        @if screen.may_change {
                            form.acts method="post" action="/do/share" {
                                (frame.form.field())
                                input type="hidden" name="member" value=(screen.member);
                                input type="hidden" name="to" value=(row.id);
                                input type="hidden" name="given" value=(if row.given { "no" } else { "yes" });
                                @let verb = if row.given { "Stop sharing" } else { "Share" };
                                button.plain type="submit" aria-label=(format!("{verb}: {}", row.spoken)) { (verb) }
                            }
                        }
                    }
                }
            }
            @if !screen.who_may.is_empty() { p { (screen.who_may) } }
            p.quiet { (screen.withdrawing) }
            p { a href=(format!("/athlete/{}", screen.member)) { "To the athlete's page" } }
        },
    )
}

pub(super) fn wishes(frame: &Frame, screen: &Wishes) -> Markup {
    frame.page(
        "",
        &screen.title,
        html! {
            h1 { (screen.title) }
            @if !screen.none.is_empty() { p.quiet { (screen.none) } }
            @for wish in &screen.wishes {
                section {
                    h2 { (wish.title) }
                    (sentences("", &wish.means))
                    @if !wish.answered.is_empty() { p { (wish.answered) } }
                    div.acts {
                        @for action in &wish.actions {
                            form method="post" action=(format!("/do/{}", action.id)) {
                                (frame.form.field())
                                input type="hidden" name="member" value=(wish.member);
                                button.plain type="submit" aria-label=(format!("{}: {}", action.text, wish.title)) {
                                    (action.text)
                                }
                            }
                        }
                    }
                }
            }
        },
    )
}
