//! Adding so many yarns that it pays to take the indexes away and to build them
//! again at the end: an index written in the order of names costs a small part
//! of one written in the order of a list.
//!
//! Meanwhile the names that are kept are known by fingerprints of 8 bytes. A
//! fingerprint that was not met is a new name. One of a yarn that was kept before
//! the hurry comes with its number, so that it can be looked at. One that was met
//! since may be a name that is kept: the indexes are built again, and from then
//! on names are looked up. All of it is part of the one transaction: others see the records and the
//! indexes as they were until it is kept, and so do we where it fails.

use super::{
    StoreError, Writer,
    cells::Taken,
    db::{Db, at},
};
use rusqlite::limits::Limit;
use std::{
    collections::{HashMap, HashSet},
    hash::{BuildHasher, RandomState},
};

/// Yarns after which it may pay.
const MANY: u64 = 10_000;

/// Most names that are known by their fingerprints, some 20 MiB.
const MOST_KNOWN: usize = 1_800_000;

/// Memory for what is sorted at a time, and for pages meanwhile, KiB.
const SORTED_KIB: i32 = 8 * 1024;

/// Most of them that are known with their numbers, some 10 MiB.
const MOST_NUMBERED: usize = 450_000;

/// What was not counted one by one, and what was renamed meanwhile, if anything.
const COUNT: &str = "UPDATE tally SET yarns = (SELECT count(*) FROM yarn), renamed = random()";

/// Threads that sort beside the one that reads.
const SORTING: i32 = 2;

/// Whether a name may be kept, told without a look into the records where that
/// can be.
pub(super) struct Names {
    /// Yarns after which it pays to hurry; none once that was done.
    hurry_after: Option<u64>,
    added: u64,
    known: Option<Fingerprints>,
    most_known: usize,
}

/// What is known of a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Known {
    /// It is new.
    New,
    /// It is kept under this number.
    Kept(i64),
    /// That has to be looked up.
    No,
}

#[derive(Default)]
struct Fingerprints {
    of: RandomState,
    met: HashSet<u64>,
    numbered: HashMap<u64, i64>,
}

impl Fingerprints {
    fn count(&self) -> usize {
        self.met.len() + self.numbered.len()
    }

    fn add_kept(&mut self, (fingerprint, number): (u64, i64)) {
        let (numbered, met) = (&mut self.numbered, &mut self.met);
        let _is_new = match numbered.len() < MOST_NUMBERED {
            true => numbered.insert(fingerprint, number).is_none(),
            false => met.insert(fingerprint),
        };
    }

    /// Adds a name that is new. Where it was met, what is known of it.
    fn meet(&mut self, keys: &(String, String), writer: &Writer<'_>) -> Result<Known, StoreError> {
        let (maker, name) = keys;
        let fingerprint = self.of.hash_one((maker.as_str(), name.as_str()));
        if let Some(number) = self.numbered.get(&fingerprint) {
            let sql = "SELECT count(*) FROM yarn WHERE id = ? AND maker_key = ? AND name_key = ?";
            let is_it = writer.db.number(sql, (number, maker, name))? > 0;
            return Ok(match is_it {
                true => Known::Kept(*number),
                false => Known::No,
            });
        }
        Ok(match self.met.insert(fingerprint) {
            true => Known::New,
            false => Known::No,
        })
    }
}

impl Names {
    /// Of a file with so many yarns: as many again must have come before one
    /// can think that more will come than it costs to sort those that are kept.
    pub(super) fn of(kept: u64) -> Self {
        Self::hurrying_after(kept.max(MANY))
    }

    pub(super) fn hurrying_after(yarns: u64) -> Self {
        Self {
            hurry_after: Some(yarns),
            added: 0,
            known: None,
            most_known: MOST_KNOWN,
        }
    }

    /// What is known of the yarn of these keys.
    pub(super) fn know(
        &mut self,
        writer: &Writer<'_>,
        keys: &(String, String),
    ) -> Result<Known, StoreError> {
        let known = match &mut self.known {
            None => return Ok(Known::No),
            Some(known) if known.count() >= self.most_known => Known::No,
            Some(known) => known.meet(keys, writer)?,
        };
        if known == Known::No {
            self.known = None;
            writer.build_indexes()?;
        }
        Ok(known)
    }

