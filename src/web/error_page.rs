//! A page that says what is wrong and what to do, and the status of every error.

use super::{body::Body, cross_site, layout::Layout, preferences::Preferences, refusal::Refusal};
use crate::{app::AppError, report::error_words};
use axum::{
    http::StatusCode,
    response::{IntoResponse, Response},
};

/// A page of bad news.
#[derive(Debug)]
pub struct ErrorPage {
    status: StatusCode,
    title: &'static str,
    said: String,
}

impl ErrorPage {
    pub(super) fn new(status: StatusCode, title: &'static str, said: impl Into<String>) -> Self {
        let said = said.into();
        Self {
            status,
            title,
            said,
        }
    }

    #[cfg(test)]
    pub(super) fn status(&self) -> StatusCode {
        self.status
    }

    pub(super) fn not_found() -> Self {
        let said = "This page does not exist. Use one of the links above.";
        Self::new(StatusCode::NOT_FOUND, "Not found", said)
    }

    pub(super) fn busy() -> Self {
        let said = "Others are using the records just now. Wait a moment and try again.";
        Self::new(StatusCode::SERVICE_UNAVAILABLE, "Busy", said)
    }

    pub(super) fn late() -> Self {
        let said = "This takes longer than a minute. It may still finish: check your records before you send it again.";
        Self::new(StatusCode::SERVICE_UNAVAILABLE, "Not done yet", said)
    }

    pub(super) fn broken() -> Self {
        Self::failed(
            "the program made a mistake; nothing was changed. Try again, and tell whoever looks after the program",
        )
    }

    pub(super) fn failed(said: &str) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, "Not done", said)
    }

    pub(super) fn wrong(said: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, "Not understood", said)
    }

    pub(super) fn too_long(said: impl Into<String>) -> Self {
        Self::new(StatusCode::PAYLOAD_TOO_LARGE, "Too long", said)
    }
}

/// The status of what the app refused.
pub(super) fn status(error: &AppError) -> StatusCode {
    match error {
        error if error.is_gone() => StatusCode::NOT_FOUND,
        error if error.is_clash() => StatusCode::CONFLICT,
        error if error.is_busy() => StatusCode::SERVICE_UNAVAILABLE,
        error if error.is_failure() => StatusCode::INTERNAL_SERVER_ERROR,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    }
}

impl From<AppError> for ErrorPage {
    fn from(error: AppError) -> Self {
        let said = error_words(&error, &Preferences::default().style());
        Self::new(status(&error), "Not done", said)
    }
}

impl From<Refusal> for ErrorPage {
    fn from(refusal: Refusal) -> Self {
        match refusal {
            Refusal::App(error, _) => error.into(),
            Refusal::Page(error) => {
                Self::new(StatusCode::UNPROCESSABLE_ENTITY, "Not done", error.message)
            }
        }
    }
}

impl ErrorPage {
    fn written(&self) -> (Layout, Body) {
        let mut body = Body::default();
        body.heading(self.title);
        body.text(&self.said);
        (Layout::titled(self.title), body)
    }

    /// The whole answer, head and page, to an address that nobody can read for its
    /// length: no request comes of it that a page could answer.
    pub(super) fn of_long_address() -> Vec<u8> {
        let said = "This address is too long for a browser to send. Go back, and paste less text into the form; a table or a pattern can be sent as a file.";
        let page = Self::new(StatusCode::URI_TOO_LONG, "Too long", said);
        let (layout, body) = page.written();
        let html = layout.html(body).unwrap_or_default();
        let headers = cross_site::HEADERS.map(|(name, value)| format!("{name}: {value}\r\n"));
        format!(
            "HTTP/1.1 {}\r\nconnection: close\r\ncontent-type: text/html; charset=utf-8\r\ncontent-length: {}\r\n{}\r\n{html}",
            page.status,
            html.len(),
            headers.concat()
        )
        .into_bytes()
    }
}

impl IntoResponse for ErrorPage {
    fn into_response(self) -> Response {
        let (layout, body) = self.written();
        layout.page(self.status, body)
    }
}
