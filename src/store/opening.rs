//! A file on its way to being records: made, and set up for this connection.

use super::{StoreError, copies::file_error, patience::switch_to_wal, schema::APPLICATION_ID};
use rusqlite::Connection;
use std::{fs, path::Path, time::Duration};

/// Statements kept ready.
const STATEMENTS: usize = 64;

/// A new empty file, and its folder.
pub(super) fn start(path: &Path) -> Result<(), StoreError> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if let Some(folder) = folder {
        fs::create_dir_all(folder).map_err(file_error("make the folder", folder))?;
    }
    let mut options = fs::OpenOptions::new();
    let made = options.write(true).create(true).truncate(false).open(path);
    made.map_err(file_error("write", path))?;
    Ok(())
}

/// What holds for this connection, and for a new file the mark that it is ours.
/// The mark comes before write-ahead logging, so that it stands in the file
/// itself and not in a side file only.
pub(super) fn settings(conn: &Connection, patience: Duration) -> rusqlite::Result<()> {
    conn.busy_timeout(patience)?;
    conn.set_prepared_statement_cache_capacity(STATEMENTS);
    conn.pragma_update(None, "trusted_schema", false)?;
    conn.pragma_update(None, "foreign_keys", true)?;
    // What has to be sorted and does not fit into the memory for pages goes to
    // disk, so that memory stays flat.
    conn.pragma_update(None, "temp_store", "FILE")?;
    // Not by what the header said: a start that was killed may have left the mark
    // in the file and a journal that takes it back.
    let mark: i32 = conn.pragma_query_value(None, "application_id", |row| row.get(0))?;
    if mark != APPLICATION_ID {
        conn.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    switch_to_wal(conn, patience)
}

#[cfg(test)]
mod tests {
    use super::super::{
        header::{self, Kind},
        schema::{MIGRATIONS, newest},
        test_files::*,
    };
    use super::*;

    /// A start that was killed in its first transaction leaves the mark in the
    /// file and a journal that takes it back when SQLite opens it.
    #[test]
    fn a_mark_that_was_taken_back_is_set_again() {
        let folder = folder();
        let path = file(&folder);
        let conn = Connection::open(&path).unwrap();
        settings(&conn, SHORT).unwrap();
        conn.pragma_update(None, "application_id", 0).unwrap();
        settings(&conn, SHORT).unwrap();
        drop(conn);
        let kind = header::inspect(&path, newest(MIGRATIONS)).unwrap();
        assert_eq!(kind, Kind::Ours { format: 0 });
    }
}
