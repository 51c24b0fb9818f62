//! Writing a file whole or not at all.
//!
//! The new text goes into a file of its own beside the old one, is brought to
//! the disk, and then takes the old one's name in one step. Whoever reads sees
//! the old file or the new one, whenever the power fails.

use super::FileError;
use std::{
    fs::{self, File},
    io::{self, BufWriter, Write},
    path::{Path, PathBuf},
};
use tempfile::NamedTempFile;

/// What to do where the file is there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExistingFile {
    /// Replace it; it keeps its permissions.
    Replace,
    /// Leave it and refuse.
    Refuse,
}

/// Writes the file at `path` with what `write` writes. Where `write` or the
/// disk fails, what stood at `path` before still stands there.
pub fn write_atomically<T>(
    path: &Path,
    if_there: ExistingFile,
    write: impl FnOnce(&mut dyn Write) -> Result<T, FileError>,
) -> Result<T, FileError> {
    let target = behind_links(path);
    if if_there == ExistingFile::Refuse && target.exists() {
        return Err(is_there(path));
    }
    let failed = |source| FileError::Write {
        file: path.display().to_string(),
        source,
    };
    let temporary = beside(&target).map_err(failed)?;
    let mut buffer = BufWriter::new(temporary);
    let given = write(&mut buffer)?;
    let temporary = buffer.into_inner().map_err(|e| failed(e.into_error()))?;
    temporary.as_file().sync_all().map_err(failed)?;
    put_in_place(temporary, &target, if_there).map_err(|source| match source.kind() {
        io::ErrorKind::AlreadyExists => is_there(path),
        _ => failed(source),
    })?;
    Ok(given)
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

fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

fn beside(target: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".understudy-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let temporary = builder.tempfile_in(folder_of(target))?;
    if let Ok(old) = fs::metadata(target) {
        temporary.as_file().set_permissions(old.permissions())?;
    }
    Ok(temporary)
}

fn put_in_place(temporary: NamedTempFile, target: &Path, if_there: ExistingFile) -> io::Result<()> {
    match if_there {
        ExistingFile::Replace => temporary.persist(target)?,
        ExistingFile::Refuse => temporary.persist_noclobber(target)?,
    };
    keep_name(folder_of(target))
}

/// Brings the folder's own list of names to the disk, where the system can.
fn keep_name(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
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
}
