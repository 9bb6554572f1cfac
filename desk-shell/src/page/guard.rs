//! What stands before every page: only this machine, only whoever has the
//! token of this start, and nothing from anywhere else.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use data_encoding::HEXLOWER;
use maud::{Markup, html};
use sha2::{Digest, Sha256};

use super::{Desk, Pages, layout};

/// No frame, nothing from another place, and script only of the page that marks clips.
const POLICY: &str = "default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; \
                      base-uri 'none'; frame-ancestors 'none'";

/// The same for the page that marks clips: its own scripts, which ask this server.
const MARKING: &str = "default-src 'none'; style-src 'self'; img-src 'self' data:; script-src 'self'; \
                       connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Not `no-referrer`: under it a browser sends `Origin: null` with the page's
/// own forms too, and [`check`] could not tell them from anybody's.
const REFERRER: &str = "same-origin";

/// The checks, and the headers of every answer.
pub(super) async fn guard(State(pages): State<Arc<Pages>>, request: Request, next: Next) -> Response {
    let marking = request.uri().path() == "/take";
    let mut response = match check(&pages.desk, &request) {
        Ok(()) => next.run(request).await,
        Err(response) => *response,
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, if marking { MARKING } else { POLICY }),
        (header::REFERRER_POLICY, REFERRER),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::CACHE_CONTROL, "no-store"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}

fn check(desk: &Desk, request: &Request) -> Result<(), Box<Response>> {
    let headers = request.headers();
    let port = desk.address.port();
    let hosts = [format!("127.0.0.1:{port}"), format!("localhost:{port}"), format!("[::1]:{port}")];
    // A page elsewhere that points its own name at this machine stops here.
    let host = text(headers, &header::HOST);
    if !hosts.iter().any(|h| Some(h.as_str()) == host) {
        return Err(refuse(StatusCode::MISDIRECTED_REQUEST, "This address is not the page's own."));
    }
    if request.uri().path() == "/style.css" {
        return Ok(());
    }
    let query = request.uri().query().unwrap_or_default();
    if let Some(token) = query.split('&').find_map(|pair| pair.strip_prefix("token=")) {
        if !same(token, &desk.token) {
            return Err(refuse(StatusCode::FORBIDDEN, "The address belongs to an earlier start."));
        }
        // The token goes into a cookie and out of the address bar.
        let cookie = format!("{}={}; HttpOnly; SameSite=Strict; Path=/", cookie_name(port), desk.token);
        let mut response = Redirect::to(request.uri().path()).into_response();
        let cookie = HeaderValue::from_str(&cookie)
            .map_err(|_| refuse(StatusCode::INTERNAL_SERVER_ERROR, "The page could not be opened."))?;
        response.headers_mut().insert(header::SET_COOKIE, cookie);
        return Err(Box::new(response));
    }
    let name = cookie_name(port);
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|v| v.to_str().ok());
    let known = cookies
        .flat_map(|v| v.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .any(|(n, value)| n == name && same(value, &desk.token));
    if !known {
        return Err(refuse(
            StatusCode::FORBIDDEN,
            "Open the page with the address that pitside printed at its start.",
        ));
    }
    if request.method() != Method::GET && request.method() != Method::HEAD {
        let origin = text(headers, &header::ORIGIN).and_then(|o| o.strip_prefix("http://"));
        if origin.is_none() || origin != host {
            return Err(refuse(StatusCode::FORBIDDEN, "This form does not come from the page."));
        }
    }
    Ok(())
}

/// What each form of this start carries, beside the cookie: a page elsewhere can
/// send a form, but cannot read what stands in ours.
pub(super) struct FormToken(String);

impl FormToken {
    /// Made of the token of the start, which it does not give away.
    pub(super) fn of(token: &str) -> Self {
        Self(HEXLOWER.encode(&Sha256::new().chain_update("form").chain_update(token).finalize()))
    }

    /// The hidden field.
    pub(super) fn field(&self) -> Markup {
        html! { input type="hidden" name="form" value=(self.0); }
    }

    /// Whether a form carries it.
    pub(super) fn is(&self, sent: &str) -> bool {
        same(sent, &self.0)
    }
}

/// Cookies do not know ports; two pages of one machine must not share one.
fn cookie_name(port: u16) -> String {
    format!("pitside-{port}")
}

fn text<'a>(headers: &'a HeaderMap, name: &HeaderName) -> Option<&'a str> {
    headers.get(name).and_then(|v| v.to_str().ok())
}

/// Compares digests, so that how long it takes tells nothing of the token.
fn same(a: &str, b: &str) -> bool {
    Sha256::digest(a) == Sha256::digest(b)
}

fn refuse(status: StatusCode, sentence: &str) -> Box<Response> {
    let page = layout::bare("Not here", html! { h1 { "Not here" } p { (sentence) } });
    Box::new((status, page).into_response())
}
