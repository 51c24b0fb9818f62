//! Adding many yarns: the statements stay ready, and what would be looked up for
//! every yarn is remembered.
//!
//! Of so many yarns that it pays, the indexes are dropped and built again at the end: an
//! index written in the order of names costs less than one written in the order of a
//! list. Meanwhile names are known by fingerprints of 8 bytes, each with the number of
//! its yarn. Where those become too many, an index of the names so far is built, which no
//! later row is written to, and fingerprints begin anew: with all indexes back each later
//! row cost more than twice as much (`benches/growth.py`). All of it is part of the one
//! transaction: others see the records and the indexes as they were until it is kept, and
//! so do we where it fails.

use super::{
    StoreError, Writer,
    facts::{self, FACTS},
    rows::Parameters,
    sql::{Db, at},
    yarns,
};
use crate::record::{Blend, Id, Printed, Yarn};
use rusqlite::{CachedStatement, OptionalExtension, limits::Limit};
use std::{
    collections::HashMap,
    hash::{BuildHasher, RandomState},
};

/// Yarns after which it may pay to take the indexes away.
const MANY: u64 = 10_000;

/// Most names that are known by their fingerprints, some 35 MiB.
const MOST_NAMES: usize = 1_800_000;

/// Blends that are remembered.
const MOST_BLENDS: usize = 4096;

/// Memory for pages while many yarns are added, KiB: without it, indexes that
/// are written in no order are read and written again and again.
const PAGES_KIB: i32 = 16 * 1024;

/// What SQLite takes when nobody says otherwise, KiB.
const USUAL_PAGES_KIB: i32 = 2000;

/// Memory for what is sorted at a time, and for pages meanwhile, KiB.
const SORTED_KIB: i32 = 8 * 1024;

/// Threads that sort beside the one that reads.
const SORTING: i32 = 2;

const NAMED: &str = "SELECT id FROM yarn WHERE maker_key = ? AND name_key = ?";

/// What was not counted one by one, and what was renamed meanwhile, if anything.
const COUNT: &str = "UPDATE tally SET yarns = (SELECT count(*) FROM yarn), renamed = random()";

/// What became of a yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InsertOutcome {
    /// It is kept now, under this number.
    New(Id<Yarn>),
    /// One of this maker and name was kept before; nothing was changed.
    Before(Id<Yarn>),
}

/// Adds yarns within one transaction. Where one fails the transaction has to
/// fail with it.
pub struct NewYarns<'w> {
    writer: &'w Writer<'w>,
    named: CachedStatement<'w>,
    add_facts: CachedStatement<'w>,
    add_yarn: CachedStatement<'w>,
    blends: HashMap<String, (Blend, i64)>,
    added: u64,
    /// Yarns after which the indexes are dropped.
    many: u64,
    most_names: usize,
    /// The names in the records, while the indexes are away.
    names: Option<Fingerprints>,
    /// Finds names that were there before the fingerprints began anew.
    named_before: Option<CachedStatement<'w>>,
}

/// Names by their fingerprints, with the numbers of their yarns.
#[derive(Default)]
struct Fingerprints {
    hasher: RandomState,
    numbers: HashMap<u64, i64>,
}

impl Fingerprints {
    fn of(&self, maker: &str, name: &str) -> u64 {
        self.hasher.hash_one((maker, name))
    }
}

impl Writer<'_> {
    /// Makes ready to add many yarns.
    pub fn new_yarns(&self) -> Result<NewYarns<'_>, StoreError> {
        // As many again must have come before one can think that more will come
        // than it costs to sort those in the records.
        self.new_yarns_in_bulk_after(self.count_yarns()?.max(MANY))
    }

    pub(super) fn new_yarns_in_bulk_after(&self, many: u64) -> Result<NewYarns<'_>, StoreError> {
        let failed = |error| at(self.db.path, error);
        let conn = self.db.conn;
        conn.pragma_update(None, "cache_size", -PAGES_KIB)
            .map_err(failed)?;
        Ok(NewYarns {
            writer: self,
            named: conn.prepare_cached(NAMED).map_err(failed)?,
            add_facts: conn.prepare_cached(&FACTS.insert()).map_err(failed)?,
            add_yarn: conn.prepare_cached(&yarns::YARN.insert()).map_err(failed)?,
            blends: HashMap::new(),
            added: 0,
            many,
            most_names: MOST_NAMES,
            names: None,
            named_before: None,
        })
    }
}

