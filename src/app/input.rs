//! Reads the texts of one request: values come out, what was noticed is kept
//! for the answer, and all faults are gathered before anything is refused.

use super::{AppError, Fault, FaultKind};
use crate::label::{
    band::BandReading,
    cells,
    reading::{NoteKind, ReadError, Reading},
};
use std::{ops::RangeInclusive, str::FromStr};

/// The most strands that are held together.
pub(super) const MOST_STRANDS: u8 = 99;

/// How often a field may stand that may stand several times: more than anyone types.
const MOST_TEXTS: usize = 64;

/// Something noticed while a field was read.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldNote {
    /// The field, as the request names it.
    pub field: String,
    /// What was noticed.
    pub kind: NoteKind,
}

/// A file that is read for an answer, or a text that was pasted: what messages
/// call it, and its bytes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SourceFile {
    /// What messages call it.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// Reads the fields of one request.
#[derive(Debug, Default)]
pub(super) struct InputReader {
    /// What was noticed so far.
    pub(super) notes: Vec<FieldNote>,
    faults: Vec<Fault>,
}

impl InputReader {
    /// The value of a field that must be there; `None` is a fault that is remembered.
    pub(super) fn required<'t, T>(
        &mut self,
        field: &str,
        text: impl FieldText<'t>,
        read: impl Fn(&str) -> Result<Reading<T>, ReadError>,
    ) -> Option<T> {
        match filled(text) {
            Some(text) => self.read(field, read(text)),
            None => {
                let refused = read("").err().map(|error| error.allowed);
                let kind = refused.map_or(FaultKind::Missing, FaultKind::MissingAs);
                self.fault(field, kind);
                None
            }
        }
    }

    /// The value of a field that may be empty; what is not read is kept as a fault.
    pub(super) fn optional<'t, T>(
        &mut self,
        field: &str,
        text: impl FieldText<'t>,
        read: impl Fn(&str) -> Result<Reading<T>, ReadError>,
    ) -> Option<T> {
        filled(text).and_then(|text| self.read(field, read(text)))
    }

    /// The texts of a field that may stand several times; none where they are too many,
    /// which is a fault.
    pub(super) fn several<'t>(&mut self, field: &str, texts: &'t [String]) -> &'t [String] {
        if texts.len() <= MOST_TEXTS {
            return texts;
        }
        let (given, most) = (texts.len(), MOST_TEXTS);
        self.fault(field, FaultKind::TooMany { given, most });
        &[]
    }

    /// Keeps what a band gave as notes, and what of it was not taken.
    pub(super) fn band(&mut self, field: &str, band: &BandReading) {
        self.note(field, band.notes());
    }

    /// The value of a reading; its notes and its fault are collected.
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

    /// Keeps a fault where a field is empty that must be filled.
    pub(super) fn must_fill<'t>(&mut self, field: &str, text: impl FieldText<'t>) {
        if filled(text).is_none() {
            self.fault(field, FaultKind::Missing);
        }
    }

    /// A count of stitches, rows or turns, as people can count them: above 0.
    pub(super) fn count<'t>(&mut self, field: &str, text: impl FieldText<'t>) -> Option<f64> {
        const MOST: f64 = 1e6;
        let text = text.text();
        let count = self.optional(field, text, cells::plain_number)?;
        if count > 0.0 {
            return Some(count);
        }
        let (given, low, high) = (given(text), 0.0, MOST);
        self.fault(field, FaultKind::OutOfRange { given, low, high });
        None
    }

    /// A whole number within a range.
    pub(super) fn whole<'t, N: Copy + FromStr + PartialOrd + Into<u16>>(
        &mut self,
        field: &str,
        text: impl FieldText<'t>,
        range: RangeInclusive<N>,
    ) -> Option<N> {
        let text = text.text();
        let number = filled(text)?.parse().ok();
        let number = number.filter(|number| range.contains(number));
        if number.is_none() {
            let (low, high) = range.into_inner();
            let (given, low, high) = (given(text), low.into(), high.into());
            self.fault(field, FaultKind::NotWhole { given, low, high });
        }
        number
    }

    /// Keeps a fault where a field is filled without the one that it needs.
    pub(super) fn only_with<'t>(
        &mut self,
        (field, text): (&str, impl FieldText<'t>),
        (other, other_text): (&'static str, impl FieldText<'t>),
    ) {
        if filled(text).is_some() && filled(other_text).is_none() {
            self.fault(field, FaultKind::OnlyWith(other));
        }
    }

    /// Keeps a fault where a field is filled beside one that it cannot stand with.
    pub(super) fn not_with<'t>(
        &mut self,
        (field, text): (&str, impl FieldText<'t>),
        (other, other_text): (&'static str, impl FieldText<'t>),
    ) {
        if filled(text).is_some() && filled(other_text).is_some() {
            self.fault(field, FaultKind::NotWith(other));
        }
    }

    /// Keeps a fault where one of two fields is filled without the other.
    pub(super) fn together<'t, T: FieldText<'t> + Copy>(
        &mut self,
        one: (&'static str, T),
        other: (&'static str, T),
    ) {
        self.only_with(one, other);
        self.only_with(other, one);
    }

    /// Keeps what was noticed about a field.
    pub(super) fn note<N: Into<NoteKind>>(
        &mut self,
        field: &str,
        notes: impl IntoIterator<Item = N>,
    ) {
        self.notes.extend(notes.into_iter().map(|note| FieldNote {
            field: field.to_owned(),
            kind: note.into(),
        }));
    }

    /// Keeps a fault of a field.
    pub(super) fn fault(&mut self, field: &str, kind: impl Into<FaultKind>) {
        self.faults.push(Fault::new(field, kind));
    }

    /// What came of a step that may itself find faults; those are collected.
    pub(super) fn keep<T>(&mut self, found: Result<T, AppError>) -> Result<Option<T>, AppError> {
        match found {
            Ok(found) => Ok(Some(found)),
            Err(AppError::Faults(faults)) => {
                self.faults.extend(faults);
                Ok(None)
            }
            Err(other) => {
                self.check()?;
                Err(other)
            }
        }
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

fn given(text: Option<&str>) -> String {
    text.map_or_else(String::new, |text| text.trim().to_owned())
}

/// The text of a field, where it has one.
pub(super) trait FieldText<'t> {
    /// As it was typed.
    fn text(self) -> Option<&'t str>;
}

impl<'t> FieldText<'t> for Option<&'t str> {
    fn text(self) -> Option<&'t str> {
        self
    }
}

impl<'t> FieldText<'t> for &'t Option<String> {
    fn text(self) -> Option<&'t str> {
        self.as_deref()
    }
}

/// Whether anything is written in a field.
pub(super) fn is_given(text: &Option<String>) -> bool {
    filled(text).is_some()
}

/// The text without spaces around it; nothing where it is empty.
pub(super) fn filled<'t>(text: impl FieldText<'t>) -> Option<&'t str> {
    text.text().map(str::trim).filter(|text| !text.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

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
