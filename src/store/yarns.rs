//! Yarns and the shades they come in: read, kept, changed and forgotten.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    facts,
    name_search::{NameKeys, name_key, searched_part},
    rows::{CellSink, Cells, Columns, field_columns},
    sql::Table,
};
use crate::{
    measure::Interval,
    record::{Id, Name, Stored, Yarn, YarnFacts},
    trade::Gtin,
};
use rusqlite::Params;
use std::sync::LazyLock;

field_columns!(Yarn {
    maker: Name,
    name: Name,
    gtin: Option<Gtin>,
    discontinued: bool,
    notes: String,
    more_gtins: Vec<Gtin>,
    low: Option<u32>,
} else { facts, shades });

/// The start of every question for yarns, each a yarn and its facts.
static SELECT: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT yarn.id, yarn.version, yarn.maker, yarn.name, yarn.gtin, yarn.discontinued, \
         yarn.notes, yarn.more_gtins, yarn.low, {} FROM yarn JOIN facts ON facts.id = yarn.id ",
        facts::columns()
    )
});

static ONE: LazyLock<String> = LazyLock::new(|| format!("{}{BY_ID}", *SELECT));

/// How the questions go on.
const ALL: &str = "ORDER BY yarn.maker_key, yarn.name_key";
const BY_ID: &str = "WHERE yarn.id = ?";
const BY_NAME: &str = "WHERE yarn.maker_key = ? AND yarn.name_key = ?";
/// Keys that begin with what is searched, alone or with a whole name after it.
const ALIKE: &str = "WHERE yarn.maker_key >= ?1 AND yarn.maker_key < ?1 || ' ' \
                     AND yarn.name_key >= ?2 AND yarn.name_key < ?2 || ' '";
const BY_GTIN: &str = "WHERE yarn.gtin IS NOT NULL AND substr('000000' || yarn.gtin, -14) \
                       = substr('000000' || ?, -14) ORDER BY yarn.id";

/// Numbers of records begin with 1.
const OF_GRIST: &str =
    "FROM facts JOIN yarn ON yarn.id = facts.id WHERE grist BETWEEN ? AND ? AND yarn.id <> ?";

/// Those that have further article numbers.
const WITH_MORE_GTINS: &str = "WHERE yarn.more_gtins IS NOT NULL ORDER BY yarn.id";

fn with_facts((mut yarn, facts): (Stored<Yarn>, YarnFacts)) -> Stored<Yarn> {
    yarn.record.facts = facts;
    yarn
}

