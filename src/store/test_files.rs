//! Records in files of a temporary folder, for the store's tests.

use super::{Store, migrations::MIGRATIONS, samples::full};
use crate::record::{Id, Stored, Yarn};
use rusqlite::Connection;
use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};

/// A wait that no test notices.
pub(super) const SHORT: Duration = Duration::from_millis(60);

pub(super) fn file(folder: &tempfile::TempDir) -> PathBuf {
    folder.path().join("records.db")
}

pub(super) fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

pub(super) fn quick(path: &Path) -> Store {
    Store::open_with(path, SHORT, MIGRATIONS).unwrap()
}

/// A store with one yarn.
pub(super) fn stocked(path: &Path) -> Store {
    let mut store = quick(path);
    store.write(|w| w.add_yarn(&full())).unwrap();
    store
}

pub(super) fn count(store: &Store) -> u64 {
    store.reader().unwrap().count_yarns().unwrap()
}

pub(super) fn raw(path: &Path, sql: &str) {
    Connection::open(path).unwrap().execute_batch(sql).unwrap();
}

pub(super) fn names(folder: &tempfile::TempDir) -> Vec<String> {
    let entries = fs::read_dir(folder.path()).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

pub(super) fn keep(store: &mut Store, yarn: &Yarn) -> Id<Yarn> {
    store.write(|w| w.add_yarn(yarn)).unwrap()
}

pub(super) fn read(store: &Store, id: Id<Yarn>) -> Stored<Yarn> {
    store.reader().unwrap().yarn(id).unwrap()
}
