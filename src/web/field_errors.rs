//! What the app refused, field by field.

use super::{links::encoded, plain::plain};
use crate::{
    app::{self, AppError},
    record::RecordError,
    report::{Style, error_words, fault_words},
};

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
    pub(super) links: Vec<(String, String)>,
}

impl FieldError {
    pub(super) fn new(field: &str, message: impl Into<String>) -> Self {
        Self {
            field: field.to_owned(),
            message: message.into(),
            at: None,
            links: Vec::new(),
        }
    }
}

/// The faults of a request, worded for its form.
pub(super) fn of_request(faults: &[app::Fault], style: &Style) -> Vec<FieldError> {
    let fault = |fault: &app::Fault| FieldError::new(&fault.field, fault_words(fault, style));
    faults.iter().map(fault).collect()
}

/// Everything that is wrong, each with the field of its form.
pub(super) fn errors_of(error: &AppError, style: &Style) -> Vec<FieldError> {
    match error {
        AppError::Faults(faults) => of_request(faults, style),
        other => faults(other),
    }
}

/// Everything that is wrong, each with the field it belongs to.
pub(super) fn faults(error: &AppError) -> Vec<FieldError> {
    match error {
        AppError::Fields(faults) => faults
            .0
            .iter()
            .map(|fault| FieldError::new(&fault.field, plain(&fault.message)))
            .collect(),
        AppError::Reading { what, source } => {
            vec![FieldError::new(
                what.trim_start_matches('-'),
                source.to_string(),
            )]
        }
        other => vec![FieldError::new(
            field(other),
            plain(&error_words(other, &Style::default())),
        )],
    }
}

pub(super) fn field(error: &AppError) -> &'static str {
    match error {
        AppError::Gtin(_) => "yarn",
        AppError::Unknown { what, .. } | AppError::Several { what, .. } => what,
        AppError::Usage(text) if text.contains("says nothing of a yarn") => "yarn",
        AppError::NoRecords => "wants",
        AppError::Exchange(_) => "table",
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
pub(super) fn perhaps(error: &AppError, link: impl Fn(&str) -> String) -> Vec<(String, String)> {
    let names = match error {
        AppError::Unknown {
            what: "yarn", near, ..
        } => near,
        AppError::Several {
            what: "yarn",
            which,
            ..
        } => which,
        _ => return Vec::new(),
    };
    names
        .iter()
        .map(|name| (link(&encoded(name)), crate::words::safe(name)))
        .collect()
}
