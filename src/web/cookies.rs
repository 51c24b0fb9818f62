//! The cookies of the program: the session of a device that gave the passcode,
//! and the units that a visitor prefers.

use axum::{
    http::{HeaderMap, header},
    response::Response,
};

/// The cookie that holds a session.
pub(super) const SESSION: &str = "session";
/// The cookie that says which units come first.
pub(super) const UNITS: &str = "units";

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

/// The response with a cookie that no script reads and no other site sends.
pub(super) fn with_cookie(
    mut response: Response,
    name: &str,
    value: &str,
    seconds: u32,
) -> Response {
    let cookie = format!("{name}={value}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Strict");
    if let Ok(value) = cookie.parse() {
        response.headers_mut().insert(header::SET_COOKIE, value);
    }
    response
}
