//! Where a byte of a file stands, and what is wrong with its TOML.

use crate::files::{CellError, CellNote};
use std::ops::Range;
use toml::de::{DeTable, Error};

/// The text of a file, and all that was found in it.
pub(in crate::files) struct Findings<'t> {
    text: &'t str,
    /// What is wrong, in any order.
    pub faults: Vec<CellError>,
    /// What to know.
    pub notes: Vec<CellNote>,
}

impl<'t> Findings<'t> {
    /// Nothing found yet.
    pub fn new(text: &'t str) -> Self {
        Self {
            text,
            faults: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// The tree of the file; what is no TOML is left among the faults.
    pub fn tree(&mut self) -> DeTable<'t> {
        let (tree, errors) = DeTable::parse_recoverable(self.text);
        for error in errors {
            self.no_toml(&error);
        }
        tree.into_inner()
    }

    fn no_toml(&mut self, error: &Error) {
        let span = error.span().unwrap_or_default();
        let line = self.text.get(span.start..).unwrap_or_default();
        let given = line.lines().next().unwrap_or_default().to_owned();
        let allowed = "write `key = \"text\"`, one a line; text in double quotes, numbers, true and false without";
        self.fault(&span, "", &given, error.message(), allowed);
    }

    /// Line and character of a byte, both from 1.
    fn place(&self, byte: usize) -> (u64, u64) {
        let before = self.text.get(..byte).unwrap_or(self.text);
        let breaks = before.bytes().filter(|byte| *byte == b'\n').count();
        let in_line = before.rsplit('\n').next().unwrap_or_default();
        let from_one = |count: usize| u64::try_from(count).map_or(u64::MAX, |count| count + 1);
        (from_one(breaks), from_one(in_line.chars().count()))
    }

    /// Reports something wrong.
    pub fn fault(
        &mut self,
        at: &Range<usize>,
        field: &str,
        given: &str,
        why: impl Into<String>,
        allowed: impl Into<String>,
    ) {
        let (line, character) = self.place(at.start);
        let fault = CellError::new(line, field, given, why, allowed);
        self.faults.push(CellError {
            character: Some(character),
            ..fault
        });
    }

    /// Reports something to know.
    pub fn note(&mut self, at: &Range<usize>, field: &str, message: impl Into<String>) {
        let (line, _) = self.place(at.start);
        self.notes.push(CellNote::new(line, field, message));
    }
}
