//! The hash of the passcode that other machines must give, in a file beside the
//! records. Only the web knows what the hash is made of.

use super::{AppError, export::private_file};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// The most bytes of a file that can be one of these.
const LONGEST: u64 = 1024;

/// `understudy.db.passcode` for `understudy.db`: the whole name, so that two files of
/// records never share one.
fn beside(records: &Path) -> PathBuf {
    let mut path = records.as_os_str().to_owned();
    path.push(".passcode");
    path.into()
}

fn failed(path: &Path, doing: &'static str, source: io::Error) -> AppError {
    AppError::Passcode {
        path: path.to_owned(),
        doing,
        source,
    }
}

/// What is said where the file holds something that is no hash.
pub fn damaged_passcode(records: &Path) -> AppError {
    AppError::PasscodeDamaged(beside(records))
}

/// Keeps a hash in the place of the one that was there.
pub fn keep_passcode(records: &Path, hash: &str) -> Result<(), AppError> {
    let path = beside(records);
    private_file(&path, |file| {
        file.write_all(hash.as_bytes())
            .map_err(|error| failed(&path, "written", error))
    })
}

/// The hash that is set; nothing where none was set. A file that is too long or
/// no text is damaged.
pub fn kept_passcode(records: &Path) -> Result<Option<String>, AppError> {
    let path = beside(records);
    let about = match fs::metadata(&path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        about => about.map_err(|error| failed(&path, "read", error))?,
    };
    // A pipe would be waited for.
    if !about.is_file() || about.len() > LONGEST {
        return Err(damaged_passcode(records));
    }
    match fs::read_to_string(&path) {
        Ok(hash) => Ok(Some(hash)),
        Err(error) if error.kind() == io::ErrorKind::InvalidData => Err(damaged_passcode(records)),
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

    #[test]
    fn each_file_of_records_has_its_own() {
        let folder = tempfile::tempdir().unwrap();
        keep_passcode(&folder.path().join("shop.db"), "one").unwrap();
        for other in ["shop.sqlite", "shop", "shop.old.db"] {
            let other = folder.path().join(other);
            assert_eq!(kept_passcode(&other).unwrap(), None, "{other:?}");
        }
    }

    #[test]
    fn what_can_be_no_hash_is_damaged() {
        let folder = tempfile::tempdir().unwrap();
        let records = folder.path().join("understudy.db");
        for bytes in [vec![0xff, 0xfe], vec![b'a'; 2000]] {
            fs::write(beside(&records), bytes).unwrap();
            let told = kept_passcode(&records).unwrap_err().to_string();
            assert!(told.contains("damaged") && told.contains("--set-passcode"));
        }
    }
}
