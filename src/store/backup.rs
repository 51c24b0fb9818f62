//! All records as a file of their own, and such a file put in their place.

use super::{
    Problem, Store, StoreError, check,
    copy::{copy, copy_to, file_error, keep_copy, kept_names, with_ending},
    migrations::MIGRATIONS,
    temporary::SIDE_FILES,
};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// A backup that was looked through and found sound, to be put in the place of
/// records.
#[derive(Debug)]
pub struct SoundBackup(Store);

impl SoundBackup {
    /// Looks the backup at `path` through as [`Store::check`] does; it is not changed.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        let store = Store::open_unchanged(path)?;
        let problems = store.check()?;
        if problems.is_empty() {
            return Ok(Self(store));
        }
        let path = path.to_owned();
        Err(StoreError::Unsound { path, problems })
    }

    /// Puts it in the place of records that are too damaged to be opened; they stay
    /// beside it under the name that is given.
    pub fn replace_damaged(
        &self,
        path: &Path,
        progress: impl FnMut(u64, u64),
    ) -> Result<PathBuf, StoreError> {
        let kept = put_aside(path)?;
        copy_to(&self.0.conn, path, self.0.busy_timeout, progress, |_, _| {
            Ok(())
        })?;
        Ok(kept)
    }
}

/// Gives the file and its side files names that are free, `<file>.before-restore`.
fn put_aside(path: &Path) -> Result<PathBuf, StoreError> {
    let is_free = |to: &PathBuf| fs::symlink_metadata(to).is_err();
    let mut names = kept_names(path, "restore").filter(is_free);
    let kept = names.next().ok_or_else(|| StoreError::Exists {
        path: path.to_owned(),
    })?;
    for ending in SIDE_FILES.into_iter().chain([""]) {
        let from = with_ending(path, ending);
        if from.exists() {
            let moved = fs::rename(&from, with_ending(&kept, ending));
            moved.map_err(file_error("rename", &from))?;
        }
    }
    Ok(kept)
}

impl Store {
    /// Writes a copy of all records to `to`, which must not exist, and looks it
    /// through: what is wrong with the records is wrong with it.
    /// `progress` hears how much of how much is done.
    pub fn backup_to(
        &self,
        to: &Path,
        progress: impl FnMut(u64, u64),
    ) -> Result<Vec<Problem>, StoreError> {
        let moment = self.reader()?;
        moment.count_yarns()?;
        copy_to(&self.conn, to, self.busy_timeout, progress, check::all)
    }

    /// Puts the records of a backup in the place of these, after keeping a copy of
    /// these, whose name it gives.
    pub fn restore_from(
        &mut self,
        backup: &SoundBackup,
        progress: impl FnMut(u64, u64),
    ) -> Result<Option<PathBuf>, StoreError> {
        let from = &backup.0.path;
        if is_same_file(from, &self.path) {
            let path = from.to_owned();
            return Err(StoreError::Itself { path });
        }
        let kept = match self.is_file() {
            true => Some(keep_copy(
                &self.conn,
                &self.path,
                "restore",
                self.busy_timeout,
            )?),
            false => None,
        };
        self.conn.flush_prepared_statement_cache();
        copy(
            &backup.0.conn,
            &mut self.conn,
            &self.path,
            self.busy_timeout,
            progress,
        )?;
        self.bring_to_newest(MIGRATIONS)?;
        // What was known of the names before says nothing of these.
        self.write(|writer| writer.db.run("UPDATE tally SET renamed = random()", []))?;
        Ok(kept)
    }
}

fn is_same_file(one: &Path, other: &Path) -> bool {
    let behind = |path: &Path| fs::canonicalize(path).ok();
    behind(one).is_some_and(|one| Some(one) == behind(other))
}

#[cfg(test)]
mod tests {
    use super::super::{samples::*, test_files::*};
    use super::*;
    use rusqlite::Connection;
    use std::ffi::OsStr;

