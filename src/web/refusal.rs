//! What a form was refused for, field by field, with the links that help.

use super::{error_page::status, links::encoded};
use crate::{
    app::AppError,
    record::RecordError,
    report::{Style, error_words, fault_words},
};
use axum::http::StatusCode;

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
    /// Whether someone else changed the record meanwhile.
    pub(super) fn is_clash(&self) -> bool {
        matches!(self, Self::App(error, _) if error.is_clash())
    }

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
fn errors_of(error: &AppError, style: &Style) -> Vec<FieldError> {
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
        other => other.of_record().map_or("", field_of_record),
    }
}

fn field_of_record(error: &RecordError) -> &'static str {
    match error {
        RecordError::NothingCounted => "before",
        RecordError::StatedAfterOnly => "after",
        RecordError::TooManyHeld { .. } | RecordError::StrandsOtherwise { .. } => "held-with",
        RecordError::MoreThanHeld { .. }
        | RecordError::MoreThanFree { .. }
        | RecordError::UsesReserved { .. }
        | RecordError::MoreThanReserved { .. }
        | RecordError::NoSkeinMass
        | RecordError::Amount(_) => "amount",
        RecordError::OverNoLength { when } | RecordError::WashedOtherwise { when, .. } => when,
        _ => "",
    }
}

/// Names that were perhaps meant, with links that ask again for each.
pub(super) fn perhaps(error: &AppError, link: impl Fn(&str) -> String) -> Links {
    let names = match error {
        AppError::Unknown { what, near, .. } if *what == "yarn" => near,
        AppError::Several { what, which, .. } if *what == "yarn" => which,
        _ => return Links::new(),
    };
    let linked = |name: &String| (link(&encoded(name)), crate::words::safe(name));
    names.iter().map(linked).collect()
}
