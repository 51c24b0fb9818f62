//! Writing a file whole or not at all.
//!
//! The new text goes into a file of its own beside the old one, is brought to
//! the disk, and then takes the old one's name in one step. Whoever reads sees
//! the old file or the new one, whenever the power fails.

use super::FileError;
use crate::store::{belongs_to_database, beside, folder_of, keep_names, refuse_special};
use std::{
    fs::{self, Permissions},
    io::{self, BufWriter, Write},
    path::{Path, PathBuf},
};
use tempfile::NamedTempFile;

/// What to do where the file is there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExistingFile {
    /// Replace it; it keeps its permissions.
    Replace,
    /// Replace it by a file that only its owner may read.
    ReplacePrivate,
    /// Leave it and refuse.
    Refuse,
}

/// Writes the file at `path` with what `write` writes. Where `write` or the
/// disk fails, what stood at `path` before still stands there. Records and what
/// SQLite keeps beside them are never replaced, nor what is no file.
pub fn write_atomically<T>(
    path: &Path,
    if_there: ExistingFile,
    write: impl FnOnce(&mut dyn Write) -> Result<T, FileError>,
) -> Result<T, FileError> {
    let target = behind_links(path);
    let failed = |source| FileError::Write {
        file: path.display().to_string(),
        source,
    };
    may_be_written(path, &target, if_there)?;
    let temporary = beside(&target).map_err(failed)?;
    let mut buffer = BufWriter::new(temporary);
    let given = write(&mut buffer)?;
    let temporary = buffer.into_inner().map_err(|e| failed(e.into_error()))?;
    if if_there != ExistingFile::ReplacePrivate {
        open_to_others(&temporary, &target).map_err(failed)?;
    }
    temporary.as_file().sync_all().map_err(failed)?;
    put_in_place(temporary, &target, if_there).map_err(|source| match source.kind() {
        io::ErrorKind::AlreadyExists => is_there(path),
        _ => failed(source),
    })?;
    Ok(given)
}

fn may_be_written(path: &Path, target: &Path, if_there: ExistingFile) -> Result<(), FileError> {
    let file = || path.display().to_string();
    refuse_special(target).map_err(|source| FileError::Write {
        file: file(),
        source,
    })?;
    if if_there == ExistingFile::Refuse && target.exists() {
        return Err(is_there(path));
    }
    if belongs_to_database(target) {
        return Err(FileError::Records { file: file() });
    }
    Ok(())
}

fn is_there(path: &Path) -> FileError {
    FileError::IsThere {
        file: path.display().to_string(),
    }
}

/// The file that a link leads to, so that the link stays one.
fn behind_links(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// Lets others do what they may with the file that is there.
fn open_to_others(temporary: &NamedTempFile, target: &Path) -> io::Result<()> {
    let mode = match fs::metadata(target) {
        Ok(there) => there.permissions(),
        Err(_) => usual_mode(folder_of(target))?,
    };
    temporary.as_file().set_permissions(mode)
}

/// What the mask of the system allows, which only a new file tells.
fn usual_mode(folder: &Path) -> io::Result<Permissions> {
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(Permissions::from_mode(0o666));
    }
    let probe = builder.tempfile_in(folder)?;
    Ok(probe.as_file().metadata()?.permissions())
}

fn put_in_place(temporary: NamedTempFile, target: &Path, if_there: ExistingFile) -> io::Result<()> {
    match if_there {
        ExistingFile::Replace | ExistingFile::ReplacePrivate => temporary.persist(target)?,
        ExistingFile::Refuse => temporary.persist_noclobber(target)?,
    };
    keep_names(folder_of(target))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn put(path: &Path, text: &str, if_there: ExistingFile) -> Result<(), FileError> {
        write_atomically(path, if_there, |file| {
            file.write_all(text.as_bytes())
                .map_err(|source| FileError::Write {
                    file: "x".to_owned(),
                    source,
                })
        })
    }

    #[test]
    fn a_file_is_written_and_replaced_and_nothing_else_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("yarns.csv");
        put(&path, "one", ExistingFile::Refuse).unwrap();
        put(&path, "two", ExistingFile::Replace).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "two");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_that_is_there_is_left_alone_unless_it_may_be_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("yarns.csv");
        put(&path, "one", ExistingFile::Refuse).unwrap();
        let error = put(&path, "two", ExistingFile::Refuse).unwrap_err();
        assert!(matches!(error, FileError::IsThere { .. }));
        assert_eq!(fs::read_to_string(&path).unwrap(), "one");
    }

    #[test]
    fn writing_that_fails_half_way_leaves_what_was_there() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("yarns.csv");
        put(&path, "one", ExistingFile::Replace).unwrap();
        let failed = write_atomically(&path, ExistingFile::Replace, |file| {
            let _ = file.write_all(b"half of tw");
            Err::<(), _>(FileError::Empty {
                file: String::new(),
                columns: String::new(),
            })
        });
        assert!(failed.is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), "one");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_that_is_not_there_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let error = put(&folder.path().join("no/x.csv"), "x", ExistingFile::Replace).unwrap_err();
        assert!(error.to_string().contains("no/x.csv"), "{error}");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay_as_they_were() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("a.csv"), folder.path().join("b.csv"));
        put(&path, "one", ExistingFile::Replace).unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&path, &link).unwrap();
        put(&link, "two", ExistingFile::Replace).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&path).unwrap(), "two");
        assert_eq!(
            fs::metadata(&path).unwrap().permissions().mode() & 0o777,
            0o640
        );
    }

    #[cfg(unix)]
    #[test]
    fn a_new_file_follows_the_mask_and_a_private_one_is_for_its_owner() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let mode = |name: &str| fs::metadata(at(name)).unwrap().permissions().mode() & 0o777;
        fs::write(at("usual"), "").unwrap();
        put(&at("new.csv"), "one", ExistingFile::Refuse).unwrap();
        assert_eq!(mode("new.csv"), mode("usual"));
        fs::write(at("secret"), "").unwrap();
        put(&at("secret"), "two", ExistingFile::ReplacePrivate).unwrap();
        assert_eq!(mode("secret"), 0o600);
    }

    #[test]
    fn a_folder_is_not_replaced_by_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let error = put(folder.path(), "x", ExistingFile::Replace).unwrap_err();
        assert!(error.to_string().contains("it is a folder"), "{error}");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }
}
