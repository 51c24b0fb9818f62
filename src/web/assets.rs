//! Files that the pages need, inside the program.

use axum::{
    http::header,
    response::{IntoResponse, Response},
};

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
