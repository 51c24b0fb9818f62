//! The store: one connection to one file.

use super::{
    Reader, StoreError, Writer, check, copies,
    copies::file_error,
    db::at,
    header::{self, Kind},
    schema::{APPLICATION_ID, MIGRATIONS, migrate, newest},
};
use rusqlite::{Connection, OpenFlags, TransactionBehavior};
use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};

/// How long a file that someone else writes is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// Statements kept ready.
const STATEMENTS: usize = 64;

/// The records, kept in one file through one connection.
#[derive(Debug)]
pub struct Store {
    conn: Connection,
    path: PathBuf,
    patience: Duration,
    kept_copy: Option<PathBuf>,
}

impl Store {
    /// Opens the file, or starts a new one, and its folder, where there is none.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Self::open_with(path, PATIENCE, MIGRATIONS)
    }

    /// Opens a file that must be there.
    pub fn open_existing(path: &Path) -> Result<Self, StoreError> {
        let path = path.to_owned();
        if !path.exists() {
            return Err(StoreError::Missing { path });
        }
        match header::inspect(&path, newest(MIGRATIONS))? {
            Kind::Empty => Err(StoreError::NotADatabase { path }),
            Kind::Ours { .. } => Self::open(&path),
        }
    }

    /// Records that are kept only as long as the store lives.
    pub fn in_memory() -> Result<Self, StoreError> {
        let path = PathBuf::from(":memory:");
        let conn = Connection::open_in_memory().map_err(|error| at(&path, error))?;
        Self::ready(conn, path, PATIENCE, MIGRATIONS, Kind::Empty)
    }

    pub(super) fn open_with(
        path: &Path,
        patience: Duration,
        steps: &[&str],
    ) -> Result<Self, StoreError> {
        let kind = match path.exists() {
            true => header::inspect(path, newest(steps))?,
            false => start(path)?,
        };
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let conn = Connection::open_with_flags(path, flags).map_err(|error| at(path, error))?;
        if conn.is_readonly("main").map_err(|error| at(path, error))? {
            let path = path.to_owned();
            return Err(StoreError::ReadOnly { path });
        }
        Self::ready(conn, path.to_owned(), patience, steps, kind)
    }

    /// Sets the connection up and brings the file to the newest format.
    fn ready(
        conn: Connection,
        path: PathBuf,
        patience: Duration,
        steps: &[&str],
        kind: Kind,
    ) -> Result<Self, StoreError> {
        settings(&conn, patience, kind).map_err(|error| at(&path, error))?;
        let mut store = Self {
            conn,
            path,
            patience,
            kept_copy: None,
        };
        store.to_newest(steps)?;
        Ok(store)
    }

    /// Migrates where the format is older, after keeping a copy.
    pub(super) fn to_newest(&mut self, steps: &[&str]) -> Result<(), StoreError> {
        let format: u32 = self
            .conn
            .pragma_query_value(None, "user_version", |row| row.get(0))
            .map_err(|error| at(&self.path, error))?;
        let newest = newest(steps);
        if format > newest {
            return Err(StoreError::Newer {
                path: self.path.clone(),
                file: format,
                program: newest,
            });
        }
        if (1..newest).contains(&format) && self.is_file() {
            let what = newest.to_string();
            let copy = copies::keep_copy(&self.conn, &self.path, &what, self.patience)?;
            self.kept_copy = Some(copy);
        }
        migrate(&mut self.conn, &self.path, steps)
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The copy that was kept before the file was brought to a newer format
    /// when it was opened.
    pub fn kept_copy(&self) -> Option<&Path> {
        self.kept_copy.as_deref()
    }

    /// Looks at the records as they are now.
    pub fn reader(&self) -> Result<Reader<'_>, StoreError> {
        Reader::begin(&self.conn, &self.path, TransactionBehavior::Deferred)
    }

    /// Does `work` in one transaction: all of it is kept, or none of it where
    /// it fails.
    pub fn write<T, E: From<StoreError>>(
        &mut self,
        work: impl FnOnce(&mut Writer<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        let mut writer = Writer::begin(&self.conn, &self.path)?;
        let done = work(&mut writer)?;
        writer.commit()?;
        Ok(done)
    }

    /// Writes a copy of all records to `to`, which must not exist; `progress`
    /// hears how much of how much is done.
    pub fn backup_to(&self, to: &Path, progress: impl FnMut(u64, u64)) -> Result<(), StoreError> {
        let moment = self.reader()?;
        moment.count_yarns()?;
        copies::copy_to(&self.conn, to, self.patience, progress)
    }

    /// Puts the records of the backup at `from` in the place of these, after
    /// looking the backup over and keeping a copy of these, whose name it gives.
    pub fn restore_from(
        &mut self,
        from: &Path,
        progress: impl FnMut(u64, u64),
    ) -> Result<Option<PathBuf>, StoreError> {
        let source = sound(from)?;
        let kept = match self.is_file() {
            true => {
                let copy = copies::keep_copy(&self.conn, &self.path, "restore", self.patience);
                Some(copy?)
            }
            false => None,
        };
        self.conn.flush_prepared_statement_cache();
        copies::copy(&source, &mut self.conn, &self.path, self.patience, progress)?;
        self.to_newest(MIGRATIONS)?;
        Ok(kept)
    }

    /// What is wrong with the file and its records, a sentence each; empty when
    /// all is sound.
    pub fn check(&self) -> Result<Vec<String>, StoreError> {
        let file = check::file(&self.conn, &self.path)?;
        match file.is_empty() {
            true => self.reader()?.check_records(),
            false => Ok(file),
        }
    }

    fn is_file(&self) -> bool {
        self.path != Path::new(":memory:")
    }
}

/// A new empty file, and its folder.
fn start(path: &Path) -> Result<Kind, StoreError> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if let Some(folder) = folder {
        fs::create_dir_all(folder).map_err(file_error("make the folder", folder))?;
    }
    let mut options = fs::OpenOptions::new();
    let made = options.write(true).create(true).truncate(false).open(path);
    made.map_err(file_error("write", path))?;
    Ok(Kind::Empty)
}

/// What holds for this connection, and for a new file the mark that it is ours.
/// The mark comes before write-ahead logging, so that it stands in the file
/// itself and not in a side file only.
fn settings(conn: &Connection, patience: Duration, kind: Kind) -> rusqlite::Result<()> {
    conn.busy_timeout(patience)?;
    conn.set_prepared_statement_cache_capacity(STATEMENTS);
    conn.pragma_update(None, "trusted_schema", false)?;
    conn.pragma_update(None, "foreign_keys", true)?;
    if kind == Kind::Empty {
        conn.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    conn.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))
}

/// A backup that is whole, ours and not newer than this program.
fn sound(path: &Path) -> Result<Connection, StoreError> {
    if !path.exists() {
        let path = path.to_owned();
        return Err(StoreError::Missing { path });
    }
    if header::inspect(path, newest(MIGRATIONS))? == Kind::Empty {
        let path = path.to_owned();
        return Err(StoreError::NotADatabase { path });
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(path, flags).map_err(|error| at(path, error))?;
    let problems = check::file(&conn, path)?;
    match problems.is_empty() {
        true => Ok(conn),
        false => Err(StoreError::Unsound {
            path: path.to_owned(),
            problems,
        }),
    }
}
