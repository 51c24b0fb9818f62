//! The user's records, where there are any; and the clock, read in one place.

pub use crate::store::NameCache;

use super::{AppError, once::OnceText};
use crate::store::{DailyBackups, Store, StoreError};
use std::path::{Path, PathBuf};

/// The user's records: the file that holds them, opened or not.
pub struct Records {
    store: Option<Store>,
    pub(super) once: OnceText,
}

impl Records {
    fn of(store: Option<Store>) -> Self {
        Self {
            store: store.map(|store| store.with_clock(now)),
            once: OnceText::default(),
        }
    }

    /// The same for one command whose changes are made once under this text, where
    /// there is one.
    #[must_use]
    pub fn once(self, text: Option<String>) -> Self {
        let once = OnceText::new(text);
        Self { once, ..self }
    }

    /// No records: for questions whose facts are all typed.
    pub fn none() -> Self {
        Self::of(None)
    }

    /// Opens the records at `path`; begins new ones where there are none.
    pub fn open(path: &Path) -> Result<Self, AppError> {
        Ok(Self::of(Some(Store::open(path)?)))
    }

    /// Opens the records at `path`; refused where there are none.
    pub fn open_existing(path: &Path) -> Result<Self, AppError> {
        Ok(Self::of(Some(Store::open_existing(path)?)))
    }

    /// Opens the records at `path` to look them through: nothing is changed.
    pub fn open_unchanged(path: &Path) -> Result<Self, AppError> {
        Ok(Self::of(Some(Store::open_unchanged(path)?)))
    }

    /// The same, with a backup beside them after the first change of each day and of
    /// each month; `failed` hears why one could not be made.
    #[must_use]
    pub fn with_daily_backups(self, failed: fn(&StoreError)) -> Self {
        let daily = DailyBackups { today, failed };
        let store = self.store.map(|store| store.with_daily_backups(daily));
        Self { store, ..self }
    }

    /// The same, keeping the names of yarns in memory from one search to the next,
    /// together with all records of the same file that have the same `names`.
    #[must_use]
    pub fn with_name_cache(self, names: NameCache) -> Self {
        let store = self.store.map(|store| store.with_name_cache(names));
        Self { store, ..self }
    }

    /// Opens the records at `path` where there are any.
    pub fn if_there(path: &Path) -> Result<Self, AppError> {
        if path.exists() {
            Self::open_existing(path)
        } else {
            Ok(Self::none())
        }
    }

    /// New records that are gone with the program.
    pub fn in_memory() -> Result<Self, AppError> {
        Ok(Self::of(Some(Store::in_memory()?)))
    }

    /// The number of the change that was made last, where one was since this was asked.
    pub fn take_last_change(&mut self) -> Option<i64> {
        self.store.as_mut().and_then(Store::take_last_change)
    }

    /// A copy that was kept because the file was brought to a newer format.
    pub fn kept_copy(&self) -> Option<&Path> {
        self.store.as_ref().and_then(Store::kept_copy)
    }

    /// Where records are when nobody says otherwise: `understudy.db` in
    /// the user's data directory.
    pub fn usual_path() -> Result<PathBuf, AppError> {
        use etcetera::BaseStrategy;
        let folders = etcetera::choose_base_strategy().map_err(|_| AppError::NoHome)?;
        Ok(folders.data_dir().join("understudy").join("understudy.db"))
    }

    pub(super) fn maybe(&self) -> Option<&Store> {
        self.store.as_ref()
    }

    pub(super) fn store(&self) -> Result<&Store, AppError> {
        self.store.as_ref().ok_or(AppError::NoRecords)
    }

    pub(super) fn store_mut(&mut self) -> Result<&mut Store, AppError> {
        self.store.as_mut().ok_or(AppError::NoRecords)
    }
}

/// Today as `YYYY-MM-DD`, in the time zone of the machine.
pub(super) fn today() -> String {
    jiff::ZonedDateTime::now().date().to_string()
}

/// Now as `YYYY-MM-DD HH:MM`, in the time zone of the machine.
fn now() -> String {
    let now = jiff::ZonedDateTime::now();
    [now.date().to_string(), now.strftime("%R").to_string()].join(" ")
}
