//! Rows that keep a whole file out.

use crate::files::{CellFault, Place};
use std::fmt;

/// How many faults are kept to be listed; the rest is counted.
const LISTED: usize = 10_000;

/// The bad rows of one file.
#[derive(Debug, Default)]
pub struct BadRows {
    file: String,
    faults: Vec<CellFault>,
    more: u64,
    rows: u32,
    last: Option<Place>,
    differing: bool,
}

impl BadRows {
    pub(super) fn new(file: &str) -> Self {
        Self {
            file: file.to_owned(),
            ..Self::default()
        }
    }

    pub(super) fn add(&mut self, faults: impl IntoIterator<Item = CellFault>) {
        for fault in faults {
            if self.rows == 0 || fault.place != self.last {
                self.rows = self.rows.saturating_add(1);
                self.last = fault.place;
            }
            if self.faults.len() < LISTED {
                self.faults.push(fault);
            } else {
                self.more += 1;
            }
        }
    }

    /// Notes that a row is bad only since it differs from what is kept.
    pub(super) fn note_difference(&mut self) {
        self.differing = true;
    }

    /// Whether some row would be good if what is kept might be replaced.
    pub fn differing(&self) -> bool {
        self.differing
    }

    pub(super) fn is_empty(&self) -> bool {
        self.faults.is_empty()
    }

    /// Every fault that is listed, in the order of the file.
    pub fn faults(&self) -> &[CellFault] {
        &self.faults
    }
}

impl fmt::Display for BadRows {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rows = crate::words::count_of(f64::from(self.rows), "bad row");
        write!(f, "{} has {rows}, so nothing of it was taken:", self.file)?;
        for fault in &self.faults {
            write!(f, "\n  {fault}")?;
        }
        match self.more {
            0 => Ok(()),
            more => write!(f, "\n  and {more} more faults"),
        }
    }
}
