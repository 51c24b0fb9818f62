//! What an import did, or would do.

use super::{AppError, near_names::NewNames};
use crate::{
    files::{CellFault, CellNote},
    record::Name,
    report::Notice,
    store::Writer,
    words::{count_of, did_you_mean, or_list},
};

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
    /// Names of yarns that were added.
    pub(super) names: NewNames,
    /// What became of each row, where that is asked.
    pub(super) rows: Option<Vec<ImportRow>>,
    more: u64,
    changes: Vec<String>,
    last_change: String,
    more_changes: u64,
}

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

/// How much was done before a row, so that one can say what it did.
#[derive(Debug, Clone, Copy)]
pub(super) struct Before {
    added: u64,
    changed: u64,
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
        self.last_change = change.to_owned();
        match self.changes.len() < SHOWN {
            true => self.changes.push(format!("changed: {change}")),
            false => self.more_changes += 1,
        }
    }

    /// The same, with what becomes of each row.
    pub(super) fn row_by_row(file: &str, update: bool) -> Self {
        Self {
            rows: Some(Vec::new()),
            ..Self::of(file, update)
        }
    }

    /// Where things stand.
    pub(super) fn before(&self) -> Before {
        Before {
            added: self.added,
            changed: self.changed,
        }
    }

    /// Keeps what became of a row since `before`.
    pub(super) fn tell(
        &mut self,
        line: u64,
        what: impl FnOnce() -> String,
        before: Before,
        faults: &[CellFault],
    ) {
        let (added, changed) = (self.added, self.changed);
        let Some(rows) = &mut self.rows else {
            return;
        };
        let fate = match (faults, added > before.added, changed > before.changed) {
            ([], true, _) => "will be added".to_owned(),
            ([], _, true) => format!("will be changed: {}", self.last_change),
            ([], ..) => "is kept already, stays as it is".to_owned(),
            (faults, ..) => faults
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join("; "),
        };
        rows.push(ImportRow {
            line,
            what: what(),
            fate,
            bad: !faults.is_empty(),
        });
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

/// A row about a yarn that is not kept, with what was perhaps meant.
pub(super) fn no_such_yarn(
    maker: &Name,
    name: &Name,
    writer: &Writer<'_>,
) -> Result<CellFault, AppError> {
    let titles = writer.yarn_titles()?;
    let given = format!("{maker}, {name}");
    let near = did_you_mean(&given, titles.iter().map(|(_, title)| title.as_str()));
    let allowed = match near.is_empty() {
        true => "import the yarn first".to_owned(),
        false => format!("import the yarn first, or did you mean {}?", or_list(&near)),
    };
    let why = "no yarn of this maker and name is kept";
    Ok(CellFault::new("", &given, why, allowed))
}
