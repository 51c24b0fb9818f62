//! Looking at the records and changing them. Every question that reads is asked of
//! a [`Reader`], which sees them as they were at one moment. A [`Writer`] is one
//! transaction, kept whole or not at all; it reads too, and sees what it has written.

use super::{
    StoreError,
    name_search::NameCache,
    sql::{Db, at},
};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::{cell::RefCell, ops::Deref, path::Path};

/// The records as they were at one moment, whoever writes meanwhile.
pub struct Reader<'a> {
    pub(super) db: Db<'a>,
    pub(super) snapshot: Option<Transaction<'a>>,
    /// Names that are kept between searches, where they are.
    pub(super) names: Option<&'a NameCache>,
}

impl<'a> Reader<'a> {
    /// Begins to look; within a transaction, looks at that one's state.
    pub(super) fn begin(
        conn: &'a Connection,
        path: &'a Path,
        how: TransactionBehavior,
    ) -> Result<Self, StoreError> {
        let snapshot = if conn.is_autocommit() {
            Some(Transaction::new_unchecked(conn, how).map_err(|e| at(path, e))?)
        } else {
            None
        };
        let db = Db { conn, path };
        Ok(Self {
            db,
            snapshot,
            names: None,
        })
    }
}

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
}
