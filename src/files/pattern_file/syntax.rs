//! Where a byte of a file stands, and what is wrong with its TOML.

use crate::files::{CellFault, CellNote, Place};
use std::ops::Range;
use toml::de::{DeTable, Error};

/// The text of a file, and all that was found in it.
pub(in crate::files) struct Findings<'t> {
    text: &'t str,
    /// What is wrong, in any order.
    pub faults: Vec<CellFault>,
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

    /// Line and character of a byte.
    fn place(&self, byte: usize) -> Place {
        let before = self.text.get(..byte).unwrap_or(self.text);
        let breaks = before.bytes().filter(|byte| *byte == b'\n').count();
        let in_line = before.rsplit('\n').next().unwrap_or_default();
        let from_one = |count: usize| u64::try_from(count).map_or(u64::MAX, |count| count + 1);
        Place {
            line: from_one(breaks),
            character: Some(from_one(in_line.chars().count())),
        }
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
        let fault = CellFault::new(field, given, why, allowed);
        self.faults.push(fault.at(self.place(at.start)));
    }

    /// Reports something to know.
    pub fn note(&mut self, at: &Range<usize>, field: &str, message: impl Into<String>) {
        let line = Place::line(self.place(at.start).line);
        self.notes.push(CellNote::new(line, field, message));
    }
}
