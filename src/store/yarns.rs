//! Yarns and the shades they come in.

use super::{
    Reader, StoreError, Writer,
    cells::{Cells, Flaw, Taken},
    facts,
    key::key,
    reader::stored,
    table::Table,
};
use crate::{
    measure::{Grist, Interval},
    record::{Id, Stored, Yarn},
    trade::Gtin,
};
use rusqlite::Params;
use std::sync::LazyLock;

/// The columns that are written, after the row's number.
const YARN: Table = Table {
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

/// The start of every question for yarns.
static SELECT: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT yarn.id, yarn.version, yarn.maker, yarn.name, yarn.gtin, yarn.discontinued, \
         yarn.notes, {} FROM yarn JOIN facts ON facts.id = yarn.id ",
        facts::columns()
    )
});

/// The record of a row of [`SELECT`], its shades still to come.
fn take(row: &mut Taken<'_, '_>) -> Result<Stored<Yarn>, Flaw> {
    stored(row, |row| {
        Ok(Yarn {
            maker: row.part()?,
            name: row.part()?,
            gtin: row.part()?,
            discontinued: row.cell()?,
            notes: row.cell()?,
            facts: row.part()?,
            shades: Vec::new(),
        })
    })
}

fn cells(yarn: &Yarn, id: i64) -> Cells {
    let mut cells = Cells::of(&yarn.maker)
        .and(&yarn.name)
        .and(&yarn.gtin)
        .and(&yarn.discontinued)
        .and(&yarn.notes);
    cells.push(key(yarn.maker.as_str()));
    cells.push(key(yarn.name.as_str()));
    cells.push(id);
    cells
}

impl Reader<'_> {
    /// The yarn with this number.
    pub fn yarn(&self, id: Id<Yarn>) -> Result<Stored<Yarn>, StoreError> {
        let found = self.yarns_where("WHERE yarn.id = ?", [id.number()])?;
        found.into_iter().next().ok_or(StoreError::Gone {
            what: "yarn",
            id: id.number(),
        })
    }

    /// The yarn of this maker and name; case, accents and punctuation do not
    /// count, and nothing is taken for nearly the same.
    pub fn yarn_named(&self, maker: &str, name: &str) -> Result<Option<Stored<Yarn>>, StoreError> {
        let rest = "WHERE yarn.maker_key = ? AND yarn.name_key = ?";
        let found = self.yarns_where(rest, [key(maker), key(name)])?;
        Ok(found.into_iter().next())
    }

    /// The yarns with this article number, of whatever length it is written.
    pub fn yarns_by_gtin(&self, gtin: &Gtin) -> Result<Vec<Stored<Yarn>>, StoreError> {
        let rest = "WHERE yarn.gtin IS NOT NULL AND substr('000000' || yarn.gtin, -14) \
                    = substr('000000' || ?, -14) ORDER BY yarn.id";
        self.yarns_where(rest, [gtin.to_string()])
    }

    /// Hands every yarn to `each`, in the order of maker and name.
    pub fn yarns<E: From<StoreError>>(
        &self,
        each: impl FnMut(Stored<Yarn>) -> Result<(), E>,
    ) -> Result<(), E> {
        self.each_yarn("ORDER BY yarn.maker_key, yarn.name_key", [], each)
    }

    /// Hands every yarn whose grist lies in `range` to `each`, finest last.
    pub fn yarns_of_grist<E: From<StoreError>>(
        &self,
        range: Interval<Grist>,
        each: impl FnMut(Stored<Yarn>) -> Result<(), E>,
    ) -> Result<(), E> {
        let ends = Cells::of(&range).params();
        let rest = "WHERE facts.grist BETWEEN ? AND ? ORDER BY facts.grist, yarn.id";
        self.each_yarn(rest, ends, each)
    }

    /// How many yarns are kept.
    pub fn count_yarns(&self) -> Result<u64, StoreError> {
        let count = self.db.number("SELECT count(*) FROM yarn", [])?;
        Ok(count.unsigned_abs())
    }

    /// Number and title of every yarn, in the order of maker and name.
    pub fn yarn_titles(&self) -> Result<Vec<(Id<Yarn>, String)>, StoreError> {
        let sql = "SELECT id, maker || ', ' || name FROM yarn ORDER BY maker_key, name_key";
        let title = |row: &mut Taken<'_, '_>| Ok((Id::new(row.cell()?), row.cell()?));
        self.db.all("yarn", sql, [], title)
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
        self.db.each("yarn", &sql, params, take, |mut yarn| {
            yarn.record.shades = self.shades(yarn.id)?;
            each(yarn)
        })
    }

    fn shades(&self, yarn: Id<Yarn>) -> Result<Vec<String>, StoreError> {
        let sql = "SELECT yarn, name FROM shade WHERE yarn = ? ORDER BY place";
        let name = |row: &mut Taken<'_, '_>| {
            row.cell::<i64>()?;
            row.cell()
        };
        self.db.all("shade", sql, [yarn.number()], name)
    }
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

    fn add_shades(&self, yarn: i64, shades: &[String]) -> Result<(), StoreError> {
        let sql = "INSERT INTO shade (yarn, place, name) VALUES (?, ?, ?)";
        for (place, name) in (0_i64..).zip(shades) {
            self.db.run(sql, (yarn, place, name))?;
        }
        Ok(())
    }
}
