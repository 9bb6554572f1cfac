//! The rules by which training is looked at, of the squad or as they hold for one athlete.

use maud::{Markup, html};
use pitside_screen::record::{RuleRow, Rules};

use super::layout::{Frame, options};

pub(super) fn page(frame: &Frame, screen: &Rules) -> Markup {
    frame.page(
        if screen.member.is_empty() { "/rules" } else { "" },
        &screen.title,
        html! {
            h1 { (screen.title) }
            p { (screen.about) }
            @if !screen.who_may.is_empty() { p.quiet { (screen.who_may) } }
            @if screen.member.is_empty() {
                @if !screen.members.is_empty() {
                    form.fields.row method="get" action="/rules" {
                        label { "As they hold for one athlete" select name="member" { (options(&screen.members)) } }
                        button type="submit" { "Show" }
                    }
                }
            } @else {
                p {
                    a href=(format!("/athlete/{}", screen.member)) { "Back to the athlete" }
                    " · " a href="/rules" { "Rules of the squad" }
                }
            }
            // Rows stand by heading, each heading once: the first row of it begins it.
            @for heading in headings(&screen.rows) {
                section aria-label=(heading) {
                    h2 { (heading) }
                    ul.rows {
                        @for row in screen.rows.iter().filter(|row| row.group == heading) {
                            (self::row(frame, screen, row))
                        }
                    }
                }
            }
        },
    )
}

fn headings(rows: &[RuleRow]) -> Vec<&str> {
    let mut headings: Vec<&str> = Vec::new();
    for row in rows {
        if !headings.contains(&row.group.as_str()) {
            headings.push(&row.group);
        }
    }
    headings
}

fn row(frame: &Frame, screen: &Rules, row: &RuleRow) -> Markup {
    let whose = if screen.member.is_empty() { "for the squad" } else { "for this athlete" };
    html! {
        li id=(row.id) {
            div {
                h3 { (row.text) ": " (row.line) }
                p { (row.drawn) }
                @if !row.until.is_empty() { p.quiet { (row.until) } }
                @if !row.product.is_empty() { p.quiet { (row.product) } }
            }
            @if screen.may_change {
                div.acts {
                    details {
                        summary aria-label=(format!("Another line: {}", row.text)) { "Another line " (whose) }
                        form.fields method="post" action="/do/set-rule" {
                            (frame.form.field())
                            input type="hidden" name="member" value=(screen.member);
                            input type="hidden" name="rule" value=(row.id);
                            label {
                                "Line, " (row.from) " to " (row.to) " " (row.unit)
                                input type="text" inputmode="decimal" name="line" value=(row.value) autocomplete="off";
                            }
                            label.tick { input type="checkbox" name="off" value="yes"; "Off: nothing is judged by it" }
                            label { "Until (empty: open)" input type="date" name="until"; }
                            label { "Why" input type="text" name="reason" maxlength="200" required; }
                            button type="submit" { "Write it down" }
                        }
                    }
                    @if row.own {
                        form.acts method="post" action="/do/rule-back" {
                            (frame.form.field())
                            input type="hidden" name="member" value=(screen.member);
                            input type="hidden" name="rule" value=(row.id);
                            button.plain type="submit" aria-label=(format!("Take back: {}", row.spoken)) { "Back to what stood before" }
                        }
                    }
                }
            }
        }
    }
}
