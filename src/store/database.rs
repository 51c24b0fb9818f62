//! The store: one connection to one file, which is made where there is none, set up
//! for this connection and brought to the newest format.

use super::{
    Problem, Reader, StoreError, Writer,
    busy_retry::switch_to_wal,
    check,
    copy::file_error,
    daily::{DailyBackups, part_from_others},
    header,
    migrations::{APPLICATION_ID, MIGRATIONS, newest},
    name_search::NameCache,
    sql::at,
    temporary::{folder_of, sweep},
};
use rusqlite::{Connection, OpenFlags, TransactionBehavior};
use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};
use tempfile::TempDir;

/// How long a file that someone else writes is waited for.
pub(super) const BUSY_TIMEOUT: Duration = Duration::from_secs(5);

/// The records, kept in one file through one connection.
#[derive(Debug)]
pub struct Store {
    pub(super) conn: Connection,
    pub(super) path: PathBuf,
    pub(super) busy_timeout: Duration,
    pub(super) kept_copy: Option<PathBuf>,
    names: Option<NameCache>,
    pub(super) daily: Option<DailyBackups>,
    /// What time it is, where someone says it.
    clock: Option<fn() -> String>,
    last_change: Option<i64>,
    /// Where a copy lies that is read in the place of the file.
    _folder: Option<TempDir>,
}

impl Store {
    /// Opens the file, or starts a new one, and its folder, where there is none.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Self::open_with(path, BUSY_TIMEOUT, MIGRATIONS)
    }

    /// Opens a file that must be there.
    pub fn open_existing(path: &Path) -> Result<Self, StoreError> {
        header::existing(path, newest(MIGRATIONS))?;
        Self::open(path)
    }

    /// Records that live only as long as the store lives.
    pub fn in_memory() -> Result<Self, StoreError> {
        let path = PathBuf::from(":memory:");
        let conn = Connection::open_in_memory().map_err(|error| at(&path, error))?;
        Self::ready(conn, path, BUSY_TIMEOUT, MIGRATIONS)
    }

    pub(super) fn open_with(
        path: &Path,
        busy_timeout: Duration,
        steps: &[&str],
    ) -> Result<Self, StoreError> {
        if path.exists() {
            header::inspect(path, newest(steps))?;
            part_from_others(path).map_err(file_error("write", path))?;
        } else {
            start(path)?;
        }
        sweep(folder_of(path));
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let conn = Connection::open_with_flags(path, flags).map_err(|error| at(path, error))?;
        if conn.is_readonly("main").map_err(|error| at(path, error))? {
            return Self::read_only(path, busy_timeout, steps);
        }
        match Self::ready(conn, path.to_owned(), busy_timeout, steps) {
            // The file may be written, its folder may not.
            Err(StoreError::ReadOnly { .. }) => Self::read_only(path, busy_timeout, steps),
            done => done,
        }
    }

    /// Sets the connection up and brings the file to the newest format.
    fn ready(
        conn: Connection,
        path: PathBuf,
        busy_timeout: Duration,
        steps: &[&str],
    ) -> Result<Self, StoreError> {
        settings(&conn, busy_timeout).map_err(|error| at(&path, error))?;
        let mut store = Self::of(conn, path, busy_timeout);
        store.bring_to_newest(steps)?;
        Ok(store)
    }

    pub(super) fn of(conn: Connection, path: PathBuf, busy_timeout: Duration) -> Self {
        Self {
            conn,
            path,
            busy_timeout,
            kept_copy: None,
            names: None,
            daily: None,
            clock: None,
            last_change: None,
            _folder: None,
        }
    }

    /// The same, with a folder that is gone with the store.
    pub(super) fn holding(self, folder: Option<TempDir>) -> Self {
        Self {
            _folder: folder,
            ..self
        }
    }

    /// The same, keeping the names of yarns in memory from one search to the next,
    /// together with all that have the same `names`; they must be of one file.
    #[must_use]
    pub fn with_name_cache(mut self, names: NameCache) -> Self {
        self.names = Some(names);
        self
    }

    /// The same, writing down when each change was made.
    #[must_use]
    pub fn with_clock(mut self, clock: fn() -> String) -> Self {
        self.clock = Some(clock);
        self
    }

    /// The number of the change that was made last, where one was since this was asked;
    /// no other is given for an undo.
    pub fn take_last_change(&mut self) -> Option<i64> {
        self.last_change.take()
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
        let reader = Reader::begin(&self.conn, &self.path, TransactionBehavior::Deferred)?;
        let names = self.names.as_ref();
        Ok(Reader { names, ..reader })
    }

    /// Does `work` in one transaction: all of it is kept, or none of it where
    /// it fails.
    pub fn write<T, E: From<StoreError>>(
        &mut self,
        work: impl FnOnce(&mut Writer<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        let now = self.clock.map(|clock| clock());
        let mut writer = Writer::begin(&self.conn, &self.path, now)?;
        let done = work(&mut writer)?;
        self.last_change = writer.commit()?;
        self.back_up_today();
        Ok(done)
    }

    /// What is wrong with the file and its records; empty when all is sound.
    pub fn check(&self) -> Result<Vec<Problem>, StoreError> {
        check::all(&self.conn, &self.path)
    }

    pub(super) fn is_file(&self) -> bool {
        self.path != Path::new(":memory:")
    }
}

