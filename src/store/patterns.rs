//! Patterns with their sizes, yarn roles and needs.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    facts,
    name_search::{name_key, searched_part},
    rows::{Cells, field_columns},
    sql::Table,
};
use crate::{
    measure::GristTolerance,
    record::{
        Care, Fit, Id, Multiple, Name, Need, Pattern, PatternYarn, Printed, Purpose, Size,
        StatedGauge, Stored, YarnFacts,
    },
};
use rusqlite::Params;
use std::sync::LazyLock;

const PATTERN: Table = Table {
    name: "pattern",
    what: "pattern",
    columns: "name, purpose, fit, gauge_text, gauge_stitches_low, gauge_stitches_high, \
              gauge_rows_low, gauge_rows_high, gauge_over_m, gauge_stockinette, \
              gauge_stitch, gauge_worked, gauge_washed, gauge_strands, multiple_text, \
              multiple_stitches, multiple_plus, care_text, care, tolerance_text, \
              tolerance_kind, tolerance, margin_included, notes, name_key",
};

field_columns!(Pattern {
    name: Name,
    purpose: Purpose,
    fit: Fit,
    gauge: Option<Printed<StatedGauge>>,
    multiple: Option<Printed<Multiple>>,
    care: Option<Printed<Care>>,
    tolerance: Option<Printed<GristTolerance>>,
    margin_included: Option<bool>,
    notes: String,
} else { sizes, yarns });

field_columns!(PatternYarn {
    key: Name,
    called: Option<String>,
    strands: u8,
    held_with: Option<Name>,
} else { reference, needs });

static SELECT: LazyLock<String> =
    LazyLock::new(|| format!("SELECT id, version, {} FROM pattern ", PATTERN.columns()));

fn cells(pattern: &Pattern) -> Cells {
    Cells::of(pattern).and(&name_key(pattern.name.as_str()))
}

impl Reader<'_> {
    /// The pattern with this number.
    pub fn pattern(&self, id: Id<Pattern>) -> Result<Stored<Pattern>, StoreError> {
        let found = self.patterns_where("WHERE id = ?", [id.number()])?;
        found.into_iter().next().ok_or(PATTERN.gone(id.number()))
    }

    /// The pattern of this name; neither case nor spaces count.
    pub fn pattern_named(&self, name: &str) -> Result<Option<Stored<Pattern>>, StoreError> {
        let found = self.patterns_where("WHERE name_key = ?", [name_key(name)])?;
        Ok(found.into_iter().next())
    }

    /// The pattern of this name; else the only one whose name differs from it in
    /// accents and signs.
    pub fn pattern_meant(&self, name: &str) -> Result<Option<Stored<Pattern>>, StoreError> {
        let found = self.pattern_named(name)?;
        if found.is_some() {
            return Ok(found);
        }
        let key = name_key(name);
        let alike = "WHERE name_key >= ?1 AND name_key < ?1 || ' '";
        let mut alike = self.patterns_where(alike, [searched_part(&key)])?;
        let only = alike.pop();
        Ok(only.filter(|_| alike.is_empty()))
    }

    /// Every pattern, by name.
    pub fn patterns(&self) -> Result<Vec<Stored<Pattern>>, StoreError> {
        self.patterns_where("ORDER BY name_key", [])
    }

    /// Number and name of every pattern, by name.
    pub fn pattern_titles(&self) -> Result<Vec<(Id<Pattern>, String)>, StoreError> {
        let sql = "SELECT id, name FROM pattern ORDER BY name_key";
        self.db.all("pattern", sql, [])
    }

    fn patterns_where(
        &self,
        rest: &str,
        params: impl Params,
    ) -> Result<Vec<Stored<Pattern>>, StoreError> {
        let sql = format!("{}{rest}", *SELECT);
        let found: Vec<Stored<Pattern>> = self.db.all("pattern", &sql, params)?;
        found.into_iter().map(|found| self.filled(found)).collect()
    }

    /// The pattern with its sizes and yarns.
    fn filled(&self, found: Stored<Pattern>) -> Result<Stored<Pattern>, StoreError> {
        let Stored {
            id,
            version,
            mut record,
        } = found;
        record.sizes = self.sizes(id.number())?;
        record.yarns = self.roles(id.number())?;
        let damaged = |why| self.db.damaged("pattern", id.number(), &why);
        let record = record.checked().map_err(damaged)?;
        Ok(Stored {
            id,
            version,
            record,
        })
    }
}

