//! The journal of changes: what one [`Writer`] keeps is one change, with a step for each
//! record, which holds what it was before, row by row, as JSON. [`super::undo`] takes
//! changes back. The newest [`MOST`] are remembered.

use super::{
    Reader, StoreError, Writer,
    rows::{DecodeError, FromRow, RowReader},
    sql::Table,
};
use crate::record::{Entry, Id, Yarn};
use std::cell::Cell;

/// Changes that are remembered.
pub(super) const MOST: i64 = 1000;

/// A kind of record whose changes can be taken back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecordKind {
    /// A yarn.
    Yarn,
    /// A lot.
    Lot,
    /// The colour of a shade of a yarn.
    Shade,
    /// A swatch.
    Swatch,
    /// A pattern.
    Pattern,
    /// A project.
    Project,
}

impl RecordKind {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Yarn,
        Self::Lot,
        Self::Shade,
        Self::Swatch,
        Self::Pattern,
        Self::Project,
    ];

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Yarn => "yarn",
            Self::Lot => "lot",
            Self::Shade => "shade",
            Self::Swatch => "swatch",
            Self::Pattern => "pattern",
            Self::Project => "project",
        }
    }

    /// The tables that hold such a record, and which rows, in the order in which they
    /// are written; the one that it is called by comes first among those with a version.
    pub(super) fn tables(self) -> &'static [(&'static str, &'static str)] {
        match self {
            Self::Yarn => &[("facts", "id"), ("yarn", "id"), ("shade", "yarn")],
            Self::Lot => &[("stock_lot", "id")],
            Self::Shade => &[("shade_colour", "id")],
            Self::Swatch => &[("swatch", "id"), ("swatch_held_with", "swatch")],
            Self::Pattern => &[
                ("pattern", "id"),
                ("pattern_size", "pattern"),
                (
                    "facts",
                    "(SELECT pattern FROM pattern_yarn WHERE id = facts.id)",
                ),
                ("pattern_yarn", "pattern"),
                (
                    "pattern_need",
                    "(SELECT pattern FROM pattern_yarn WHERE id = pattern_need.pattern_yarn)",
                ),
            ],
            Self::Project => &[("project", "id"), ("project_pin", "project")],
        }
    }

    /// The table that it is called by, and that has its version.
    pub(super) fn table(self) -> &'static str {
        match self {
            Self::Lot => "stock_lot",
            Self::Shade => "shade_colour",
            other => other.name(),
        }
    }
}

/// What was done with a record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// It is new.
    Added,
    /// It is another one than before.
    Changed,
    /// It is gone.
    Removed,
    /// A line was added to its ledger.
    Entered,
}

impl Action {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Added, Self::Changed, Self::Removed, Self::Entered];

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Added => "added",
            Self::Changed => "changed",
            Self::Removed => "removed",
            Self::Entered => "entered",
        }
    }
}

/// A change that was kept.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptChange {
    /// Its number.
    pub number: i64,
    /// When it was made, where that is known.
    pub at: Option<String>,
    /// What was done, by kind of record.
    pub parts: Vec<ChangePart>,
}

impl KeptChange {
    /// Its only part, where it has one; the colour of its shade goes with a lot.
    pub fn only_part(&self) -> Option<&ChangePart> {
        let is_shade = |part: &&ChangePart| part.kind == RecordKind::Shade;
        let mut others = self.parts.iter().filter(|part| !is_shade(part));
        match (others.next(), others.next(), self.parts.as_slice()) {
            (None, _, [only]) | (Some(only), None, _) => Some(only),
            _ => None,
        }
    }
}

/// What a change did with records of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangePart {
    /// The kind.
    pub kind: RecordKind,
    /// What was done.
    pub action: Action,
    /// With how many records.
    pub count: i64,
    /// The number of the first of them.
    pub record: i64,
    /// What people call the first of them.
    pub title: String,
    /// The number of the yarn that the first of them is of.
    pub yarn: Option<i64>,
    /// The line of its ledger, where one was added.
    pub line: Option<Entry>,
}

/// One step of a change.
pub(super) struct Step {
    pub(super) place: i64,
    pub(super) kind: RecordKind,
    action: Action,
    pub(super) record: i64,
    /// The last of the yarns that were added together; else `record`.
    pub(super) last: i64,
    /// The yarn that a lot or a swatch is of.
    pub(super) yarn: Option<i64>,
    /// Further yarns that a swatch is of, or was of before.
    beside: Vec<i64>,
    /// The line that was added to a ledger.
    pub(super) line: Option<i64>,
    /// The record as it was, where it was there.
    pub(super) before: Option<String>,
}

impl Step {
    pub(super) fn new(kind: RecordKind, action: Action, record: i64) -> Self {
        Self {
            place: 0,
            kind,
            action,
            record,
            last: record,
            yarn: None,
            beside: Vec::new(),
            line: None,
            before: None,
        }
    }

    pub(super) fn action(&self) -> Action {
        self.action
    }

    /// Of a lot or a swatch of this yarn.
    pub(super) fn of(self, yarn: Id<Yarn>) -> Self {
        let yarn = Some(yarn.number());
        Self { yarn, ..self }
    }

