//! Which records a command uses.

use super::output::Failure;
use crate::app::Records;
use std::path::PathBuf;

/// The file that was named, or the usual one.
pub(super) struct Db {
    named: Option<PathBuf>,
    backs_up: bool,
}

impl Db {
    /// `backs_up`: whether the first change of a day is followed by a backup.
    pub(super) fn new(named: Option<PathBuf>, backs_up: bool) -> Self {
        Self { named, backs_up }
    }

    /// The file itself.
    pub(super) fn path(&self) -> Result<PathBuf, Failure> {
        match &self.named {
            Some(path) => Ok(path.clone()),
            None => Ok(Records::usual_path()?),
        }
    }

    /// Records to write to; begun where there are none.
    pub(super) fn open(&self) -> Result<Records, Failure> {
        let records = Records::open(&self.path()?)?;
        if let Some(copy) = records.kept_copy() {
            super::output::remark(&format!(
                "your records were updated to the format of this version; the copy from before is {}",
                copy.display()
            ));
        }
        Ok(self.backing_up(records))
    }

    /// Records that must be there.
    pub(super) fn existing(&self) -> Result<Records, Failure> {
        Ok(self.backing_up(Records::open_existing(&self.path()?)?))
    }

    /// Records that must be there, to be looked through and not changed.
    pub(super) fn unchanged(&self) -> Result<Records, Failure> {
        Ok(Records::open_unchanged(&self.path()?)?)
    }

    fn backing_up(&self, records: Records) -> Records {
        if !self.backs_up {
            return records;
        }
        records.with_daily_backups(|why| {
            super::output::remark(&format!(
                "the change is saved, but today's backup failed: {why}"
            ));
        })
    }

    /// Records where there are any, for questions that may need none.
    pub(super) fn if_there(&self) -> Result<Records, Failure> {
        let found = self.path().map(|path| Records::if_there(&path));
        Ok(found.unwrap_or_else(|_| Ok(Records::none()))?)
    }
}
