//! Copies of a whole file through SQLite's online backup, which is right even
//! while others read and write it.

use super::{StoreError, db::at, patience::Patience};
use rusqlite::{
    Connection,
    backup::{Backup, StepResult},
};
use std::{
    ffi::OsString,
    fs::{self, File},
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
    patience: Duration,
    mut progress: impl FnMut(u64, u64),
) -> Result<(), StoreError> {
    let failed = |error| at(path, error);
    let backup = Backup::new(from, to).map_err(failed)?;
    let mut patience = Patience::of(patience);
    loop {
        match backup.step(PAGES).map_err(failed)? {
            StepResult::Done => break,
            StepResult::Busy | StepResult::Locked if !patience.wait() => {
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
    patience: Duration,
    progress: impl FnMut(u64, u64),
) -> Result<(), StoreError> {
    if fs::symlink_metadata(to).is_ok() {
        return Err(StoreError::Exists {
            path: to.to_owned(),
        });
    }
    let part = with_ending(to, &format!(".part-{}", std::process::id()));
    let written = write(from, &part, patience, progress).and_then(|()| settle(&part, to));
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
    patience: Duration,
    progress: impl FnMut(u64, u64),
) -> Result<(), StoreError> {
    File::create(part).map_err(file_error("write", part))?;
    let failed = |error| at(part, error);
    let mut to = Connection::open(part).map_err(failed)?;
    copy(from, &mut to, part, patience, progress)?;
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
    patience: Duration,
) -> Result<PathBuf, StoreError> {
    let first = with_ending(path, &format!(".before-{what}"));
    let others = (2_u32..).map(|n| with_ending(path, &format!(".before-{what}.{n}")));
    for to in std::iter::once(first).chain(others) {
        match copy_to(conn, &to, patience, |_, _| {}) {
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
