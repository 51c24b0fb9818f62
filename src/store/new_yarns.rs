//! Adding many yarns: the statements stay ready, and what would be looked up for
//! every yarn is remembered.

use super::{
    StoreError, Writer,
    cells::Cells,
    db::at,
    facts::{FACTS, put_numbered},
    hurry::{Known, Names},
    parts::blend_as_text,
    yarn_changes,
};
use crate::record::{Blend, Id, Printed, Yarn};
use rusqlite::{CachedStatement, OptionalExtension};
use std::{collections::HashMap, sync::LazyLock};

/// What became of a yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Added {
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
    cells: Cells,
    blends: HashMap<String, (Blend, i64)>,
    names: Names,
}

/// Memory for pages while many yarns are added, KiB: without it, indexes that
/// are written in no order are read and written again and again.
const PAGES_KIB: i32 = 16 * 1024;

/// What SQLite takes when nobody says otherwise, KiB.
const USUAL_PAGES_KIB: i32 = 2000;

/// Blends that are remembered.
const MOST_BLENDS: usize = 4096;

const NAMED: &str = "SELECT id FROM yarn WHERE maker_key = ? AND name_key = ?";
static ADD_FACTS: LazyLock<String> = LazyLock::new(|| {
    let columns = FACTS.columns.join(", ");
    let cells = vec!["?"; FACTS.columns.len()].join(", ");
    format!("INSERT INTO facts ({columns}) VALUES ({cells})")
});
static ADD_YARN: LazyLock<String> = LazyLock::new(|| yarn_changes::YARN.insert());

impl Writer<'_> {
    /// Makes ready to add many yarns.
    pub fn new_yarns(&self) -> Result<NewYarns<'_>, StoreError> {
        self.new_yarns_known_by(Names::of(self.count_yarns()?))
    }

    pub(super) fn new_yarns_known_by(&self, names: Names) -> Result<NewYarns<'_>, StoreError> {
        let failed = |error| at(self.db.path, error);
        let conn = self.db.conn;
        conn.pragma_update(None, "cache_size", -PAGES_KIB)
            .map_err(failed)?;
        Ok(NewYarns {
            writer: self,
            named: conn.prepare_cached(NAMED).map_err(failed)?,
            add_facts: conn.prepare_cached(&ADD_FACTS).map_err(failed)?,
            add_yarn: conn.prepare_cached(&ADD_YARN).map_err(failed)?,
            cells: Cells::default(),
            blends: HashMap::new(),
            names,
        })
    }
}

impl Drop for NewYarns<'_> {
    /// Gives the memory back. That it stays taken would be no fault worth an
    /// error.
    fn drop(&mut self) {
        let conn = self.writer.db.conn;
        let _ = conn.pragma_update(None, "cache_size", -USUAL_PAGES_KIB);
    }
}

impl NewYarns<'_> {
    /// Keeps a yarn, unless one of its maker and name is kept.
    pub fn add(&mut self, yarn: &Yarn) -> Result<Added, StoreError> {
        let keys = yarn_changes::keys(yarn);
        let kept = match self.names.know(self.writer, &keys)? {
            Known::New => None,
            Known::Kept(number) => Some(number),
            Known::No => self.number_of(&keys)?,
        };
        if let Some(number) = kept {
            return Ok(Added::Before(Id::new(number)));
        }
        let blend = match &yarn.facts.blend {
            Some(blend) => Some(self.blend(blend)?),
            None => None,
        };
        let failed = |error| at(self.writer.db.path, error);
        self.cells.clear();
        put_numbered(&mut self.cells, &yarn.facts, blend);
        self.cells.run(&mut self.add_facts).map_err(failed)?;
        let number = self.writer.db.conn.last_insert_rowid();
        self.cells.clear();
        yarn_changes::put(&mut self.cells, yarn, &keys, number);
        self.cells.run(&mut self.add_yarn).map_err(failed)?;
        self.writer.add_shades(number, &yarn.shades)?;
        self.names.one_more(self.writer)?;
        Ok(Added::New(Id::new(number)))
    }

    fn number_of(&mut self, keys: &(String, String)) -> Result<Option<i64>, StoreError> {
        let found = self.named.query_row((&keys.0, &keys.1), |row| row.get(0));
        let found = found.optional();
        found.map_err(|error| at(self.writer.db.path, error))
    }

    /// The number of a blend, which is kept where it is new. What is printed the
    /// same is nearly always the same blend.
    fn blend(&mut self, blend: &Printed<Blend>) -> Result<i64, StoreError> {
        if let Some((known, number)) = self.blends.get(&blend.text)
            && *known == blend.value
        {
            return Ok(*number);
        }
        let parts = blend_as_text(&blend.value);
        self.writer.keep_blend(&parts)?;
        let sql = "SELECT id FROM blend WHERE parts = ?";
        let number = self.writer.db.number(sql, [parts])?;
        if self.blends.len() < MOST_BLENDS {
            let known = (blend.value.clone(), number);
            self.blends.insert(blend.text.clone(), known);
        }
        Ok(number)
    }
}
