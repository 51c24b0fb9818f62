//! Reads the texts of one request: values come out, what was noticed is kept
//! for the answer, and all faults are gathered before anything is refused.

use super::{AppError, Fault, FaultKind};
use crate::label::reading::{Note, ReadError, Reading};

/// Something noticed while a field was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldNote {
    /// The field, as the request names it.
    pub field: String,
    /// What was noticed.
    pub note: Note,
}

/// Reads the fields of one request.
#[derive(Debug, Default)]
pub(super) struct InputReader {
    /// What was noticed so far.
    pub(super) notes: Vec<FieldNote>,
    faults: Vec<Fault>,
}

impl InputReader {
    /// The value of a field that must be there; `None` is a fault that is kept.
    pub(super) fn required<T>(
        &mut self,
        field: &str,
        text: Option<&str>,
        read: impl Fn(&str) -> Result<Reading<T>, ReadError>,
    ) -> Option<T> {
        match filled(text) {
            Some(text) => self.read(field, read(text)),
            None => {
                self.fault(field, FaultKind::Missing);
                None
            }
        }
    }

    /// The value of a field that may be empty; what is not read is kept as a fault.
    pub(super) fn optional<T>(
        &mut self,
        field: &str,
        text: Option<&str>,
        read: impl Fn(&str) -> Result<Reading<T>, ReadError>,
    ) -> Option<T> {
        filled(text).and_then(|text| self.read(field, read(text)))
    }

    /// The value of a reading; its notes and its fault are kept.
    pub(super) fn read<T>(
        &mut self,
        field: &str,
        reading: Result<Reading<T>, ReadError>,
    ) -> Option<T> {
        match reading {
            Ok(reading) => {
                self.note(field, reading.notes);
                Some(reading.value)
            }
            Err(error) => {
                self.fault(field, FaultKind::Unread(error));
                None
            }
        }
    }

    /// Keeps what was noticed about a field.
    pub(super) fn note(&mut self, field: &str, notes: impl IntoIterator<Item = Note>) {
        self.notes.extend(notes.into_iter().map(|note| FieldNote {
            field: field.to_owned(),
            note,
        }));
    }

    /// Keeps a fault of a field.
    pub(super) fn fault(&mut self, field: &str, kind: FaultKind) {
        self.faults.push(Fault::new(field, kind));
    }

    /// Refuses with all faults that were found, where there are any.
    pub(super) fn check(&mut self) -> Result<(), AppError> {
        if self.faults.is_empty() {
            return Ok(());
        }
        Err(AppError::Faults(std::mem::take(&mut self.faults)))
    }

    /// The values of required fields, or all faults. A value that is missing left
    /// a fault behind.
    pub(super) fn checked<T>(&mut self, values: Option<T>) -> Result<T, AppError> {
        self.check()?;
        values.ok_or_else(|| AppError::Faults(Vec::new()))
    }
}

fn filled(text: Option<&str>) -> Option<&str> {
    text.map(str::trim).filter(|text| !text.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::cells;

    #[test]
    fn all_faults_come_at_once() {
        let mut reader = InputReader::default();
        let rows = reader.optional("rows", Some("forty"), cells::plain_number);
        let gauge = reader.required("gauge", None, cells::gauge);
        let stitches = reader.optional("stitches", Some(" 40,5 "), cells::plain_number);
        assert_eq!((rows, gauge.is_none(), stitches), (None, true, Some(40.5)));
        let Err(AppError::Faults(faults)) = reader.check() else {
            panic!("nothing was refused")
        };
        let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
        assert_eq!(fields, ["rows", "gauge"]);
    }
}