    #[test]
    fn a_backup_is_one_whole_file_and_tells_how_far_it_is() {
        let folder = folder();
        let store = stocked(&file(&folder));
        let to = folder.path().join("backup.db");
        let mut told = Vec::new();
        store
            .backup_to(&to, |done, total| told.push((done, total)))
            .unwrap();
        let (done, total) = *told.last().unwrap();
        assert!(done == total && total > 0);
        assert!(told.windows(2).all(|pair| pair[0].0 <= pair[1].0));
        assert!(
            names(&folder)
                .iter()
                .all(|name| !name.contains("part") && !name.starts_with("backup.db-"))
        );
        assert_eq!(count(&Store::open_existing(&to).unwrap()), 1);
        let again = store.backup_to(&to, |_, _| {});
        assert!(matches!(again, Err(StoreError::Exists { .. })));
    }

    #[test]
    fn a_backup_that_cannot_be_written_leaves_nothing() {
        let folder = folder();
        let store = stocked(&file(&folder));
        let to = folder.path().join("none/backup.db");
        let told = store.backup_to(&to, |_, _| {}).unwrap_err().to_string();
        assert!(told.starts_with("cannot write "), "{told}");
    }

    #[test]
    fn a_restored_backup_replaces_the_records_and_keeps_a_copy_of_them() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let backup = folder.path().join("backup.db");
        store.backup_to(&backup, |_, _| {}).unwrap();
        store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        let other = quick(&file(&folder));
        for ending in ["restore", "restore.2"] {
            let sound = SoundBackup::open(&backup).unwrap();
            let kept = store.restore_from(&sound, |_, _| {}).unwrap().unwrap();
            let name = format!("records.db.before-{ending}");
            assert_eq!(kept.file_name(), Some(OsStr::new(&name)));
            assert_eq!((count(&store), count(&other)), (1, 1));
        }
        let first = folder.path().join("records.db.before-restore");
        assert_eq!(count(&Store::open_existing(&first).unwrap()), 2);
        store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn what_is_no_sound_backup_is_not_restored() {
        let folder = folder();
        let from = folder.path().join("from.db");
        let refused = |doing: &dyn Fn()| {
            let _ = fs::remove_file(&from);
            doing();
            SoundBackup::open(&from).unwrap_err()
        };
        let made = |sql: &str| {
            drop(stocked(&from));
            raw(&from, sql);
        };
        let missing = refused(&|| {});
        assert!(matches!(missing, StoreError::Missing { .. }));
        let text = refused(&|| fs::write(&from, "text").unwrap());
        assert!(matches!(text, StoreError::NotADatabase { .. }));
        let empty = refused(&|| fs::write(&from, "").unwrap());
        assert!(matches!(empty, StoreError::NotADatabase { .. }));
        let foreign = refused(&|| raw(&from, "CREATE TABLE notes (text)"));
        assert!(matches!(foreign, StoreError::Foreign { .. }));
        let newer = refused(&|| made("PRAGMA user_version = 99"));
        assert!(matches!(newer, StoreError::Newer { .. }));
        let astray = "PRAGMA foreign_keys = OFF; INSERT INTO shade VALUES (99, 0, 'red')";
        let unsound = refused(&|| made(astray));
        assert!(matches!(unsound, StoreError::Unsound { .. }), "{unsound}");
        let cut = refused(&|| {
            drop(stocked(&from));
            let whole = fs::read(&from).unwrap();
            fs::write(&from, &whole[..whole.len() / 2]).unwrap();
        });
        assert!(matches!(
            cut,
            StoreError::Unsound { .. } | StoreError::Corrupt { .. }
        ));
        let uncounted = refused(&|| made("UPDATE tally SET yarns = 7"));
        assert!(
            matches!(uncounted, StoreError::Unsound { .. }),
            "{uncounted}"
        );
        let mut store = stocked(&file(&folder));
        let own = SoundBackup::open(&file(&folder)).unwrap();
        let itself = store.restore_from(&own, |_, _| {});
        assert!(matches!(itself, Err(StoreError::Itself { .. })));
        assert!(!names(&folder).iter().any(|name| name.contains("before")));
    }