impl Reader<'_> {
    /// The yarn with this number.
    pub fn yarn(&self, id: Id<Yarn>) -> Result<Stored<Yarn>, StoreError> {
        let found = self.yarns_where(BY_ID, [id.number()])?;
        found.into_iter().next().ok_or(YARN.gone(id.number()))
    }

    /// The yarn with this number as it is judged, its shades left out; none where
    /// the number is that of a pattern's yarn.
    pub fn yarn_to_judge(&self, id: Id<Yarn>) -> Result<Option<Stored<Yarn>>, StoreError> {
        let found = self.db.first("yarn", &ONE, [id.number()])?;
        Ok(found.map(with_facts))
    }

    /// The folded maker and name of the yarn with this number, which no two yarns
    /// share; none where the number is that of a pattern's yarn.
    pub fn name_keys(&self, id: Id<Yarn>) -> Result<Option<NameKeys>, StoreError> {
        let sql = "SELECT maker_key, name_key FROM yarn WHERE id = ?";
        self.db.first("yarn", sql, [id.number()])
    }

    /// At most `count` yarns by folded maker and name, those after `last`.
    pub fn name_keys_after(
        &self,
        last: &NameKeys,
        count: u32,
    ) -> Result<Vec<(Id<Yarn>, NameKeys)>, StoreError> {
        let sql = "SELECT id, maker_key, name_key FROM yarn \
                   WHERE (maker_key, name_key) > (?, ?) ORDER BY maker_key, name_key LIMIT ?";
        self.db.all("yarn", sql, (&last.0, &last.1, count))
    }

    /// The yarn of this maker and name; else the only one whose maker and name differ
    /// from these in accents and signs.
    pub fn yarn_named(&self, maker: &str, name: &str) -> Result<Option<Stored<Yarn>>, StoreError> {
        let keys = [name_key(maker), name_key(name)];
        let found = self.yarn_of_keys(&keys[0], &keys[1])?;
        if found.is_some() {
            return Ok(found);
        }
        let mut alike = self.yarns_where(ALIKE, keys.each_ref().map(|key| searched_part(key)))?;
        let only = alike.pop();
        Ok(only.filter(|_| alike.is_empty()))
    }

    /// The yarn of these keys of maker and name.
    pub(super) fn yarn_of_keys(
        &self,
        maker: &str,
        name: &str,
    ) -> Result<Option<Stored<Yarn>>, StoreError> {
        let found = self.yarns_where(BY_NAME, [maker, name])?;
        Ok(found.into_iter().next())
    }

    /// The yarns with this article number, of whatever length it is written.
    pub fn yarns_by_gtin(&self, gtin: &Gtin) -> Result<Vec<Stored<Yarn>>, StoreError> {
        let mut found = self.yarns_where(BY_GTIN, [gtin.to_string()])?;
        let in_full = |gtin: &Gtin| format!("{gtin:0>14}");
        let is_meant = |other: &Gtin| in_full(other) == in_full(gtin);
        let mut more = self.yarns_where(WITH_MORE_GTINS, [])?;
        more.retain(|yarn| {
            let is_found = found.iter().any(|it| it.id == yarn.id);
            !is_found && yarn.record.more_gtins.iter().any(is_meant)
        });
        found.append(&mut more);
        Ok(found)
    }

    /// At most `count` yarns of a length per mass within a range, m/g, but for one: first
    /// those of which there are lots, then by maker and name; and whether there are.
    pub fn yarns_of_grist(
        &self,
        range: Interval<f64>,
        but: Option<Id<Yarn>>,
        count: usize,
    ) -> Result<Vec<(Id<Yarn>, bool)>, StoreError> {
        let sql = format!(
            "SELECT yarn.id, EXISTS (SELECT 1 FROM stock_lot WHERE yarn = yarn.id) AS has_lots \
             {OF_GRIST} ORDER BY has_lots DESC, maker_key, name_key LIMIT ?"
        );
        let count = i64::try_from(count).unwrap_or(i64::MAX);
        let cells = (range.low(), range.high(), but.map_or(0, Id::number), count);
        self.db.all("yarn", &sql, cells)
    }

    /// How many there are.
    pub fn count_yarns_of_grist(
        &self,
        range: Interval<f64>,
        but: Option<Id<Yarn>>,
    ) -> Result<usize, StoreError> {
        let sql = format!("SELECT count(*) {OF_GRIST}");
        let cells = (range.low(), range.high(), but.map_or(0, Id::number));
        let count = self.db.number(&sql, cells)?;
        Ok(usize::try_from(count).unwrap_or(usize::MAX))
    }

    /// Hands every yarn to `each`, in the order of maker and name.
    pub fn yarns<E: From<StoreError>>(
        &self,
        each: impl FnMut(Stored<Yarn>) -> Result<(), E>,
    ) -> Result<(), E> {
        self.each_yarn(ALL, [], each)
    }

    /// How many yarns there are.
    pub fn count_yarns(&self) -> Result<u64, StoreError> {
        let count = self.db.number("SELECT yarns FROM tally", [])?;
        Ok(count.unsigned_abs())
    }

    /// How many yarns are discontinued.
    pub fn count_discontinued(&self) -> Result<u64, StoreError> {
        let sql = "SELECT count(*) FROM yarn WHERE discontinued";
        Ok(self.db.number(sql, [])?.unsigned_abs())
    }

    /// Number and title of every yarn, in the order of maker and name.
    pub fn yarn_titles(&self) -> Result<Vec<(Id<Yarn>, String)>, StoreError> {
        let sql = "SELECT id, maker || ', ' || name FROM yarn ORDER BY maker_key, name_key";
        self.db.all("yarn", sql, [])
    }

    /// At most `count` yarns in the order of maker and name, after the first
    /// `from`.
    pub fn yarns_from(&self, from: usize, count: usize) -> Result<Vec<Stored<Yarn>>, StoreError> {
        let sql = "SELECT id FROM yarn ORDER BY maker_key, name_key LIMIT ? OFFSET ?";
        let limits = [count, from].map(|n| i64::try_from(n).unwrap_or(i64::MAX));
        let ids: Vec<Id<Yarn>> = self.db.all("yarn", sql, limits)?;
        ids.into_iter().map(|id| self.yarn(id)).collect()
    }

    /// Hands maker and name of every yarn to `each`.
    pub fn yarn_names<E: From<StoreError>>(
        &self,
        mut each: impl FnMut(String, String),
    ) -> Result<(), E> {
        let sql = "SELECT id, maker, name FROM yarn";
        self.db
            .each("yarn", sql, [], |(_, maker, name): (i64, _, _)| {
                each(maker, name);
                Ok(())
            })
    }

    fn yarns_where(
        &self,
        rest: &str,
        params: impl Params,
    ) -> Result<Vec<Stored<Yarn>>, StoreError> {
        let mut found = Vec::new();
        self.each_yarn(rest, params, |yarn| {
            found.push(yarn);
            Ok::<(), StoreError>(())
        })?;
        Ok(found)
    }

    fn each_yarn<E: From<StoreError>>(
        &self,
        rest: &str,
        params: impl Params,
        mut each: impl FnMut(Stored<Yarn>) -> Result<(), E>,
    ) -> Result<(), E> {
        let sql = format!("{}{rest}", *SELECT);
        self.db.each("yarn", &sql, params, |row| {
            let mut yarn = with_facts(row);
            yarn.record.shades = self.shades(yarn.id)?;
            each(yarn)
        })
    }

    fn shades(&self, yarn: Id<Yarn>) -> Result<Vec<String>, StoreError> {
        let sql = "SELECT yarn, name FROM shade WHERE yarn = ? ORDER BY place";
        let rows: Vec<(i64, String)> = self.db.all("shade", sql, [yarn.number()])?;
        Ok(rows.into_iter().map(|(_, name)| name).collect())
    }
}

