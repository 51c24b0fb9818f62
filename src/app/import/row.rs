//! What becomes of one row of a table, and why a row keeps the file out.

use crate::{
    files::CellFault,
    record::{RecordError, StockAmount},
};

/// What is kept and what the file says, where the two differ.
#[derive(Debug, Clone, PartialEq)]
pub enum Difference {
    /// Fields of a yarn.
    Yarn(Vec<FieldChange>),
    /// What is known of a lot whose amount is the same.
    Lot(Vec<FieldChange>),
    /// Fields of a project.
    Project(Vec<FieldChange>),
    /// How much of a lot is reserved for one thing.
    Reserved {
        /// What is reserved.
        kept: StockAmount,
        /// What the file says.
        stated: StockAmount,
    },
    /// How much there is of a lot.
    Held {
        /// What is there.
        kept: StockAmount,
        /// What the file says.
        stated: StockAmount,
    },
}

/// A field of a yarn or a lot that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldChange {
    /// The field.
    pub field: &'static str,
    /// What is kept and what the file says; nothing where that would be long.
    pub texts: Option<[Option<String>; 2]>,
}

/// A kept record that was changed.
#[derive(Debug, Clone, PartialEq)]
pub struct RowChange {
    /// What people call it.
    pub title: String,
    /// How it was changed.
    pub difference: Difference,
}

/// What becomes of one row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct ImportRow {
    /// The line on which it starts.
    pub line: u64,
    /// What it is of; nothing where that is not read.
    pub title: Option<String>,
    /// What is done with it.
    pub fate: RowFate,
}

impl ImportRow {
    /// Whether it keeps the file out.
    pub fn is_bad(&self) -> bool {
        matches!(self.fate, RowFate::Refused(_))
    }
}

/// What is done with a row.
#[derive(Debug, Clone, PartialEq)]
pub enum RowFate {
    /// It is new.
    Added,
    /// It is kept already and says the same.
    Unchanged,
    /// It replaces what is kept.
    Changed(RowChange),
    /// It keeps the file out, for these reasons.
    Refused(Vec<RowFault>),
}

/// Why a row keeps the file out.
#[derive(Debug, Clone, PartialEq)]
pub struct RowFault {
    /// The line on which it starts.
    pub line: u64,
    /// The reason.
    pub kind: RowFaultKind,
}

/// The reasons for which a row keeps the file out.
#[derive(Debug, Clone, PartialEq)]
pub enum RowFaultKind {
    /// A cell that is not read.
    Unread(CellFault),
    /// It is about a yarn that is not kept.
    NoSuchYarn {
        /// The yarn, as `maker, name`.
        yarn: String,
        /// Kept yarns that were perhaps meant.
        near: Vec<String>,
    },
    /// It is about a yarn of an article number that no yarn has, and names none.
    NoSuchNumber(String),
    /// A row before it is of the same yarn.
    RepeatedYarn(String),
    /// A row before it is of the same lot in the same place.
    RepeatedLot(String),
    /// A row before it is of the same project.
    RepeatedProject(String),
    /// More projects than there may be.
    TooManyProjects(usize),
    /// It is about a lot that is not kept.
    NoSuchLot(String),
    /// A row before it is of the same lot, reserved for the same.
    RepeatedReservation(String),
    /// So much of a lot cannot be reserved.
    NotReserved {
        /// The lot.
        lot: String,
        /// Why.
        why: RecordError,
    },
    /// It may be a lot that is in the records, whose dye lot it names otherwise.
    LotRenamed {
        /// The number of that lot.
        number: i64,
        /// The lot as it is kept.
        title: String,
    },
    /// A colour of the same shade that is in the records, or that a row before it says, is another.
    OtherColour {
        /// The shade.
        shade: String,
        /// That colour, and the one of this row.
        colours: [String; 2],
    },
    /// It differs from what is kept, and nothing may be replaced.
    Differs(RowChange),
}

/// Rows that keep a whole file out.
#[derive(Debug, Default)]
pub struct BadRows {
    file: String,
    faults: Vec<RowFault>,
    more: u64,
    rows: u32,
    last: Option<u64>,
    differing: bool,
}

/// How many faults are listed; the rest is counted.
const LISTED: usize = 10_000;

impl BadRows {
    pub(super) fn new(file: &str) -> Self {
        Self {
            file: file.to_owned(),
            ..Self::default()
        }
    }

    pub(super) fn add(&mut self, faults: &[RowFault]) {
        for fault in faults {
            if self.last != Some(fault.line) {
                self.rows = self.rows.saturating_add(1);
                self.last = Some(fault.line);
            }
            self.differing |= matches!(fault.kind, RowFaultKind::Differs(_));
            if self.faults.len() < LISTED {
                self.faults.push(fault.clone());
            } else {
                self.more += 1;
            }
        }
    }

    /// Whether some row would be good if what is kept might be replaced.
    pub fn differing(&self) -> bool {
        self.differing
    }

    pub(super) fn is_empty(&self) -> bool {
        self.faults.is_empty()
    }

    /// The file, as messages call it.
    pub fn file(&self) -> &str {
        &self.file
    }

    /// How many rows are bad.
    pub fn rows(&self) -> u32 {
        self.rows
    }

    /// Every fault that is listed, in the order of the file.
    pub fn faults(&self) -> &[RowFault] {
        &self.faults
    }

    /// How many faults are not listed.
    pub fn more(&self) -> u64 {
        self.more
    }
}
