//! Ordinary files: opened only where they are such, and written first under a name
//! that nobody can foresee.
//!
//! A file in the making belongs to its owner alone and is locked as long as somebody
//! writes it, so that what a killed run left behind can be told from it and swept.

use std::{
    fs::{self, File, TryLockError},
    io,
    path::{Path, PathBuf},
    time::Duration,
};
use tempfile::NamedTempFile;

/// How the name of a file in the making begins.
const PREFIX: &str = ".understudy-";

/// How many letters and figures at random come after it.
const RANDOM: usize = 12;

/// The age from which a file in the making that nobody holds was left behind: a
/// moment passes between making and locking one.
const LEFT_BEHIND: Duration = Duration::from_secs(2);

/// Endings of the files that SQLite keeps beside a database.
pub(super) const SIDE_FILES: [&str; 3] = ["-journal", "-wal", "-shm"];

/// Why something that has a name is no file to read or write.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NotAFile {
    /// A folder.
    #[error("it is a folder, and a file is needed")]
    Folder,
    /// A pipe, a socket or a device.
    #[error("it is a pipe or a device, and an ordinary file is needed")]
    Special,
}

/// Refuses what is there and is no ordinary file, without opening it: a pipe would
/// be waited for without end.
pub fn refuse_special(path: &Path) -> io::Result<()> {
    match fs::metadata(path) {
        Ok(about) if about.is_dir() => Err(io::Error::other(NotAFile::Folder)),
        Ok(about) if !about.is_file() => Err(io::Error::other(NotAFile::Special)),
        _ => Ok(()),
    }
}

/// Opens an ordinary file to read it.
pub fn open_ordinary(path: &Path) -> io::Result<File> {
    refuse_special(path)?;
    File::open(path)
}

/// A new file in the folder of `target` for its owner alone, to be given that name
/// when it is whole.
pub fn beside(target: &Path) -> io::Result<NamedTempFile> {
    let folder = folder_of(target);
    sweep(folder);
    let made = tempfile::Builder::new()
        .prefix(PREFIX)
        .rand_bytes(RANDOM)
        .tempfile_in(folder)?;
    // A system that has no such locks only loses the sweeping.
    drop(made.as_file().try_lock());
    Ok(made)
}

/// The folder that holds `target`.
pub fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Brings the folder's own list of names to the disk, where the system can.
pub fn keep_names(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

/// Removes what killed runs left in `folder`. Whatever cannot be read or removed
/// stays: it harms nobody.
pub(super) fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    let names = entries.flatten().map(|entry| entry.file_name());
    for path in names.map(|name| folder.join(name)) {
        if is_in_the_making(&without_side_ending(&path)) && is_left_behind(&path) {
            drop(fs::remove_file(path));
        }
    }
}

/// By its name, which nobody gives to a file of one's own.
fn is_in_the_making(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.strip_prefix(PREFIX).is_some_and(|random| {
        random.len() == RANDOM && random.bytes().all(|byte| byte.is_ascii_alphanumeric())
    })
}

fn is_left_behind(path: &Path) -> bool {
    let old = fs::symlink_metadata(path).is_ok_and(|about| {
        let age = about.modified().ok().and_then(|time| time.elapsed().ok());
        about.is_file() && age.is_some_and(|age| age >= LEFT_BEHIND)
    });
    old && !is_held(&without_side_ending(path))
}

/// Whether somebody still writes the file.
fn is_held(path: &Path) -> bool {
    File::open(path).is_ok_and(|file| matches!(file.try_lock(), Err(TryLockError::WouldBlock)))
}

/// The database that a side file belongs to; any other path as it is.
pub(super) fn without_side_ending(path: &Path) -> PathBuf {
    let name = path.to_string_lossy();
    let base = SIDE_FILES.iter().find_map(|end| name.strip_suffix(end));
    base.map_or_else(|| path.to_owned(), PathBuf::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::SystemTime;

    fn old(path: &Path) {
        let file = File::options()
            .append(true)
            .create(true)
            .open(path)
            .unwrap();
        file.set_modified(SystemTime::now() - Duration::from_secs(60))
            .unwrap();
    }

    #[test]
    fn what_a_killed_run_left_is_swept_and_what_is_being_written_stays() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let held = beside(&at("x.db")).unwrap();
        old(held.path());
        let mut wal = held.path().as_os_str().to_owned();
        wal.push("-wal");
        old(Path::new(&wal));
        for name in [
            ".understudy-left00000000",
            ".understudy-left00000000-wal",
            ".understudy-notes",
            "yarns.csv",
        ] {
            old(&at(name));
        }
        fs::write(at(".understudy-new000000000"), "").unwrap();
        sweep(folder.path());
        let there = |name: &str| at(name).exists();
        assert!(held.path().exists() && Path::new(&wal).exists());
        assert!(!there(".understudy-left00000000") && !there(".understudy-left00000000-wal"));
        assert!(
            there("yarns.csv") && there(".understudy-notes") && there(".understudy-new000000000")
        );
    }

    #[cfg(unix)]
    #[test]
    fn a_file_in_the_making_is_for_its_owner_alone() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let made = beside(&folder.path().join("x.db")).unwrap();
        let mode = made.as_file().metadata().unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
    }

    #[test]
    fn a_folder_is_refused_before_it_is_opened() {
        let folder = tempfile::tempdir().unwrap();
        let why = open_ordinary(folder.path()).unwrap_err().to_string();
        assert_eq!(why, NotAFile::Folder.to_string());
    }
}
