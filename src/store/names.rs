//! The names of yarns as a search reads them, kept between searches where that is
//! asked for: reading them from the file takes longer than comparing them.
//!
//! Names that are kept are never older than the records that are looked at. The
//! file tells a connection whether any other has changed it; what the connection
//! changes itself makes it forget the names. Source: the documentation of SQLite
//! (www.sqlite.org) on `PRAGMA data_version`.

use super::{
    Reader, StoreError,
    letters::Letters,
    titles::{Titles, clear, shrink},
};
use std::cell::RefCell;

/// The most yarns whose names are kept, so that memory stays bounded; some 110
/// bytes each.
const MOST: u64 = 300_000;

/// Folded makers and names, and the letters of each word of each name.
#[derive(Debug, Default)]
struct Names {
    titles: Titles,
    words: Vec<Letters>,
}

impl Names {
    fn each(&self, mut see: impl FnMut(i64, (&str, &str), &[Letters])) {
        let mut words = self.words.as_slice();
        self.titles.each(|id, title| {
            let count = 1 + title.1.bytes().filter(|byte| *byte == b' ').count();
            let (own, rest) = words.split_at_checked(count).unwrap_or_default();
            words = rest;
            see(id, title, own);
        });
    }
}

/// The names that a connection keeps, and the state of the file that they are of.
#[derive(Debug, Default)]
pub(super) struct Kept(RefCell<(Option<i64>, Names)>);

impl Kept {
    /// The connection changes something itself, which the file does not tell it.
    pub(super) fn forget(&mut self) {
        self.0.get_mut().0 = None;
    }
}

