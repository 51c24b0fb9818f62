//! The table of facts, which yarns and the yarn roles of patterns share.
//!
//! `grist` is kept beside them, so that yarns can be found by it; blends are
//! kept once each.

use super::{
    StoreError, Writer,
    columns::blend_as_text,
    rows::{CellSink, Cells, Columns, DecodeError, FromRow, RowReader},
    sql::Table,
};
use crate::record::{Blend, Printed, YarnFacts};

/// The table, its columns in the order of the cells.
pub(super) const FACTS: Table = Table {
    name: "facts",
    what: "yarn",
    columns: "length_text, length_m, mass_text, mass_g, count_text, count_single, \
              count_plies, count_system, class_text, classes, blend_text, blend, \
              construction_text, construction, plies, gauge_text, gauge_stitches_low, \
              gauge_stitches_high, gauge_rows_low, gauge_rows_high, gauge_over_m, \
              gauge_stockinette, gauge_stitch, gauge_worked, gauge_washed, gauge_strands, \
              needle_text, needle_low_mm, needle_high_mm, care_text, care, price_text, \
              price_amount, price_currency, price_per, price_per_quantity, grist",
};

impl FromRow for YarnFacts {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            length: row.part()?,
            mass: row.part()?,
            count: row.part()?,
            class: row.part()?,
            blend: row.part()?,
            construction: row.part()?,
            plies: row.part()?,
            gauge: row.part()?,
            needles: row.part()?,
            care: row.part()?,
            price: row.part()?,
            together: None,
        })
    }
}

/// The columns as they are read, the blend by its parts.
pub(super) fn columns() -> String {
    let parts = "(SELECT parts FROM blend WHERE blend.id = facts.blend)";
    FACTS
        .columns()
        .replacen("facts.blend,", &format!("{parts},"), 1)
}

impl Writer<'_> {
    /// Keeps facts; their new number.
    pub(super) fn add_facts(&self, facts: &YarnFacts) -> Result<i64, StoreError> {
        self.db.insert(&FACTS, &self.cells_of(facts)?)
    }

    /// Changes the facts with this number.
    pub(super) fn change_facts(&self, id: i64, facts: &YarnFacts) -> Result<(), StoreError> {
        let cells = self.cells_of(facts)?.and(&id);
        self.db.run(&FACTS.update(), cells.params()).map(|_| ())
    }

    fn cells_of(&self, facts: &YarnFacts) -> Result<Cells, StoreError> {
        let blend = facts.blend.as_ref();
        let number = blend
            .map(|blend| self.keep_blend(&blend.value))
            .transpose()?;
        let mut cells = Cells::default();
        encode(facts, number, &mut cells);
        Ok(cells)
    }

    /// Keeps a blend where it is new; its number.
    pub(super) fn keep_blend(&self, blend: &Blend) -> Result<i64, StoreError> {
        let parts = blend_as_text(blend);
        let sql = "INSERT INTO blend (parts) VALUES (?) ON CONFLICT DO NOTHING";
        self.db.run(sql, [&parts])?;
        self.db
            .number("SELECT id FROM blend WHERE parts = ?", [&parts])
    }
}

/// Writes the cells of facts, the blend by its number.
pub(super) fn encode(facts: &YarnFacts, blend: Option<i64>, cells: &mut dyn CellSink) {
    let blend = facts.blend.as_ref().zip(blend);
    facts.length.encode(cells);
    facts.mass.encode(cells);
    facts.count.encode(cells);
    facts.class.encode(cells);
    blend
        .map(|(blend, number)| Printed::new(&*blend.text, number))
        .encode(cells);
    facts.construction.encode(cells);
    facts.plies.encode(cells);
    facts.gauge.encode(cells);
    facts.needles.encode(cells);
    facts.care.encode(cells);
    facts.price.encode(cells);
    facts.grist().encode(cells);
}
