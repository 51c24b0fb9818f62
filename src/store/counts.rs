//! Counts of the shelves that are under way: begun, added to line by line, and gone when
//! their differences are booked. Nothing of stock changes until then.

use super::{
    Reader, StoreError, Writer,
    rows::{DecodeError, FromRow, RowReader},
    sql::Table,
};
use crate::record::{Id, Lot, StockAmount};

const COUNT: Table = Table {
    name: "stock_count",
    what: "count",
    columns: "begun_on, place",
};

/// A count that is under way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptCount {
    /// Its number.
    pub number: i64,
    /// The day on which it was begun.
    pub begun_on: String,
    /// The place that is counted; empty for all.
    pub place: String,
}

impl FromRow for KeptCount {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            number: row.cell()?,
            begun_on: row.cell()?,
            place: row.cell()?,
        })
    }
}

/// One line of a count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeptCountLine {
    /// Its number.
    pub number: i64,
    /// The lot.
    pub lot: Id<Lot>,
    /// How much of it was counted.
    pub amount: StockAmount,
}

impl FromRow for KeptCountLine {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            number: row.cell()?,
            lot: row.part()?,
            amount: row.part()?,
        })
    }
}

impl Reader<'_> {
    /// The counts that are under way, the newest first.
    pub fn counts_under_way(&self) -> Result<Vec<KeptCount>, StoreError> {
        let sql = "SELECT id, begun_on, place FROM stock_count ORDER BY id DESC";
        self.db.all("stock_count", sql, [])
    }

    /// The count with this number, where it is under way.
    pub fn count_under_way(&self, number: i64) -> Result<KeptCount, StoreError> {
        let sql = "SELECT id, begun_on, place FROM stock_count WHERE id = ?";
        let found = self.db.first("stock_count", sql, [number])?;
        found.ok_or(COUNT.gone(number))
    }

    /// The lines of a count, in the order in which they were entered.
    pub fn count_lines(&self, number: i64) -> Result<Vec<KeptCountLine>, StoreError> {
        let sql = "SELECT id, lot, milliskeins, milligrams FROM stock_count_line \
                   WHERE stock_count = ? ORDER BY id";
        self.db.all("stock_count_line", sql, [number])
    }
}

impl Writer<'_> {
    /// Begins a count of a place, or of all places; its number.
    pub fn begin_count(&self, place: &str, on: &str) -> Result<i64, StoreError> {
        let sql = "INSERT INTO stock_count (begun_on, place) VALUES (?, ?)";
        self.db.run(sql, (on, place))?;
        Ok(self.db.conn.last_insert_rowid())
    }

    /// Adds a line to a count that is under way.
    pub fn add_count_line(
        &self,
        number: i64,
        lot: Id<Lot>,
        amount: StockAmount,
    ) -> Result<(), StoreError> {
        self.count_under_way(number)?;
        let sql = "INSERT INTO stock_count_line (stock_count, lot, milliskeins, milligrams) \
                   VALUES (?, ?, ?, ?)";
        let amount = (amount.milliskeins(), amount.milligrams());
        let cells = (number, lot.number(), amount.0, amount.1);
        self.db.run(sql, cells).map(drop)
    }

    /// Takes a line out of a count.
    pub fn remove_count_line(&self, number: i64, line: i64) -> Result<(), StoreError> {
        let sql = "DELETE FROM stock_count_line WHERE stock_count = ? AND id = ?";
        match self.db.run(sql, [number, line])? {
            0 => Err(StoreError::Gone {
                what: "line",
                id: line,
            }),
            _ => Ok(()),
        }
    }

    /// Ends a count with all its lines.
    pub fn end_count(&self, number: i64) -> Result<(), StoreError> {
        self.db.remove(&COUNT, number)
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::*;
    use super::*;

    #[test]
    fn a_count_holds_its_lines_until_it_ends() {
        let (mut store, yarn) = shelf();
        let id = add(&mut store, yarn, &lot("moss", None), 5.0);
        let two = StockAmount::new(2.0, None).unwrap();
        let number = store
            .write(|writer| {
                let number = writer.begin_count("shelf", "2026-03-01")?;
                writer.add_count_line(number, id, two)?;
                writer.add_count_line(number, id, two)?;
                Ok::<_, StoreError>(number)
            })
            .unwrap();
        assert_eq!(store.take_last_change(), store.take_last_change());
        let reader = store.reader().unwrap();
        let lines = reader.count_lines(number).unwrap();
        assert_eq!(lines.len(), 2);
        assert_eq!(reader.count_under_way(number).unwrap().place, "shelf");
        drop(reader);
        let first = lines[0].number;
        store
            .write(|writer| writer.remove_count_line(number, first))
            .unwrap();
        let again = store.write(|writer| writer.remove_count_line(number, first));
        assert!(matches!(again, Err(StoreError::Gone { .. })));
        store.write(|writer| writer.end_count(number)).unwrap();
        let gone = store.write(|writer| writer.add_count_line(number, id, two));
        assert!(matches!(gone, Err(StoreError::Gone { .. })));
        assert_eq!(store.reader().unwrap().counts_under_way().unwrap(), []);
        assert_eq!(store.check().unwrap(), []);
    }
}
