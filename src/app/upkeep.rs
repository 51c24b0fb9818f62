//! Backups, restoring, and whether the records are sound.

use super::{AppError, Records};
use crate::report::Notice;
use std::path::Path;

/// Writes a backup to a new file. `progress` is told pages done and in all.
pub fn backup(
    records: &Records,
    to: &Path,
    progress: impl FnMut(u64, u64),
) -> Result<Notice, AppError> {
    records.store()?.backup_to(to, progress)?;
    Ok(Notice {
        done: format!("Backup written to {}", to.display()),
        ..Notice::default()
    })
}

/// Puts a backup in the place of the records; a copy of them is kept.
pub fn restore(
    records: &mut Records,
    from: &Path,
    progress: impl FnMut(u64, u64),
) -> Result<Notice, AppError> {
    let kept = records.store_mut()?.restore_from(from, progress)?;
    let details = kept
        .iter()
        .map(|copy| {
            (
                "what was there before".to_owned(),
                copy.display().to_string(),
            )
        })
        .collect();
    Ok(Notice {
        done: format!("Records restored from {}", from.display()),
        details,
        ..Notice::default()
    })
}

/// Looks the whole file through; what is not sound is listed.
pub fn verify(records: &Records) -> Result<(Notice, bool), AppError> {
    let store = records.store()?;
    let problems = store.check()?;
    let sound = problems.is_empty();
    let yarns = store
        .reader()?
        .count_yarns()
        .map(|count| count.to_string())
        .unwrap_or_else(|_| "not countable".to_owned());
    let done = match sound {
        true => format!("{} is sound", store.path().display()),
        false => format!("{} is not sound", store.path().display()),
    };
    Ok((
        Notice {
            done,
            details: vec![("yarns".to_owned(), yarns)],
            warnings: problems,
        },
        sound,
    ))
}
