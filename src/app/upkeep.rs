//! Backups, restoring, and whether the records are sound.

use super::{AppError, RecordChange, Records};
use crate::store::SoundBackup;
use std::path::{Path, PathBuf};

/// Writes a backup to a new file and looks it through. `progress` is told pages
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

/// Puts a backup in the place of the records, which are opened only once the backup
/// was found sound; a copy of them is kept.
pub fn restore<E: From<AppError>>(
    from: &Path,
    open: impl FnOnce() -> Result<Records, E>,
    progress: impl FnMut(u64, u64),
) -> Result<RecordChange, E> {
    let backup = SoundBackup::open(from).map_err(AppError::from)?;
    let mut records = open()?;
    let kept = records.store_mut()?.restore_from(&backup, progress);
    Ok(RecordChange::Restored {
        from: from.to_owned(),
        kept: kept.map_err(AppError::from)?,
    })
}

/// Answer to [`verify`].
#[derive(Debug, Clone)]
pub struct Soundness {
    /// The file of the records.
    pub file: PathBuf,
    /// How many yarns it holds, where they can be counted.
    pub yarns: Option<u64>,
    /// What is not sound.
    pub problems: Vec<String>,
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