    /// One more was added.
    pub(super) fn one_more(&mut self, writer: &Writer<'_>) -> Result<(), StoreError> {
        self.added += 1;
        if self.hurry_after.is_some_and(|many| self.added >= many) {
            self.hurry_after = None;
            self.known = writer.fingerprints(self.most_known)?;
            if self.known.is_some() {
                writer.take_indexes_away()?;
            }
        }
        Ok(())
    }
}

impl Writer<'_> {
    /// The fingerprints of all names, unless they are too many.
    fn fingerprints(&self, most: usize) -> Result<Option<Fingerprints>, StoreError> {
        let mut known = Fingerprints::default();
        let of = known.of.clone();
        let sql = "SELECT id, maker_key, name_key FROM yarn LIMIT ?";
        let limit = i64::try_from(most).unwrap_or(i64::MAX);
        let fingerprint = |row: &mut Taken<'_, '_>| {
            let number = row.cell::<i64>()?;
            Ok((of.hash_one((row.text()?, row.text()?)), number))
        };
        self.db.each("yarn", sql, [limit], fingerprint, |kept| {
            known.add_kept(kept);
            Ok::<(), StoreError>(())
        })?;
        Ok(Some(known).filter(|known| known.count() < most))
    }

    /// Takes the indexes of yarns and facts away, and what counts them; how they
    /// are built is kept.
    fn take_indexes_away(&self) -> Result<(), StoreError> {
        let sql = "SELECT type || ' ' || name, sql FROM sqlite_schema \
                   WHERE (type = 'index' OR type = 'trigger') \
                   AND tbl_name IN ('facts', 'yarn') AND sql IS NOT NULL";
        let both = |row: &mut Taken<'_, '_>| Ok((row.cell::<String>()?, row.cell::<String>()?));
        for (what, how) in self.db.all("sqlite_schema", sql, [], both)? {
            self.db.run(&format!("DROP {what}"), [])?;
            self.to_build.borrow_mut().push(how);
        }
        self.to_build.borrow_mut().push(COUNT.to_owned());
        Ok(())
    }

    /// Builds the indexes that were taken away.
    pub(super) fn build_indexes(&self) -> Result<(), StoreError> {
        let to_build = self.to_build.take();
        if to_build.is_empty() {
            return Ok(());
        }
        let Db { conn, path } = self.db;
        let failed = |error| at(path, error);
        // Where no threads are to be had it is done without.
        let _ = conn.set_limit(Limit::SQLITE_LIMIT_WORKER_THREADS, SORTING);
        let pages: i32 = conn
            .pragma_query_value(None, "cache_size", |row| row.get(0))
            .map_err(failed)?;
        let set_pages = |pages: i32| conn.pragma_update(None, "cache_size", pages);
        set_pages(-SORTED_KIB).map_err(failed)?;
        let built = to_build
            .iter()
            .try_for_each(|how| self.db.run(how, []).map(|_| ()));
        set_pages(pages).map_err(failed)?;
        let _ = conn.set_limit(Limit::SQLITE_LIMIT_WORKER_THREADS, 0);
        built
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Added, Store, samples::bare};
    use super::*;
    use proptest::prelude::*;

    type Done<T = ()> = Result<T, StoreError>;

    /// How each name was taken, by its place among the names; the number of one
    /// that was kept before.
    fn taken(
        store: &mut Store,
        names: &[String],
        hurry_after: u64,
        most: usize,
    ) -> Vec<Option<i64>> {
        let done: Done<_> = store.write(|writer| {
            let mut known_by = Names::hurrying_after(hurry_after);
            known_by.most_known = most;
            let mut yarns = writer.new_yarns_known_by(known_by)?;
            let take = |name: &String| match yarns.add(&bare("Quay", name))? {
                Added::New(_) => Ok(None),
                Added::Before(id) => Ok(Some(id.number())),
            };
            names.iter().map(take).collect::<Done<Vec<_>>>()
        });
        done.unwrap()
    }

    fn schema(store: &Store) -> Vec<(String, Option<String>)> {
        let sql = "SELECT name, sql FROM sqlite_schema ORDER BY name";
        let both = |row: &mut Taken<'_, '_>| Ok((row.cell()?, row.cell()?));
        let reader = store.reader().unwrap();
        reader.db.all("sqlite_schema", sql, [], both).unwrap()
    }

    proptest! {
        #[test]
        fn prop_in_a_hurry_the_same_yarns_are_kept(
            before in prop::collection::vec("[A-Ca-c]{1,2}", 0..9),
            names in prop::collection::vec("[A-Ca-c]{1,3}", 0..40),
            hurry_after in 1_u64..12,
            most in prop_oneof![Just(5_usize), Just(1000)],
        ) {
            let mut slow = Store::in_memory().unwrap();
            let mut quick = Store::in_memory().unwrap();
            for store in [&mut slow, &mut quick] {
                taken(store, &before, u64::MAX, 0);
            }
            let quickly = taken(&mut quick, &names, hurry_after, most);
            prop_assert_eq!(taken(&mut slow, &names, u64::MAX, 0), quickly);
            prop_assert_eq!(schema(&slow), schema(&quick));
            prop_assert_eq!(quick.check().unwrap(), Vec::<String>::new());
            let titles = |store: &Store| store.reader().unwrap().yarn_titles().unwrap();
            prop_assert_eq!(titles(&slow), titles(&quick));
            let count = quick.reader().unwrap().count_yarns().unwrap();
            prop_assert_eq!(count, titles(&quick).len() as u64);
        }
    }

    fn many() -> Vec<String> {
        (0..50).map(|number| format!("dune {number}")).collect()
    }

    #[test]
    fn a_fingerprint_that_two_names_share_loses_neither() {
        let mut store = Store::in_memory().unwrap();
        let done: Done = store.write(|writer| {
            let mut known = Fingerprints::default();
            known.meet(&("quay".to_owned(), "dune".to_owned()), writer)?;
            let moor = known.of.hash_one(("quay", "moor"));
            known.add_kept((moor, 99));
            let mut names = Names::hurrying_after(1);
            (names.known, names.hurry_after) = (Some(known), None);
            let mut yarns = writer.new_yarns_known_by(names)?;
            writer.take_indexes_away()?;
            for name in ["wall", "dune", "moor"] {
                assert!(matches!(yarns.add(&bare("Quay", name))?, Added::New(_)));
            }
            assert!(matches!(
                yarns.add(&bare("Quay", "Moor"))?,
                Added::Before(_)
            ));
            Ok(())
        });
        done.unwrap();
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
    }

    #[test]
    fn what_is_taken_back_gives_the_indexes_back() {
        let mut store = Store::in_memory().unwrap();
        let before = schema(&store);
        let done: Done = store.write(|writer| {
            let mut yarns = writer.new_yarns_known_by(Names::hurrying_after(3))?;
            for name in many() {
                yarns.add(&bare("Quay", &name))?;
            }
            assert_ne!(writer.to_build.borrow().len(), 0);
            Err(StoreError::Gone {
                what: "yarn",
                id: 1,
            })
        });
        assert!(done.is_err());
        assert_eq!(schema(&store), before);
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 0);
    }

    #[test]
    fn others_look_names_up_as_before_meanwhile() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("records.db");
        let mut store = Store::open(&path).unwrap();
        let other = Store::open(&path).unwrap();
        taken(&mut store, &["moor".to_owned()], u64::MAX, 0);
        let named = |name: &str| {
            let reader = other.reader().unwrap();
            reader.yarn_named("Quay", name).unwrap().is_some()
        };
        let done: Done = store.write(|writer| {
            let mut yarns = writer.new_yarns_known_by(Names::hurrying_after(3))?;
            for name in many() {
                yarns.add(&bare("Quay", &name))?;
            }
            assert!(named("moor") && !named("dune 7"));
            Ok(())
        });
        done.unwrap();
        assert!(named("moor") && named("dune 7"));
    }
}
