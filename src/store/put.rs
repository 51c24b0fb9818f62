//! The cells of a row that is to be written.

use super::cells::Kept;
use rusqlite::{
    Params, Statement, params_from_iter,
    types::{Null, ToSqlOutput, ValueRef},
};
use std::ops::Range;

/// One cell that is to be written; of a text, where it stands among the texts.
#[derive(Debug, Clone)]
pub(super) enum Cell {
    Null,
    Integer(i64),
    Real(f64),
    Text(Range<usize>),
}

/// The cells of a row that is to be written. All texts stand in one string, so
/// that a row that takes the place of another needs no new memory.
#[derive(Debug, Default)]
pub(super) struct Cells {
    cells: Vec<Cell>,
    texts: String,
}

impl Cells {
    /// The cells of `part`.
    pub(super) fn of(part: &impl Kept) -> Self {
        Self::default().and(part)
    }

    /// Makes room for another row.
    pub(super) fn clear(&mut self) {
        self.cells.clear();
        self.texts.clear();
    }

    /// One more cell.
    pub(super) fn push(&mut self, cell: impl Into<Cell>) {
        self.cells.push(cell.into());
    }

    /// One more cell, of text.
    pub(super) fn text(&mut self, text: &str) {
        let from = self.texts.len();
        self.texts.push_str(text);
        self.cells.push(Cell::Text(from..self.texts.len()));
    }

    /// The cells with those of `part` after them.
    pub(super) fn and(mut self, part: &impl Kept) -> Self {
        part.put(&mut self);
        self
    }

    /// As parameters of a statement.
    pub(super) fn params(&self) -> impl Params {
        params_from_iter(self.cells.iter().map(|cell| self.bound(cell)))
    }

    /// Runs a statement with these cells; what is not bound is NULL, and in a
    /// wide table much is.
    pub(super) fn run(&self, statement: &mut Statement<'_>) -> rusqlite::Result<usize> {
        statement.clear_bindings();
        for (place, cell) in (1..).zip(&self.cells) {
            if !matches!(cell, Cell::Null) {
                statement.raw_bind_parameter::<usize, _>(place, self.bound(cell))?;
            }
        }
        statement.raw_execute()
    }

    fn bound(&self, cell: &Cell) -> ToSqlOutput<'_> {
        ToSqlOutput::Borrowed(match cell {
            Cell::Null => ValueRef::Null,
            Cell::Integer(number) => ValueRef::Integer(*number),
            Cell::Real(number) => ValueRef::Real(*number),
            Cell::Text(place) => {
                let text = self.texts.get(place.clone()).unwrap_or_default();
                ValueRef::Text(text.as_bytes())
            }
        })
    }
}

impl From<Null> for Cell {
    fn from(_: Null) -> Self {
        Self::Null
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Self {
        Self::Real(number)
    }
}

/// Numbers that fit.
macro_rules! integers {
    ($($number:ty),*) => {$(
        impl From<$number> for Cell {
            fn from(number: $number) -> Self {
                Self::Integer(i64::from(number))
            }
        }
    )*};
}

integers!(bool, u8, u32, i64);
