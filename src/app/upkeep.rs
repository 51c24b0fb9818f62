//! Backups, restoring, and whether the records are sound.

use super::{AppError, RecordChange, Records};
use crate::store::{Problem, SoundBackup, Store, StoreError};
use std::path::{Path, PathBuf};

/// Writes a backup to a new file and looks it through. `progress` gets pages
/// done and in all.
pub fn backup(
    records: &Records,
    to: &Path,
    progress: impl FnMut(u64, u64),
) -> Result<RecordChange, AppError> {
    let problems = records.store()?.backup_to(to, progress)?;
    Ok(RecordChange::BackedUp {
        to: to.to_owned(),
        problems,
    })
}

/// Puts a backup in the place of the records at `path`, which are opened only once
/// the backup was found sound; they stay beside it.
pub fn restore(
    path: &Path,
    from: &Path,
    progress: impl FnMut(u64, u64),
) -> Result<RecordChange, AppError> {
    let backup = SoundBackup::open(from)?;
    let kept = match Store::open(path) {
        Err(StoreError::Corrupt { .. }) => Some(backup.replace_damaged(path, progress)?),
        store => store?.restore_from(&backup, progress)?,
    };
    let from = from.to_owned();
    Ok(RecordChange::Restored { from, kept })
}

/// Answer to [`verify`].
#[derive(Debug, Clone)]
pub struct Soundness {
    /// The file of the records.
    pub file: PathBuf,
    /// How many yarns it holds, where they can be counted.
    pub yarns: Option<u64>,
    /// What is not sound.
    pub problems: Vec<Problem>,
}

/// Looks the whole file through.
pub fn verify(records: &Records) -> Result<Soundness, AppError> {
    let store = records.store()?;
    Ok(Soundness {
        file: store.path().to_owned(),
        yarns: store.reader()?.count_yarns().ok(),
        problems: store.check()?,
    })
}
