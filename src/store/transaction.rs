//! Looking at the records and changing them. Every question that reads is asked of
//! a [`Reader`], which sees them as they were at one moment. A [`Writer`] is one
//! transaction, kept whole or not at all; it reads too, and sees what it has written.

use super::{
    StoreError,
    changes::Journal,
    name_search::NameCache,
    sql::{Db, at},
};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::{cell::RefCell, ops::Deref, path::Path};

/// The records as they were at one moment, whoever writes meanwhile.
pub struct Reader<'a> {
    pub(super) db: Db<'a>,
    pub(super) snapshot: Option<Transaction<'a>>,
    /// Names that stay in memory between searches, where they are.
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
    /// What is written down of this change.
    pub(super) journal: Journal,
}

impl<'a> Deref for Writer<'a> {
    type Target = Reader<'a>;

    fn deref(&self) -> &Reader<'a> {
        &self.reader
    }
}

impl<'a> Writer<'a> {
    /// Begins to write, at `now` where that is known.
    pub(super) fn begin(
        conn: &'a Connection,
        path: &'a Path,
        now: Option<String>,
    ) -> Result<Self, StoreError> {
        let reader = Reader::begin(conn, path, TransactionBehavior::Immediate)?;
        let to_build = RefCell::default();
        let journal = Journal::at(now);
        Ok(Self {
            reader,
            to_build,
            journal,
        })
    }

    /// Keeps all of it; the number of the change, where records were changed.
    pub(super) fn commit(self) -> Result<Option<i64>, StoreError> {
        self.build_indexes()?;
        self.write_added_yarns_down()?;
        let change = self.journal.change();
        let Reader { db, snapshot, .. } = self.reader;
        let committed = snapshot.map_or(Ok(()), |transaction| transaction.commit());
        committed.map_err(|error| at(db.path, error))?;
        Ok(change)
    }
}
