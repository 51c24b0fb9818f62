//! Records as cells of a row: what has a fixed run of columns is [`Columns`], and
//! is written and read cell by cell in one order.

use crate::{
    measure::Interval,
    record::{Id, Printed, Stored},
};
use rusqlite::{
    Params, Row, Statement, params_from_iter,
    types::{FromSql, ToSqlOutput, Value, ValueRef},
};

/// What is wrong with a row.
#[derive(Debug)]
pub(super) struct DecodeError(pub(super) String);

impl<E: std::error::Error> From<E> for DecodeError {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

/// Cells that can be read, but make no record.
#[derive(Debug, thiserror::Error)]
pub(super) enum BadRow {
    /// A word that stands for nothing.
    #[error("`{0}` means nothing here")]
    Unknown(String),
    /// A stitch that is stockinette and another, or neither.
    #[error("the stitch has no name, or two")]
    Stitch,
    /// A weight of no class.
    #[error("no weight class is named")]
    NoClass,
    /// A fibre that is of the table and another, or neither.
    #[error("a fibre has no name, or two")]
    Fibre,
    /// A lot of which not even the first line is there.
    #[error("the lot has no ledger")]
    NoLedger,
    /// A change without the rows from before.
    #[error("what was there before is not written down")]
    NothingBefore,
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

    /// Whether every cell is read.
    pub(super) fn is_at_end(&self) -> bool {
        self.next >= self.row.as_ref().column_count()
    }

    /// The next cell.
    pub(super) fn cell<T: FromSql>(&mut self) -> Result<T, DecodeError> {
        let cell = self.row.get(self.next)?;
        self.next += 1;
        Ok(cell)
    }

    /// The next record.
    pub(super) fn part<T: FromRow>(&mut self) -> Result<T, DecodeError> {
        T::decode(self)
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

/// What is read from a row, from left to right.
pub(super) trait FromRow: Sized {
    /// Reads its cells.
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError>;
}

/// What has a fixed run of columns, of which the first is never NULL.
pub(super) trait Columns: FromRow {
    /// How many columns.
    const WIDTH: usize;

    /// Writes the cells.
    fn encode(&self, cells: &mut dyn CellSink);
}

/// Unknown is NULL in every column.
impl<T: Columns> FromRow for Option<T> {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        if row.at_null() {
            row.next += T::WIDTH;
            return Ok(None);
        }
        row.part().map(Some)
    }
}

impl<T: Columns> Columns for Option<T> {
    const WIDTH: usize = T::WIDTH;

    fn encode(&self, cells: &mut dyn CellSink) {
        match self {
            Some(known) => known.encode(cells),
            None => (0..T::WIDTH).for_each(|_| cells.put(ValueRef::Null)),
        }
    }
}

/// The text, then its meaning.
impl<T: FromRow> FromRow for Printed<T> {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let (text, value): (String, T) = row.part()?;
        Ok(Self::new(text, value))
    }
}

impl<T: Columns> Columns for Printed<T> {
    const WIDTH: usize = 1 + T::WIDTH;

    fn encode(&self, cells: &mut dyn CellSink) {
        self.text.encode(cells);
        self.value.encode(cells);
    }
}

impl<T: FromRow + Copy + PartialOrd + std::fmt::Debug> FromRow for Interval<T> {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self::between(row.part()?, row.part()?)?)
    }
}

impl<T: Columns + Copy + PartialOrd + std::fmt::Debug> Columns for Interval<T> {
    const WIDTH: usize = 2 * T::WIDTH;

    fn encode(&self, cells: &mut dyn CellSink) {
        self.low().encode(cells);
        self.high().encode(cells);
    }
}

impl<T> FromRow for Id<T> {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        row.cell().map(Self::new)
    }
}

impl<T> Columns for Id<T> {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut dyn CellSink) {
        cells.put(ValueRef::Integer(self.number()));
    }
}

/// The first cells of every record: its number and its version.
impl<T: FromRow> FromRow for Stored<T> {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            id: row.part()?,
            version: row.cell()?,
            record: row.part()?,
        })
    }
}

/// What follows each other.
macro_rules! tuple_columns {
    ($($($part:ident $place:tt),*;)*) => {$(
        impl<$($part: FromRow),*> FromRow for ($($part),*) {
            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                Ok(($(row.part::<$part>()?),*))
            }
        }

        impl<$($part: Columns),*> Columns for ($($part),*) {
            const WIDTH: usize = 0 $(+ $part::WIDTH)*;

            fn encode(&self, cells: &mut dyn CellSink) {
                $(self.$place.encode(cells);)*
            }
        }
    )*};
}

