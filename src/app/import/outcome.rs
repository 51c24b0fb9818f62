//! What an import did, or would do.

use super::{AppError, BadRows, near_names::NewNames};
use crate::{
    files::{CellFault, CellNote},
    report::Notice,
    store::Reader,
    words::count_of,
};

/// How many notes are shown, and how many changes; the rest is counted.
const SHOWN: usize = 200;

/// What becomes of one row of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportRow {
    /// The line on which it starts.
    pub line: u64,
    /// What it is of; empty where that is not read.
    pub what: String,
    /// What is done with it, in words.
    pub fate: String,
    /// Whether it keeps the file out.
    pub bad: bool,
}

/// What an import would do.
#[derive(Debug, Clone, Default)]
pub struct Preview {
    /// What becomes of each row, in the order of the file.
    pub rows: Vec<ImportRow>,
    /// How many would be added.
    pub added: usize,
    /// How many would be changed.
    pub changed: usize,
    /// How many are kept already.
    pub unchanged: usize,
    /// What to know.
    pub warnings: Vec<String>,
    /// Whether the file can be taken.
    pub good: bool,
}

/// Sentences of which only the first are shown.
#[derive(Debug, Default)]
struct Told {
    shown: Vec<String>,
    more: u64,
}

impl Told {
    fn push(&mut self, sentence: impl FnOnce() -> String) {
        if self.shown.len() < SHOWN {
            self.shown.push(sentence());
        } else {
            self.more += 1;
        }
    }

    /// The sentences, and how many `more` there are.
    fn finish(mut self, more: &str) -> Vec<String> {
        if self.more > 0 {
            self.shown.push(format!("and {} more {more}", self.more));
        }
        self.shown
    }
}

/// What an import did so far.
#[derive(Debug, Default)]
pub(super) struct Outcome {
    file: String,
    added: usize,
    changed: usize,
    unchanged: usize,
    notes: Told,
    changes: Told,
    /// Rows that keep the file out.
    pub(super) bad: BadRows,
    /// Names of yarns that were added.
    pub(super) names: NewNames,
    /// What became of each row, where that is asked.
    rows: Option<Vec<ImportRow>>,
}

impl Outcome {
    pub(super) fn new(file: &str) -> Self {
        Self {
            file: file.to_owned(),
            bad: BadRows::new(file),
            ..Self::default()
        }
    }

    /// The same, with what becomes of each row.
    pub(super) fn row_by_row(file: &str) -> Self {
        Self {
            rows: Some(Vec::new()),
            ..Self::new(file)
        }
    }

    /// Keeps notes to be shown.
    pub(super) fn note(&mut self, notes: &[CellNote]) {
        for note in notes {
            self.notes.push(|| note.to_string());
        }
    }

    /// Counts a row that was added.
    pub(super) fn add(&mut self, line: u64, what: impl FnOnce() -> String) {
        self.added += 1;
        self.tell(line, what, || "will be added".to_owned(), false);
    }

    /// Counts a row that changed nothing.
    pub(super) fn leave(&mut self, line: u64, what: impl FnOnce() -> String) {
        self.unchanged += 1;
        let fate = || "is kept already, stays as it is".to_owned();
        self.tell(line, what, fate, false);
    }

    /// Counts a row that changed what is kept.
    pub(super) fn change(&mut self, line: u64, what: impl FnOnce() -> String, change: &str) {
        self.changed += 1;
        self.changes.push(|| format!("changed: {change}"));
        self.tell(line, what, || format!("will be changed: {change}"), false);
    }

    /// Keeps a row that keeps the file out.
    pub(super) fn refuse(
        &mut self,
        line: u64,
        what: impl FnOnce() -> String,
        faults: Vec<CellFault>,
    ) {
        let fate = || {
            let each: Vec<String> = faults.iter().map(ToString::to_string).collect();
            each.join("; ")
        };
        self.tell(line, what, fate, true);
        self.bad.add(faults);
    }

    fn tell(
        &mut self,
        line: u64,
        what: impl FnOnce() -> String,
        fate: impl FnOnce() -> String,
        bad: bool,
    ) {
        if let Some(rows) = &mut self.rows {
            rows.push(ImportRow {
                line,
                what: what(),
                fate: fate(),
                bad,
            });
        }
    }

    /// Notes names that are nearly the same as kept ones.
    pub(super) fn compare_names(&mut self, reader: &Reader<'_>) -> Result<(), AppError> {
        let near = std::mem::take(&mut self.names).near(reader)?;
        self.notes.shown.extend(near);
        Ok(())
    }

    /// The notice of it; `what` is what one row is.
    pub(super) fn notice(self, what: &str) -> Notice {
        let counted = |count: usize| {
            let count = u32::try_from(count).unwrap_or(u32::MAX);
            count_of(f64::from(count), what)
        };
        let mut warnings = self.notes.finish("like these");
        warnings.extend(self.changes.finish("changes"));
        Notice {
            done: format!("{} imported", self.file),
            details: vec![
                ("added".to_owned(), counted(self.added)),
                ("changed".to_owned(), counted(self.changed)),
                (
                    "already kept, unchanged".to_owned(),
                    counted(self.unchanged),
                ),
            ],
            warnings,
        }
    }

    /// What it would do, where it was only tried.
    pub(super) fn preview(self) -> Preview {
        Preview {
            rows: self.rows.unwrap_or_default(),
            added: self.added,
            changed: self.changed,
            unchanged: self.unchanged,
            warnings: self.notes.shown,
            good: self.bad.is_empty(),
        }
    }
}
