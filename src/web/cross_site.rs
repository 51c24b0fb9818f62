//! Pages of other sites change nothing here, read nothing and show nothing of it: the
//! name that was asked for (against DNS rebinding), the site that a change comes
//! from, and headers that keep a page from loading or being framed by anything else.

use super::{error_page::ErrorPage, state::AppState};
use axum::{
    Router,
    extract::{Request, State},
    http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header},
    middleware::{Next, from_fn_with_state},
    response::{IntoResponse, Response},
};
use std::{net::IpAddr, sync::Arc};
use tower_http::{csrf::CsrfLayer, set_header::SetResponseHeaderLayer};

/// Headers of every answer. No inline script or style, nothing from elsewhere.
pub(super) const HEADERS: [(HeaderName, &str); 5] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    (header::REFERRER_POLICY, "same-origin"),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::CACHE_CONTROL, "no-store"),
];

/// Keeps the pages from other sites. What changes something and comes from a page of
/// another site, which the browser tells by `Sec-Fetch-Site` and `Origin`, is refused.
pub(super) fn protect(
    pages: Router<Arc<AppState>>,
    state: &Arc<AppState>,
) -> Router<Arc<AppState>> {
    let pages = pages
        .layer(CsrfLayer::new())
        .layer(from_fn_with_state(Arc::clone(state), check_host));
    HEADERS.into_iter().fold(pages, |pages, (name, value)| {
        let value = HeaderValue::from_static(value);
        pages.layer(SetResponseHeaderLayer::if_not_present(name, value))
    })
}

/// Lets through what asks for this program by a name that is its own. A name
/// that an attacker's server points here is always another one: what is an
/// address, `localhost` or a name that was given at the start is let through.
async fn check_host(State(state): State<Arc<AppState>>, request: Request, next: Next) -> Response {
    if is_own(request.headers(), &state.names) {
        return next.run(request).await;
    }
    let said = "This program answers only to its own address: use the one that it showed when it was started. Other names are given with --name.";
    ErrorPage::new(StatusCode::MISDIRECTED_REQUEST, "Wrong address", said).into_response()
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
