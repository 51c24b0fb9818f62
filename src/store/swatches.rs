//! Swatches of a yarn, or of several held together.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    rows::{Cells, field_columns},
    sql::Table,
};
use crate::{
    measure::{Gauge, NeedleSize},
    record::{Id, StatedGauge, Stored, Swatch, Yarn},
};
use rusqlite::Params;
use std::{collections::HashSet, sync::LazyLock};

const SWATCH: Table = Table {
    name: "swatch",
    what: "swatch",
    columns: "needle_mm, before_stitches_low, before_stitches_high, before_rows_low, \
              before_rows_high, before_over_m, before_stockinette, before_stitch, \
              before_worked, before_washed, before_strands, after_stitches_low, \
              after_stitches_high, after_rows_low, after_rows_high, after_over_m, \
              measured_on, notes, yarn",
};

field_columns!(Swatch {
    needle: NeedleSize,
    before: Option<StatedGauge>,
    after: Option<Gauge>,
    measured_on: String,
    notes: String,
} else { held_with });

static SELECT: LazyLock<String> =
    LazyLock::new(|| format!("SELECT id, version, {} FROM swatch ", SWATCH.columns()));

/// How the questions go on.
const BY_ID: &str = "WHERE id = ?";
const NAMING: &str = "WHERE yarn = ?1 \
                      OR id IN (SELECT swatch FROM swatch_held_with WHERE yarn = ?1) ORDER BY id";
/// Those of several strands.
const OF_STRANDS: &str = "WHERE before_strands > 1 \
                          OR id IN (SELECT swatch FROM swatch_held_with) ORDER BY id";

/// A kept swatch and the yarn that it is of.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptSwatch {
    /// The yarn, the first of several that were held together.
    pub yarn: Id<Yarn>,
    /// The swatch.
    pub kept: Stored<Swatch>,
}

impl KeptSwatch {
    /// The yarns of its strands, as [`Swatch::strand`] gives them.
    pub fn strand(&self) -> Vec<Id<Yarn>> {
        self.kept.record.strand(self.yarn)
    }

    /// Its yarns as they were named.
    pub fn yarns(&self) -> Vec<Id<Yarn>> {
        let further = self.kept.record.held_with.iter().copied();
        [self.yarn].into_iter().chain(further).collect()
    }

    /// Whether it is of this yarn and no other.
    pub fn is_of_one(&self, yarn: Id<Yarn>) -> bool {
        self.yarn == yarn && self.kept.record.is_of_one(yarn)
    }

    /// What was held with one strand of `yarn`, which is one of them.
    pub fn held_with(&self, yarn: Id<Yarn>) -> Vec<Id<Yarn>> {
        let mut others = self.yarns();
        if let Some(place) = others.iter().position(|other| *other == yarn) {
            others.remove(place);
        }
        others
    }
}

