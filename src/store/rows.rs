//! Records as cells of a row: what has a fixed run of columns is [`Columns`], and
//! is written and read cell by cell in one order.

use crate::{measure::Interval, record::Printed};
use rusqlite::{
    Params, Row, Statement, params_from_iter,
    types::{FromSql, Null, ToSqlOutput, ValueRef},
};
use std::ops::Range;

/// What is wrong with a row.
#[derive(Debug)]
pub(super) struct DecodeError(pub(super) String);

impl<E: std::error::Error> From<E> for DecodeError {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

impl DecodeError {
    /// A word that stands for nothing known.
    pub(super) fn unknown(what: &str, word: &str) -> Self {
        Self(format!("`{word}` is no {what}"))
    }
}

/// The cells of a row that is read, from left to right.
pub(super) struct RowReader<'r, 's> {
    row: &'r Row<'s>,
    next: usize,
}

impl<'r, 's> RowReader<'r, 's> {
    /// From the first cell.
    pub(super) fn new(row: &'r Row<'s>) -> Self {
        Self { row, next: 0 }
    }

    /// The next cell.
    pub(super) fn cell<T: FromSql>(&mut self) -> Result<T, DecodeError> {
        let cell = self.row.get(self.next)?;
        self.next += 1;
        Ok(cell)
    }

    /// The next record.
    pub(super) fn part<T: Columns>(&mut self) -> Result<T, DecodeError> {
        T::decode(self)
    }

    /// Passes a cell by.
    pub(super) fn pass(&mut self) {
        self.next += 1;
    }

    /// The text of the next cell, not copied.
    pub(super) fn text(&mut self) -> Result<&'r str, DecodeError> {
        let cell = self.row.get_ref(self.next)?;
        self.next += 1;
        Ok(cell.as_str()?)
    }

    fn at_null(&self) -> bool {
        matches!(self.row.get_ref(self.next), Ok(ValueRef::Null))
    }
}

/// What has a fixed run of columns, of which the first is never NULL.
pub(super) trait Columns: Sized {
    /// How many columns.
    const WIDTH: usize;

    /// Writes the cells.
    fn encode(&self, cells: &mut Cells);

    /// Reads the cells.
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError>;
}

/// Unknown is NULL in every column.
impl<T: Columns> Columns for Option<T> {
    const WIDTH: usize = T::WIDTH;

    fn encode(&self, cells: &mut Cells) {
        match self {
            Some(known) => known.encode(cells),
            None => (0..T::WIDTH).for_each(|_| cells.push(Null)),
        }
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        if row.at_null() {
            row.next += T::WIDTH;
            return Ok(None);
        }
        row.part().map(Some)
    }
}

/// The text, then its meaning.
impl<T: Columns> Columns for Printed<T> {
    const WIDTH: usize = 1 + T::WIDTH;

    fn encode(&self, cells: &mut Cells) {
        self.text.encode(cells);
        self.value.encode(cells);
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let text: String = row.cell()?;
        Ok(Self::new(text, row.part()?))
    }
}

impl<T: Columns + Copy + PartialOrd + std::fmt::Debug> Columns for Interval<T> {
    const WIDTH: usize = 2 * T::WIDTH;

    fn encode(&self, cells: &mut Cells) {
        self.low().encode(cells);
        self.high().encode(cells);
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self::between(row.part()?, row.part()?)?)
    }
}

/// What comes second follows what comes first.
impl<A: Columns, B: Columns> Columns for (A, B) {
    const WIDTH: usize = A::WIDTH + B::WIDTH;

    fn encode(&self, cells: &mut Cells) {
        self.0.encode(cells);
        self.1.encode(cells);
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok((row.part()?, row.part()?))
    }
}

impl Columns for String {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut Cells) {
        cells.text(self);
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        row.cell()
    }
}

/// Plain numbers of one column.
macro_rules! plain_columns {
    ($($plain:ty),*) => {$(
        impl Columns for $plain {
            const WIDTH: usize = 1;

            fn encode(&self, cells: &mut Cells) {
                cells.push(*self);
            }

            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                row.cell()
            }
        }
    )*};
}

plain_columns!(f64, u8, u32, i64, bool);

/// A record whose fields follow each other.
macro_rules! field_columns {
    ($record:ty { $($field:ident: $part:ty),* $(,)? }) => {
        impl $crate::store::rows::Columns for $record {
            const WIDTH: usize = 0 $(+ <$part as $crate::store::rows::Columns>::WIDTH)*;

            fn encode(&self, cells: &mut $crate::store::rows::Cells) {
                $($crate::store::rows::Columns::encode(&self.$field, cells);)*
            }

            fn decode(
                row: &mut $crate::store::rows::RowReader<'_, '_>,
            ) -> Result<Self, $crate::store::rows::DecodeError> {
                Ok(Self { $($field: row.part::<$part>()?),* })
            }
        }
    };
}

pub(super) use field_columns;

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
    pub(super) fn of(part: &impl Columns) -> Self {
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
    pub(super) fn and(mut self, part: &impl Columns) -> Self {
        part.encode(&mut self);
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
                let text = self.texts.get(place.clone());
                text.map_or(ValueRef::Null, |text| ValueRef::Text(text.as_bytes()))
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