impl Reader<'_> {
    /// Hands number, folded maker and name, and the letters of the words of the name
    /// of every yarn to `see`, in the order of maker and name.
    pub(super) fn each_name(
        &self,
        mut see: impl FnMut(i64, (&str, &str), &[Letters]) + Send,
    ) -> Result<(), StoreError> {
        let mut words = Vec::new();
        let see_title = |id, title: (&str, &str)| {
            Letters::of_words(title.1, &mut words);
            see(id, title, &words);
        };
        let Some(kept) = self.names else {
            return self.titles(see_title);
        };
        let kept = &mut *kept.0.borrow_mut();
        let count = self.count_yarns()?;
        if count > MOST {
            *kept = Default::default();
            return self.titles(see_title);
        }
        let state = Some(self.db.number("PRAGMA data_version", [])?);
        if kept.0 != state {
            kept.0 = None;
            kept.1 = self.names_over(std::mem::take(&mut kept.1))?;
            kept.0 = state;
        }
        kept.1.each(see);
        Ok(())
    }

    /// The names, in the memory of those that are out of date.
    fn names_over(&self, mut names: Names) -> Result<Names, StoreError> {
        names.titles.clear();
        clear(&mut names.words);
        let mut words = Vec::new();
        self.each_title(|id, title| {
            names.titles.add(id, title);
            Letters::of_words(title.1, &mut words);
            names.words.extend_from_slice(&words);
        })?;
        names.titles.shrink();
        shrink(&mut names.words);
        Ok(names)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::bare};
    use super::*;
    use crate::record::{Id, Yarn};
    use proptest::prelude::*;
    use std::path::Path;

    fn keeping(path: &Path) -> Store {
        Store::open(path).unwrap().keeping_names()
    }

    fn add(store: &mut Store, maker: &str, name: &str) -> Id<Yarn> {
        store.write(|w| w.add_yarn(&bare(maker, name))).unwrap()
    }

    fn found(store: &Store, text: &str) -> Vec<i64> {
        let hits = store.reader().unwrap().search_yarns(text, 9).unwrap();
        hits.iter().map(|hit| hit.yarn.id.number()).collect()
    }

    #[test]
    fn what_another_connection_writes_is_found_at_once() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("records.db");
        let (looks, mut writes) = (keeping(&path), Store::open(&path).unwrap());
        assert!(found(&looks, "dune").is_empty());
        let dune = add(&mut writes, "Quay", "Dune");
        assert_eq!(found(&looks, "dune"), [dune.number()]);
        let named = bare("Quay", "Reed");
        writes.write(|w| w.update_yarn(dune, 1, &named)).unwrap();
        assert_eq!(found(&looks, "reed"), [dune.number()]);
        assert!(found(&looks, "dune").is_empty());
        writes.write(|w| w.remove_yarn(dune)).unwrap();
        assert!(found(&looks, "reed").is_empty());
    }

    #[test]
    fn a_reader_finds_what_was_there_at_its_moment() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("records.db");
        let (looks, mut writes) = (keeping(&path), Store::open(&path).unwrap());
        let reed = add(&mut writes, "Quay", "Reed").number();
        let moment = looks.reader().unwrap();
        assert_eq!(moment.count_yarns().unwrap(), 1);
        let sedge = add(&mut writes, "Quay", "Sedge").number();
        let hits = moment.search_yarns("quay", 9).unwrap();
        assert_eq!(hits.len(), 1, "{hits:?}");
        drop(moment);
        assert_eq!(found(&looks, "quay"), [reed, sedge]);
    }

    #[test]
    fn what_fails_and_is_taken_back_is_not_found() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = keeping(&folder.path().join("records.db"));
        let reed = add(&mut store, "Quay", "Reed").number();
        assert_eq!(found(&store, "quay"), [reed]);
        let failed: Result<(), StoreError> = store.write(|w| {
            w.add_yarn(&bare("Quay", "Dune"))?;
            assert_eq!(w.search_yarns("quay", 9)?.len(), 2);
            w.yarn(Id::new(99)).map(|_| ())
        });
        assert!(failed.is_err());
        assert_eq!(found(&store, "quay"), [reed]);
    }

    #[test]
    fn restored_records_are_found_and_no_others() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = keeping(&folder.path().join("records.db"));
        let copy = folder.path().join("copy.db");
        let reed = add(&mut store, "Quay", "Reed").number();
        store.backup_to(&copy, |_, _| ()).unwrap();
        let sedge = add(&mut store, "Quay", "Sedge").number();
        assert_eq!(found(&store, "quay"), [reed, sedge]);
        store.restore_from(&copy, |_, _| ()).unwrap();
        assert_eq!(found(&store, "quay"), [reed]);
    }

    #[test]
    fn a_hundred_thousand_names_take_less_than_twenty_mebibytes() {
        let (mut names, mut words) = (Names::default(), Vec::new());
        for n in 0..100_000 {
            let (maker, name) = (format!("maker {n:06}"), format!("sandgate moor {n:06}"));
            names.titles.add(n, (&maker, &name));
            Letters::of_words(&name, &mut words);
            names.words.extend_from_slice(&words);
        }
        names.titles.shrink();
        shrink(&mut names.words);
        let bytes = names.titles.memory() + names.words.capacity() * size_of::<Letters>();
        assert!(bytes < 20 * 1024 * 1024, "{bytes} bytes");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn prop_kept_names_answer_as_the_file_does(
            steps in prop::collection::vec(
                (("[a-c]{1,2}", "[a-cé]{1,4}( [a-c]{1,3})?"), 0_i64..9, "[a-c]{1,4}( [a-c]{1,3})?"),
                1..14,
            ),
        ) {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("records.db");
            let (mut keeps, mut reads) = (keeping(&path), Store::open(&path).unwrap());
            for ((maker, name), n, text) in steps {
                let store = match n % 2 { 0 => &mut keeps, _ => &mut reads };
                let _ = match n {
                    0..6 => store.write(|w| w.add_yarn(&bare(&maker, &name)).map(|_| ())),
                    _ => store.write(|w| w.remove_yarn(Id::new(n - 5))),
                };
                let hits = |store: &Store| store.reader().unwrap().search_yarns(&text, 5).unwrap();
                prop_assert_eq!(hits(&keeps), hits(&reads));
                prop_assert_eq!(hits(&keeps), hits(&reads));
            }
        }
    }
}
