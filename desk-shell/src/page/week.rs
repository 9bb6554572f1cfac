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
                        @for (at, figure) in first.weeks.iter().enumerate().rev() {
                            th scope="col" {
                                @if at + 1 == first.weeks.len() { "this week" } @else { (figure.week) }
                                // Days are unknown or known for all kinds alike: said once, over all.
                                @if rows.iter().any(|r| r.weeks.get(at).is_some_and(|f| f.incomplete)) {
                                    span.more { "incomplete" }
                                }
                            }
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
                                    div.cell {
                                        (bar(figure.share, figure.incomplete))
                                        span.figure { (figure.text) }
                                        @if !figure.more.is_empty() { span.more { (figure.more) } }
                                    }
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

/// A thin bar on a ground line, to be compared along its row; only outlined
/// where the figure may be too low.
fn bar(share: f64, incomplete: bool) -> Markup {
    const FULL: f64 = 30.0;
    let height = (share.clamp(0.0, 1.0) * FULL).max(if share > 0.0 { 1.5 } else { 0.0 });
    html! {
        svg.bar viewBox="0 0 8 34" aria-hidden="true" {
            @if height > 0.0 {
                rect class=(if incomplete { "bar-open" } else { "bar-full" })
                    x="1" y=(format!("{:.1}", FULL + 2.0 - height)) width="6" height=(format!("{height:.1}")) {}
            }
            line.lane-line x1="0" y1="33" x2="8" y2="33" {}
        }
    }
}
