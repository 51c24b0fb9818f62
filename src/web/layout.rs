//! What stands around the content of every page, and the files that it links to,
//! which are inside the program.

use super::{body::Body, preferences::Preferences, state::AppState};
use askama::Template;
use axum::{
    Router,
    http::{StatusCode, header},
    response::{Html, IntoResponse, Response},
    routing::get,
};
use std::sync::Arc;

/// The pages that every page links to, named for what people do.
const NAV: [(&str, &str); 5] = [
    ("/", "Will it work?"),
    ("/stock", "Stash"),
    ("/patterns", "Patterns"),
    ("/plan", "Plan"),
    ("/questions", "Tools"),
];

/// The page of [`NAV`] that a part of the program belongs to.
fn nav_page(here: &'static str) -> &'static str {
    match here {
        "/yarns" => "/stock",
        "/tables" | "/tables/any" => "/questions",
        "/counter" => "/",
        here => here,
    }
}

/// A page without its content.
#[derive(Default, Template)]
#[template(path = "layout.html", config = "src/web/askama.toml")]
pub(super) struct Layout {
    title: String,
    here: &'static str,
    body: String,
    back: String,
    yards: bool,
    faulty: bool,
    /// Without links, for those who may not come in yet.
    pub(super) bare: bool,
    /// With a button that ends the session of this device.
    pub(super) locked: bool,
}

impl Layout {
    /// For anybody.
    pub(super) fn titled(title: &str) -> Self {
        Self {
            title: crate::words::safe(title),
            back: "/".to_owned(),
            ..Self::default()
        }
    }

    /// For this visitor, in this part of the program.
    pub(super) fn new(title: &str, here: &'static str, prefs: &Preferences) -> Self {
        Self {
            here: nav_page(here),
            back: prefs.back.clone(),
            yards: prefs.yards,
            ..Self::titled(title)
        }
    }

    pub(super) fn page(self, status: StatusCode, body: Body) -> Response {
        match self.html(body) {
            Ok(text) => (status, Html(text)).into_response(),
            Err(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
        }
    }

    /// The page as text.
    pub(super) fn html(mut self, body: Body) -> Result<String, askama::Error> {
        self.faulty = body.is_faulty();
        self.body = body.into_html();
        self.render()
    }
}

/// Where each file is, its kind and its text.
const ASSETS: [(&str, &str, &str); 3] = [
    (
        "/style.css",
        "text/css; charset=utf-8",
        include_str!("assets/style.css"),
    ),
    (
        "/script.js",
        "text/javascript; charset=utf-8",
        include_str!("assets/script.js"),
    ),
    (
        "/icon.svg",
        "image/svg+xml",
        include_str!("assets/icon.svg"),
    ),
];

pub(super) fn assets() -> Router<Arc<AppState>> {
    let routes = ASSETS.into_iter();
    routes.fold(Router::new(), |router, (path, kind, text)| {
        let headers = [
            (header::CONTENT_TYPE, kind),
            (header::CACHE_CONTROL, "no-cache"),
        ];
        router.route(path, get(async move || (headers, text)))
    })
}
