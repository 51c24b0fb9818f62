//! Yarns are kept, changed and forgotten.

use super::{
    StoreError, Writer,
    cells::{Cells, Kept},
    key::key,
    table::Table,
};
use crate::record::{Id, Yarn};
use std::sync::LazyLock;

/// The columns that are written, after the row's number.
pub(super) const YARN: Table = Table {
    name: "yarn",
    columns: &[
        "maker",
        "name",
        "gtin",
        "discontinued",
        "notes",
        "maker_key",
        "name_key",
        "id",
    ],
};

static INSERT: LazyLock<String> = LazyLock::new(|| YARN.insert());
static UPDATE: LazyLock<String> = LazyLock::new(|| YARN.update_version());

/// What decides whether two yarns have one name.
pub(super) fn keys(yarn: &Yarn) -> (String, String) {
    (key(yarn.maker.as_str()), key(yarn.name.as_str()))
}

/// The cells of a yarn with these keys of maker and name.
pub(super) fn put(cells: &mut Cells, yarn: &Yarn, keys: &(String, String), id: i64) {
    yarn.maker.put(cells);
    yarn.name.put(cells);
    yarn.gtin.put(cells);
    yarn.discontinued.put(cells);
    yarn.notes.put(cells);
    keys.put(cells);
    cells.push(id);
}

fn cells(yarn: &Yarn, id: i64) -> Cells {
    let mut cells = Cells::default();
    put(&mut cells, yarn, &keys(yarn), id);
    cells
}

impl Writer<'_> {
    /// Keeps a new yarn; refused where one of this maker and name is kept.
    pub fn add_yarn(&self, yarn: &Yarn) -> Result<Id<Yarn>, StoreError> {
        self.db.whole(|| {
            let id = self.add_facts(&yarn.facts)?;
            let added = self.db.run(&INSERT, cells(yarn, id).params());
            added.map_err(|error| error.or_duplicate("a yarn", || yarn.title()))?;
            self.add_shades(id, &yarn.shades)?;
            Ok(Id::new(id))
        })
    }

    /// Changes a yarn that was read at `version`; its new version.
    pub fn update_yarn(&self, id: Id<Yarn>, version: i64, yarn: &Yarn) -> Result<i64, StoreError> {
        let number = id.number();
        self.db.whole(|| {
            let cells = cells(yarn, number).and(&number).and(&version);
            let changed = self.db.run(&UPDATE, cells.params());
            let rows = changed.map_err(|e| e.or_duplicate("a yarn", || yarn.title()))?;
            self.found(rows, ("yarn", "yarn"), number)?;
            self.change_facts(number, &yarn.facts)?;
            self.db.run("DELETE FROM shade WHERE yarn = ?", [number])?;
            self.add_shades(number, &yarn.shades)?;
            self.ledgers_still_hold(id)?;
            Ok(version + 1)
        })
    }

    /// Forgets a yarn; refused while stock or a swatch refers to it.
    pub fn remove_yarn(&self, id: Id<Yarn>) -> Result<(), StoreError> {
        let kept = self.yarn(id)?;
        for (by, table) in [("a lot in stock", "stock_lot"), ("a swatch", "swatch")] {
            let sql = format!("SELECT count(*) FROM {table} WHERE yarn = ?");
            if self.db.number(&sql, [id.number()])? > 0 {
                return Err(StoreError::InUse {
                    what: kept.record.title(),
                    by: by.to_owned(),
                });
            }
        }
        self.db
            .run("DELETE FROM facts WHERE id = ?", [id.number()])?;
        Ok(())
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
    use super::super::{Store, samples::*, test_files::*};
    use super::*;

    type Done = Result<(), StoreError>;

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
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
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
            "Köhler & Töchter, Ferry Lane is still in use: a swatch; remove or move that first"
        );
        store.write(|w| w.remove_swatch(swatch)).unwrap();
        store.write(|w| w.remove_yarn(id)).unwrap();
        assert!(store.reader().unwrap().yarn(id).is_err());
        assert_ne!(keep(&mut store, &full()), id);
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
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
