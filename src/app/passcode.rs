//! The hash of the passcode that other machines must give, in a file beside the
//! records. What the hash is made of is for the web to know.

use super::{AppError, to_file};
use std::{
    io,
    path::{Path, PathBuf},
};

fn beside(records: &Path) -> PathBuf {
    records.with_extension("passcode")
}

fn failed(path: &Path, doing: &'static str, source: io::Error) -> AppError {
    AppError::Passcode {
        path: path.to_owned(),
        doing,
        source,
    }
}

/// Keeps a hash in the place of the one that was there.
pub fn keep_passcode(records: &Path, hash: &str) -> Result<(), AppError> {
    let path = beside(records);
    to_file(&path, true, |file| {
        file.write_all(hash.as_bytes())
            .map_err(|error| failed(&path, "written", error))
    })
}

/// The hash that is kept; nothing where none was set.
pub fn kept_passcode(records: &Path) -> Result<Option<String>, AppError> {
    let path = beside(records);
    match std::fs::read_to_string(&path) {
        Ok(hash) => Ok(Some(hash)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(failed(&path, "read", error)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_is_kept_replaced_and_read_back() {
        let folder = tempfile::tempdir().unwrap();
        let records = folder.path().join("understudy.db");
        assert_eq!(kept_passcode(&records).unwrap(), None);
        keep_passcode(&records, "one").unwrap();
        keep_passcode(&records, "two").unwrap();
        assert_eq!(kept_passcode(&records).unwrap().as_deref(), Some("two"));
    }
}