tuple_columns! {
    A 0, B 1;
    A 0, B 1, C 2;
    A 0, B 1, C 2, D 3;
}

/// What SQLite knows itself.
macro_rules! plain_columns {
    ($($plain:ty: $cell:expr;)*) => {$(
        impl FromRow for $plain {
            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                row.cell()
            }
        }

        impl Columns for $plain {
            const WIDTH: usize = 1;

            fn encode(&self, cells: &mut dyn CellSink) {
                let cell: fn(&Self) -> ValueRef<'_> = $cell;
                cells.put(cell(self));
            }
        }
    )*};
}

plain_columns! {
    f64: |number| ValueRef::Real(*number);
    u8: |number| ValueRef::Integer(i64::from(*number));
    u32: |number| ValueRef::Integer(i64::from(*number));
    i64: |number| ValueRef::Integer(*number);
    bool: |yes| ValueRef::Integer(i64::from(*yes));
    String: |text| ValueRef::Text(text.as_bytes());
}

/// A record whose fields follow each other; what stands in other tables is filled in
/// later.
macro_rules! field_columns {
    ($record:ty { $($field:ident: $part:ty),* $(,)? } $(else { $($later:ident),* })?) => {
        impl $crate::store::rows::FromRow for $record {
            fn decode(
                row: &mut $crate::store::rows::RowReader<'_, '_>,
            ) -> Result<Self, $crate::store::rows::DecodeError> {
                Ok(Self {
                    $($field: row.part::<$part>()?,)*
                    $($($later: Default::default()),*)?
                })
            }
        }

        impl $crate::store::rows::Columns for $record {
            const WIDTH: usize = 0 $(+ <$part as $crate::store::rows::Columns>::WIDTH)*;

            fn encode(&self, cells: &mut dyn $crate::store::rows::CellSink) {
                $($crate::store::rows::Columns::encode(&self.$field, cells);)*
            }
        }
    };
}

pub(super) use field_columns;

/// Where cells are written, from left to right.
pub(super) trait CellSink {
    /// One more cell.
    fn put(&mut self, cell: ValueRef<'_>);
}

/// The parameters of a statement, bound as they come: of many rows each cell is copied
/// once.
pub(super) struct Parameters<'s, 'c> {
    statement: &'s mut Statement<'c>,
    count: usize,
    bound: rusqlite::Result<()>,
}

impl<'s, 'c> Parameters<'s, 'c> {
    pub(super) fn of(statement: &'s mut Statement<'c>) -> Self {
        Self {
            statement,
            count: 0,
            bound: Ok(()),
        }
    }

    /// Runs the statement with them.
    pub(super) fn execute(self) -> rusqlite::Result<usize> {
        self.bound.and_then(|()| self.statement.raw_execute())
    }
}

impl CellSink for Parameters<'_, '_> {
    fn put(&mut self, cell: ValueRef<'_>) {
        self.count += 1;
        if self.bound.is_ok() {
            let cell = ToSqlOutput::Borrowed(cell);
            self.bound = self.statement.raw_bind_parameter(self.count, cell);
        }
    }
}

/// The cells of a row that is to be written.
#[derive(Debug, Default)]
pub(super) struct Cells(Vec<Value>);

impl CellSink for Cells {
    fn put(&mut self, cell: ValueRef<'_>) {
        self.0.push(match cell {
            ValueRef::Null => Value::Null,
            ValueRef::Integer(number) => Value::Integer(number),
            ValueRef::Real(number) => Value::Real(number),
            // Every text comes from a `str`, and no table has bytes.
            ValueRef::Text(text) | ValueRef::Blob(text) => {
                Value::Text(String::from_utf8_lossy(text).into_owned())
            }
        });
    }
}

impl Cells {
    /// The cells of `part`.
    pub(super) fn of(part: &impl Columns) -> Self {
        Self::default().and(part)
    }

    /// The cells with those of `part` after them.
    pub(super) fn and(mut self, part: &impl Columns) -> Self {
        part.encode(&mut self);
        self
    }

    /// As parameters of a statement.
    pub(super) fn params(&self) -> impl Params {
        params_from_iter(&self.0)
    }
}
