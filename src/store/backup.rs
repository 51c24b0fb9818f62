//! All records as a file of their own, and such a file put in their place.

use super::{
    Store, StoreError, check, copies,
    db::at,
    header::{self, Kind},
    schema::{MIGRATIONS, newest},
};
use rusqlite::{Connection, OpenFlags};
use std::{
    fs,
    path::{Path, PathBuf},
};

impl Store {
    /// Writes a copy of all records to `to`, which must not exist; `progress`
    /// hears how much of how much is done.
    pub fn backup_to(&self, to: &Path, progress: impl FnMut(u64, u64)) -> Result<(), StoreError> {
        let moment = self.reader()?;
        moment.count_yarns()?;
        copies::copy_to(&self.conn, to, self.patience, progress)
    }

    /// Puts the records of the backup at `from` in the place of these, after
    /// looking the backup over and keeping a copy of these, whose name it gives.
    pub fn restore_from(
        &mut self,
        from: &Path,
        progress: impl FnMut(u64, u64),
    ) -> Result<Option<PathBuf>, StoreError> {
        if fs::canonicalize(from)
            .ok()
            .is_some_and(|from| fs::canonicalize(&self.path).is_ok_and(|path| path == from))
        {
            let path = from.to_owned();
            return Err(StoreError::Itself { path });
        }
        let source = sound(from)?;
        let kept = match self.is_file() {
            true => {
                let copy = copies::keep_copy(&self.conn, &self.path, "restore", self.patience);
                Some(copy?)
            }
            false => None,
        };
        self.conn.flush_prepared_statement_cache();
        copies::copy(&source, &mut self.conn, &self.path, self.patience, progress)?;
        self.bring_to_newest(MIGRATIONS)?;
        // What was known of the names before says nothing of these.
        self.write(|writer| writer.db.run("UPDATE tally SET renamed = random()", []))?;
        Ok(kept)
    }
}

/// A backup that is whole, ours and not newer than this program.
fn sound(path: &Path) -> Result<Connection, StoreError> {
    if !path.exists() {
        let path = path.to_owned();
        return Err(StoreError::Missing { path });
    }
    if header::inspect(path, newest(MIGRATIONS))? == Kind::Empty {
        let path = path.to_owned();
        return Err(StoreError::NotADatabase { path });
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(path, flags).map_err(|error| at(path, error))?;
    let problems = check::file(&conn, path)?;
    match problems.is_empty() {
        true => Ok(conn),
        false => Err(StoreError::Unsound {
            path: path.to_owned(),
            problems,
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{samples::*, test_files::*};
    use super::*;
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
            let kept = store.restore_from(&backup, |_, _| {}).unwrap().unwrap();
            let name = format!("records.db.before-{ending}");
            assert_eq!(kept.file_name(), Some(OsStr::new(&name)));
            assert_eq!((count(&store), count(&other)), (1, 1));
        }
        let first = folder.path().join("records.db.before-restore");
        assert_eq!(count(&Store::open_existing(&first).unwrap()), 2);
        store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
    }

    #[test]
    fn what_is_no_sound_backup_is_not_restored() {
        let folder = folder();
        let mut store = stocked(&file(&folder));
        let from = folder.path().join("from.db");
        let mut refused = |doing: &dyn Fn()| {
            let _ = fs::remove_file(&from);
            doing();
            let why = store.restore_from(&from, |_, _| {}).unwrap_err();
            assert_eq!(count(&store), 1);
            why
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
        let itself = store.restore_from(&file(&folder), |_, _| {});
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
        let refused = store.restore_from(&backup, |_, _| {}).unwrap_err();
        assert!(matches!(refused, StoreError::Locked { .. }), "{refused}");
        assert_eq!(count(&store), 1);
    }
}