    /// Of a swatch of these as well.
    pub(super) fn beside(self, yarns: impl Iterator<Item = Id<Yarn>>) -> Self {
        let mut beside: Vec<i64> = yarns.map(Id::number).collect();
        beside.sort_unstable();
        beside.dedup();
        Self { beside, ..self }
    }

    /// Which added this line to a ledger.
    pub(super) fn with_line(self, line: i64) -> Self {
        let line = Some(line);
        Self { line, ..self }
    }

    /// Before which these were the rows of the record.
    pub(super) fn with_before(self, rows: String) -> Self {
        let before = Some(rows);
        Self { before, ..self }
    }
}

impl FromRow for Step {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            place: row.cell()?,
            kind: row.part()?,
            action: row.part()?,
            record: row.cell()?,
            last: row.cell()?,
            yarn: row.cell()?,
            beside: Vec::new(),
            line: row.cell()?,
            before: row.cell()?,
        })
    }
}

pub(super) const STEP: &str =
    "SELECT place, kind, action, record, last, yarn, line, before FROM change_step ";

pub(super) const CHANGE: Table = Table {
    name: "change",
    what: "change",
    columns: "at",
};

/// What a writer has written down of its change.
#[derive(Debug, Default)]
pub(super) struct Journal {
    /// What time it is, where that is known.
    pub(super) now: Option<String>,
    change: Cell<Option<i64>>,
    steps: Cell<i64>,
    /// The first and the last of the yarns that were added together.
    added: Cell<Option<(i64, i64)>>,
}

impl Journal {
    pub(super) fn at(now: Option<String>) -> Self {
        Self {
            now,
            ..Self::default()
        }
    }

    /// The number of the change, where there is one.
    pub(super) fn change(&self) -> Option<i64> {
        self.change.get()
    }
}

impl Reader<'_> {
    /// The change with this number.
    pub fn change(&self, number: i64) -> Result<KeptChange, StoreError> {
        let sql = "SELECT id, at FROM change WHERE id = ?";
        let found: Option<(i64, Option<String>)> = self.db.first("change", sql, [number])?;
        let (number, at) = found.ok_or(CHANGE.gone(number))?;
        let parts = "SELECT change, min(place), sum(last - record + 1) FROM change_step \
                     WHERE change = ? GROUP BY kind, action ORDER BY min(place)";
        let parts: Vec<(i64, i64, i64)> = self.db.all("change_step", parts, [number])?;
        let parts = parts
            .into_iter()
            .map(|(_, place, count)| self.part(number, place, count));
        let parts = parts.collect::<Result<_, _>>()?;
        Ok(KeptChange { number, at, parts })
    }

    pub(super) fn part(
        &self,
        change: i64,
        place: i64,
        count: i64,
    ) -> Result<ChangePart, StoreError> {
        let sql = format!("{STEP} WHERE change = ? AND place = ?");
        let step: Option<Step> = self.db.first("change_step", &sql, [change, place])?;
        let step = step.ok_or(CHANGE.gone(change))?;
        let line = step
            .line
            .map(|line| self.entry(line))
            .transpose()?
            .flatten();
        Ok(ChangePart {
            kind: step.kind,
            action: step.action,
            count,
            record: step.record,
            title: self.title_of(change, &step)?,
            yarn: step.yarn,
            line,
        })
    }
}

impl Writer<'_> {
    /// Writes a step of this change down.
    pub(super) fn write_down(&self, step: Step) -> Result<(), StoreError> {
        let change = match self.journal.change.get() {
            Some(change) => change,
            None => self.begin_change()?,
        };
        let place = self.journal.steps.get();
        self.journal.steps.set(place + 1);
        let sql = "INSERT INTO change_step \
                   (change, place, kind, action, record, last, yarn, line, before) \
                   VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)";
        let (kind, action) = (step.kind.name(), step.action.name());
        let Step {
            record,
            last,
            yarn,
            line,
            before,
            beside,
            ..
        } = step;
        let cells = (
            change, place, kind, action, record, last, yarn, line, before,
        );
        self.db.run(sql, cells)?;
        let sql = "INSERT INTO change_step_yarn (change, place, yarn) VALUES (?, ?, ?)";
        for yarn in beside {
            self.db.run(sql, (change, place, yarn))?;
        }
        Ok(())
    }

    /// Begins to write a change down; the oldest is forgotten.
    fn begin_change(&self) -> Result<i64, StoreError> {
        let sql = "INSERT INTO change (at) VALUES (?)";
        self.db.run(sql, [&self.journal.now])?;
        let change = self.db.conn.last_insert_rowid();
        self.journal.change.set(Some(change));
        let sql = "DELETE FROM change WHERE id <= ?";
        self.db.run(sql, [change - MOST])?;
        Ok(change)
    }

    /// One of many yarns was added; what is added together has numbers in a row.
    pub(super) fn added_yarn(&self, number: i64) {
        let first = self.journal.added.get().map_or(number, |(first, _)| first);
        self.journal.added.set(Some((first, number)));
    }

    /// Writes the yarns down that were added together.
    pub(super) fn write_added_yarns_down(&self) -> Result<(), StoreError> {
        let Some((first, last)) = self.journal.added.take() else {
            return Ok(());
        };
        let step = Step::new(RecordKind::Yarn, Action::Added, first);
        self.write_down(Step { last, ..step })
    }
}
