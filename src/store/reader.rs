//! Looking at the records: every question that reads is asked of a [`Reader`],
//! which sees them as they were at one moment.

use super::{
    StoreError,
    cells::{self, Flaw, Taken},
    db::{Db, at},
    names::KeptNames,
};
use crate::record::{Id, Stored};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::path::Path;

/// The records as they were at one moment, whoever writes meanwhile.
pub struct Reader<'a> {
    pub(super) db: Db<'a>,
    pub(super) snapshot: Option<Transaction<'a>>,
    /// Names that are kept between searches, where they are.
    pub(super) names: Option<&'a KeptNames>,
}

impl<'a> Reader<'a> {
    /// Begins to look; within a transaction, looks at that one's state.
    pub(super) fn begin(
        conn: &'a Connection,
        path: &'a Path,
        how: TransactionBehavior,
    ) -> Result<Self, StoreError> {
        let snapshot = match conn.is_autocommit() {
            true => Some(Transaction::new_unchecked(conn, how).map_err(|e| at(path, e))?),
            false => None,
        };
        let db = Db { conn, path };
        Ok(Self {
            db,
            snapshot,
            names: None,
        })
    }
}

/// The first cells of every record: its number and its version.
pub(super) fn stored<T>(
    row: &mut Taken<'_, '_>,
    record: impl FnOnce(&mut Taken<'_, '_>) -> Result<T, Flaw>,
) -> Result<Stored<T>, Flaw> {
    Ok(Stored {
        id: Id::new(row.cell()?),
        version: row.cell()?,
        record: record(row)?,
    })
}

/// A record that is one run of cells.
pub(super) fn stored_part<T: cells::Kept>(row: &mut Taken<'_, '_>) -> Result<Stored<T>, Flaw> {
    stored(row, |row| row.part())
}
