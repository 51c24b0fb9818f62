//! Backups that make themselves beside the records: one after the first change of a
//! day and of a month. The newest days and months are kept.

use super::{
    Store, StoreError, check,
    copy::{copy_to, with_ending},
    temporary::folder_of,
};
use std::{fs, path::Path};

/// How backups that make themselves are called, and how many of each stay.
const KINDS: [(&str, usize); 2] = [(".day-", 7), (".month-", 12)];

/// What the store does not know itself of backups that it makes.
#[derive(Debug, Clone, Copy)]
pub struct DailyBackups {
    /// The day, `YYYY-MM-DD`.
    pub today: fn() -> String,
    /// Hears why a backup could not be made; the change before it was kept.
    pub failed: fn(&StoreError),
}

impl Store {
    /// The same, with a backup after the first change of each day.
    #[must_use]
    pub fn with_daily_backups(mut self, daily: DailyBackups) -> Self {
        self.daily = Some(daily);
        self
    }

    /// The backups of today, where they are not there yet.
    pub(super) fn back_up_today(&self) {
        if let Some(daily) = self.daily.filter(|_| self.is_file()) {
            let made = self.back_up_on(&(daily.today)());
            made.unwrap_or_else(|why| (daily.failed)(&why));
        }
    }

    pub(super) fn back_up_on(&self, day: &str) -> Result<(), StoreError> {
        let month = day.rsplit_once('-').map_or(day, |(month, _)| month);
        for ((kind, most), date) in KINDS.into_iter().zip([day, month]) {
            let start = with_ending(&self.path, kind);
            let to = with_ending(&start, date);
            if fs::symlink_metadata(&to).is_err() {
                self.copy_soundly(&to)?;
                remove_oldest(&start, date.len(), most);
            }
        }
        Ok(())
    }

    /// A copy, unless its pages are damaged. Whoever makes the same at the same
    /// moment makes it for us.
    fn copy_soundly(&self, to: &Path) -> Result<(), StoreError> {
        let moment = self.reader()?;
        moment.count_yarns()?;
        let look = |conn: &_, _: &Path| {
            let problems = check::file(conn, &self.path)?;
            if problems.is_empty() {
                return Ok(());
            }
            let path = self.path.clone();
            Err(StoreError::Unsound { path, problems })
        };
        match copy_to(&self.conn, to, self.busy_timeout, |_, _| {}, look) {
            Err(StoreError::Exists { .. }) => Ok(()),
            done => done,
        }
    }
}

/// Removes all but the newest `most` files whose names are `start` and a date of so
/// many characters. What cannot be removed stays.
fn remove_oldest(start: &Path, date: usize, most: usize) {
    let folder = folder_of(start);
    let start = start.file_name().unwrap_or_default().to_string_lossy();
    let is_ours = |name: &str| {
        name.strip_prefix(start.as_ref()).is_some_and(|rest| {
            rest.len() == date && rest.bytes().all(|b| b.is_ascii_digit() || b == b'-')
        })
    };
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut dated: Vec<String> = names.filter(|name| is_ours(name)).collect();
    dated.sort_unstable_by(|one, other| other.cmp(one));
    for name in dated.iter().skip(most) {
        drop(fs::remove_file(folder.join(name)));
    }
}

#[cfg(test)]
mod tests {
    use super::super::{samples::*, test_files::*};
    use super::*;

    fn backups(folder: &tempfile::TempDir, kind: &str) -> Vec<String> {
        let all = names(folder).into_iter();
        all.filter(|name| name.contains(kind)).collect()
    }

    #[test]
    fn the_newest_seven_days_and_twelve_months_stay() {
        let folder = folder();
        let store = stocked(&file(&folder));
        fs::write(folder.path().join("records.db.day-of-rest"), "mine").unwrap();
        for month in 1..=14 {
            for day in 1..=3 {
                let year = 2026 + month / 13;
                let on = format!("{year}-{:02}-{day:02}", month % 13 + month / 13);
                store.back_up_on(&on).unwrap();
            }
        }
        let days = backups(&folder, ".day-2");
        assert_eq!(days.len(), 7, "{days:?}");
        assert_eq!(days[6], "records.db.day-2027-02-03");
        let months = backups(&folder, ".month-");
        assert_eq!(months.len(), 12, "{months:?}");
        assert_eq!(months[0], "records.db.month-2026-03");
        assert!(folder.path().join("records.db.day-of-rest").exists());
        assert_eq!(
            count(&Store::open_existing(&folder.path().join(&days[0])).unwrap()),
            1
        );
    }

    #[test]
    fn the_first_change_of_a_day_is_backed_up_and_no_later_one() {
        let folder = folder();
        let daily = DailyBackups {
            today: || "2026-03-01".to_owned(),
            failed: |why| panic!("{why}"),
        };
        let mut store = quick(&file(&folder)).with_daily_backups(daily);
        for title in ["Dune", "Reed"] {
            store.write(|w| w.add_yarn(&bare("Quay", title))).unwrap();
        }
        let day = folder.path().join("records.db.day-2026-03-01");
        assert_eq!(count(&Store::open_unchanged(&day).unwrap()), 1);
    }
}
