//! Records that may only be read, or must not be changed by looking at them.
//!
//! Where the file itself cannot be read as it lies, because a write-ahead log beside
//! it asks for a side file that cannot be made, a copy is read that is gone with the
//! store; so is one that was brought to the newest format.

use super::{
    Store, StoreError,
    copy::{copy, file_error, with_ending},
    database::{BUSY_TIMEOUT, STATEMENTS},
    header,
    migrations::{MIGRATIONS, migrate, newest},
    sql::at,
};
use rusqlite::{Connection, OpenFlags};
use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};
use tempfile::TempDir;

impl Store {
    /// Opens a file that must be there to look it through; neither it nor its format
    /// is changed, and nothing can be written.
    pub fn open_unchanged(path: &Path) -> Result<Self, StoreError> {
        let format = header::existing(path, newest(MIGRATIONS))?;
        if format == newest(MIGRATIONS) && header::is_logged(path) {
            // Its own side files are made and swept as in every use of it.
            return Self::open_existing(path);
        }
        Self::read_only(path, BUSY_TIMEOUT, MIGRATIONS)
    }

    /// Opens a file that cannot be written, or must not be.
    pub(super) fn read_only(
        path: &Path,
        busy_timeout: Duration,
        steps: &[&str],
    ) -> Result<Self, StoreError> {
        let failed = |error| at(path, error);
        let (mut conn, folder) = readable(path)?;
        conn.busy_timeout(busy_timeout).map_err(failed)?;
        let format = conn.pragma_query_value(None, "user_version", |row| row.get(0));
        let format: u32 = format.map_err(failed)?;
        if format < newest(steps) {
            conn = in_passing(&conn, path, busy_timeout)?;
            migrate(&mut conn, path, steps)?;
        }
        settings(&conn).map_err(failed)?;
        Ok(Self::of(conn, path.to_owned(), busy_timeout).holding(folder))
    }
}

fn settings(conn: &Connection) -> rusqlite::Result<()> {
    conn.set_prepared_statement_cache_capacity(STATEMENTS);
    conn.pragma_update(None, "trusted_schema", false)?;
    conn.pragma_update(None, "query_only", true)
}

/// A copy that is gone with its connection.
fn in_passing(
    from: &Connection,
    path: &Path,
    busy_timeout: Duration,
) -> Result<Connection, StoreError> {
    let mut to = Connection::open("").map_err(|error| at(path, error))?;
    copy(from, &mut to, path, busy_timeout, |_, _| {})?;
    Ok(to)
}

/// A connection that reads the file or a copy of it, and the folder of the copy.
fn readable(path: &Path) -> Result<(Connection, Option<TempDir>), StoreError> {
    if is_log_empty(path) && header::is_logged(path) {
        // Nobody has it open: it can be read without the side files.
        if let Some(conn) = unshared(path) {
            return Ok((conn, None));
        }
    }
    match opened(path, OpenFlags::SQLITE_OPEN_READ_ONLY) {
        Ok(conn) => Ok((conn, None)),
        Err(error) => match at(path, error) {
            StoreError::ReadOnly { .. } => copied(path),
            other => Err(other),
        },
    }
}

fn opened(path: &Path, how: OpenFlags) -> rusqlite::Result<Connection> {
    let flags = how | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(path, flags)?;
    conn.query_row("SELECT count(*) FROM sqlite_schema", [], |_| Ok(()))?;
    Ok(conn)
}

fn is_log_empty(path: &Path) -> bool {
    fs::metadata(with_ending(path, "-wal")).map_or(true, |log| log.len() == 0)
}

/// The file read as one that nobody else uses; `None` where its name or its pages
/// do not allow it.
fn unshared(path: &Path) -> Option<Connection> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"/._-".contains(&byte);
    let name = fs::canonicalize(path).ok()?;
    let name: String = name
        .to_str()?
        .bytes()
        .map(|byte| match plain(byte) {
            true => char::from(byte).to_string(),
            false => format!("%{byte:02X}"),
        })
        .collect();
    let uri = PathBuf::from(format!("file:{name}?immutable=1"));
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    opened(&uri, flags).ok()
}

/// A copy of the file and of its log in a folder for us alone.
fn copied(path: &Path) -> Result<(Connection, Option<TempDir>), StoreError> {
    let folder = tempfile::tempdir().map_err(file_error("copy", path))?;
    let copy = folder.path().join("records.db");
    let log = with_ending(path, "-wal");
    fs::copy(path, &copy).map_err(file_error("copy", path))?;
    if log.exists() {
        fs::copy(&log, with_ending(&copy, "-wal")).map_err(file_error("copy", &log))?;
    }
    #[cfg(unix)]
    for file in [copy.clone(), with_ending(&copy, "-wal")] {
        use std::os::unix::fs::PermissionsExt;
        // What could not be written there can be here; a log may be missing.
        drop(fs::set_permissions(file, fs::Permissions::from_mode(0o600)));
    }
    let conn = opened(&copy, OpenFlags::SQLITE_OPEN_READ_WRITE);
    Ok((conn.map_err(|error| at(path, error))?, Some(folder)))
}