/// Statements kept ready.
pub(super) const STATEMENTS: usize = 64;

/// A new empty file for its owner alone, as its side files will be; and its folder.
pub(super) fn start(path: &Path) -> Result<(), StoreError> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if let Some(folder) = folder {
        fs::create_dir_all(folder).map_err(file_error("make", folder))?;
    }
    let mut options = fs::OpenOptions::new();
    options.write(true).create(true).truncate(false);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options.open(path).map_err(file_error("write", path))?;
    Ok(())
}

/// What holds for this connection, and for a new file the mark that it is ours.
/// The mark comes before write-ahead logging, so that it stands in the file
/// itself and not in a side file only.
pub(super) fn settings(conn: &Connection, busy_timeout: Duration) -> rusqlite::Result<()> {
    conn.busy_timeout(busy_timeout)?;
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
    switch_to_wal(conn, busy_timeout)
}

#[cfg(test)]
mod tests {
    use super::super::{header::Kind, samples::*, test_files::*};
    use super::*;
    use std::fs;

    /// What opening `path` says; neither it nor its folder may change.
    fn refusal(folder: &tempfile::TempDir, path: &Path) -> StoreError {
        let before = (fs::read(path).unwrap(), names(folder));
        let refused = Store::open_with(path, SHORT, MIGRATIONS).unwrap_err();
        assert_eq!((fs::read(path).unwrap(), names(folder)), before);
        refused
    }

    #[test]
    fn a_new_file_is_made_with_its_folder_and_opened_again() {
        let folder = folder();
        let path = folder.path().join("deep/er/records.db");
        assert_eq!(count(&stocked(&path)), 1);
        let again = Store::open_existing(&path).unwrap();
        assert_eq!((again.path(), again.kept_copy()), (path.as_path(), None));
        assert_eq!(count(&again), 1);
        assert_eq!(again.check().unwrap(), []);
    }

    #[test]
    fn a_missing_file_is_not_made_where_it_must_be_there() {
        let folder = folder();
        let refused = Store::open_existing(&file(&folder)).unwrap_err();
        assert!(matches!(refused, StoreError::Missing { .. }));
        assert!(names(&folder).is_empty());
        fs::write(file(&folder), "").unwrap();
        let refused = Store::open_existing(&file(&folder)).unwrap_err();
        assert!(matches!(refused, StoreError::NotADatabase { .. }));
    }