impl Reader<'_> {
    /// The yarns of which there is a swatch of no other yarn; they are few.
    pub fn yarns_with_swatches(&self) -> Result<HashSet<Id<Yarn>>, StoreError> {
        let sql = "SELECT yarn FROM swatch WHERE NOT EXISTS (SELECT 1 FROM swatch_held_with AS held \
                   WHERE held.swatch = swatch.id AND held.yarn <> swatch.yarn)";
        let yarns: Vec<Id<Yarn>> = self.db.all("swatch", sql, [])?;
        Ok(yarns.into_iter().collect())
    }

    /// The swatches of a yarn and no other, in the order in which they were kept.
    pub fn swatches_of(&self, yarn: Id<Yarn>) -> Result<Vec<Stored<Swatch>>, StoreError> {
        let mut swatches = self.swatches_naming(yarn)?;
        swatches.retain(|swatch| swatch.is_of_one(yarn));
        Ok(swatches.into_iter().map(|swatch| swatch.kept).collect())
    }

    /// The swatches of a yarn, alone or held with others, in the order in which they were
    /// kept.
    pub fn swatches_naming(&self, yarn: Id<Yarn>) -> Result<Vec<KeptSwatch>, StoreError> {
        self.swatches_where(NAMING, [yarn.number()])
    }

    /// Every swatch of several strands, of one yarn or of several.
    pub fn swatches_of_strands(&self) -> Result<Vec<KeptSwatch>, StoreError> {
        self.swatches_where(OF_STRANDS, [])
    }

    /// The swatch with this number.
    pub fn swatch(&self, id: Id<Swatch>) -> Result<KeptSwatch, StoreError> {
        let found = self.swatches_where(BY_ID, [id.number()])?;
        found.into_iter().next().ok_or(SWATCH.gone(id.number()))
    }

    /// Every yarn that a swatch is of, in the order of maker and name, as yarns are listed.
    pub fn swatched_yarns(&self) -> Result<Vec<Id<Yarn>>, StoreError> {
        let sql = "SELECT swatch.yarn FROM swatch JOIN yarn ON yarn.id = swatch.yarn \
                   GROUP BY swatch.yarn ORDER BY maker_key, name_key";
        self.db.all("swatch", sql, [])
    }

    fn swatches_where(
        &self,
        rest: &str,
        params: impl Params,
    ) -> Result<Vec<KeptSwatch>, StoreError> {
        let sql = format!("{}{rest}", *SELECT);
        let found: Vec<(Stored<Swatch>, Id<Yarn>)> = self.db.all("swatch", &sql, params)?;
        let whole = found.into_iter().map(|(mut kept, yarn)| {
            kept.record.held_with = self.held_with(kept.id)?;
            Ok(KeptSwatch { yarn, kept })
        });
        whole.collect()
    }

    fn held_with(&self, id: Id<Swatch>) -> Result<Vec<Id<Yarn>>, StoreError> {
        let sql = "SELECT swatch, yarn FROM swatch_held_with WHERE swatch = ? ORDER BY place";
        let rows: Vec<(i64, Id<Yarn>)> = self.db.all("swatch_held_with", sql, [id.number()])?;
        Ok(rows.into_iter().map(|(_, yarn)| yarn).collect())
    }
}

