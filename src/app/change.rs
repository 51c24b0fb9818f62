//! What was done with the records, and what was noticed while doing it.

use super::{AppError, Fault, FaultKind, FieldNote, FormData, Reservation, StockLine, YarnsMerged};
use crate::{
    files::{CellNote, csv::RecordReading},
    record::{EntryKind, Pattern, Project, StockAmount, Swatch, Yarn},
    store::{KeptChange, Problem},
};
use std::path::PathBuf;

/// What was done with the records.
#[derive(Debug, Clone)]
pub enum RecordChange {
    /// A yarn was added or changed.
    YarnKept {
        /// The yarn.
        yarn: Box<Yarn>,
        /// What was noticed.
        notes: Vec<FieldNote>,
    },
    /// A ball without a label was kept as a yarn.
    BallKept {
        /// Its number.
        number: i64,
        /// The yarn.
        yarn: Box<Yarn>,
        /// What there is of it, where that is known.
        line: Option<Box<StockLine>>,
    },
    /// A yarn was removed.
    YarnRemoved {
        /// What people call it.
        title: String,
    },
    /// Two yarns that were one were merged.
    YarnsMerged(Box<YarnsMerged>),
    /// A shade of a yarn has another name.
    ShadeRenamed {
        /// The yarn.
        yarn: String,
        /// Its name before.
        from: String,
        /// Its name now.
        to: String,
        /// How many lots are of it.
        lots: usize,
    },
    /// Yarn was moved to another place.
    LotMoved {
        /// How much, where it was not all of the lot.
        amount: Option<StockAmount>,
        /// The lot at the new place.
        line: Box<StockLine>,
    },
    /// Yarn was sold.
    Sold {
        /// How much.
        amount: StockAmount,
        /// To whom; empty where that was not said.
        customer: String,
        /// The lot, with what is left of it.
        line: Box<StockLine>,
    },
    /// All that was reserved for someone or something was released.
    AllReleased {
        /// For whom or what.
        what_for: String,
        /// What it was.
        released: Vec<Reservation>,
    },
    /// What was remembered of tables under a name was forgotten.
    LayoutForgotten {
        /// The name.
        name: String,
    },
    /// A pattern has another name.
    PatternRenamed {
        /// Its name before.
        from: String,
        /// Its name now.
        to: String,
    },
    /// What is kept of a lot beside its ledger was changed.
    LotChanged {
        /// Its number.
        number: i64,
        /// Its yarn.
        yarn: String,
        /// What was noticed.
        notes: Vec<FieldNote>,
    },
    /// Something was entered in the ledger of a lot.
    Entered {
        /// What happened.
        kind: EntryKind,
        /// How much.
        amount: StockAmount,
        /// The lot, with what is left of it.
        line: Box<StockLine>,
        /// What is reserved of it beyond what is there, if anything.
        beyond: Option<Overpromise>,
        /// What was noticed.
        notes: Vec<FieldNote>,
    },
    /// It was made before under the same text, and is not made again; how things are
    /// now.
    MadeBefore(Box<RecordChange>),
    /// A swatch was added or changed.
    SwatchKept {
        /// Its yarn.
        yarn: String,
        /// The swatch.
        swatch: Box<Swatch>,
        /// What was noticed.
        notes: Vec<FieldNote>,
    },
    /// A swatch was removed.
    SwatchRemoved {
        /// Its number.
        number: i64,
    },
    /// A pattern was added or changed.
    PatternKept {
        /// Its name.
        name: String,
        /// What was noticed in its text.
        notes: Vec<CellNote>,
    },
    /// A pattern was added or changed in its fields, or from its materials.
    PatternEntered {
        /// The pattern.
        pattern: Box<Pattern>,
        /// Whether its fit follows from what it is for.
        fit_assumed: bool,
        /// What was noticed, and what was not understood.
        notes: Vec<CellNote>,
    },
    /// A pattern was removed.
    PatternRemoved {
        /// Its name.
        name: String,
    },
    /// Something was done with projects.
    Project(ProjectChange),
    /// A change was taken back.
    Undone {
        /// The change.
        change: Box<KeptChange>,
        /// Its lot, with what is there again, where it was of one.
        left: Option<Box<StockLine>>,
    },
    /// What taking a change back would come to; nothing was done.
    WouldUndo(Box<RecordChange>),
    /// A backup was written.
    BackedUp {
        /// The file.
        to: PathBuf,
        /// What is wrong with the records in it.
        problems: Vec<Problem>,
    },
    /// The records were restored.
    Restored {
        /// The backup.
        from: PathBuf,
        /// A copy of what was there before.
        kept: Option<PathBuf>,
    },
}