impl Drop for NewYarns<'_> {
    /// Gives the memory back, and the checks also where the work failed. That memory
    /// stays taken would be no fault worth an error.
    fn drop(&mut self) {
        let conn = self.writer.db.conn;
        let _ = self.writer.set_checks(true);
        let _ = conn.pragma_update(None, "cache_size", -USUAL_PAGES_KIB);
    }
}

impl NewYarns<'_> {
    /// Keeps a yarn, unless one of its maker and name is kept.
    pub fn add(&mut self, yarn: &Yarn) -> Result<InsertOutcome, StoreError> {
        let keys = yarns::keys(yarn);
        if let Some(number) = self.number_of(&keys)? {
            return Ok(InsertOutcome::Before(Id::new(number)));
        }
        let blend = match &yarn.facts.blend {
            Some(blend) => Some(self.blend(blend)?),
            None => None,
        };
        let failed = |error| at(self.writer.db.path, error);
        let mut cells = Parameters::of(&mut self.add_facts);
        facts::encode(&yarn.facts, blend, &mut cells);
        cells.execute().map_err(failed)?;
        let number = self.writer.db.conn.last_insert_rowid();
        let mut cells = Parameters::of(&mut self.add_yarn);
        yarns::encode(yarn, &keys, number, &mut cells);
        cells.execute().map_err(failed)?;
        self.writer.add_shades(number, &yarn.shades)?;
        self.remember(&keys, number)?;
        self.writer.added_yarn(number);
        Ok(InsertOutcome::New(Id::new(number)))
    }

    /// The number of the yarn of these keys, where one is kept.
    fn number_of(&mut self, keys: &(String, String)) -> Result<Option<i64>, StoreError> {
        if let Some(names) = &self.names {
            let Some(number) = names.numbers.get(&names.of(&keys.0, &keys.1)) else {
                return self.number_before(keys);
            };
            let sql = "SELECT count(*) FROM yarn WHERE id = ? AND maker_key = ? AND name_key = ?";
            if self.writer.db.number(sql, (number, &keys.0, &keys.1))? > 0 {
                return Ok(Some(*number));
            }
            // Two names of one fingerprint: from now on names are looked up.
            self.bring_indexes_back()?;
        }
        let found = self.named.query_row((&keys.0, &keys.1), |row| row.get(0));
        let found = found.optional();
        found.map_err(|error| at(self.writer.db.path, error))
    }

    /// The number of the yarn of these keys, where the fingerprints do not reach back to it.
    fn number_before(&mut self, keys: &(String, String)) -> Result<Option<i64>, StoreError> {
        let Some(named) = &mut self.named_before else {
            return Ok(None);
        };
        let found = named.query_row((&keys.0, &keys.1), |row| row.get(0));
        let found = found.optional();
        found.map_err(|error| at(self.writer.db.path, error))
    }

    /// One more was added.
    fn remember(&mut self, keys: &(String, String), number: i64) -> Result<(), StoreError> {
        self.added += 1;
        if self.added == self.many {
            let most = u64::try_from(self.most_names).unwrap_or(u64::MAX);
            let are_too_many = self.writer.count_yarns()? >= most;
            self.names = match are_too_many {
                true => Some(Fingerprints::default()),
                false => self.writer.fingerprints()?,
            };
            if self.names.is_some() {
                self.writer.take_indexes_away()?;
                self.writer.set_checks(false)?;
                if are_too_many {
                    self.named_before = Some(self.writer.index_names_up_to(number)?);
                }
            }
        } else if let Some(names) = &mut self.names {
            names.numbers.insert(names.of(&keys.0, &keys.1), number);
            if names.numbers.len() >= self.most_names {
                names.numbers.clear();
                self.named_before = Some(self.writer.index_names_up_to(number)?);
            }
        }
        Ok(())
    }

    fn bring_indexes_back(&mut self) -> Result<(), StoreError> {
        self.names = None;
        self.named_before = None;
        self.writer.set_checks(true)?;
        self.writer.build_indexes()
    }

    /// The number of a blend, which is kept where it is new. What is printed the
    /// same is nearly always the same blend.
    fn blend(&mut self, blend: &Printed<Blend>) -> Result<i64, StoreError> {
        if let Some((known, number)) = self.blends.get(&blend.text)
            && *known == blend.value
        {
            return Ok(*number);
        }
        let number = self.writer.keep_blend(&blend.value)?;
        if self.blends.len() < MOST_BLENDS {
            let known = (blend.value.clone(), number);
            self.blends.insert(blend.text.clone(), known);
        }
        Ok(number)
    }
}

