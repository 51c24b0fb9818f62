//! What an import changed, or would change.

use super::{
    AppError,
    near_names::{NearNames, NewNames},
    row::{BadRows, ImportRow, RowChange, RowFate},
};
use crate::{files::CellNote, store::Reader, words::joined};

/// How many notes are shown, and how many changes; the rest is counted.
const SHOWN: usize = 200;

/// The first of many things; the rest is counted.
#[derive(Debug, Clone)]
pub struct Listed<T> {
    /// The first ones.
    pub shown: Vec<T>,
    /// How many more there are.
    pub more: u64,
}

impl<T> Default for Listed<T> {
    fn default() -> Self {
        Self {
            shown: Vec::new(),
            more: 0,
        }
    }
}

impl<T> Listed<T> {
    fn push(&mut self, item: impl FnOnce() -> T) {
        if self.shown.len() < SHOWN {
            self.shown.push(item());
        } else {
            self.more += 1;
        }
    }
}

/// What was noticed while a table was taken.
#[derive(Debug, Clone, PartialEq)]
pub enum ImportNote {
    /// Something about a cell or a row.
    Cell(CellNote),
    /// Another row of the same yarn says otherwise, and counts.
    OtherRow {
        /// The line of the row that does not count.
        line: u64,
        /// The line of the one that does.
        counts: u64,
        /// The field.
        field: &'static str,
        /// What the two say, the one that counts first.
        texts: [String; 2],
    },
    /// A swatch was added beside another one of the same yarn, needle and day.
    BesideAnother {
        /// The line of the row.
        line: u64,
        /// The yarn.
        yarn: String,
    },
    /// A project was taken that names something which is not there.
    Missing {
        /// The line of the row.
        line: u64,
        /// What is not there.
        missing: MissingName,
    },
}

/// A name in a row of which nothing is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingName {
    /// What it names.
    pub kind: MissingKind,
    /// The name.
    pub name: String,
    /// What was perhaps meant.
    pub near: Vec<String>,
}

/// What a project names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MissingKind {
    /// Its pattern.
    Pattern,
    /// A size of its pattern.
    Size,
    /// A key of its pattern's yarns.
    Role,
    /// A yarn that was chosen for it.
    Yarn,
}

/// What an import did.
#[derive(Debug, Clone, Default)]
pub struct ImportAnswer {
    /// The file.
    pub file: String,
    /// What one row is.
    pub what: &'static str,
    /// How many were added.
    pub added: usize,
    /// How many were changed.
    pub changed: usize,
    /// How many were kept already.
    pub unchanged: usize,
    /// What was noticed.
    pub notes: Listed<ImportNote>,
    /// What was changed.
    pub changes: Listed<RowChange>,
    /// Names of added yarns that are nearly those of others.
    pub near: NearNames,
    /// Whether all this was done before under the same text, and is not done again.
    pub made_before: bool,
}

impl ImportAnswer {
    /// What an import came to that was made before.
    pub(super) fn before(file: &str, what: &'static str, counts: &str) -> Self {
        let mut counts = counts.split(' ').map(str::parse);
        let mut next = || counts.next().and_then(Result::ok).unwrap_or_default();
        Self {
            file: file.to_owned(),
            what,
            added: next(),
            changed: next(),
            unchanged: next(),
            made_before: true,
            ..Self::default()
        }
    }

    /// How many rows were added, changed and kept already.
    pub(super) fn counts(&self) -> String {
        let counts = [self.added, self.changed, self.unchanged];
        joined(counts.map(|count| count.to_string()), " ")
    }
}

/// What an import would change.
#[derive(Debug, Clone, Default)]
pub struct Preview {
    /// What becomes of each row, in the order of the file.
    pub rows: Vec<ImportRow>,
    /// How many would be added.
    pub added: usize,
    /// How many would be changed.
    pub changed: usize,
    /// How many are there already.
    pub unchanged: usize,
    /// What was noticed.
    pub notes: Vec<ImportNote>,
    /// Whether the file can be taken.
    pub good: bool,
}

/// What an import did so far.
#[derive(Debug, Default)]
pub(super) struct Outcome {
    answer: ImportAnswer,
    /// Rows that keep the file out.
    pub(super) bad: BadRows,
    /// Names of yarns that were added.
    pub(super) names: NewNames,
    /// What became of each row, where that is asked.
    rows: Option<Vec<ImportRow>>,
}

impl Outcome {
    pub(super) fn new(file: &str, what: &'static str) -> Self {
        Self {
            answer: ImportAnswer {
                file: file.to_owned(),
                what,
                ..ImportAnswer::default()
            },
            bad: BadRows::new(file),
            ..Self::default()
        }
    }

    /// The file, as messages call it.
    pub(super) fn file(&self) -> &str {
        &self.answer.file
    }

    /// The same, with what becomes of each row.
    pub(super) fn row_by_row(self) -> Self {
        Self {
            rows: Some(Vec::new()),
            ..self
        }
    }

    /// Keeps notes to be shown.
    pub(super) fn note(&mut self, notes: &[CellNote]) {
        for note in notes {
            self.answer.notes.push(|| ImportNote::Cell(note.clone()));
        }
    }

    /// Keeps notes about rows that say otherwise than another row of their yarn.
    pub(super) fn note_others(&mut self, notes: Vec<ImportNote>) {
        for note in notes {
            self.answer.notes.push(|| note);
        }
    }

    /// Keeps a note about a row that was added beside another of the yarn that is named.
    pub(super) fn note_beside(&mut self, line: u64, beside: Option<String>) {
        if let Some(yarn) = beside {
            let notes = &mut self.answer.notes;
            notes.push(|| ImportNote::BesideAnother { line, yarn });
        }
    }

    /// Keeps notes about what a row names and is not there.
    pub(super) fn note_missing(&mut self, line: u64, missing: &mut Vec<MissingName>) {
        for missing in missing.drain(..) {
            self.answer
                .notes
                .push(|| ImportNote::Missing { line, missing });
        }
    }

    /// Counts a row; `title` is what people call its record, where it was read.
    pub(super) fn take(
        &mut self,
        line: u64,
        title: impl FnOnce() -> Option<String>,
        fate: RowFate,
    ) {
        match &fate {
            RowFate::Added => self.answer.added += 1,
            RowFate::Unchanged => self.answer.unchanged += 1,
            RowFate::Changed(change) => {
                self.answer.changed += 1;
                self.answer.changes.push(|| change.clone());
            }
            RowFate::Refused(faults) => self.bad.add(faults),
        }
        if let Some(rows) = &mut self.rows {
            let title = title();
            rows.push(ImportRow { line, title, fate });
        }
    }

    /// What it did; names that are nearly the same as kept ones are looked for.
    pub(super) fn answer(self, reader: &Reader<'_>) -> Result<ImportAnswer, AppError> {
        Ok(ImportAnswer {
            near: self.names.near(reader)?,
            ..self.answer
        })
    }

    /// What it would change, where it was only tried.
    pub(super) fn preview(self) -> Preview {
        let answer = self.answer;
        Preview {
            rows: self.rows.unwrap_or_default(),
            added: answer.added,
            changed: answer.changed,
            unchanged: answer.unchanged,
            notes: answer.notes.shown,
            good: self.bad.is_empty(),
        }
    }
}
