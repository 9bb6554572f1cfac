//! Weekly figures: a row a kind, a column a week.

use maud::{Markup, html};
use pitside_screen::record::WeekRow;

/// The table of some rows; `caption` says whose it is.
pub(super) fn table(caption: &str, rows: &[WeekRow]) -> Markup {
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
                        @for figure in &first.weeks { th scope="col" { (figure.week) } }
                    }
                }
                tbody {
                    @for row in rows {
                        tr {
                            th scope="row" { (row.label) }
                            @for figure in &row.weeks {
                                td.unknown[figure.incomplete] {
                                    span.figure { (figure.text) }
                                    (bar(figure.share, figure.incomplete))
                                    @if !figure.more.is_empty() { span.more { (figure.more) } }
                                    @if figure.incomplete { span.more { "incomplete" } }
                                }
                            }
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

/// The hardest contacts of this week.
pub(super) fn hardest(rows: &[WeekRow]) -> Markup {
    let hard: Vec<&WeekRow> = rows.iter().filter(|r| !r.hardest.is_empty()).collect();
    html! {
        @if !hard.is_empty() {
            dl.pairs {
                dt { "Hardest contacts this week" }
                @for row in hard { dd { (row.label) ": " (row.hardest) } }
            }
        }
    }
}
