//! Inviting a phone.

use std::net::SocketAddr;

use maud::{Markup, PreEscaped, html};
use qrcode::QrCode;
use qrcode::render::svg;

use super::Invited;
use super::layout::Frame;

pub(super) fn form(frame: &Frame) -> Markup {
    frame.page(
        "/invite",
        "Invite a phone",
        html! {
            h1 { "Invite a phone" }
            p {
                "An invitation admits one device, once, within ten minutes. Whoever has its text can join the "
                "squad, so show it only to the person it is for."
            }
            form method="post" action="/invite" { (frame.form.field()) button type="submit" { "Make an invitation" } }
        },
    )
}

pub(super) fn page(frame: &Frame, invited: &Invited) -> Markup {
    frame.page(
        "/invite",
        "Invite a phone",
        html! {
            h1 { "Invite a phone" }
            p { "Scan this with the phone, or copy the text to the other device. It ends at " (invited.until) "." }
            div.qr role="img" aria-label="A QR code of the text below" { (qr(&invited.text)) }
            p { code.pairing { (invited.text) } }
            @if only_here(&invited.addresses) {
                p.notice {
                    "This machine listens for itself only, so no phone reaches it. End it, and open it to your "
                    "network with " code { "--listen ADDRESS:PORT" } "."
                }
            }
            p.quiet {
                "On another computer: " code { "pitside pair TEXT --book FOLDER" } ". This machine listens at "
                (invited.addresses.join(", ")) "."
            }
        },
    )
}

/// Whether no other machine can reach any of these.
fn only_here(addresses: &[String]) -> bool {
    addresses.iter().all(|a| a.parse::<SocketAddr>().is_ok_and(|a| a.ip().is_loopback()))
}

/// The code as a picture; the text stands below it.
fn qr(text: &str) -> Markup {
    match QrCode::new(text) {
        Ok(code) => {
            let picture = code
                .render::<svg::Color<'_>>()
                .min_dimensions(280, 280)
                .dark_color(svg::Color("#000"))
                .light_color(svg::Color("#fff"))
                .build();
            // The renderer writes an XML declaration, which HTML does not know.
            let start = picture.find("<svg").unwrap_or(0);
            html! { (PreEscaped(picture[start..].to_owned())) }
        }
        Err(_) => html! { p { "The text is too long for a QR code." } },
    }
}