/// The columns that are written, after the row's number.
pub(super) const YARN: Table = Table {
    name: "yarn",
    what: "yarn",
    columns: "maker, name, gtin, discontinued, notes, more_gtins, low, maker_key, name_key, id",
};

/// What decides whether two yarns have one name.
pub(super) fn keys(yarn: &Yarn) -> (String, String) {
    (name_key(yarn.maker.as_str()), name_key(yarn.name.as_str()))
}

/// Writes the cells of a yarn with these keys of maker and name.
pub(super) fn encode(yarn: &Yarn, keys: &NameKeys, id: i64, cells: &mut dyn CellSink) {
    yarn.encode(cells);
    keys.encode(cells);
    id.encode(cells);
}

fn cells(yarn: &Yarn, id: i64) -> Cells {
    let mut cells = Cells::default();
    encode(yarn, &keys(yarn), id, &mut cells);
    cells
}

impl Writer<'_> {
    /// Keeps a new yarn; refused where one of this maker and name is kept.
    pub fn add_yarn(&self, yarn: &Yarn) -> Result<Id<Yarn>, StoreError> {
        self.db.whole(|| {
            let id = self.add_facts(&yarn.facts)?;
            let added = self.db.insert(&YARN, &cells(yarn, id));
            added.map_err(|error| error.or_duplicate("yarn", || yarn.title()))?;
            self.add_shades(id, &yarn.shades)?;
            self.write_down(Step::new(RecordKind::Yarn, Action::Added, id))?;
            Ok(Id::new(id))
        })
    }

    /// Changes a yarn that was read at `version`; its new version.
    pub fn update_yarn(&self, id: Id<Yarn>, version: i64, yarn: &Yarn) -> Result<i64, StoreError> {
        let number = id.number();
        self.db.whole(|| {
            let before = self.rows_of(RecordKind::Yarn, number)?;
            let cells = cells(yarn, number);
            let changed = self.db.update(&YARN, (number, version), cells);
            let next = changed.map_err(|error| error.or_duplicate("yarn", || yarn.title()))?;
            self.change_facts(number, &yarn.facts)?;
            self.db.run("DELETE FROM shade WHERE yarn = ?", [number])?;
            self.add_shades(number, &yarn.shades)?;
            self.ledgers_still_hold(id)?;
            self.write_down(
                Step::new(RecordKind::Yarn, Action::Changed, number).with_before(before),
            )?;
            Ok(next)
        })
    }

    /// Forgets a yarn; refused while stock or a swatch refers to it.
    pub fn remove_yarn(&self, id: Id<Yarn>) -> Result<(), StoreError> {
        let kept = self.yarn(id)?;
        for (by, table) in [
            ("lot", "stock_lot"),
            ("swatch", "swatch"),
            ("swatch", "swatch_held_with"),
        ] {
            let sql = format!("SELECT count(*) FROM {table} WHERE yarn = ?");
            if self.db.number(&sql, [id.number()])? > 0 {
                return Err(StoreError::InUse {
                    what: kept.record.title(),
                    by,
                });
            }
        }
        let before = self.rows_of(RecordKind::Yarn, id.number())?;
        self.write_shades_down(id)?;
        self.db
            .run("DELETE FROM facts WHERE id = ?", [id.number()])?;
        self.write_down(
            Step::new(RecordKind::Yarn, Action::Removed, id.number()).with_before(before),
        )
    }

    pub(super) fn add_shades(&self, yarn: i64, shades: &[String]) -> Result<(), StoreError> {
        let sql = "INSERT INTO shade (yarn, place, name) VALUES (?, ?, ?)";
        for (place, name) in (0_i64..).zip(shades) {
            self.db.run(sql, (yarn, place, name))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Problem, Store, samples::*, test_files::*};
    use super::*;
    use proptest::prelude::*;

    type Done = Result<(), StoreError>;

    #[test]
    fn a_full_yarn_and_an_almost_empty_one_come_back_exactly() {
        let mut store = Store::in_memory().unwrap();
        for yarn in [full(), bare("Quay", "Dune")] {
            let id = keep(&mut store, &yarn);
            let kept = read(&store, id);
            assert_eq!((kept.version, kept.record), (1, yarn));
        }
        assert_eq!(store.check().unwrap(), []);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        #[test]
        fn prop_a_kept_yarn_comes_back_the_same(yarn in any_yarn(), other in any_yarn()) {
            let mut store = Store::in_memory().unwrap();
            let id = keep(&mut store, &yarn);
            prop_assert_eq!(&read(&store, id).record, &yarn);
            store.write(|w| w.update_yarn(id, 1, &other)).unwrap();
            prop_assert_eq!(&read(&store, id).record, &other);
            let named = store.reader().unwrap();
            let named = named.yarn_named(other.maker.as_str(), other.name.as_str()).unwrap();
            prop_assert_eq!(named.unwrap().id, id);
            prop_assert_eq!(store.check().unwrap(), []);
        }
    }

    #[test]
    fn case_and_spaces_do_not_make_another_yarn_and_signs_do() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &bare("K\u{f6}hler", "Ferry Lane"));
        let again = store.write(|w| w.add_yarn(&bare("K\u{d6}HLER", "ferry  lane")));
        let told = again.unwrap_err().to_string();
        assert_eq!(
            told,
            "there is already a yarn `K\u{d6}HLER, ferry lane`; change that one, or use another name"
        );
        let named = |store: &Store, maker: &str, name: &str| {
            let found = store.reader().unwrap().yarn_named(maker, name).unwrap();
            found.map(|yarn| yarn.id)
        };
        assert_eq!(named(&store, "kohler", "FERRY-LANE"), Some(id));
        assert_eq!(named(&store, "kohler", "Fery Lane"), None);
        let other = keep(&mut store, &bare("Kohler", "Ferry-Lane"));
        assert_eq!(named(&store, "kohler", "ferry-lane"), Some(other));
        assert_eq!(named(&store, "k\u{f6}hler", "ferry lane"), Some(id));
        // Two are as near.
        assert_eq!(named(&store, "kohler", "ferry lane"), None);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn yarns_stream_in_the_order_of_maker_and_name_and_stop_when_asked() {
        let mut store = Store::in_memory().unwrap();
        for (maker, name) in [("B", "x"), ("a", "z"), ("A", "y")] {
            keep(&mut store, &bare(maker, name));
        }
        let reader = store.reader().unwrap();
        let mut seen = Vec::new();
        let all: Done = reader.yarns(|yarn| {
            seen.push(yarn.record.title());
            Ok(())
        });
        all.unwrap();
        assert_eq!(seen, ["A, y", "a, z", "B, x"]);
        let titles = reader.yarn_titles().unwrap();
        assert!(titles.iter().map(|(_, title)| title).eq(&seen));
        let page = reader.yarns_from(1, 1).unwrap();
        assert_eq!(page[0].record.title(), seen[1]);
        assert!(reader.yarns_from(seen.len(), 9).unwrap().is_empty());
        let mut count = 0;
        let stopped: Done = reader.yarns(|_| {
            count += 1;
            Err(StoreError::Gone { what: "", id: 0 })
        });
        assert!(stopped.is_err());
        assert_eq!(count, 1);
    }

    #[test]
    fn an_article_number_is_the_same_with_zeros_before_it() {
        let mut store = Store::in_memory().unwrap();
        let mut yarn = bare("Quay", "Dune");
        yarn.gtin = Some(Gtin::read("036000291452").unwrap());
        let id = keep(&mut store, &yarn);
        let longer = Gtin::read("0036000291452").unwrap();
        let found = store.reader().unwrap().yarns_by_gtin(&longer).unwrap();
        assert_eq!(found.iter().map(|y| y.id).collect::<Vec<_>>(), [id]);
    }

    #[test]
    fn questions_to_very_many_yarns_go_through_an_index() {
        let store = Store::in_memory().unwrap();
        let reader = store.reader().unwrap();
        for rest in [ALL, BY_GTIN, WITH_MORE_GTINS, BY_NAME, BY_ID] {
            let sql = format!("EXPLAIN QUERY PLAN {}{rest}", *SELECT);
            let params = vec!["1"; rest.matches('?').count()];
            let params = rusqlite::params_from_iter(params);
            let steps: Vec<(i64, i64, i64, String)> = reader.db.all("plan", &sql, params).unwrap();
            let plan: Vec<String> = steps.into_iter().map(|step| step.3).collect();
            let plan = plan.join("; ");
            let through = ["USING INDEX", "USING INTEGER PRIMARY KEY"];
            assert!(
                through.iter().any(|through| plan.contains(through)),
                "{rest}: {plan}"
            );
            assert!(!plan.contains("TEMP B-TREE"), "{rest}: {plan}");
        }
    }

    #[test]
    fn a_damaged_row_is_an_error_that_names_it() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &full());
        let spoil = |w: &mut Writer<'_>, sql: &str| w.db.run(sql, []).map(|_| ());
        let spoilt: Done = store.write(|w| spoil(w, "UPDATE blend SET parts = '[[\"x\"]]'"));
        spoilt.unwrap();
        let told = store.reader().unwrap().yarn(id).unwrap_err().to_string();
        assert!(told.contains("row 1 of `yarn` is damaged"), "{told}");
        assert_eq!(store.check().unwrap().len(), 1);
    }

    #[test]
    fn yarns_are_counted_as_they_come_and_go() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &full());
        keep(&mut store, &bare("Quay", "Dune"));
        let refused = store.write(|w| w.add_yarn(&bare("Quay", "Dune")));
        assert!(refused.is_err());
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 2);
        store.write(|w| w.remove_yarn(id)).unwrap();
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 1);
        let spoilt: Done = store.write(|w| w.db.run("UPDATE tally SET yarns = 7", []).map(|_| ()));
        spoilt.unwrap();
        let told = Problem::Tally { told: 7, kept: 1 };
        assert_eq!(store.check().unwrap(), [told]);
    }

    #[test]
    fn a_kept_grist_that_is_not_that_of_the_label_is_reported() {
        let mut store = Store::in_memory().unwrap();
        keep(&mut store, &put_up("Quay", "Dune", 100.0, 50.0));
        let spoilt: Done = store.write(|w| w.db.run("UPDATE facts SET grist = 3", []).map(|_| ()));
        spoilt.unwrap();
        let told = Problem::Grist("Quay, Dune".to_owned());
        assert_eq!(store.check().unwrap(), [told]);
    }

    #[test]
    #[ignore = "a measurement: cargo test --lib a_hundred_thousand -- --ignored --nocapture"]
    fn a_hundred_thousand_yarns_in_one_transaction() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = Store::open(&folder.path().join("many.db")).unwrap();
        let start = std::time::Instant::now();
        let kept: Done = store.write(|w| {
            for n in 0..100_000 {
                let mut yarn = full();
                yarn.name = name(&format!("Yarn {n}"));
                w.add_yarn(&yarn)?;
            }
            Ok(())
        });
        kept.unwrap();
        println!("inserted in {:?}", start.elapsed());
        let start = std::time::Instant::now();
        let reader = store.reader().unwrap();
        let read: Done = reader.yarns(|_| Ok(()));
        read.unwrap();
        println!("read in {:?}", start.elapsed());
        let start = std::time::Instant::now();
        let hits = reader.search_yarns("Yran 77123", 10).unwrap();
        println!("searched in {:?}: {} hits", start.elapsed(), hits.len());
    }

    #[test]
    fn a_refused_yarn_leaves_nothing_behind_in_a_transaction_that_goes_on() {
        let mut store = Store::in_memory().unwrap();
        let kept: Done = store.write(|w| {
            w.add_yarn(&full())?;
            assert!(w.add_yarn(&full()).is_err());
            w.add_yarn(&bare("Quay", "Dune")).map(|_| ())
        });
        kept.unwrap();
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 2);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn what_fails_is_rolled_back_whole() {
        let mut store = Store::in_memory().unwrap();
        let failed: Done = store.write(|w| {
            w.add_yarn(&bare("Quay", "Dune"))?;
            assert_eq!(w.count_yarns()?, 1);
            w.yarn(Id::new(99)).map(|_| ())
        });
        assert!(matches!(failed, Err(StoreError::Gone { id: 99, .. })));
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 0);
    }

    #[test]
    fn the_second_of_two_who_change_a_yarn_is_told() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &bare("Quay", "Dune"));
        let version = store.write(|w| w.update_yarn(id, 1, &full())).unwrap();
        assert_eq!(version, 2);
        let second = store.write(|w| w.update_yarn(id, 1, &bare("Quay", "Dune")));
        assert!(matches!(second, Err(StoreError::ChangedMeanwhile { .. })));
        assert_eq!(read(&store, id).record, full());
        let gone = store.write(|w| w.update_yarn(Id::new(7), 1, &bare("Quay", "Reed")));
        assert!(matches!(gone, Err(StoreError::Gone { id: 7, .. })));
    }

    #[test]
    fn a_yarn_in_use_stays_and_a_number_is_never_used_again() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &full());
        let [swatch, _] = swatches();
        let swatch = store.write(|w| w.add_swatch(id, &swatch)).unwrap();
        let refused = store.write(|w| w.remove_yarn(id)).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "Köhler & Töchter, Ferry Lane is still in use by a swatch; remove or move that first"
        );
        store.write(|w| w.remove_swatch(swatch)).unwrap();
        store.write(|w| w.remove_yarn(id)).unwrap();
        assert!(store.reader().unwrap().yarn(id).is_err());
        assert_ne!(keep(&mut store, &full()), id);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn the_database_itself_refuses_bad_rows() {
        let mut store = Store::in_memory().unwrap();
        keep(&mut store, &full());
        for sql in [
            "UPDATE facts SET length_m = -1",
            "UPDATE facts SET length_text = NULL",
            "UPDATE facts SET care = 'boil'",
            "UPDATE facts SET classes = 256",
            "UPDATE facts SET needle_low_mm = 9",
            "UPDATE facts SET price_per = 'skein'",
            "UPDATE facts SET mass_g = 'heavy'",
            "UPDATE facts SET blend = 99",
            "UPDATE yarn SET maker = ''",
            "UPDATE yarn SET gtin = '12'",
            "UPDATE yarn SET id = 99",
            "INSERT INTO shade VALUES (99, 0, 'red')",
            "INSERT INTO blend (parts) VALUES ('[]')",
        ] {
            let bad: Done = store.write(|w| w.db.run(sql, []).map(|_| ()));
            assert!(bad.is_err(), "{sql}");
        }
    }

    #[test]
    fn a_name_of_nothing_but_marks_is_a_name() {
        let mut store = Store::in_memory().unwrap();
        keep(&mut store, &bare("★", "!!!"));
        keep(&mut store, &bare("★", "???"));
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 2);
    }
}
