//! What stands around the content of every page, and the files that it links to,
//! which are inside the program.

use super::{body::Body, preferences::Preferences};
use askama::Template;
use axum::{
    http::{StatusCode, header},
    response::{Html, IntoResponse, Response},
};

/// The pages that every page links to.
const NAV: [(&str, &str); 6] = [
    ("/", "Ask"),
    ("/yarns", "Yarns"),
    ("/stock", "Stock"),
    ("/patterns", "Patterns"),
    ("/tables", "Tables"),
    ("/questions", "More"),
];

/// A page without its content.
#[derive(Template)]
#[template(path = "layout.html", config = "src/web/askama.toml")]
pub(super) struct Layout {
    title: String,
    here: &'static str,
    body: String,
    back: String,
    yards: bool,
    faulty: bool,
    bare: bool,
    locked: bool,
}

impl Layout {
    pub(super) fn titled(title: &str) -> Self {
        Self {
            title: crate::words::safe(title),
            here: "",
            body: String::new(),
            back: "/".to_owned(),
            yards: false,
            faulty: false,
            bare: false,
            locked: false,
        }
    }

    /// For this visitor, in this part of the program.
    pub(super) fn new(title: &str, here: &'static str, prefs: &Preferences) -> Self {
        Self {
            here,
            back: prefs.back.clone(),
            yards: prefs.yards,
            ..Self::titled(title)
        }
    }

    /// Without links, for those who may not come in yet.
    pub(super) fn bare(self) -> Self {
        Self { bare: true, ..self }
    }

    /// With a button that ends the session of this device, where there is one.
    pub(super) fn locked(self, locked: bool) -> Self {
        Self { locked, ..self }
    }

    pub(super) fn page(mut self, status: StatusCode, body: Body) -> Response {
        self.faulty = body.is_faulty();
        self.body = body.into_html();
        match self.render() {
            Ok(text) => (status, Html(text)).into_response(),
            Err(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
        }
    }
}

const STYLE: &str = include_str!("assets/style.css");
const SCRIPT: &str = include_str!("assets/script.js");
const ICON: &str = include_str!("assets/icon.svg");

fn asset(kind: &'static str, text: &'static str) -> Response {
    let headers = [
        (header::CONTENT_TYPE, kind),
        (header::CACHE_CONTROL, "no-cache"),
    ];
    (headers, text).into_response()
}

pub(super) async fn style() -> Response {
    asset("text/css; charset=utf-8", STYLE)
}

pub(super) async fn script() -> Response {
    asset("text/javascript; charset=utf-8", SCRIPT)
}

pub(super) async fn icon() -> Response {
    asset("image/svg+xml", ICON)
}
