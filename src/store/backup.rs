//! All records as a file of their own, and such a file put in their place.
//!
//! Copies are made through SQLite's online backup, which is right even while others
//! read and write the file.

use super::{
    Store, StoreError,
    busy_retry::BusyRetry,
    check,
    header::{self, Kind},
    schema::{MIGRATIONS, newest},
    sql::at,
};
use rusqlite::{
    Connection, OpenFlags,
    backup::{Backup, StepResult},
};
use std::{
    ffi::OsString,
    fs::{self, File},
    path::{Path, PathBuf},
    time::Duration,
};

impl Store {
    /// Writes a copy of all records to `to`, which must not exist; `progress`
    /// hears how much of how much is done.
    pub fn backup_to(&self, to: &Path, progress: impl FnMut(u64, u64)) -> Result<(), StoreError> {
        let moment = self.reader()?;
        moment.count_yarns()?;
        copy_to(&self.conn, to, self.busy_timeout, progress)
    }

    /// Puts the records of the backup at `from` in the place of these, after
    /// looking the backup over and keeping a copy of these, whose name it gives.
    pub fn restore_from(
        &mut self,
        from: &Path,
        progress: impl FnMut(u64, u64),
    ) -> Result<Option<PathBuf>, StoreError> {
        if fs::canonicalize(from)
            .ok()
            .is_some_and(|from| fs::canonicalize(&self.path).is_ok_and(|path| path == from))
        {
            let path = from.to_owned();
            return Err(StoreError::Itself { path });
        }
        let source = sound(from)?;
        let kept = if self.is_file() {
            let copy = keep_copy(&self.conn, &self.path, "restore", self.busy_timeout);
            Some(copy?)
        } else {
            None
        };
        self.conn.flush_prepared_statement_cache();
        copy(
            &source,
            &mut self.conn,
            &self.path,
            self.busy_timeout,
            progress,
        )?;
        self.bring_to_newest(MIGRATIONS)?;
        // What was known of the names before says nothing of these.
        self.write(|writer| writer.db.run("UPDATE tally SET renamed = random()", []))?;
        Ok(kept)
    }
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
    if problems.is_empty() {
        Ok(conn)
    } else {
        let path = path.to_owned();
        Err(StoreError::Unsound { path, problems })
    }
}

/// Pages copied between two reports, 1 MiB.
const PAGES: i32 = 256;

/// Copies all of `from` over all of `to`, telling done and total pages.
/// `path` is the file that an error names.
pub(super) fn copy(
    from: &Connection,
    to: &mut Connection,
    path: &Path,
    busy_timeout: Duration,
    mut progress: impl FnMut(u64, u64),
) -> Result<(), StoreError> {
    let failed = |error| at(path, error);
    let backup = Backup::new(from, to).map_err(failed)?;
    let mut retry = BusyRetry::new(busy_timeout);
    loop {
        match backup.step(PAGES).map_err(failed)? {
            StepResult::Done => break,
            StepResult::Busy | StepResult::Locked if !retry.wait() => {
                let path = path.to_owned();
                return Err(StoreError::Locked { path });
            }
            _ => {}
        }
        report(&backup, &mut progress);
    }
    report(&backup, &mut progress);
    Ok(())
}

fn report(backup: &Backup<'_, '_>, progress: &mut impl FnMut(u64, u64)) {
    let pages = backup.progress();
    let [total, left] = [pages.pagecount, pages.remaining].map(|n| u64::from(n.unsigned_abs()));
    progress(total.saturating_sub(left), total);
}

/// Writes a copy of `from` to `to`, which must not exist: first under a name of
/// its own beside it, then whole under its name.
pub(super) fn copy_to(
    from: &Connection,
    to: &Path,
    busy_timeout: Duration,
    progress: impl FnMut(u64, u64),
) -> Result<(), StoreError> {
    if fs::symlink_metadata(to).is_ok() {
        return Err(StoreError::Exists {
            path: to.to_owned(),
        });
    }
    let part = with_ending(to, &format!(".part-{}", std::process::id()));
    let written = write(from, &part, busy_timeout, progress).and_then(|()| settle(&part, to));
    if written.is_err() {
        // Nothing is lost with a part; that it cannot be removed is no news
        // beside the error that is reported.
        let _ = fs::remove_file(&part);
    }
    written
}

fn write(
    from: &Connection,
    part: &Path,
    busy_timeout: Duration,
    progress: impl FnMut(u64, u64),
) -> Result<(), StoreError> {
    File::create(part).map_err(file_error("write", part))?;
    let failed = |error| at(part, error);
    let mut to = Connection::open(part).map_err(failed)?;
    copy(from, &mut to, part, busy_timeout, progress)?;
    // A copy is one file, without the side files of write-ahead logging.
    to.pragma_update_and_check(None, "journal_mode", "DELETE", |_| Ok(()))
        .map_err(failed)?;
    drop(to);
    let whole = File::open(part).and_then(|file| file.sync_all());
    whole.map_err(file_error("write", part))
}

/// Gives the part its name; a link does not replace a file that came meanwhile.
fn settle(part: &Path, to: &Path) -> Result<(), StoreError> {
    match fs::hard_link(part, to) {
        Ok(()) => fs::remove_file(part).map_err(file_error("remove", part)),
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
            Err(StoreError::Exists {
                path: to.to_owned(),
            })
        }
        Err(_) => fs::rename(part, to).map_err(file_error("write", to)),
    }
}