    #[test]
    fn several_may_start_one_new_file_at_once() {
        for _ in 0..20 {
            let folder = folder();
            let path = file(&folder);
            std::thread::scope(|scope| {
                let started: Vec<_> = (0..4)
                    .map(|_| scope.spawn(|| Store::open(&path).map(|_| ())))
                    .collect();
                for one in started {
                    one.join().unwrap().unwrap();
                }
            });
        }
    }

    #[test]
    fn a_file_that_is_no_database_is_refused_and_not_touched() {
        let folder = folder();
        for text in [
            "maker,name\n".repeat(50),
            "x".to_owned(),
            "SQLite format 3\0".to_owned(),
        ] {
            fs::write(file(&folder), text).unwrap();
            let refused = refusal(&folder, &file(&folder));
            assert!(
                matches!(refused, StoreError::NotADatabase { .. }),
                "{refused}"
            );
        }
    }

    #[test]
    fn a_database_of_another_program_is_refused_and_not_touched() {
        let folder = folder();
        raw(
            &file(&folder),
            "PRAGMA journal_mode = WAL; CREATE TABLE notes (text)",
        );
        let refused = refusal(&folder, &file(&folder));
        assert!(matches!(refused, StoreError::Foreign { .. }), "{refused}");
    }

    #[test]
    fn a_newer_file_is_refused_and_not_touched() {
        let folder = folder();
        drop(stocked(&file(&folder)));
        raw(&file(&folder), "PRAGMA user_version = 99");
        let told = refusal(&folder, &file(&folder)).to_string();
        let formats = format!(
            "format 99 and this program knows formats up to {}",
            MIGRATIONS.len()
        );
        assert!(told.contains(&formats), "{told}");
        assert!(told.ends_with("update the program"), "{told}");
    }

    #[test]
    fn a_file_that_was_cut_short_is_refused() {
        let folder = folder();
        drop(stocked(&file(&folder)));
        let whole = fs::read(file(&folder)).unwrap();
        fs::write(file(&folder), &whole[..whole.len() / 2]).unwrap();
        let refused = Store::open_with(&file(&folder), SHORT, MIGRATIONS).unwrap_err();
        assert!(matches!(refused, StoreError::Corrupt { .. }), "{refused}");
    }