impl Writer<'_> {
    /// Builds an index of the names up to a number, in place of an earlier one, that goes
    /// when the others come back; gives the statement that looks a name up in it.
    fn index_names_up_to(&self, number: i64) -> Result<CachedStatement<'_>, StoreError> {
        let drop = "DROP INDEX IF EXISTS names_so_far";
        self.db.run(drop, [])?;
        self.to_build.borrow_mut().insert(0, drop.to_owned());
        self.sort(&[format!(
            "CREATE INDEX names_so_far ON yarn (maker_key, name_key) WHERE id <= {number}"
        )])?;
        // SQLite takes the index only where the same number stands in the text.
        let sql = format!(
            "SELECT id FROM yarn INDEXED BY names_so_far \
             WHERE maker_key = ? AND name_key = ? AND id <= {number}"
        );
        let Db { conn, path } = self.db;
        conn.prepare_cached(&sql).map_err(|error| at(path, error))
    }

    /// The fingerprints of all names; none where two names have the same.
    fn fingerprints(&self) -> Result<Option<Fingerprints>, StoreError> {
        let mut known = Fingerprints::default();
        let hasher = known.hasher.clone();
        let sql = "SELECT id, maker_key, name_key FROM yarn";
        let mut is_clear = true;
        self.db.each_row("yarn", sql, [], |row| {
            let number = row.cell()?;
            let fingerprint = hasher.hash_one((row.text()?, row.text()?));
            is_clear &= known.numbers.insert(fingerprint, number).is_none();
            Ok(Ok::<(), StoreError>(()))
        })?;
        Ok(Some(known).filter(|_| is_clear))
    }

    /// Takes the indexes of yarns and facts away, and what counts them; how they
    /// are built is kept.
    fn take_indexes_away(&self) -> Result<(), StoreError> {
        let sql = "SELECT type || ' ' || name, sql FROM sqlite_schema \
                   WHERE (type = 'index' OR type = 'trigger') \
                   AND tbl_name IN ('facts', 'yarn') AND sql IS NOT NULL";
        for (what, how) in self.db.all::<(String, String)>("sqlite_schema", sql, [])? {
            self.db.run(&format!("DROP {what}"), [])?;
            self.to_build.borrow_mut().push(how);
        }
        self.to_build.borrow_mut().push(COUNT.to_owned());
        Ok(())
    }

    /// Takes the indexes away where so many of all yarns are to be removed that to build
    /// them again costs less than to take each out of them.
    pub(super) fn make_ready_to_remove(&self, count: i64) -> Result<(), StoreError> {
        let count = count.unsigned_abs();
        if count >= MANY && count.saturating_mul(2) >= self.count_yarns()? {
            self.take_indexes_away()?;
        }
        Ok(())
    }

    /// Has the columns of rows checked, or not: that takes a quarter of what SQLite does
    /// for a row, and a record is valid by construction. That any yarn meets the checks
    /// holds `prop_a_kept_yarn_comes_back_the_same`.
    fn set_checks(&self, on: bool) -> Result<(), StoreError> {
        let Db { conn, path } = self.db;
        conn.pragma_update(None, "ignore_check_constraints", !on)
            .map_err(|error| at(path, error))
    }

    /// Builds the indexes that were taken away.
    pub(super) fn build_indexes(&self) -> Result<(), StoreError> {
        let to_build = self.to_build.take();
        if to_build.is_empty() {
            return Ok(());
        }
        self.sort(&to_build)
    }

    /// Runs statements that build indexes, with what helps sorting.
    fn sort(&self, statements: &[String]) -> Result<(), StoreError> {
        let Db { conn, path } = self.db;
        let failed = |error| at(path, error);
        // Where no threads are to be had it is done without.
        let _ = conn.set_limit(Limit::SQLITE_LIMIT_WORKER_THREADS, SORTING);
        let pages: i32 = conn
            .pragma_query_value(None, "cache_size", |row| row.get(0))
            .map_err(failed)?;
        let set_pages = |pages: i32| conn.pragma_update(None, "cache_size", pages);
        set_pages(-SORTED_KIB).map_err(failed)?;
        let built = statements
            .iter()
            .try_for_each(|how| self.db.run(how, []).map(|_| ()));
        set_pages(pages).map_err(failed)?;
        let _ = conn.set_limit(Limit::SQLITE_LIMIT_WORKER_THREADS, 0);
        built
    }
}

