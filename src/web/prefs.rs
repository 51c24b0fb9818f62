//! What a visitor prefers: units, kept in a cookie of this program alone.

use super::frame::redirect;
use super::sent::Sent;
use axum::{
    extract::FromRequestParts,
    http::{HeaderMap, header, request::Parts},
    response::Response,
};
use std::convert::Infallible;

/// Name of the cookie.
const UNITS: &str = "units";

/// What a visitor prefers, and which page was asked for.
#[derive(Debug, Clone, Default)]
pub(super) struct Prefs {
    /// Yards and ounces before metres and grams.
    pub(super) yards: bool,
    /// The page, to come back to.
    pub(super) back: String,
}

impl<S: Send + Sync> FromRequestParts<S> for Prefs {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        let back = match parts.method.is_safe() {
            true => parts.uri.path_and_query().map_or("/", |path| path.as_str()),
            false => "/",
        };
        Ok(Self {
            yards: cookie(&parts.headers, UNITS).is_some_and(|units| units == "yards"),
            back: back.to_owned(),
        })
    }
}

/// The value of a cookie.
pub(super) fn cookie<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find_map(|(known, value)| (known == name).then_some(value))
}

/// Remembers the units and goes back to the page.
pub(super) async fn units(sent: Sent) -> Response {
    let units = match sent.text("units") {
        "yards" => "yards",
        _ => "metres",
    };
    let mut response = redirect(own(sent.text("back")));
    let cookie = format!("{UNITS}={units}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly");
    if let Ok(value) = cookie.parse() {
        response.headers_mut().insert(header::SET_COOKIE, value);
    }
    response
}

/// A path of this program; anything else is the front page.
pub(super) fn own(path: &str) -> &str {
    let plain = path.bytes().all(|b| b.is_ascii_graphic() && b != b'\\');
    match path.starts_with('/') && !path.starts_with("//") && plain {
        true => path,
        false => "/",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_goes_back_only_within_the_program() {
        assert_eq!(own("/yarns?q=a"), "/yarns?q=a");
        for foreign in [
            "//evil.example",
            "https://evil.example",
            "/\\evil",
            "",
            "/a\nb",
        ] {
            assert_eq!(own(foreign), "/", "{foreign}");
        }
    }
}
