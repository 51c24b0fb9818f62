//! The first bytes of a file, read without SQLite, so that a file that is not
//! ours is recognised before anything could be written to it or beside it.
//!
//! Source: the database file format of SQLite, www.sqlite.org/fileformat2.html,
//! section 1.3, from memory, checked by a test against the library.

use super::{
    StoreError,
    migrations::APPLICATION_ID,
    temporary::{open_ordinary, without_side_ending},
};
use std::{io::Read, path::Path};

/// How a SQLite file begins.
const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// Length of the header.
const LENGTH: u64 = 100;

/// What the beginning of a file says it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Nothing in it yet.
    Empty,
    /// Ours, of this format.
    Ours {
        /// The number of the format.
        format: u32,
    },
}

/// What the file at `path` is; refused where it is not ours, or newer than
/// `newest`.
pub(super) fn inspect(path: &Path, newest: u32) -> Result<Kind, StoreError> {
    let header = read(path).map_err(|source| StoreError::File {
        doing: "read",
        path: path.to_owned(),
        source,
    })?;
    if header.is_empty() {
        return Ok(Kind::Empty);
    }
    let path = || path.to_owned();
    match (
        header.first_chunk(),
        number(&header, 68),
        number(&header, 60),
    ) {
        (Some(MAGIC), Some(id), _) if id != APPLICATION_ID => {
            Err(StoreError::Foreign { path: path() })
        }
        (Some(MAGIC), Some(_), Some(format)) => known(format.cast_unsigned(), newest, path),
        _ => Err(StoreError::NotADatabase { path: path() }),
    }
}

/// The format of a file that must be there and have something in it.
pub(super) fn existing(path: &Path, newest: u32) -> Result<u32, StoreError> {
    let path_again = || path.to_owned();
    if !path.exists() {
        return Err(StoreError::Missing { path: path_again() });
    }
    match inspect(path, newest)? {
        Kind::Empty => Err(StoreError::NotADatabase { path: path_again() }),
        Kind::Ours { format } => Ok(format),
    }
}

/// Whether the file is written through a log beside it.
pub(super) fn is_logged(path: &Path) -> bool {
    read(path).is_ok_and(|header| header.get(18) == Some(&2))
}

fn known(
    file: u32,
    program: u32,
    path: impl Fn() -> std::path::PathBuf,
) -> Result<Kind, StoreError> {
    if file <= program {
        return Ok(Kind::Ours { format: file });
    }
    Err(StoreError::Newer {
        path: path(),
        file,
        program,
    })
}

fn read(path: &Path) -> std::io::Result<Vec<u8>> {
    let mut header = Vec::new();
    let file = open_ordinary(path)?;
    file.take(LENGTH).read_to_end(&mut header)?;
    Ok(header)
}

/// How a database and its side files begin: the file itself, a journal, a
/// write-ahead log with sums in either order of bytes.
const BEGINNINGS: [&[u8]; 4] = [
    MAGIC,
    b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7",
    b"\x37\x7f\x06\x82",
    b"\x37\x7f\x06\x83",
];

/// Whether a database may be lost when something else is written to `path`: it is
/// one, by whatever name, or has the name of a side file of one.
pub fn belongs_to_database(path: &Path) -> bool {
    let begins = |path: &Path| {
        let header = read(path).unwrap_or_default();
        BEGINNINGS
            .iter()
            .any(|beginning| header.starts_with(beginning))
    };
    begins(path) || begins(&without_side_ending(path))
}

/// Four bytes, the most significant first.
fn number(header: &[u8], at: usize) -> Option<i32> {
    let bytes = header.get(at..)?.first_chunk()?;
    Some(i32::from_be_bytes(*bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn records_and_their_side_files_are_known_by_any_name() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let conn = rusqlite::Connection::open(at("a.db")).unwrap();
        let logged = "PRAGMA journal_mode = WAL; CREATE TABLE notes (text)";
        conn.execute_batch(logged).unwrap();
        std::fs::hard_link(at("a.db"), at("table.csv")).unwrap();
        std::fs::hard_link(at("a.db-wal"), at("log.csv")).unwrap();
        std::fs::write(at("yarns.csv"), "maker,name\n").unwrap();
        for name in ["a.db", "a.db-wal", "a.db-journal", "table.csv", "log.csv"] {
            assert!(belongs_to_database(&at(name)), "{name}");
        }
        for name in ["yarns.csv", "yarns.csv-wal", "none.csv"] {
            assert!(!belongs_to_database(&at(name)), "{name}");
        }
    }

    #[test]
    fn the_header_says_what_the_library_wrote() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("any.db");
        assert!(matches!(inspect(&path, 7), Err(StoreError::File { .. })));
        std::fs::write(&path, "").unwrap();
        assert_eq!(inspect(&path, 7).unwrap(), Kind::Empty);
        let conn = rusqlite::Connection::open(&path).unwrap();
        conn.pragma_update(None, "user_version", 7).unwrap();
        assert!(matches!(inspect(&path, 7), Err(StoreError::Foreign { .. })));
        conn.pragma_update(None, "application_id", APPLICATION_ID)
            .unwrap();
        assert_eq!(inspect(&path, 7).unwrap(), Kind::Ours { format: 7 });
        let newer = inspect(&path, 6);
        assert!(matches!(
            newer,
            Err(StoreError::Newer {
                file: 7,
                program: 6,
                ..
            })
        ));
    }
}
