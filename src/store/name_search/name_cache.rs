//! The names of yarns as a search reads them, kept between searches and shared by
//! connections where that is asked for: reading them from the file takes longer than
//! comparing them.
//!
//! Names in memory are those of the moment that is looked at, whoever wrote
//! last: `tally.renamed` gets another number at random whenever a yarn is renamed or
//! removed, and a new yarn has a greater number than all before. So what was only
//! added is added here too, and all names are read again after any other change.

use super::super::{Reader, StoreError};
use rusqlite::Params;
use std::sync::{Arc, PoisonError, RwLock, RwLockReadGuard, RwLockWriteGuard};

/// The most yarns whose names stay in memory, so that memory stays bounded; some 100
/// bytes each.
const MOST: u64 = 300_000;

/// In the order of maker and name, so that one maker serves many.
const ALL: &str = "SELECT id, maker_key, name_key FROM yarn ORDER BY maker_key, name_key";

const LATER: &str = "SELECT id, maker_key, name_key FROM yarn WHERE id > ? ORDER BY id";

/// Which names a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Mark {
    renamed: i64,
    last: i64,
}

impl Mark {
    /// Whether yarns were added since, and nothing else was done.
    fn is_after(self, before: Self) -> bool {
        self.renamed == before.renamed && self.last > before.last
    }
}

/// Folded makers and names; one maker that follows itself is kept once.
#[derive(Debug, Default)]
struct Names {
    /// Which they are; none while they are read.
    mark: Option<Mark>,
    titles: Vec<(Arc<str>, Box<str>)>,
}

/// Names of yarns that stay in memory between searches. All that open one file
/// can share them.
#[derive(Debug, Clone, Default)]
pub struct NameCache(Arc<RwLock<Names>>);

impl Names {
    fn each(&self, mut see: impl FnMut(&str, &str)) {
        let titles = self.titles.iter();
        titles.for_each(|(maker, name)| see(maker, name));
    }

    fn add(&mut self, maker: &str, name: &str) {
        let last = self.titles.last().map(|(last, _)| last);
        let same = last.filter(|last| last.as_ref() == maker);
        let maker = same.map_or_else(|| maker.into(), Arc::clone);
        self.titles.push((maker, name.into()));
    }

    /// Makes them the names of `reader`, with as little reading as that takes.
    fn refresh(&mut self, reader: &Reader<'_>, mark: Mark) -> Result<(), StoreError> {
        match self.mark.take() {
            Some(before) if mark.is_after(before) => {
                reader.each_title(LATER, [before.last], |maker, name| self.add(maker, name))?;
            }
            _ => {
                self.titles = Vec::new();
                reader.each_title(ALL, [], |maker, name| self.add(maker, name))?;
                self.titles.shrink_to(self.titles.len() / 8 * 9);
            }
        }
        self.mark = Some(mark);
        Ok(())
    }
}

impl NameCache {
    /// The names at the moment of `reader`; none where others look at a later one.
    fn at(&self, reader: &Reader<'_>) -> Result<Option<RwLockReadGuard<'_, Names>>, StoreError> {
        let mark = reader.names_mark()?;
        let names = self.0.read().unwrap_or_else(PoisonError::into_inner);
        if names.mark == Some(mark) {
            return Ok(Some(names));
        }
        drop(names);
        let mut names = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if names.mark.is_some_and(|kept| kept.is_after(mark)) {
            return Ok(None);
        }
        if names.mark != Some(mark) {
            names.refresh(reader, mark)?;
        }
        Ok(Some(RwLockWriteGuard::downgrade(names)))
    }

    /// Gives the memory back.
    fn forget(&self) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = Names::default();
    }
}

