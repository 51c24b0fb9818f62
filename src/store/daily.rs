//! Backups that make themselves beside the records: one after the first change of a
//! day and of a month. The newest days and months stay.
//!
//! One copy is made and looked through. The month's is a link to the day's, and has
//! bytes of its own only where links do not work, or once someone means to write to
//! one of the two.

use super::{
    Store, StoreError, check,
    copy::{copy_to, file_error, with_ending},
    temporary::{beside, folder_of, keep_names, open_ordinary},
};
use std::{fs, io, path::Path};
use tempfile::NamedTempFile;

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
        let [of_day, of_month] = KINDS.map(|(kind, _)| with_ending(&self.path, kind));
        let [today, this_month] = [with_ending(&of_day, day), with_ending(&of_month, month)];
        if is_free(&today) {
            self.copy_soundly(&today)?;
            remove_oldest(&of_day, day.len(), KINDS[0].1);
        }
        if is_free(&this_month) {
            link(&today, &this_month).map_err(file_error("write", &this_month))?;
            remove_oldest(&of_month, month.len(), KINDS[1].1);
        }
        Ok(())
    }

    /// A copy, unless its pages are damaged. Whoever makes the same at the same
    /// moment makes it for us.
    fn copy_soundly(&self, to: &Path) -> Result<(), StoreError> {
        let moment = self.reader()?;
        moment.count_yarns()?;
        let look = |conn: &_, _: &Path| {
            let problems = check::pages(conn, &self.path)?;
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

fn is_free(path: &Path) -> bool {
    fs::symlink_metadata(path).is_err()
}

/// The same file under one more name; a copy of it where the disk has no links.
/// Whoever makes it at the same moment makes it for us.
fn link(from: &Path, to: &Path) -> io::Result<()> {
    let made = fs::hard_link(from, to).or_else(|why| match why.kind() {
        io::ErrorKind::AlreadyExists => Err(why),
        _ => Ok(bytes_of(from, to)?.persist_noclobber(to).map(|_| ())?),
    });
    match made {
        Err(why) if why.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        made => made.and_then(|()| keep_names(folder_of(to))),
    }
}

/// What `from` holds, in a file in the making for its owner alone.
fn bytes_of(from: &Path, to: &Path) -> io::Result<NamedTempFile> {
    let mut part = beside(to)?;
    io::copy(&mut open_ordinary(from)?, part.as_file_mut())?;
    part.as_file().sync_all()?;
    Ok(part)
}

/// Gives a backup of a day or a month bytes of its own, before someone writes to it
/// as to records: the other of the two stays as it is.
pub(super) fn part_from_others(path: &Path) -> io::Result<()> {
    if !is_dated(path) || !is_linked(path)? {
        return Ok(());
    }
    match bytes_of(path, path) {
        Ok(part) => part.persist(path).map(|_| ()).map_err(io::Error::from),
        // What cannot be written will only be read.
        Err(why) if why.kind() == io::ErrorKind::PermissionDenied => Ok(()),
        Err(why) if why.kind() == io::ErrorKind::ReadOnlyFilesystem => Ok(()),
        Err(why) => Err(why),
    }
}

fn is_dated(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    KINDS.iter().any(|(kind, _)| name.contains(kind))
}

#[cfg(unix)]
fn is_linked(path: &Path) -> io::Result<bool> {
    use std::os::unix::fs::MetadataExt;
    Ok(fs::metadata(path)?.nlink() > 1)
}

/// Whether there is another name is not to be known, so that it counts as one.
#[cfg(not(unix))]
fn is_linked(_: &Path) -> io::Result<bool> {
    Ok(true)
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

    #[cfg(unix)]
    #[test]
    fn the_month_shares_the_copy_of_the_day_and_neither_harms_the_other() {
        use std::os::unix::fs::MetadataExt;
        let folder = folder();
        let store = stocked(&file(&folder));
        store.back_up_on("2026-03-01").unwrap();
        let at = |name: &str| folder.path().join(format!("records.db.{name}"));
        let (day, month) = (at("day-2026-03-01"), at("month-2026-03"));
        let about = |path: &Path| fs::metadata(path).unwrap();
        assert_eq!(about(&day).ino(), about(&month).ino());
        assert_eq!(about(&month).mode() & 0o777, 0o600);
        let mut tried = Store::open_existing(&day).unwrap();
        tried.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        assert_eq!((count(&tried), about(&day).mode() & 0o777), (2, 0o600));
        assert_eq!(count(&Store::open_unchanged(&month).unwrap()), 1);
        drop(tried);
        fs::remove_file(&day).unwrap();
        let sound = super::super::SoundBackup::open(&month).unwrap();
        let mut store = store;
        store.restore_from(&sound, |_, _| {}).unwrap();
        assert_eq!(count(&store), 1);
    }

    #[test]
    fn a_backup_of_damaged_pages_is_not_kept() {
        let folder = folder();
        let path = file(&folder);
        let mut store = quick(&path);
        let done: Result<(), StoreError> = store.write(|w| {
            let mut names = (0..300).map(|number| format!("Dune {number}"));
            names.try_for_each(|name| w.add_yarn(&bare("Quay", &name)).map(|_| ()))
        });
        done.unwrap();
        drop(store);
        let mut bytes = fs::read(&path).unwrap();
        let last = bytes.len() - 4096;
        bytes[last..].fill(0x55);
        fs::write(&path, bytes).unwrap();
        let store = Store::open(&path).unwrap();
        let why = store.back_up_on("2026-03-01").unwrap_err();
        let is_told = matches!(why, StoreError::Unsound { .. } | StoreError::Corrupt { .. });
        assert!(is_told, "{why}");
        assert!(backups(&folder, ".day-").is_empty() && backups(&folder, ".month-").is_empty());
    }
}
