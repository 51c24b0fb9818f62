//! What an import did.

use crate::{exchange::CellNote, report::Notice, words::count_of};

/// How many notes are shown; the rest is counted.
const SHOWN: usize = 200;

/// What an import did so far.
#[derive(Debug, Default)]
pub(super) struct Imported {
    pub(super) file: String,
    pub(super) update: bool,
    /// Maker and name of what was added, or its name alone.
    pub(super) added: Vec<(String, String)>,
    pub(super) unchanged: u64,
    pub(super) changed: Vec<String>,
    pub(super) warnings: Vec<String>,
    more: u64,
}

impl Imported {
    pub(super) fn of(file: &str, update: bool) -> Self {
        Self {
            file: file.to_owned(),
            update,
            ..Self::default()
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
        let number = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
        let unchanged = usize::try_from(self.unchanged).unwrap_or(usize::MAX);
        if self.more > 0 {
            self.warnings
                .push(format!("and {} more like these", self.more));
        }
        self.warnings.extend(
            self.changed
                .iter()
                .map(|change| format!("changed: {change}")),
        );
        Notice {
            done: format!("{} imported", self.file),
            details: vec![
                ("added".to_owned(), count_of(number(self.added.len()), what)),
                (
                    "changed".to_owned(),
                    count_of(number(self.changed.len()), what),
                ),
                (
                    "already kept, unchanged".to_owned(),
                    count_of(number(unchanged), what),
                ),
            ],
            warnings: self.warnings,
        }
    }
}
