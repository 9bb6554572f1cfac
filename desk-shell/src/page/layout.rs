//! What is around every page.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use maud::{DOCTYPE, Markup, html};
use pitside_screen::record::Choice;

use super::guard::FormToken;
use super::lane;

/// The pages that every page leads to.
const NAV: [(&str, &str); 9] = [
    ("/", "Board"),
    ("/take", "Time a clip"),
    ("/plan", "Plan"),
    ("/jumps/day", "Attempts"),
    ("/exercises", "Exercises"),
    ("/rules", "Rules"),
    ("/devices", "Devices"),
    ("/invite", "Invite a phone"),
    ("/guide", "First days"),
];

/// What is the same around every page of one start.
pub(super) struct Frame {
    /// Said where the squad is invented.
    pub(super) demo_note: String,
    /// What the page's forms carry.
    pub(super) form: FormToken,
    /// Set once the book was found to be damaged.
    pub(super) damaged: Arc<AtomicBool>,
}

impl Frame {
    /// A page of the squad. `here` is its path, for the link that leads nowhere new.
    pub(super) fn page(&self, here: &str, title: &str, body: Markup) -> Markup {
        bare(
            title,
            html! {
                a.skip href="#content" { "To the content" }
                header.top {
                    nav aria-label="Pages" {
                        (lane::sign())
                        @for (path, name) in NAV {
                            a href=(path) aria-current=[(path == here).then_some("page")] { (name) }
                        }
                    }
                    @if !self.demo_note.is_empty() { p.demo { (self.demo_note) } }
                    @if self.damaged.load(Ordering::Acquire) {
                        p.notice role="alert" {
                            "This device's book is damaged. Close this page and type " code { "pitside book check" }
                            ", then " code { "pitside book rescue" } ". What is missing comes with the next sync."
                        }
                    }
                }
                main #content { (body) }
            },
        )
    }

    /// A page that says why there is none.
    pub(super) fn trouble(&self, title: &str, sentence: &str) -> Markup {
        self.page(
            "",
            title,
            html! { h1 { (title) } p { (sentence) } p { a href="/" { "Back to the board" } } },
        )
    }
}

/// Only the frame.
pub(super) fn bare(title: &str, body: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Pitside" }
                link rel="icon" href="data:,";
                link rel="stylesheet" href="/style.css";
            }
            body { (body) }
        }
    }
}

/// The options of a select, under their headings.
pub(super) fn options(choices: &[Choice]) -> Markup {
    let plain = |group: &[Choice]| {
        html! { @for choice in group { option value=(choice.id) selected[choice.chosen] { (choice.text) } } }
    };
    html! {
        @for group in choices.chunk_by(|a, b| a.group == b.group) {
            @let heading = group.first().map_or("", |first| first.group.as_str());
            @if heading.is_empty() { (plain(group)) } @else { optgroup label=(heading) { (plain(group)) } }
        }
    }
}

/// A list of sentences, nothing where there are none.
pub(super) fn sentences(class: &str, sentences: &[String]) -> Markup {
    html! { @if !sentences.is_empty() { ul class=(class) { @for s in sentences { li { (s) } } } } }
}
