//! Weekly figures: a row a kind, a column a week, this week first: it is what
//! is looked for, and what a phone's width still shows.

use maud::{Markup, html};
use pitside_screen::record::WeekRow;

/// The table of some rows; `caption` says whose it is.
pub(super) fn table(caption: &str, rows: &[WeekRow]) -> Markup {
    let hard = rows.iter().any(|r| !r.hardest.is_empty());
    let Some(first) = rows.first() else {
        return html! { p.quiet { "No training in these weeks has arrived." } };
    };
    html! {
        div.scroll tabindex="0" role="group" aria-label=(caption) {
            table.weeks {
                caption.spoken-only { (caption) }
                thead {
                    tr {
                        th scope="col" { span.spoken-only { "Kind" } }
                        @for (at, figure) in first.weeks.iter().rev().enumerate() {
                            th scope="col" { @if at == 0 { "this week" } @else { (figure.week) } }
                        }
                        @if hard { th scope="col" { "hardest contact this week" } }
                    }
                }
                tbody {
                    @for row in rows {
                        tr {
                            th scope="row" { (row.label) }
                            @for (at, figure) in row.weeks.iter().rev().enumerate() {
                                td.now[at == 0] {
                                    span.figure { (figure.text) }
                                    (bar(figure.share, figure.incomplete))
                                    @if !figure.more.is_empty() { span.more { (figure.more) } }
                                    @if figure.incomplete { span.more { "incomplete" } }
                                }
                            }
                            @if hard { td.hardest { (row.hardest) } }
                        }
                    }
                }
            }
        }
    }
}

/// A thin bar; only outlined where the figure may be too low.
fn bar(share: f64, incomplete: bool) -> Markup {
    let width = (share.clamp(0.0, 1.0) * 60.0).max(if share > 0.0 { 1.0 } else { 0.0 });
    html! {
        svg.bar viewBox="0 0 62 6" aria-hidden="true" {
            @if width > 0.0 {
                rect class=(if incomplete { "bar-open" } else { "bar-full" })
                    x="1" y="1" width=(format!("{width:.1}")) height="4" {}
            }
        }
    }
}
