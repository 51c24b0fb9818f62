//! Adding many yarns: the statements stay ready, and what would be looked up for
//! every yarn is remembered.

use super::{
    StoreError, Writer,
    db::at,
    facts::{self, BLEND, FACTS},
    key::key,
    parts::blend_as_text,
    yarns,
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
    blends: HashMap<String, (Blend, i64)>,
}

/// Memory for pages while many yarns are added, KiB. The indexes are written in
/// no order, and what does not stay in memory is written again and again.
const PAGES_KIB: i32 = 48 * 1024;

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
static ADD_YARN: LazyLock<String> = LazyLock::new(|| yarns::YARN.insert());

impl Writer<'_> {
    /// Makes ready to add many yarns.
    pub fn new_yarns(&self) -> Result<NewYarns<'_>, StoreError> {
        let failed = |error| at(self.db.path, error);
        let conn = self.db.conn;
        conn.pragma_update(None, "cache_size", -PAGES_KIB)
            .map_err(failed)?;
        Ok(NewYarns {
            writer: self,
            named: conn.prepare_cached(NAMED).map_err(failed)?,
            add_facts: conn.prepare_cached(&ADD_FACTS).map_err(failed)?,
            add_yarn: conn.prepare_cached(&ADD_YARN).map_err(failed)?,
            blends: HashMap::new(),
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
        let keys = (key(yarn.maker.as_str()), key(yarn.name.as_str()));
        let path = self.writer.db.path;
        let failed = |error| at(path, error);
        let before = self
            .named
            .query_row((&keys.0, &keys.1), |row| row.get(0))
            .optional();
        if let Some(number) = before.map_err(failed)? {
            return Ok(Added::Before(Id::new(number)));
        }
        let mut cells = facts::cells(&yarn.facts);
        if let Some(blend) = &yarn.facts.blend {
            cells.set(FACTS.place(BLEND), self.blend(blend)?);
        }
        let number = self.add_facts.insert(cells.params()).map_err(failed)?;
        let added = self
            .add_yarn
            .execute(yarns::cells(yarn, keys, number).params());
        added.map_err(failed)?;
        self.writer.add_shades(number, &yarn.shades)?;
        Ok(Added::New(Id::new(number)))
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