#[cfg(test)]
mod tests {
    use super::super::{InsertOutcome, Store, samples::bare};
    use super::*;
    use proptest::prelude::*;

    type Done<T = ()> = Result<T, StoreError>;

    /// How each name was taken, by its place among the names; the number of one
    /// that was kept before.
    fn taken(store: &mut Store, names: &[String], many: u64, most: usize) -> Vec<Option<i64>> {
        let done: Done<_> = store.write(|writer| {
            let mut yarns = writer.new_yarns_in_bulk_after(many)?;
            yarns.most_names = most;
            let take = |name: &String| match yarns.add(&bare("Quay", name))? {
                InsertOutcome::New(_) => Ok(None),
                InsertOutcome::Before(id) => Ok(Some(id.number())),
            };
            names.iter().map(take).collect::<Done<Vec<_>>>()
        });
        done.unwrap()
    }

    fn schema(store: &Store) -> Vec<(String, Option<String>)> {
        let sql = "SELECT name, sql FROM sqlite_schema ORDER BY name";
        let reader = store.reader().unwrap();
        reader.db.all("sqlite_schema", sql, []).unwrap()
    }

    proptest! {
        #[test]
        fn prop_in_bulk_the_same_yarns_are_kept(
            before in prop::collection::vec("[A-Ca-c]{1,2}", 0..9),
            names in prop::collection::vec("[A-Ca-c]{1,3}", 0..40),
            many in 1_u64..12,
            most in prop_oneof![Just(5_usize), Just(1000)],
        ) {
            let mut slow = Store::in_memory().unwrap();
            let mut quick = Store::in_memory().unwrap();
            for store in [&mut slow, &mut quick] {
                taken(store, &before, u64::MAX, 0);
            }
            let quickly = taken(&mut quick, &names, many, most);
            prop_assert_eq!(taken(&mut slow, &names, u64::MAX, 0), quickly);
            prop_assert_eq!(schema(&slow), schema(&quick));
            prop_assert_eq!(quick.check().unwrap(), []);
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
            known.numbers.insert(known.of("quay", "moor"), 99);
            let mut yarns = writer.new_yarns_in_bulk_after(u64::MAX)?;
            yarns.names = Some(known);
            writer.take_indexes_away()?;
            for name in ["wall", "dune", "moor"] {
                assert!(matches!(
                    yarns.add(&bare("Quay", name))?,
                    InsertOutcome::New(_)
                ));
            }
            assert!(matches!(
                yarns.add(&bare("Quay", "Moor"))?,
                InsertOutcome::Before(_)
            ));
            Ok(())
        });
        done.unwrap();
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn what_is_taken_back_gives_the_indexes_back() {
        let mut store = Store::in_memory().unwrap();
        let before = schema(&store);
        let done: Done = store.write(|writer| {
            let mut yarns = writer.new_yarns_in_bulk_after(3)?;
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
        let unchecked = store.write(|w| w.db.run("INSERT INTO facts (length_m) VALUES (-1)", []));
        assert!(
            matches!(unchecked, Err(StoreError::Refused { .. })),
            "{unchecked:?}"
        );
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
            let mut yarns = writer.new_yarns_in_bulk_after(3)?;
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
