//! A page that says what is wrong and what to do, and the status of every error.

use super::{body::Body, layout::Layout, preferences::Preferences, refusal::Refusal};
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

impl IntoResponse for ErrorPage {
    fn into_response(self) -> Response {
        let mut body = Body::default();
        body.heading(self.title);
        body.text(&self.said);
        Layout::titled(self.title).page(self.status, body)
    }
}