    #[test]
    fn a_restore_waits_for_another_writer_and_then_says_so() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let backup = folder.path().join("backup.db");
        store.backup_to(&backup, |_, _| {}).unwrap();
        let other = Connection::open(file(&folder)).unwrap();
        other.execute_batch("BEGIN IMMEDIATE").unwrap();
        let sound = SoundBackup::open(&backup).unwrap();
        let refused = store.restore_from(&sound, |_, _| {}).unwrap_err();
        assert!(matches!(refused, StoreError::Locked { .. }), "{refused}");
        assert_eq!(count(&store), 1);
    }

    /// Names in the making cannot be foreseen; the one that was used before could.
    #[cfg(unix)]
    #[test]
    fn a_backup_is_not_written_through_a_link_and_is_for_its_owner_alone() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = folder();
        let at = |name: &str| folder.path().join(name);
        fs::write(at("mine"), "mine").unwrap();
        symlink(at("mine"), at(&format!("b.db.part-{}", std::process::id()))).unwrap();
        symlink(at("nowhere"), at("link.db")).unwrap();
        let store = stocked(&file(&folder));
        store.backup_to(&at("b.db"), |_, _| {}).unwrap();
        assert_eq!(fs::read_to_string(at("mine")).unwrap(), "mine");
        let through = store.backup_to(&at("link.db"), |_, _| {});
        assert!(matches!(through, Err(StoreError::Exists { .. })));
        assert!(!at("nowhere").exists());
        for name in ["b.db", "records.db", "records.db-wal"] {
            let mode = fs::metadata(at(name)).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600, "{name}");
        }
    }

    #[test]
    fn a_backup_says_what_is_wrong_with_the_records_in_it() {
        let folder = folder();
        let store = stocked(&file(&folder));
        raw(&file(&folder), "UPDATE tally SET yarns = 7");
        let problems = store.backup_to(&folder.path().join("b.db"), |_, _| {});
        assert_eq!(problems.unwrap(), store.check().unwrap());
        assert!(!store.check().unwrap().is_empty());
    }

    #[test]
    fn a_name_that_records_need_for_themselves_is_no_name_for_a_backup() {
        let folder = folder();
        let store = stocked(&file(&folder));
        let refused = store.backup_to(&folder.path().join("records.db-journal"), |_, _| {});
        assert!(matches!(refused, Err(StoreError::SideFile { .. })));
    }

    #[test]
    fn looking_a_backup_through_changes_nothing_in_it_or_beside_it() {
        let folder = folder();
        let to = folder.path().join("b.db");
        let old = &MIGRATIONS[..MIGRATIONS.len() - 1];
        drop(Store::open_with(&file(&folder), SHORT, old).unwrap());
        let conn = Connection::open(file(&folder)).unwrap();
        copy_to(&conn, &to, SHORT, |_, _| {}, |_, _| Ok(())).unwrap();
        drop(conn);
        let before = (fs::read(&to).unwrap(), names(&folder));
        let looked = Store::open_unchanged(&to).unwrap();
        assert_eq!(looked.check().unwrap(), []);
        drop(looked);
        assert_eq!((fs::read(&to).unwrap(), names(&folder)), before);
    }

    #[test]
    fn records_too_damaged_to_open_are_put_aside_for_a_backup() {
        let folder = folder();
        let (path, backup) = (file(&folder), folder.path().join("b.db"));
        stocked(&path).backup_to(&backup, |_, _| {}).unwrap();
        let whole = fs::read(&path).unwrap();
        fs::write(&path, &whole[..whole.len() / 2]).unwrap();
        assert!(matches!(
            Store::open(&path),
            Err(StoreError::Corrupt { .. })
        ));
        let sound = SoundBackup::open(&backup).unwrap();
        let kept = sound.replace_damaged(&path, |_, _| {}).unwrap();
        assert_eq!(fs::read(kept).unwrap().len(), whole.len() / 2);
        assert_eq!(count(&Store::open(&path).unwrap()), 1);
    }
}
