//! Changing the records: a [`Writer`] is one transaction, kept whole or not at
//! all. It reads too, and sees what it has written.

use super::{Reader, StoreError, db::at};
use rusqlite::{Connection, TransactionBehavior};
use std::{cell::RefCell, ops::Deref, path::Path};

/// One transaction that writes.
pub struct Writer<'a> {
    reader: Reader<'a>,
    /// How the indexes are built that were taken away and are not there again.
    pub(super) to_build: RefCell<Vec<String>>,
}

impl<'a> Deref for Writer<'a> {
    type Target = Reader<'a>;

    fn deref(&self) -> &Reader<'a> {
        &self.reader
    }
}

impl<'a> Writer<'a> {
    pub(super) fn begin(conn: &'a Connection, path: &'a Path) -> Result<Self, StoreError> {
        let reader = Reader::begin(conn, path, TransactionBehavior::Immediate)?;
        let to_build = RefCell::default();
        Ok(Self { reader, to_build })
    }

    pub(super) fn commit(self) -> Result<(), StoreError> {
        self.build_indexes()?;
        let Reader { db, snapshot, .. } = self.reader;
        let committed = snapshot.map_or(Ok(()), |transaction| transaction.commit());
        committed.map_err(|error| at(db.path, error))
    }

    /// Of an update that names the version: that it found its row.
    pub(super) fn found(
        &self,
        rows: usize,
        (table, what): (&'static str, &'static str),
        id: i64,
    ) -> Result<(), StoreError> {
        if rows > 0 {
            return Ok(());
        }
        let there = format!("SELECT count(*) FROM {table} WHERE id = ?");
        match self.db.number(&there, [id])? {
            0 => Err(StoreError::Gone { what, id }),
            _ => Err(StoreError::ChangedMeanwhile {
                what: format!("{what} number {id}"),
            }),
        }
    }
}