impl Reader<'_> {
    fn names_mark(&self) -> Result<Mark, StoreError> {
        Ok(Mark {
            renamed: self.db.number("SELECT renamed FROM tally", [])?,
            last: self
                .db
                .number("SELECT coalesce(max(id), 0) FROM yarn", [])?,
        })
    }

    /// Hands folded maker and name of every yarn to `see`: from memory, or from the
    /// file where none are in memory.
    pub(super) fn each_name(&self, see: impl FnMut(&str, &str)) -> Result<(), StoreError> {
        let kept = match self.names {
            None => None,
            Some(cache) if self.count_yarns()? > MOST => {
                cache.forget();
                None
            }
            Some(cache) => cache.at(self)?,
        };
        match kept {
            Some(names) => {
                names.each(see);
                Ok(())
            }
            None => self.each_title(ALL, [], see),
        }
    }

    fn each_title(
        &self,
        sql: &str,
        params: impl Params,
        mut see: impl FnMut(&str, &str),
    ) -> Result<(), StoreError> {
        self.db.each_row("yarn", sql, params, |row| {
            row.cell::<i64>()?;
            see(row.text()?, row.text()?);
            Ok(Ok(()))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::{Store, samples::bare};
    use super::*;
    use crate::record::{Id, Yarn};
    use proptest::prelude::*;
    use std::path::Path;

    fn keeping(path: &Path) -> Store {
        together(path, &NameCache::default())
    }

    fn together(path: &Path, names: &NameCache) -> Store {
        Store::open(path).unwrap().with_name_cache(names.clone())
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
    fn names_shared_by_connections_serve_each_its_own_moment() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("records.db");
        let names = NameCache::default();
        let (mut one, other) = (together(&path, &names), together(&path, &names));
        let reed = add(&mut one, "Quay", "Reed").number();
        let moment = other.reader().unwrap();
        assert_eq!(moment.search_yarns("quay", 9).unwrap().len(), 1);
        let sedge = add(&mut one, "Quay", "Sedge").number();
        assert_eq!(found(&one, "quay"), [reed, sedge]);
        assert_eq!(moment.search_yarns("quay", 9).unwrap().len(), 1);
        drop(moment);
        assert_eq!(found(&other, "quay"), [reed, sedge]);
        one.write(|w| w.remove_yarn(Id::new(reed))).unwrap();
        assert_eq!(found(&other, "quay"), [sedge]);
    }

    #[test]
    fn what_is_added_is_read_alone_and_a_change_of_a_name_reads_all() {
        let folder = tempfile::tempdir().unwrap();
        let names = NameCache::default();
        let mut store = together(&folder.path().join("records.db"), &names);
        let mark = || names.0.read().unwrap().mark.unwrap();
        let reed = add(&mut store, "Quay", "Reed");
        found(&store, "quay");
        let first = mark();
        add(&mut store, "Quay", "Sedge");
        found(&store, "quay");
        assert_eq!(
            (mark().renamed, mark().last),
            (first.renamed, first.last + 1)
        );
        add(&mut store, "Quay", "Abbot");
        found(&store, "quay");
        let order = || {
            let mut order = Vec::new();
            let kept = names.0.read().unwrap();
            kept.each(|_, name| order.push(name.to_owned()));
            order
        };
        assert_eq!(
            order(),
            ["reed", "sedge", "abbot"],
            "the last is read alone"
        );
        let noted = |name: &str, notes: &str| Yarn {
            notes: notes.to_owned(),
            ..bare("Quay", name)
        };
        let update = |store: &mut Store, version, yarn: &Yarn| {
            store.write(|w| w.update_yarn(reed, version, yarn)).unwrap();
            found(store, "quay");
        };
        update(&mut store, 1, &noted("Reed", "soft"));
        assert_eq!(mark().renamed, first.renamed);
        update(&mut store, 2, &noted("Rush", "soft"));
        assert_ne!(mark().renamed, first.renamed);
        assert_eq!(order(), ["abbot", "rush", "sedge"], "all are read again");
    }

    #[test]
    fn many_yarns_added_in_a_hurry_are_found() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = keeping(&folder.path().join("records.db"));
        add(&mut store, "Quay", "Reed");
        assert_eq!(found(&store, "quay").len(), 1);
        let done: Result<(), StoreError> = store.write(|writer| {
            let mut yarns = writer.new_yarns_in_bulk_after(3)?;
            (0..7).try_for_each(|n| yarns.add(&bare("Quay", &format!("Dune {n}"))).map(|_| ()))
        });
        done.unwrap();
        assert_eq!(found(&store, "quay").len(), 8);
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
        let sound = crate::store::SoundBackup::open(&copy).unwrap();
        store.restore_from(&sound, |_, _| ()).unwrap();
        assert_eq!(found(&store, "quay"), [reed]);
    }

    #[test]
    fn what_is_added_after_a_restore_is_not_taken_for_what_was_there_before() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("records.db");
        let copy = folder.path().join("copy.db");
        let (looks, mut writes) = (keeping(&path), Store::open(&path).unwrap());
        add(&mut writes, "Quay", "Reed");
        writes.backup_to(&copy, |_, _| ()).unwrap();
        let sedge = add(&mut writes, "Quay", "Sedge");
        assert_eq!(found(&looks, "sedge"), [sedge.number()]);
        let sound = crate::store::SoundBackup::open(&copy).unwrap();
        writes.restore_from(&sound, |_, _| ()).unwrap();
        assert_eq!(add(&mut writes, "Quay", "Dune"), sedge);
        assert_eq!(found(&looks, "dune"), [sedge.number()]);
        assert!(found(&looks, "sedge").is_empty());
    }

    #[test]
    fn a_hundred_thousand_names_take_less_than_twenty_mebibytes() {
        let mut names = Names::default();
        for n in 0..100_000 {
            let (maker, name) = (format!("maker {n:06}"), format!("sandgate moor {n:06}"));
            names.add(&maker, &name);
        }
        let title = |(maker, name): &(Arc<str>, Box<str>)| maker.len() + 16 + name.len();
        let texts: usize = names.titles.iter().map(title).sum();
        let bytes = texts + names.titles.capacity() * size_of::<(Arc<str>, Box<str>)>();
        assert!(bytes < 20 * 1024 * 1024, "{bytes} bytes");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn prop_cached_names_answer_as_the_file_does(
            steps in prop::collection::vec(
                (("[a-c]{1,2}", "[a-cé]{1,4}( [a-c]{1,3})?"), 0_i64..9, "[a-c]{1,4}( [a-c]{1,3})?"),
                1..14,
            ),
        ) {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("records.db");
            let names = NameCache::default();
            let (mut keeps, too) = (together(&path, &names), together(&path, &names));
            let mut reads = Store::open(&path).unwrap();
            for ((maker, name), n, text) in steps {
                let store = if n % 2 == 0 { &mut keeps } else { &mut reads };
                let _ = match n {
                    0..6 => store.write(|w| w.add_yarn(&bare(&maker, &name)).map(|_| ())),
                    _ => store.write(|w| w.remove_yarn(Id::new(n - 5))),
                };
                let hits = |store: &Store| store.reader().unwrap().search_yarns(&text, 5).unwrap();
                prop_assert_eq!(hits(&keeps), hits(&reads));
                prop_assert_eq!(hits(&too), hits(&reads));
            }
        }
    }
}
