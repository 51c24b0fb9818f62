//! Records as cells of a row: what has a fixed run of columns is [`Kept`], and
//! is written and read cell by cell in one order.

use crate::{measure::Interval, record::Printed};
use rusqlite::{
    Row,
    types::{FromSql, Null, ValueRef},
};

pub(super) use super::put::Cells;

/// What is wrong with a row.
#[derive(Debug)]
pub(super) struct Flaw(pub(super) String);

impl<E: std::error::Error> From<E> for Flaw {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

impl Flaw {
    /// A word that stands for nothing known.
    pub(super) fn unknown(what: &str, word: &str) -> Self {
        Self(format!("`{word}` is no {what}"))
    }
}

/// The cells of a row that is read, from left to right.
pub(super) struct Taken<'r, 's> {
    row: &'r Row<'s>,
    next: usize,
}

impl<'r, 's> Taken<'r, 's> {
    /// From the first cell.
    pub(super) fn new(row: &'r Row<'s>) -> Self {
        Self { row, next: 0 }
    }

    /// The next cell.
    pub(super) fn cell<T: FromSql>(&mut self) -> Result<T, Flaw> {
        let cell = self.row.get(self.next)?;
        self.next += 1;
        Ok(cell)
    }

    /// The next record.
    pub(super) fn part<T: Kept>(&mut self) -> Result<T, Flaw> {
        T::take(self)
    }

    /// Passes a cell by.
    pub(super) fn pass(&mut self) {
        self.next += 1;
    }

    /// The text of the next cell, not copied.
    pub(super) fn text(&mut self) -> Result<&'r str, Flaw> {
        let cell = self.row.get_ref(self.next)?;
        self.next += 1;
        Ok(cell.as_str()?)
    }

    fn at_null(&self) -> bool {
        matches!(self.row.get_ref(self.next), Ok(ValueRef::Null))
    }
}

/// What has a fixed run of columns, of which the first is never NULL.
pub(super) trait Kept: Sized {
    /// How many columns.
    const WIDTH: usize;

    /// Writes the cells.
    fn put(&self, cells: &mut Cells);

    /// Reads the cells.
    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw>;
}

/// Unknown is NULL in every column.
impl<T: Kept> Kept for Option<T> {
    const WIDTH: usize = T::WIDTH;

    fn put(&self, cells: &mut Cells) {
        match self {
            Some(known) => known.put(cells),
            None => (0..T::WIDTH).for_each(|_| cells.push(Null)),
        }
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        if row.at_null() {
            row.next += T::WIDTH;
            return Ok(None);
        }
        row.part().map(Some)
    }
}

/// The text, then its meaning.
impl<T: Kept> Kept for Printed<T> {
    const WIDTH: usize = 1 + T::WIDTH;

    fn put(&self, cells: &mut Cells) {
        self.text.put(cells);
        self.value.put(cells);
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        let text: String = row.cell()?;
        Ok(Self::new(text, row.part()?))
    }
}

impl<T: Kept + Copy + PartialOrd + std::fmt::Debug> Kept for Interval<T> {
    const WIDTH: usize = 2 * T::WIDTH;

    fn put(&self, cells: &mut Cells) {
        self.low().put(cells);
        self.high().put(cells);
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        Ok(Self::between(row.part()?, row.part()?)?)
    }
}

/// What comes second follows what comes first.
impl<A: Kept, B: Kept> Kept for (A, B) {
    const WIDTH: usize = A::WIDTH + B::WIDTH;

    fn put(&self, cells: &mut Cells) {
        self.0.put(cells);
        self.1.put(cells);
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        Ok((row.part()?, row.part()?))
    }
}

impl Kept for String {
    const WIDTH: usize = 1;

    fn put(&self, cells: &mut Cells) {
        cells.text(self);
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        row.cell()
    }
}

/// Plain numbers of one column.
macro_rules! kept_plain {
    ($($plain:ty),*) => {$(
        impl Kept for $plain {
            const WIDTH: usize = 1;

            fn put(&self, cells: &mut Cells) {
                cells.push(*self);
            }

            fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
                row.cell()
            }
        }
    )*};
}

kept_plain!(f64, u8, u32, i64, bool);

/// A record whose fields follow each other.
macro_rules! kept_fields {
    ($record:ty { $($field:ident: $part:ty),* $(,)? }) => {
        impl $crate::store::cells::Kept for $record {
            const WIDTH: usize = 0 $(+ <$part as $crate::store::cells::Kept>::WIDTH)*;

            fn put(&self, cells: &mut $crate::store::cells::Cells) {
                $($crate::store::cells::Kept::put(&self.$field, cells);)*
            }

            fn take(
                row: &mut $crate::store::cells::Taken<'_, '_>,
            ) -> Result<Self, $crate::store::cells::Flaw> {
                Ok(Self { $($field: row.part::<$part>()?),* })
            }
        }
    };
}

pub(super) use kept_fields;