impl Writer<'_> {
    /// Keeps a new pattern; refused where one of this name is kept, or where it
    /// does not hang together.
    pub fn add_pattern(&self, pattern: &Pattern) -> Result<Id<Pattern>, StoreError> {
        let pattern = pattern.clone().checked()?;
        self.db.whole(|| {
            let added = self.db.insert(&PATTERN, &cells(&pattern));
            let id = added.map_err(|e| e.or_duplicate("pattern", || pattern.name.to_string()))?;
            self.add_parts(id, &pattern)?;
            self.write_down(Step::new(RecordKind::Pattern, Action::Added, id))?;
            Ok(Id::new(id))
        })
    }

    /// Changes a pattern that was read at `version`; its new version.
    pub fn update_pattern(
        &self,
        id: Id<Pattern>,
        version: i64,
        pattern: &Pattern,
    ) -> Result<i64, StoreError> {
        let pattern = pattern.clone().checked()?;
        let number = id.number();
        self.db.whole(|| {
            let before = self.rows_of(RecordKind::Pattern, number)?;
            let changed = self.db.update(&PATTERN, (number, version), cells(&pattern));
            let next =
                changed.map_err(|e| e.or_duplicate("pattern", || pattern.name.to_string()))?;
            self.remove_parts(number)?;
            self.add_parts(number, &pattern)?;
            self.write_down(
                Step::new(RecordKind::Pattern, Action::Changed, number).with_before(before),
            )?;
            Ok(next)
        })
    }

    /// Forgets a pattern.
    pub fn remove_pattern(&self, id: Id<Pattern>) -> Result<(), StoreError> {
        let number = id.number();
        self.db.whole(|| {
            let before = self.rows_of(RecordKind::Pattern, number)?;
            self.remove_parts(number)?;
            self.db.remove(&PATTERN, number)?;
            self.write_down(
                Step::new(RecordKind::Pattern, Action::Removed, number).with_before(before),
            )
        })
    }
}

const SIZE: Table = Table {
    name: "pattern_size",
    what: "size",
    columns: "name, width_text, width_m, height_text, height_m, cast_on, row_count, \
              pattern, place",
};

const ROLE: Table = Table {
    name: "pattern_yarn",
    what: "yarn",
    columns: "key, called, strands, held_with, id, pattern, place",
};

const NEED: Table = Table {
    name: "pattern_need",
    what: "need",
    columns: "text, kind, low, high, skein_m, pattern_yarn, place",
};

static SIZES: LazyLock<String> = LazyLock::new(|| {
    let columns = SIZE.columns();
    format!("SELECT pattern, {columns} FROM pattern_size WHERE pattern = ? ORDER BY place")
});
static ROLES: LazyLock<String> = LazyLock::new(|| {
    let columns = facts::columns();
    format!(
        "SELECT pattern_yarn.id, key, called, strands, held_with, {columns} \
         FROM pattern_yarn JOIN facts ON facts.id = pattern_yarn.id \
         WHERE pattern = ? ORDER BY place"
    )
});
static NEEDS: LazyLock<String> = LazyLock::new(|| {
    let columns = NEED.columns();
    format!(
        "SELECT pattern_yarn, {columns} FROM pattern_need WHERE pattern_yarn = ? ORDER BY place"
    )
});