    #[test]
    fn garbled_pages_are_found_by_the_check() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        for n in 0..300 {
            let yarn = bare("Quay", &format!("Dune {n}"));
            store.write(|w| w.add_yarn(&yarn)).unwrap();
        }
        drop(store);
        let mut bytes = fs::read(file(&folder)).unwrap();
        let last_page = bytes.len() - 4096;
        bytes[last_page..].fill(0x55);
        fs::write(file(&folder), bytes).unwrap();
        let store = quick(&file(&folder));
        assert!(!store.check().unwrap().is_empty());
    }

    #[test]
    fn what_another_program_writes_is_waited_for_and_then_told() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let other = Connection::open(file(&folder)).unwrap();
        other.execute_batch("BEGIN IMMEDIATE").unwrap();
        let start = std::time::Instant::now();
        let refused = store
            .write(|w| w.add_yarn(&bare("Quay", "Dune")))
            .unwrap_err();
        assert!(start.elapsed() >= SHORT);
        let told = format!(
            "{} is being written by another program; try again",
            file(&folder).display()
        );
        assert_eq!(refused.to_string(), told);
        assert_eq!(count(&store), 1);
        other.execute_batch("COMMIT").unwrap();
        store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
    }

    #[test]
    fn readers_see_the_old_records_until_a_writer_is_done() {
        let folder = folder();
        let mut writing = stocked(&file(&folder));
        let [one, two] = [quick(&file(&folder)), quick(&file(&folder))];
        let before = two.reader().unwrap();
        assert_eq!(before.count_yarns().unwrap(), 1);
        let done: Result<(), StoreError> = writing.write(|w| {
            w.add_yarn(&bare("Quay", "Dune"))?;
            assert_eq!(
                (w.count_yarns()?, count(&one), before.count_yarns()?),
                (2, 1, 1)
            );
            Ok(())
        });
        done.unwrap();
        assert_eq!((count(&one), before.count_yarns().unwrap()), (2, 1));
        drop(before);
        assert_eq!(count(&two), 2);
    }

    #[test]
    fn a_reader_within_a_reader_sees_the_same() {
        let store = Store::in_memory().unwrap();
        let outer = store.reader().unwrap();
        assert_eq!(count(&store), outer.count_yarns().unwrap());
    }

    #[test]
    fn a_write_protected_file_is_read_and_not_written() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        store.conn.pragma_update(None, "query_only", true).unwrap();
        let refused = store
            .write(|w| w.add_yarn(&bare("Quay", "Dune")))
            .unwrap_err();
        assert!(matches!(refused, StoreError::ReadOnly { .. }), "{refused}");
        drop(store);
        let mut rights = fs::metadata(file(&folder)).unwrap().permissions();
        rights.set_readonly(true);
        fs::set_permissions(file(&folder), rights).unwrap();
        // The superuser may write all the same; he reads as others do.
        let before = (fs::read(file(&folder)).unwrap(), names(&folder));
        let mut store = Store::read_only(&file(&folder), SHORT, MIGRATIONS).unwrap();
        assert_eq!(count(&store), 1);
        let refused = store.write(|w| w.add_yarn(&bare("Quay", "Dune")));
        assert!(matches!(refused, Err(StoreError::ReadOnly { .. })));
        drop(store);
        assert_eq!((fs::read(file(&folder)).unwrap(), names(&folder)), before);
    }

    #[test]
    fn what_only_the_log_holds_is_read_where_nothing_may_be_written() {
        let folder = folder();
        let path = file(&folder);
        let store = stocked(&path);
        let copy = folder.path().join("copy.db");
        fs::copy(&path, &copy).unwrap();
        fs::copy(
            folder.path().join("records.db-wal"),
            folder.path().join("copy.db-wal"),
        )
        .unwrap();
        let read = Store::read_only(&copy, SHORT, MIGRATIONS).unwrap();
        assert_eq!((count(&read), count(&store)), (1, 1));
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_told_with_its_name() {
        let folder = folder();
        fs::write(folder.path().join("taken"), "").unwrap();
        let refused = Store::open(&folder.path().join("taken/records.db")).unwrap_err();
        let told = refused.to_string();
        assert!(told.starts_with("cannot make "), "{told}");
    }

    #[test]
    fn a_copy_is_kept_before_an_older_file_is_changed_and_never_overwritten() {
        let folder = folder();
        let path = file(&folder);
        let later = [
            MIGRATIONS,
            &["CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT"],
        ]
        .concat();
        let copy = |n: usize, ending: &str| {
            let name = format!("records.db.before-{}{ending}", MIGRATIONS.len() + n);
            folder.path().join(name)
        };
        drop(stocked(&path));
        let old = fs::read(&path).unwrap();
        fs::write(copy(1, ""), "mine").unwrap();
        let store = Store::open_with(&path, SHORT, &later).unwrap();
        assert_eq!(store.kept_copy(), Some(copy(1, ".2").as_path()));
        assert_eq!(fs::read_to_string(copy(1, "")).unwrap(), "mine");
        drop(store);
        assert_ne!(fs::read(&path).unwrap(), old);
        assert_eq!(count(&Store::open_existing(&copy(1, ".2")).unwrap()), 1);
        let again = Store::open_with(&path, SHORT, &later).unwrap();
        assert_eq!(again.kept_copy(), None);
    }

    #[test]
    fn a_migration_that_fails_leaves_the_file_at_its_format() {
        let folder = folder();
        let path = file(&folder);
        drop(stocked(&path));
        let later = [
            MIGRATIONS,
            &["CREATE TABLE later (id); CREATE TABLE yarn (id)"],
        ]
        .concat();
        let refused = Store::open_with(&path, SHORT, &later).unwrap_err();
        assert!(matches!(refused, StoreError::Migration { .. }), "{refused}");
        assert_eq!(count(&quick(&path)), 1);
    }

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