impl Writer<'_> {
    /// Keeps a swatch of this yarn.
    pub fn add_swatch(&self, yarn: Id<Yarn>, swatch: &Swatch) -> Result<Id<Swatch>, StoreError> {
        self.db.whole(|| {
            self.yarn(yarn)?;
            let cells = Cells::of(swatch).and(&yarn.number());
            let id = self.db.insert(&SWATCH, &cells)?;
            self.add_held_with(id, &swatch.held_with)?;
            let step = Step::new(RecordKind::Swatch, Action::Added, id).of(yarn);
            self.write_down(step.beside(swatch.held_with.iter().copied()))?;
            Ok(Id::new(id))
        })
    }

    /// Changes a swatch that was read at `version`; its new version.
    pub fn update_swatch(
        &self,
        id: Id<Swatch>,
        version: i64,
        swatch: &Swatch,
    ) -> Result<i64, StoreError> {
        self.db.whole(|| {
            let KeptSwatch { yarn, kept } = self.swatch(id)?;
            let before = self.rows_of(RecordKind::Swatch, id.number())?;
            let cells = Cells::of(swatch).and(&yarn.number());
            let next = self.db.update(&SWATCH, (id.number(), version), cells)?;
            self.remove_held_with(id.number())?;
            self.add_held_with(id.number(), &swatch.held_with)?;
            let further = kept.record.held_with.iter().chain(&swatch.held_with);
            let step = Step::new(RecordKind::Swatch, Action::Changed, id.number());
            let step = step.of(yarn).beside(further.copied());
            self.write_down(step.with_before(before))?;
            Ok(next)
        })
    }

    /// Forgets a swatch.
    pub fn remove_swatch(&self, id: Id<Swatch>) -> Result<(), StoreError> {
        let KeptSwatch { yarn, kept } = self.swatch(id)?;
        let before = self.rows_of(RecordKind::Swatch, id.number())?;
        self.db.remove(&SWATCH, id.number())?;
        let step = Step::new(RecordKind::Swatch, Action::Removed, id.number());
        let step = step.of(yarn).beside(kept.record.held_with.into_iter());
        self.write_down(step.with_before(before))
    }

    fn add_held_with(&self, swatch: i64, yarns: &[Id<Yarn>]) -> Result<(), StoreError> {
        let sql = "INSERT INTO swatch_held_with (swatch, place, yarn) VALUES (?, ?, ?)";
        for (place, yarn) in (0_i64..).zip(yarns) {
            self.yarn(*yarn)?;
            self.db.run(sql, (swatch, place, yarn.number()))?;
        }
        Ok(())
    }

    pub(super) fn remove_held_with(&self, swatch: i64) -> Result<(), StoreError> {
        let sql = "DELETE FROM swatch_held_with WHERE swatch = ?";
        self.db.run(sql, [swatch]).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Store,
        samples::{any_swatch, bare, swatches},
    };
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn swatches_come_back_exactly_in_the_order_kept() {
        let mut store = Store::in_memory().unwrap();
        let yarn = store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        for swatch in &swatches() {
            store.write(|w| w.add_swatch(yarn, swatch)).unwrap();
        }
        let kept = store.reader().unwrap().swatches_of(yarn).unwrap();
        let kept: Vec<Swatch> = kept.into_iter().map(|swatch| swatch.record).collect();
        assert_eq!(kept, swatches());
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn yarns_with_swatches_are_named_once_each() {
        let mut store = Store::in_memory().unwrap();
        let yarn = store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        store.write(|w| w.add_yarn(&bare("Quay", "Reed"))).unwrap();
        for swatch in &swatches() {
            store.write(|w| w.add_swatch(yarn, swatch)).unwrap();
        }
        assert_eq!(store.reader().unwrap().swatched_yarns().unwrap(), [yarn]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn prop_a_kept_swatch_comes_back_the_same(swatch in any_swatch()) {
            let mut store = Store::in_memory().unwrap();
            let yarn = store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
            store.write(|w| w.add_swatch(yarn, &swatch)).unwrap();
            let kept = store.reader().unwrap().swatches_of(yarn).unwrap();
            prop_assert_eq!(&kept[0].record, &swatch);
        }
    }

    /// Two yarns, and a swatch of both.
    fn pair() -> (Store, [Id<Yarn>; 2], Id<Swatch>) {
        let mut store = Store::in_memory().unwrap();
        let yarns =
            ["Dune", "Reed"].map(|name| store.write(|w| w.add_yarn(&bare("Quay", name))).unwrap());
        let [bare, _] = swatches();
        let both = bare.held_with(vec![yarns[1]]).unwrap();
        let id = store.write(|w| w.add_swatch(yarns[0], &both)).unwrap();
        (store, yarns, id)
    }

    fn undo_last(store: &mut Store) {
        let last = store.take_last_change().unwrap();
        store.write(|w| w.undo(last, "2026-04-01")).unwrap();
    }

    #[test]
    fn a_swatch_of_two_yarns_is_one_of_neither_alone_and_named_with_both() {
        let (store, yarns, id) = pair();
        let reader = store.reader().unwrap();
        assert!(reader.yarns_with_swatches().unwrap().is_empty());
        for (yarn, other) in [(yarns[0], yarns[1]), (yarns[1], yarns[0])] {
            assert_eq!(reader.swatches_of(yarn).unwrap(), []);
            let naming = reader.swatches_naming(yarn).unwrap();
            assert_eq!((naming.len(), naming[0].kept.id), (1, id));
            assert_eq!(naming[0].strand(), yarns);
            assert_eq!(naming[0].held_with(yarn), [other]);
        }
        assert_eq!(reader.swatches_of_strands().unwrap().len(), 1);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn what_was_held_with_a_yarn_is_changed_and_undone_with_its_swatch() {
        let (mut store, yarns, id) = pair();
        let read = |store: &Store| store.reader().unwrap().swatch(id).unwrap().kept;
        let [alone, _] = swatches();
        store.write(|w| w.update_swatch(id, 1, &alone)).unwrap();
        assert_eq!(read(&store).record, alone);
        undo_last(&mut store);
        assert_eq!(read(&store).record.held_with, [yarns[1]]);
        store.write(|w| w.remove_swatch(id)).unwrap();
        undo_last(&mut store);
        assert_eq!(read(&store).record.held_with, [yarns[1]]);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn a_swatch_that_was_added_goes_with_what_it_was_held_with_and_comes_again() {
        let (mut store, _, _) = pair();
        undo_last(&mut store);
        let rows = "SELECT count(*) FROM swatch_held_with";
        let left = store.write(|w| w.db.number(rows, []));
        assert_eq!(left.unwrap(), 0);
    }

    #[test]
    fn a_yarn_that_a_swatch_was_held_with_stays_while_the_swatch_does() {
        let (mut store, yarns, id) = pair();
        let refused = store.write(|w| w.remove_yarn(yarns[1]));
        assert!(
            matches!(refused, Err(StoreError::InUse { by: "swatch", .. })),
            "{refused:?}"
        );
        // The second yarn was added by the second change, and the third needs it.
        let refused = store.write(|w| w.undo(2, "2026-04-01"));
        assert!(
            matches!(&refused, Err(StoreError::FollowedUp { changes }) if changes == &[3]),
            "{refused:?}"
        );
        store.write(|w| w.remove_swatch(id)).unwrap();
        let removal = store.take_last_change().unwrap();
        store.write(|w| w.remove_yarn(yarns[1])).unwrap();
        let refused = store.write(|w| w.undo(removal, "2026-04-01"));
        assert!(
            matches!(&refused, Err(StoreError::FollowedUp { changes }) if changes.len() == 1),
            "{refused:?}"
        );
    }

    #[test]
    fn the_journal_calls_a_swatch_by_all_its_yarns_and_says_what_was_held() {
        let (mut store, yarns, id) = pair();
        let [alone, _] = swatches();
        let title = |store: &Store| {
            let change = store.reader().unwrap().change(3).unwrap();
            change.parts[0].title.clone()
        };
        assert_eq!(title(&store), "Quay, Dune + Quay, Reed");
        store.write(|w| w.update_swatch(id, 1, &alone)).unwrap();
        assert_eq!(title(&store), "Quay, Dune");
        let reader = store.reader().unwrap();
        for (kind, number) in [
            (RecordKind::Swatch, id.number()),
            (RecordKind::Yarn, yarns[1].number()),
        ] {
            let history = reader.history(kind, number).unwrap();
            let last = history.last().unwrap();
            let held = last.fields.iter().find(|field| field.name == "held_with");
            let held = held.map(|it| (it.before.as_str(), it.after.as_str()));
            assert_eq!(held, Some(("Quay, Reed", "")), "{history:?}");
        }
    }

    #[test]
    fn a_swatch_needs_its_yarn_and_a_day() {
        let mut store = Store::in_memory().unwrap();
        let [mut swatch, _] = swatches();
        let gone = store.write(|w| w.add_swatch(Id::new(1), &swatch));
        assert!(matches!(gone, Err(StoreError::Gone { what: "yarn", .. })));
        let yarn = store.write(|w| w.add_yarn(&bare("Quay", "Dune"))).unwrap();
        swatch.measured_on = "last week".to_owned();
        let refused = store.write(|w| w.add_swatch(yarn, &swatch)).unwrap_err();
        let told = refused.to_string();
        assert!(
            told.contains("a_day_is_written_as_year_month_day"),
            "{told}"
        );
        let gone = store.write(|w| w.remove_swatch(Id::new(1)));
        assert!(matches!(gone, Err(StoreError::Gone { what: "swatch", .. })));
    }
}
