//! What a visitor prefers, kept in a cookie of this program alone.

use super::cookies::{UNITS, cookie};
use crate::report::{FieldNames, Style, UnitOrder};
use axum::{extract::FromRequestParts, http::request::Parts};
use std::convert::Infallible;

/// What a visitor prefers, and which page was asked for.
#[derive(Debug, Clone, Default)]
pub(super) struct Preferences {
    /// Yards and ounces before metres and grams.
    pub(super) yards: bool,
    /// The page, to come back to.
    pub(super) back: String,
}

impl<S: Send + Sync> FromRequestParts<S> for Preferences {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        let path = parts.uri.path_and_query().map_or("/", |path| path.as_str());
        Ok(Self {
            yards: cookie(&parts.headers, UNITS) == Some("yards"),
            back: if parts.method.is_safe() { path } else { "/" }.to_owned(),
        })
    }
}

impl Preferences {
    /// How answers are written for this visitor.
    pub(super) fn style(&self) -> Style {
        Style {
            units: if self.yards {
                UnitOrder::YardsFirst
            } else {
                UnitOrder::MetricFirst
            },
            fields: FieldNames::Labels(Vec::new()),
        }
    }
}
