//! Patterns. Their sizes, yarn roles and needs are in [`super::pattern_parts`].

use super::{
    Reader, StoreError, Writer,
    cells::{Cells, Flaw, Taken},
    key::key,
    reader::stored,
    table::Table,
};
use crate::record::{Id, Pattern, Stored};
use rusqlite::Params;
use std::sync::LazyLock;

const PATTERN: Table = Table {
    name: "pattern",
    columns: &[
        "name",
        "purpose",
        "fit",
        "gauge_text",
        "gauge_stitches_low",
        "gauge_stitches_high",
        "gauge_rows_low",
        "gauge_rows_high",
        "gauge_over_m",
        "gauge_stockinette",
        "gauge_stitch",
        "gauge_worked",
        "gauge_washed",
        "gauge_strands",
        "multiple_text",
        "multiple_stitches",
        "multiple_plus",
        "care_text",
        "care",
        "tolerance_text",
        "tolerance_kind",
        "tolerance",
        "margin_included",
        "notes",
        "name_key",
    ],
};

static INSERT: LazyLock<String> = LazyLock::new(|| PATTERN.insert());
static UPDATE: LazyLock<String> = LazyLock::new(|| PATTERN.update_version());
static SELECT: LazyLock<String> =
    LazyLock::new(|| format!("SELECT id, version, {} FROM pattern ", PATTERN.columns()));
fn cells(pattern: &Pattern) -> Cells {
    let mut cells = Cells::of(&pattern.name)
        .and(&pattern.purpose)
        .and(&pattern.fit)
        .and(&pattern.gauge)
        .and(&pattern.multiple)
        .and(&pattern.care)
        .and(&pattern.tolerance)
        .and(&pattern.margin_included)
        .and(&pattern.notes);
    cells.text(&key(pattern.name.as_str()));
    cells
}

/// The record of a row of [`SELECT`], its sizes and yarns still to come.
fn take(row: &mut Taken<'_, '_>) -> Result<Stored<Pattern>, Flaw> {
    stored(row, |row| {
        Ok(Pattern {
            name: row.part()?,
            purpose: row.part()?,
            fit: row.part()?,
            gauge: row.part()?,
            multiple: row.part()?,
            care: row.part()?,
            tolerance: row.part()?,
            margin_included: row.part()?,
            notes: row.cell()?,
            sizes: Vec::new(),
            yarns: Vec::new(),
        })
    })
}

impl Reader<'_> {
    /// The pattern with this number.
    pub fn pattern(&self, id: Id<Pattern>) -> Result<Stored<Pattern>, StoreError> {
        let found = self.patterns_where("WHERE id = ?", [id.number()])?;
        found.into_iter().next().ok_or(StoreError::Gone {
            what: "pattern",
            id: id.number(),
        })
    }

    /// The pattern of this name; case, accents and punctuation do not count.
    pub fn pattern_named(&self, name: &str) -> Result<Option<Stored<Pattern>>, StoreError> {
        let found = self.patterns_where("WHERE name_key = ?", [key(name)])?;
        Ok(found.into_iter().next())
    }

    /// Every pattern, by name.
    pub fn patterns(&self) -> Result<Vec<Stored<Pattern>>, StoreError> {
        self.patterns_where("ORDER BY name_key", [])
    }

    /// Number and name of every pattern, by name.
    pub fn pattern_titles(&self) -> Result<Vec<(Id<Pattern>, String)>, StoreError> {
        let sql = "SELECT id, name FROM pattern ORDER BY name_key";
        let title = |row: &mut Taken<'_, '_>| Ok((Id::new(row.cell()?), row.cell()?));
        self.db.all("pattern", sql, [], title)
    }

    fn patterns_where(
        &self,
        rest: &str,
        params: impl Params,
    ) -> Result<Vec<Stored<Pattern>>, StoreError> {
        let sql = format!("{}{rest}", *SELECT);
        let found = self.db.all("pattern", &sql, params, take)?;
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
        let record = record.checked().map_err(|why| StoreError::Damaged {
            path: self.db.path.to_owned(),
            table: "pattern",
            id: id.number(),
            why: why.to_string(),
        })?;
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
            let added = self.db.insert(&INSERT, cells(&pattern).params());
            let id = added.map_err(|e| e.or_duplicate("a pattern", || pattern.name.to_string()))?;
            self.add_parts(id, &pattern)?;
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
            let cells = cells(&pattern).and(&number).and(&version);
            let changed = self.db.run(&UPDATE, cells.params());
            let rows =
                changed.map_err(|e| e.or_duplicate("a pattern", || pattern.name.to_string()))?;
            self.found(rows, ("pattern", "pattern"), number)?;
            self.remove_parts(number)?;
            self.add_parts(number, &pattern)?;
            Ok(version + 1)
        })
    }

    /// Forgets a pattern.
    pub fn remove_pattern(&self, id: Id<Pattern>) -> Result<(), StoreError> {
        let number = id.number();
        self.db.whole(|| {
            self.remove_parts(number)?;
            match self.db.run("DELETE FROM pattern WHERE id = ?", [number])? {
                0 => Err(StoreError::Gone {
                    what: "pattern",
                    id: number,
                }),
                _ => Ok(()),
            }
        })
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
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
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
            prop_assert_eq!(store.check().unwrap(), Vec::<String>::new());
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
