//! What is refused: as a page that says why and what to do, or field by field in the
//! form that was sent.

use super::{body::Body, layout::Layout, links::encoded, preferences::Preferences};
use crate::{
    app::AppError,
    record::RecordError,
    report::{Style, error_words, fault_words},
};
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
        Self {
            status,
            title,
            said: said.into(),
        }
    }

    pub(super) fn not_found() -> Self {
        let said = "There is no such page. Go on from one of the links above.";
        Self::new(StatusCode::NOT_FOUND, "Not there", said)
    }

    pub(super) fn busy() -> Self {
        let said = "Others are using the records just now. Wait a moment and try again.";
        Self::new(StatusCode::SERVICE_UNAVAILABLE, "Busy", said)
    }

    pub(super) fn late() -> Self {
        let said = "This takes longer than a minute. If it changes something it may be done yet: look before you send it again.";
        Self::new(StatusCode::SERVICE_UNAVAILABLE, "Not done yet", said)
    }

    pub(super) fn broken() -> Self {
        Self::failed(
            "the program made a mistake; nothing was changed. Try again, and tell whoever keeps the program",
        )
    }

    pub(super) fn failed(said: &str) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, "Not done", said)
    }

    pub(super) fn wrong(said: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, "Not understood", said)
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
        body.said(&self.said);
        Layout::titled(self.title).page(self.status, body)
    }
}

/// The field that a text of several lines is written in.
pub(super) const TEXT: &str = "text";

/// One thing to correct.
#[derive(Debug, Clone)]
pub(super) struct FieldError {
    /// The name of the field; empty where the whole form is at fault.
    pub(super) field: String,
    /// What is wrong, and what to do.
    pub(super) message: String,
    /// Where on the page it stands.
    pub(super) at: Option<String>,
    /// Ways on: what was perhaps meant.
    pub(super) links: Links,
}

impl FieldError {
    pub(super) fn new(field: &str, message: impl Into<String>) -> Self {
        Self {
            field: field.to_owned(),
            message: message.into(),
            at: None,
            links: Links::new(),
        }
    }
}

/// Names with links.
pub(super) type Links = Vec<(String, String)>;

/// Why a page gives no answer.
pub(super) enum Refusal {
    /// The app gives none; with links to what was perhaps meant.
    App(AppError, Links),
    /// Something that only this page has is filled in a wrong way.
    Page(FieldError),
}

impl From<AppError> for Refusal {
    fn from(error: AppError) -> Self {
        Self::App(error, Links::new())
    }
}

impl From<FieldError> for Refusal {
    fn from(error: FieldError) -> Self {
        Self::Page(error)
    }
}

impl Refusal {
    /// With links that ask again for each yarn that was perhaps meant.
    pub(super) fn linked(self, link: impl Fn(&str) -> String) -> Self {
        match self {
            Self::App(error, _) => {
                let links = perhaps(&error, link);
                Self::App(error, links)
            }
            page => page,
        }
    }

    /// Its status, and what is wrong, field by field.
    pub(super) fn found(self, style: &Style) -> (StatusCode, Vec<FieldError>) {
        let (error, links) = match self {
            Self::App(error, links) => (error, links),
            Self::Page(error) => return (StatusCode::UNPROCESSABLE_ENTITY, vec![error]),
        };
        let mut found = errors_of(&error, style);
        if let Some(first) = found.first_mut() {
            first.links = links;
        }
        (status(&error), found)
    }
}

/// Everything that is wrong, each with the field of its form.
pub(super) fn errors_of(error: &AppError, style: &Style) -> Vec<FieldError> {
    match error {
        AppError::Faults(faults) => faults
            .iter()
            .map(|fault| FieldError::new(&fault.field, fault_words(fault, style)))
            .collect(),
        other => vec![FieldError::new(field(other), error_words(other, style))],
    }
}

fn field(error: &AppError) -> &'static str {
    match error {
        AppError::Gtin(_) => "yarn",
        AppError::Unknown { what, .. } | AppError::Several { what, .. } => what,
        AppError::Exchange(_) | AppError::Needs(_) => TEXT,
        other => other.of_record().map_or("", of_record),
    }
}

fn of_record(error: &RecordError) -> &'static str {
    match error {
        RecordError::NothingCounted => "before",
        RecordError::StatedAfterOnly => "after",
        RecordError::MoreThanHeld { .. } | RecordError::NoSkeinMass | RecordError::Amount(_) => {
            "amount"
        }
        RecordError::OverNoLength { when } | RecordError::WashedOtherwise { when, .. } => when,
        _ => "",
    }
}

/// Names that were perhaps meant, with links that ask again for each.
pub(super) fn perhaps(error: &AppError, link: impl Fn(&str) -> String) -> Links {
    let names = match error {
        AppError::Unknown {
            what: "yarn", near, ..
        } => near,
        AppError::Several {
            what: "yarn",
            which,
            ..
        } => which,
        _ => return Links::new(),
    };
    names
        .iter()
        .map(|name| (link(&encoded(name)), crate::words::safe(name)))
        .collect()
}