/// Keeps a copy beside `path` as `<file>.before-<what>`, numbered where that
/// name is taken; where it stands.
pub(super) fn keep_copy(
    conn: &Connection,
    path: &Path,
    what: &str,
    busy_timeout: Duration,
) -> Result<PathBuf, StoreError> {
    let first = with_ending(path, &format!(".before-{what}"));
    let others = (2_u32..).map(|n| with_ending(path, &format!(".before-{what}.{n}")));
    for to in std::iter::once(first).chain(others) {
        match copy_to(conn, &to, busy_timeout, |_, _| {}) {
            Err(StoreError::Exists { .. }) => {}
            done => return done.map(|()| to),
        }
    }
    Err(StoreError::Exists {
        path: path.to_owned(),
    })
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// An error of the file system.
pub(super) fn file_error(
    doing: &'static str,
    path: &Path,
) -> impl FnOnce(std::io::Error) -> StoreError {
    move |source| StoreError::File {
        doing,
        path: path.to_owned(),
        source,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{samples::*, test_files::*};
    use super::*;
    use std::ffi::OsStr;

    #[test]
    fn a_backup_is_one_whole_file_and_tells_how_far_it_is() {
        let folder = folder();
        let store = stocked(&file(&folder));
        let to = folder.path().join("backup.db");
        let mut told = Vec::new();
        store
            .backup_to(&to, |done, total| told.push((done, total)))
            .unwrap();
        let (done, total) = *told.last().unwrap();
        assert!(done == total && total > 0);
        assert!(told.windows(2).all(|pair| pair[0].0 <= pair[1].0));
        assert!(
            names(&folder)
                .iter()
                .all(|name| !name.contains("part") && !name.starts_with("backup.db-"))
        );
        assert_eq!(count(&Store::open_existing(&to).unwrap()), 1);
        let again = store.backup_to(&to, |_, _| {});
        assert!(matches!(again, Err(StoreError::Exists { .. })));
    }

    #[test]
    fn a_backup_that_cannot_be_written_leaves_nothing() {
        let folder = folder();
        let store = stocked(&file(&folder));
        let to = folder.path().join("none/backup.db");
        let told = store.backup_to(&to, |_, _| {}).unwrap_err().to_string();
        assert!(told.starts_with("cannot write "), "{told}");
    }

    #[test]
    fn a_restored_backup_replaces_the_records_and_keeps_a_copy_of_them() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let backup = folder.path().join("backup.db");
        store.backup_to(&backup, |_, _| {}).unwrap();
        store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        let other = quick(&file(&folder));
        for ending in ["restore", "restore.2"] {
            let kept = store.restore_from(&backup, |_, _| {}).unwrap().unwrap();
            let name = format!("records.db.before-{ending}");
            assert_eq!(kept.file_name(), Some(OsStr::new(&name)));
            assert_eq!((count(&store), count(&other)), (1, 1));
        }
        let first = folder.path().join("records.db.before-restore");
        assert_eq!(count(&Store::open_existing(&first).unwrap()), 2);
        store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
    }

    #[test]
    fn what_is_no_sound_backup_is_not_restored() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let from = folder.path().join("from.db");
        let mut refused = |doing: &dyn Fn()| {
            let _ = fs::remove_file(&from);
            doing();
            let why = store.restore_from(&from, |_, _| {}).unwrap_err();
            assert_eq!(count(&store), 1);
            why
        };
        let made = |sql: &str| {
            drop(stocked(&from));
            raw(&from, sql);
        };
        let missing = refused(&|| {});
        assert!(matches!(missing, StoreError::Missing { .. }));
        let text = refused(&|| fs::write(&from, "text").unwrap());
        assert!(matches!(text, StoreError::NotADatabase { .. }));
        let empty = refused(&|| fs::write(&from, "").unwrap());
        assert!(matches!(empty, StoreError::NotADatabase { .. }));
        let foreign = refused(&|| raw(&from, "CREATE TABLE notes (text)"));
        assert!(matches!(foreign, StoreError::Foreign { .. }));
        let newer = refused(&|| made("PRAGMA user_version = 99"));
        assert!(matches!(newer, StoreError::Newer { .. }));
        let astray = "PRAGMA foreign_keys = OFF; INSERT INTO shade VALUES (99, 0, 'red')";
        let unsound = refused(&|| made(astray));
        assert!(matches!(unsound, StoreError::Unsound { .. }), "{unsound}");
        let cut = refused(&|| {
            drop(stocked(&from));
            let whole = fs::read(&from).unwrap();
            fs::write(&from, &whole[..whole.len() / 2]).unwrap();
        });
        assert!(matches!(
            cut,
            StoreError::Unsound { .. } | StoreError::Corrupt { .. }
        ));
        let itself = store.restore_from(&file(&folder), |_, _| {});
        assert!(matches!(itself, Err(StoreError::Itself { .. })));
        assert!(!names(&folder).iter().any(|name| name.contains("before")));
    }

    #[test]
    fn a_restore_waits_for_another_writer_and_then_says_so() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let backup = folder.path().join("backup.db");
        store.backup_to(&backup, |_, _| {}).unwrap();
        let other = Connection::open(file(&folder)).unwrap();
        other.execute_batch("BEGIN IMMEDIATE").unwrap();
        let refused = store.restore_from(&backup, |_, _| {}).unwrap_err();
        assert!(matches!(refused, StoreError::Locked { .. }), "{refused}");
        assert_eq!(count(&store), 1);
    }
}
