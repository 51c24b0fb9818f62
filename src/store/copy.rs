//! Copies of a database, each one file without side files.
//!
//! Copies are made through SQLite's online backup, which is right even while others
//! read and write the file: first under a name that nobody can foresee, for the owner
//! alone, then, whole and on the disk, under the name that was asked for.

use super::{
    StoreError,
    busy_retry::BusyRetry,
    sql::at,
    temporary::{beside, folder_of, keep_names, without_side_ending},
};
use rusqlite::{
    Connection,
    backup::{Backup, StepResult},
};
use std::{
    ffi::OsString,
    fs, io,
    path::{Path, PathBuf},
    time::Duration,
};

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

/// Writes a copy of `from` to `to`, which must not exist; what `look` finds in it
/// before it has its name.
pub(super) fn copy_to<T>(
    from: &Connection,
    to: &Path,
    busy_timeout: Duration,
    progress: impl FnMut(u64, u64),
    look: impl FnOnce(&Connection, &Path) -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    let exists = || StoreError::Exists {
        path: to.to_owned(),
    };
    if fs::symlink_metadata(to).is_ok() {
        return Err(exists());
    }
    if without_side_ending(to) != to {
        let path = to.to_owned();
        return Err(StoreError::SideFile { path });
    }
    let part = beside(to).map_err(file_error("write", to))?;
    let found = write(from, part.path(), busy_timeout, progress, look)?;
    let whole = part.as_file().sync_all();
    whole.map_err(file_error("write", to))?;
    part.persist_noclobber(to)
        .map_err(|refused| match refused.error.kind() {
            io::ErrorKind::AlreadyExists => exists(),
            _ => file_error("write", to)(refused.error),
        })?;
    keep_names(folder_of(to)).map_err(file_error("write", to))?;
    Ok(found)
}

fn write<T>(
    from: &Connection,
    part: &Path,
    busy_timeout: Duration,
    progress: impl FnMut(u64, u64),
    look: impl FnOnce(&Connection, &Path) -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    let failed = |error| at(part, error);
    let mut to = Connection::open(part).map_err(failed)?;
    // The whole file is brought to the disk at once, before it has its name.
    to.pragma_update(None, "synchronous", "OFF")
        .map_err(failed)?;
    copy(from, &mut to, part, busy_timeout, progress)?;
    // A copy is one file, without the side files of write-ahead logging.
    to.pragma_update_and_check(None, "journal_mode", "DELETE", |_| Ok(()))
        .map_err(failed)?;
    look(&to, part)
}

/// Keeps a copy beside `path` as `<file>.before-<what>`, numbered where that
/// name is in use; its path. Records with faults are copied as they are.
pub(super) fn keep_copy(
    conn: &Connection,
    path: &Path,
    what: &str,
    busy_timeout: Duration,
) -> Result<PathBuf, StoreError> {
    for to in kept_names(path, what) {
        match copy_to(conn, &to, busy_timeout, |_, _| {}, |_, _| Ok(())) {
            Err(StoreError::Exists { .. }) => {}
            done => return done.map(|()| to),
        }
    }
    Err(StoreError::Exists {
        path: path.to_owned(),
    })
}

/// `<file>.before-<what>`, then the same with numbers from 2.
pub(super) fn kept_names(path: &Path, what: &str) -> impl Iterator<Item = PathBuf> {
    let first = with_ending(path, &format!(".before-{what}"));
    (1_u32..).map(move |n| match n {
        1 => first.clone(),
        n => with_ending(&first, &format!(".{n}")),
    })
}

/// `path` with more at the end of its name.
pub(super) fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// An error of the file system.
pub(super) fn file_error(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> StoreError {
    move |source| StoreError::File {
        doing,
        path: path.to_owned(),
        source,
    }
}
