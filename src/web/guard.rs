//! What stands before every page: the name that was asked for (against DNS
//! rebinding), the passcode where one is asked, headers that keep a page from
//! loading or being framed by anything else.

use super::{
    access::SESSION, links::redirect, preferences::cookie, refusal::ErrorPage, state::AppState,
};
use axum::{
    extract::{Request, State},
    http::{HeaderMap, HeaderValue, Method, StatusCode, header},
    middleware::Next,
    response::{IntoResponse, Response},
};
use std::{net::IpAddr, sync::Arc};

/// Headers of every answer. No inline script or style, nothing from elsewhere.
pub(super) const HEADERS: [(header::HeaderName, &str); 5] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    (header::REFERRER_POLICY, "same-origin"),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::CACHE_CONTROL, "no-store"),
];

/// Pages that are there before the passcode is given.
const OPEN: [&str; 4] = ["/enter", "/style.css", "/script.js", "/icon.svg"];

/// Lets through what asks for this program by a name that is its own. A name
/// that an attacker's server points here is always another one: what is an
/// address, `localhost` or a name that was given at the start is let through.
pub(super) async fn host(
    State(state): State<Arc<AppState>>,
    request: Request,
    next: Next,
) -> Response {
    match is_own(request.headers(), &state.names) {
        true => next.run(request).await,
        false => {
            let said = "This program answers only to its own address: use the one that it showed when it was started. Other names are given with --name.";
            ErrorPage::new(StatusCode::MISDIRECTED_REQUEST, "Wrong address", said).into_response()
        }
    }
}

fn is_own(headers: &HeaderMap, names: &[String]) -> bool {
    let mut hosts = headers.get_all(header::HOST).iter();
    match (hosts.next().map(HeaderValue::to_str), hosts.next()) {
        (Some(Ok(host)), None) => is_known(host, names),
        _ => false,
    }
}

fn is_known(host: &str, names: &[String]) -> bool {
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.parse::<u16>().is_ok() => name,
        _ => host,
    };
    let address = name.trim_start_matches('[').trim_end_matches(']');
    name.eq_ignore_ascii_case("localhost")
        || address.parse::<IpAddr>().is_ok()
        || names.iter().any(|known| name.eq_ignore_ascii_case(known))
}

/// Sends those who have not given the passcode to where it is asked.
pub(super) async fn door(
    State(state): State<Arc<AppState>>,
    request: Request,
    next: Next,
) -> Response {
    let Some(access) = &state.access else {
        return next.run(request).await;
    };
    let session = cookie(request.headers(), SESSION).unwrap_or_default();
    let open = OPEN.contains(&request.uri().path());
    match (open || access.is_in(session), request.method()) {
        (true, _) => next.run(request).await,
        (false, &Method::GET | &Method::HEAD) => redirect("/enter"),
        _ => {
            let said = "Give the passcode first, then send this again: go back, open /enter in another window, and come back.";
            ErrorPage::new(StatusCode::FORBIDDEN, "Locked", said).into_response()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_localhost_and_given_names_are_its_own() {
        let names = vec!["counter.home".to_owned()];
        for own in [
            "127.0.0.1:8080",
            "localhost:1",
            "LOCALHOST",
            "[::1]:8080",
            "192.168.1.5:80",
            "Counter.home:8080",
        ] {
            assert!(is_known(own, &names), "{own}");
        }
        for other in [
            "evil.example",
            "evil.example:8080",
            "",
            "localhost.evil.example",
            "127.0.0.1.evil.example",
        ] {
            assert!(!is_known(other, &names), "{other}");
        }
    }
}