impl Reader<'_> {
    /// The sizes of a pattern, in its order.
    pub(super) fn sizes(&self, pattern: i64) -> Result<Vec<Size>, StoreError> {
        let rows: Vec<(i64, Size)> = self.db.all("pattern_size", &SIZES, [pattern])?;
        Ok(rows.into_iter().map(|(_, size)| size).collect())
    }

    /// The yarn roles of a pattern, in its order.
    pub(super) fn roles(&self, pattern: i64) -> Result<Vec<PatternYarn>, StoreError> {
        let rows: Vec<(i64, PatternYarn, YarnFacts)> =
            self.db.all("pattern_yarn", &ROLES, [pattern])?;
        let roles = rows.into_iter().map(|(id, role, reference)| {
            let needs = self.needs(id)?;
            Ok(PatternYarn {
                reference,
                needs,
                ..role
            })
        });
        roles.collect()
    }

    fn needs(&self, role: i64) -> Result<Vec<Printed<Need>>, StoreError> {
        let rows: Vec<(i64, Printed<Need>)> = self.db.all("pattern_need", &NEEDS, [role])?;
        Ok(rows.into_iter().map(|(_, need)| need).collect())
    }
}

impl Writer<'_> {
    /// Keeps the sizes and yarn roles of a pattern.
    pub(super) fn add_parts(&self, pattern: i64, record: &Pattern) -> Result<(), StoreError> {
        for (place, size) in (0_i64..).zip(&record.sizes) {
            let cells = Cells::of(size).and(&pattern).and(&place);
            self.db.insert(&SIZE, &cells)?;
        }
        for (place, role) in (0_i64..).zip(&record.yarns) {
            self.add_role(pattern, place, role)?;
        }
        Ok(())
    }

    fn add_role(&self, pattern: i64, place: i64, role: &PatternYarn) -> Result<(), StoreError> {
        let id = self.add_facts(&role.reference)?;
        let cells = Cells::of(role).and(&id).and(&pattern).and(&place);
        self.db.insert(&ROLE, &cells)?;
        for (place, need) in (0_i64..).zip(&role.needs) {
            let cells = Cells::of(need).and(&id).and(&place);
            self.db.insert(&NEED, &cells)?;
        }
        Ok(())
    }

    /// Forgets them: yarn roles go with their facts, and needs with the roles.
    pub(super) fn remove_parts(&self, pattern: i64) -> Result<(), StoreError> {
        let roles = "DELETE FROM facts WHERE id IN (SELECT id FROM pattern_yarn WHERE pattern = ?)";
        self.db.run(roles, [pattern])?;
        let sizes = "DELETE FROM pattern_size WHERE pattern = ?";
        self.db.run(sizes, [pattern]).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;
    use crate::record::RecordError;
    use proptest::prelude::*;

    fn keep(store: &mut Store, pattern: &Pattern) -> Id<Pattern> {
        store.write(|w| w.add_pattern(pattern)).unwrap()
    }

    #[test]
    fn a_full_pattern_and_a_bare_one_come_back_exactly() {
        let mut store = Store::in_memory().unwrap();
        let mut stated = full_pattern("Lighthouse");
        if let Some(tolerance) = &mut stated.tolerance {
            tolerance.value = absolute();
        }
        for pattern in [full_pattern("Bollard"), bare_pattern("Anchor"), stated] {
            let id = keep(&mut store, &pattern);
            assert_eq!(store.reader().unwrap().pattern(id).unwrap().record, pattern);
        }
        let reader = store.reader().unwrap();
        let titles = reader.pattern_titles().unwrap();
        let titles: Vec<&str> = titles.iter().map(|(_, title)| title.as_str()).collect();
        assert_eq!(titles, ["Anchor", "Bollard", "Lighthouse"]);
        let names = reader.patterns().unwrap();
        assert!(names.iter().map(|p| p.record.name.as_str()).eq(titles));
        assert_eq!(
            reader.pattern_named("ANCHOR").unwrap().unwrap().record,
            bare_pattern("Anchor")
        );
        drop(reader);
        assert_eq!(store.check().unwrap(), []);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn prop_a_kept_pattern_comes_back_the_same(pattern in any_pattern(), other in any_pattern()) {
            let mut store = Store::in_memory().unwrap();
            let id = keep(&mut store, &pattern);
            prop_assert_eq!(&store.reader().unwrap().pattern(id).unwrap().record, &pattern);
            store.write(|w| w.update_pattern(id, 1, &other)).unwrap();
            prop_assert_eq!(&store.reader().unwrap().pattern(id).unwrap().record, &other);
            prop_assert_eq!(store.check().unwrap(), []);
        }
    }

    #[test]
    fn a_changed_pattern_leaves_nothing_of_the_old_one() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &full_pattern("Bollard"));
        let version = store
            .write(|w| w.update_pattern(id, 1, &bare_pattern("Anchor")))
            .unwrap();
        let kept = store.reader().unwrap().pattern(id).unwrap();
        assert_eq!(
            (kept.version, kept.record),
            (version, bare_pattern("Anchor"))
        );
        let second = store.write(|w| w.update_pattern(id, 1, &full_pattern("Bollard")));
        assert!(matches!(second, Err(StoreError::ChangedMeanwhile { .. })));
        store.write(|w| w.remove_pattern(id)).unwrap();
        assert!(store.reader().unwrap().pattern(id).is_err());
        for table in ["facts", "pattern_size", "pattern_yarn", "pattern_need"] {
            let sql = format!("SELECT count(*) FROM {table}");
            assert_eq!(
                store.reader().unwrap().db.number(&sql, []).unwrap(),
                0,
                "{table}"
            );
        }
        assert!(store.write(|w| w.remove_pattern(id)).is_err());
    }

    #[test]
    fn a_pattern_that_does_not_hang_together_is_not_kept() {
        let mut store = Store::in_memory().unwrap();
        let mut pattern = full_pattern("Bollard");
        pattern.sizes.pop();
        let refused = store.write(|w| w.add_pattern(&pattern));
        let why = refused.unwrap_err();
        assert!(matches!(
            why,
            StoreError::Record(RecordError::NeedsPerSize { .. })
        ));
    }

    #[test]
    fn two_patterns_of_one_name_are_refused() {
        let mut store = Store::in_memory().unwrap();
        keep(&mut store, &full_pattern("Bollard"));
        let again = store.write(|w| w.add_pattern(&bare_pattern("bollard")));
        assert!(matches!(again, Err(StoreError::Duplicate { .. })));
    }

    #[test]
    fn patterns_that_differ_in_signs_are_two_and_found_by_each_other() {
        let mut store = Store::in_memory().unwrap();
        let plus = keep(&mut store, &bare_pattern("Wrap+"));
        let meant = |store: &Store, name: &str| {
            let found = store.reader().unwrap().pattern_meant(name).unwrap();
            found.map(|pattern| pattern.id)
        };
        assert_eq!(meant(&store, "wrap"), Some(plus));
        let plain = keep(&mut store, &bare_pattern("Wrap"));
        assert_eq!(meant(&store, "wrap"), Some(plain));
        assert_eq!(meant(&store, "WRAP+"), Some(plus));
        assert_eq!(meant(&store, "wrap-"), None);
    }

    #[test]
    fn a_pattern_that_lost_a_need_is_damaged() {
        let mut store = Store::in_memory().unwrap();
        let id = keep(&mut store, &full_pattern("Bollard"));
        let sql = "DELETE FROM pattern_need WHERE place = 2";
        store.write(|w| w.db.run(sql, [])).unwrap();
        let why = store.reader().unwrap().pattern(id).unwrap_err();
        assert!(matches!(
            why,
            StoreError::Damaged {
                table: "pattern",
                ..
            }
        ));
        assert_eq!(store.check().unwrap().len(), 1);
    }
}
