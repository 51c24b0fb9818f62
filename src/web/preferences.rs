//! What a visitor prefers, kept in a cookie of this program alone; and how its
//! cookies are read and set.

use super::links::{own, redirect};
use crate::{
    app::FormData,
    report::{FieldNames, Style, UnitOrder},
};
use axum::{
    http::{HeaderMap, header, request::Parts},
    response::Response,
};

/// The cookie that says which units come first.
const UNITS: &str = "units";

/// What a visitor prefers, and which page was asked for.
#[derive(Debug, Clone, Default)]
pub(super) struct Preferences {
    /// Yards and ounces before metres and grams.
    pub(super) yards: bool,
    /// The page, to come back to.
    pub(super) back: String,
}

impl Preferences {
    /// Those of whoever sent this request.
    pub(super) fn of(parts: &Parts) -> Self {
        let path = parts.uri.path_and_query().map_or("/", |path| path.as_str());
        Self {
            yards: cookie(&parts.headers, UNITS) == Some("yards"),
            back: if parts.method.is_safe() { path } else { "/" }.to_owned(),
        }
    }

    /// How answers are written for this visitor.
    pub(super) fn style(&self) -> Style {
        let units = if self.yards {
            UnitOrder::YardsFirst
        } else {
            UnitOrder::MetricFirst
        };
        let fields = FieldNames::Labels(Vec::new());
        Style {
            units,
            fields,
            chips: true,
        }
    }
}

/// Remembers which units come first, and goes back to the page.
pub(super) async fn put_units_first(sent: FormData) -> Response {
    let units = match sent.text("units") {
        "yards" => "yards",
        _ => "metres",
    };
    let lasting = Lasting {
        seconds: 31_536_000,
        is_secure: false,
    };
    with_cookie(redirect(own(sent.text("back"))), (UNITS, units), lasting)
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

/// How long a cookie is kept, and whether it is only sent encrypted.
pub(super) struct Lasting {
    pub(super) seconds: u64,
    pub(super) is_secure: bool,
}

/// The response with a cookie that no script reads and no other site sends.
pub(super) fn with_cookie(
    mut response: Response,
    (name, value): (&str, &str),
    lasting: Lasting,
) -> Response {
    let secure = if lasting.is_secure { "; Secure" } else { "" };
    let seconds = lasting.seconds;
    let cookie =
        format!("{name}={value}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Strict{secure}");
    if let Ok(value) = cookie.parse() {
        response.headers_mut().insert(header::SET_COOKIE, value);
    }
    response
}