/// What was done with projects.
#[derive(Debug, Clone)]
pub enum ProjectChange {
    /// One was added or changed.
    Kept {
        /// What was done.
        deed: ProjectDeed,
        /// The project as it is now.
        project: Box<Project>,
        /// Its place among the projects.
        rank: usize,
        /// How many projects there are.
        of: usize,
        /// Whether its pattern has several sizes.
        has_sizes: bool,
    },
    /// One was removed.
    Removed {
        /// Its name.
        name: String,
        /// What was reserved for it, and is free again.
        released: Vec<Reservation>,
    },
    /// The yarn of a plan was reserved.
    PlanReserved(PlanReserved),
}

/// What was done with a project.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProjectDeed {
    /// It is new.
    Added,
    /// It has another place.
    Moved,
    /// Something else of it was changed.
    Edited,
    /// A yarn was chosen for it by hand.
    Pinned,
    /// The choice of its yarn is left to the plan again.
    Unpinned,
}

/// What was reserved for a plan.
#[derive(Debug, Clone, Default)]
pub struct PlanReserved {
    /// All that is reserved now for the projects that can be made.
    pub reserved: Vec<Reservation>,
    /// What was reserved for projects of the plan before and is free again.
    pub released: Vec<Reservation>,
    /// Names of the projects that are left out.
    pub left_out: Vec<String>,
}

/// What is reserved of a lot beyond what is there, as after a weighing that found less.
#[derive(Debug, Clone, PartialEq)]
pub struct Overpromise {
    /// How much.
    pub amount: StockAmount,
    /// What for, as far as that was said.
    pub reserved_for: Vec<String>,
}

/// A kept record as the fields of a form. Who edits names the version that was
/// read: of two people the second gets an error.
#[derive(Debug, Clone)]
pub struct KeptFields {
    /// The version that was read.
    pub version: i64,
    /// What people call it.
    pub title: String,
    /// Its fields.
    pub typed: FormData,
}

/// One page of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListPage<T> {
    /// The entries.
    pub entries: Vec<T>,
    /// How many come before them.
    pub from: usize,
    /// How many there are, where that is known.
    pub total: Option<usize>,
    /// Whether more follow.
    pub more: bool,
}

impl<T> ListPage<T> {
    /// A page of at most `count` entries; one more says that more follow.
    pub(super) fn new(mut entries: Vec<T>, from: usize, count: usize) -> Self {
        let more = entries.len() > count;
        entries.truncate(count);
        Self {
            total: (!more).then_some(from + entries.len()),
            entries,
            from,
            more,
        }
    }

    /// The same of so many, where that is known otherwise than by the last page.
    pub(super) fn of(self, total: Option<usize>) -> Self {
        Self {
            total: total.or(self.total),
            ..self
        }
    }
}

/// The record that was read from a form, and what was noticed, or every fault.
pub(super) fn read_from_form<T>(
    reading: RecordReading<T>,
) -> Result<(T, Vec<FieldNote>), AppError> {
    let (record, notes) = reading.map_err(|faults| {
        let fault = |fault: crate::files::CellFault| {
            Fault::new(&fault.field.clone(), FaultKind::Cell(fault))
        };
        AppError::Faults(faults.into_iter().map(fault).collect())
    })?;
    let notes = notes.into_iter().map(|note| FieldNote {
        field: note.field,
        kind: note.kind,
    });
    Ok((record, notes.collect()))
}
