//! One row: its cells by column, and what is wrong with them.

use super::{guard::unguard, header::Header, memory::Memory};
use crate::{
    files::{CellError, CellNote},
    label::cells::Cell,
    label::reading::ReadError,
    record::{Name, Printed},
    words::fold,
};
use std::{borrow::Cow, cell::RefCell};

/// What a cell says where the label does not give the value.
pub(super) const UNKNOWN: &str = "unknown";

/// The cells of one row.
pub(super) struct Cells<'r> {
    line: u64,
    header: &'r Header,
    record: &'r csv::StringRecord,
    memory: &'r RefCell<Memory>,
    errors: Vec<CellError>,
    notes: Vec<CellNote>,
}

impl<'r> Cells<'r> {
    /// The cells of `record`, which starts on `line`; `memory` holds what cells
    /// of rows before said.
    pub fn new(
        line: u64,
        header: &'r Header,
        record: &'r csv::StringRecord,
        memory: &'r RefCell<Memory>,
    ) -> Self {
        Self {
            line,
            header,
            record,
            memory,
            errors: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// The text of a cell, without guard and spaces around it; empty where the
    /// file has no such column.
    pub fn text(&self, column: &str) -> &'r str {
        let place = self.header.place(column);
        place
            .and_then(|place| self.record.get(place.index))
            .map_or("", unguard)
    }

    /// The text of a cell with a bare number given the unit of the header.
    fn with_unit(&self, column: &str) -> Cow<'r, str> {
        let text = self.text(column);
        let unit = self
            .header
            .place(column)
            .and_then(|place| place.unit.as_ref());
        match unit {
            Some(unit) if is_bare_number(text) => Cow::Owned(format!("{text} {unit}")),
            _ => Cow::Borrowed(text),
        }
    }

    /// Whether a cell is empty.
    pub fn is_empty(&self, column: &str) -> bool {
        self.text(column).is_empty()
    }

    /// Whether a cell says that the label does not give its value.
    pub fn is_unknown(&self, column: &str) -> bool {
        fold(self.text(column)) == UNKNOWN
    }

    /// The value of a cell beside its text; `None` where it is empty, unknown
    /// or bad.
    pub fn value<T: Clone + Send + 'static>(
        &mut self,
        column: &'static str,
        read: fn(&str) -> Cell<T>,
    ) -> Option<Printed<T>> {
        match self.try_value(column, read)? {
            Ok(value) => Some(value),
            Err(error) => {
                self.bad(column, error);
                None
            }
        }
    }

    /// As [`Self::value`], with what is wrong left to the caller.
    pub fn try_value<T: Clone + Send + 'static>(
        &mut self,
        column: &'static str,
        read: fn(&str) -> Cell<T>,
    ) -> Option<Result<Printed<T>, ReadError>> {
        let text = self.with_unit(column);
        if text.is_empty() {
            return None;
        }
        let new = |text: &str| (fold(text) != UNKNOWN).then(|| read(text));
        let said = self.memory.borrow_mut().recall(column, &text, new)?;
        Some(said.map(|reading| {
            for note in reading.notes {
                self.note(column, note.message);
            }
            Printed::new(text, reading.value)
        }))
    }

    /// Reports what reading a cell met.
    pub fn bad(&mut self, column: &str, error: ReadError) {
        self.errors
            .push(CellError::of_reading(self.line, column, error));
    }

    /// What is wrong, in the order of the columns.
    pub fn into_errors(mut self) -> (Vec<CellError>, Vec<CellNote>) {
        let header = self.header;
        self.errors
            .sort_by_key(|error| header.place(&error.field).map(|place| place.index));
        (self.errors, self.notes)
    }

    /// A name, which must be there.
    pub fn name(&mut self, column: &'static str) -> Option<Name> {
        let text = self.text(column);
        if text.is_empty() {
            self.refuse(column, "nothing stands here", "write a name");
            return None;
        }
        match Name::new(column, text) {
            Ok(name) => Some(name),
            Err(error) => {
                self.refuse(column, error.to_string(), "shorten it");
                None
            }
        }
    }

    /// Reports a bad cell.
    pub fn refuse(&mut self, column: &str, why: impl Into<String>, allowed: impl Into<String>) {
        let given = self.text(column);
        self.errors
            .push(CellError::new(self.line, column, given, why, allowed));
    }

    /// Reports something to know.
    pub fn note(&mut self, column: &str, message: impl Into<String>) {
        self.notes.push(CellNote::new(self.line, column, message));
    }
}

/// Digits, and what stands within and around numbers; no unit.
fn is_bare_number(text: &str) -> bool {
    let belongs = |c: char| {
        c.is_numeric()
            || c.is_whitespace()
            || matches!(c, '.' | ',' | '-' | '\u{2013}' | '/' | '~' | '\u{2248}')
    };
    text.chars().all(belongs) && text.contains(char::is_numeric)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_number_has_no_unit_in_any_script() {
        for text in ["125", "12,5", "1 250", "3.25-3.75", "1½", "1 3/4"] {
            assert!(is_bare_number(text), "{text}");
        }
        for text in ["125 m", "US 6", "", "-", "£6", "4\""] {
            assert!(!is_bare_number(text), "{text}");
        }
    }
}
