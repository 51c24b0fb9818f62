//! Swatches of a yarn.

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
});

static SELECT: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT id, version, {} FROM swatch WHERE yarn = ? ORDER BY id",
        SWATCH.columns()
    )
});

impl Reader<'_> {
    /// The yarns of which there is a swatch; they are few.
    pub fn yarns_with_swatches(&self) -> Result<HashSet<Id<Yarn>>, StoreError> {
        Ok(self.swatched_yarns()?.into_iter().collect())
    }

    /// The swatches of a yarn, in the order in which they were kept.
    pub fn swatches_of(&self, yarn: Id<Yarn>) -> Result<Vec<Stored<Swatch>>, StoreError> {
        self.db.all("swatch", &SELECT, [yarn.number()])
    }

    /// Every yarn that has a swatch, in the order of maker and name, as yarns are listed.
    pub fn swatched_yarns(&self) -> Result<Vec<Id<Yarn>>, StoreError> {
        let sql = "SELECT swatch.yarn FROM swatch JOIN yarn ON yarn.id = swatch.yarn \
                   GROUP BY swatch.yarn ORDER BY maker_key, name_key";
        self.db.all("swatch", sql, [])
    }

    /// The yarn that a swatch is of.
    pub fn yarn_of_swatch(&self, id: Id<Swatch>) -> Result<Id<Yarn>, StoreError> {
        let sql = "SELECT id, yarn FROM swatch WHERE id = ?";
        let found: Option<(i64, Id<Yarn>)> = self.db.first("swatch", sql, [id.number()])?;
        found.map_or(Err(SWATCH.gone(id.number())), |(_, yarn)| Ok(yarn))
    }
}

impl Writer<'_> {
    /// Keeps a swatch of this yarn.
    pub fn add_swatch(&self, yarn: Id<Yarn>, swatch: &Swatch) -> Result<Id<Swatch>, StoreError> {
        self.yarn(yarn)?;
        let cells = Cells::of(swatch).and(&yarn.number());
        let id = self.db.insert(&SWATCH, &cells)?;
        self.write_down(Step::new(RecordKind::Swatch, Action::Added, id).of(yarn))?;
        Ok(Id::new(id))
    }

    /// Changes a swatch that was read at `version`; its new version.
    pub fn update_swatch(
        &self,
        id: Id<Swatch>,
        version: i64,
        swatch: &Swatch,
    ) -> Result<i64, StoreError> {
        let yarn = self.yarn_of_swatch(id)?;
        let before = self.rows_of(RecordKind::Swatch, id.number())?;
        let cells = Cells::of(swatch).and(&yarn.number());
        let next = self.db.update(&SWATCH, (id.number(), version), cells)?;
        let step = Step::new(RecordKind::Swatch, Action::Changed, id.number());
        self.write_down(step.of(yarn).with_before(before))?;
        Ok(next)
    }

    /// Forgets a swatch.
    pub fn remove_swatch(&self, id: Id<Swatch>) -> Result<(), StoreError> {
        let yarn = self.yarn_of_swatch(id)?;
        let before = self.rows_of(RecordKind::Swatch, id.number())?;
        self.db.remove(&SWATCH, id.number())?;
        let step = Step::new(RecordKind::Swatch, Action::Removed, id.number());
        self.write_down(step.of(yarn).with_before(before))
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
