//! What is around every page.

use maud::{DOCTYPE, Markup, html};

/// A page of the squad.
pub(super) fn page(title: &str, demo_note: &str, body: Markup) -> Markup {
    bare(
        title,
        html! {
            a.skip href="#content" { "To the content" }
            header.top {
                nav aria-label="Pages" {
                    a href="/" { "Board" }
                    a href="/invite" { "Invite a phone" }
                    a href="/guide" { "First days" }
                }
                @if !demo_note.is_empty() { p.demo { (demo_note) } }
            }
            main #content { (body) }
        },
    )
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

/// A page that says why there is none.
pub(super) fn trouble(title: &str, sentence: &str) -> Markup {
    page(title, "", html! { h1 { (title) } p { (sentence) } p { a href="/" { "Back to the board" } } })
}

/// A list of sentences, nothing where there are none.
pub(super) fn sentences(class: &str, sentences: &[String]) -> Markup {
    html! { @if !sentences.is_empty() { ul class=(class) { @for s in sentences { li { (s) } } } } }
}
