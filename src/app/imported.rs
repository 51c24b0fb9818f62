//! What an import did.

use crate::{exchange::CellNote, report::Notice, words::count_of};

/// How many notes are shown; the rest is counted.
const SHOWN: usize = 200;

/// What an import did so far.
#[derive(Debug, Default)]
pub(super) struct Imported {
    pub(super) file: String,
    pub(super) update: bool,
    pub(super) added: u64,
    pub(super) unchanged: u64,
    pub(super) changed: u64,
    pub(super) warnings: Vec<String>,
    more: u64,
    changes: Vec<String>,
    more_changes: u64,
}

impl Imported {
    pub(super) fn of(file: &str, update: bool) -> Self {
        Self {
            file: file.to_owned(),
            update,
            ..Self::default()
        }
    }

    /// Counts a change and keeps it to be shown.
    pub(super) fn note_change(&mut self, change: &str) {
        self.changed += 1;
        match self.changes.len() < SHOWN {
            true => self.changes.push(format!("changed: {change}")),
            false => self.more_changes += 1,
        }
    }

    /// Keeps the notes of a row to be shown.
    pub(super) fn note(&mut self, notes: &[CellNote]) {
        for note in notes {
            match self.warnings.len() < SHOWN {
                true => self.warnings.push(note.to_string()),
                false => self.more += 1,
            }
        }
    }

    /// The notice of it; `what` is what one row is.
    pub(super) fn notice(mut self, what: &str) -> Notice {
        let number = |count: u64| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
        if self.more > 0 {
            self.warnings
                .push(format!("and {} more like these", self.more));
        }
        self.warnings.append(&mut self.changes);
        if self.more_changes > 0 {
            self.warnings
                .push(format!("and {} more changes", self.more_changes));
        }
        Notice {
            done: format!("{} imported", self.file),
            details: vec![
                ("added".to_owned(), count_of(number(self.added), what)),
                ("changed".to_owned(), count_of(number(self.changed), what)),
                (
                    "already kept, unchanged".to_owned(),
                    count_of(number(self.unchanged), what),
                ),
            ],
            warnings: self.warnings,
        }
    }
}
