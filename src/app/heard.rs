//! FormData values, read, with what was noticed kept for the answer.

use super::AppError;
use crate::label::reading::{ReadError, Reading};

/// Collects what was noticed while reading the values of one question.
#[derive(Debug, Default)]
pub(super) struct Heard {
    pub(super) warnings: Vec<String>,
}

impl Heard {
    /// The value of a reading of `what`; its notes become warnings.
    pub(super) fn value<T>(
        &mut self,
        what: &str,
        reading: Result<Reading<T>, ReadError>,
    ) -> Result<T, AppError> {
        let reading = reading.map_err(|source| AppError::Reading {
            what: what.to_owned(),
            source,
        })?;
        self.warnings.extend(
            reading
                .notes
                .into_iter()
                .map(|note| format!("{what}: {}", note.message)),
        );
        Ok(reading.value)
    }

    /// The same for a value that may be missing.
    pub(super) fn maybe<T>(
        &mut self,
        what: &str,
        text: Option<&str>,
        read: impl Fn(&str) -> Result<Reading<T>, ReadError>,
    ) -> Result<Option<T>, AppError> {
        text.map(|text| self.value(what, read(text))).transpose()
    }
}

impl Heard {}
