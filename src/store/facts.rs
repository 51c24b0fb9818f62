//! The table of facts, which yarns and the yarn roles of patterns share.
//!
//! `grist` is kept beside them, so that yarns can be found by it; blends are
//! kept once each.

use super::{
    StoreError, Writer,
    columns::blend_as_text,
    rows::{Cells, Columns, field_columns},
    sql::Table,
};
use crate::{
    measure::{Length, Mass, YarnCount},
    record::{Blend, Care, Classes, Needles, Price, Printed, StatedGauge, YarnFacts},
    trade::Construction,
};
use rusqlite::types::Null;
use std::sync::LazyLock;

/// The table, its columns in the order of the cells.
pub(super) const FACTS: Table = Table {
    name: "facts",
    columns: &[
        "length_text",
        "length_m",
        "mass_text",
        "mass_g",
        "count_text",
        "count_single",
        "count_plies",
        "count_system",
        "class_text",
        "classes",
        "blend_text",
        BLEND,
        "construction_text",
        "construction",
        "plies",
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
        "needle_text",
        "needle_low_mm",
        "needle_high_mm",
        "care_text",
        "care",
        "price_text",
        "price_amount",
        "price_currency",
        "price_per",
        "price_per_quantity",
        "grist",
    ],
};

/// The column that refers to the blend.
pub(super) const BLEND: &str = "blend";

field_columns!(YarnFacts {
    length: Option<Printed<Length>>,
    mass: Option<Printed<Mass>>,
    count: Option<Printed<YarnCount>>,
    class: Option<Printed<Classes>>,
    blend: Option<Printed<Blend>>,
    construction: Option<Printed<Construction>>,
    plies: Option<u8>,
    gauge: Option<Printed<StatedGauge>>,
    needles: Option<Printed<Needles>>,
    care: Option<Printed<Care>>,
    price: Option<Printed<Price>>,
});

static INSERT: LazyLock<String> = LazyLock::new(|| FACTS.insert());
static UPDATE: LazyLock<String> = LazyLock::new(|| FACTS.update());

/// The columns as they are read, the blend by its parts.
pub(super) fn columns() -> String {
    let read = FACTS.columns.iter().map(|column| match *column {
        BLEND => "(SELECT parts FROM blend WHERE blend.id = facts.blend)".to_owned(),
        column => format!("facts.{column}"),
    });
    read.collect::<Vec<_>>().join(", ")
}

impl Writer<'_> {
    /// Keeps facts; their new number.
    pub(super) fn add_facts(&self, facts: &YarnFacts) -> Result<i64, StoreError> {
        self.keep_blend_of(facts)?;
        self.db.insert(&INSERT, cells(facts).params())
    }

    /// Changes the facts with this number.
    pub(super) fn change_facts(&self, id: i64, facts: &YarnFacts) -> Result<(), StoreError> {
        self.keep_blend_of(facts)?;
        self.db.run(&UPDATE, cells(facts).and(&id).params())?;
        Ok(())
    }

    fn keep_blend_of(&self, facts: &YarnFacts) -> Result<(), StoreError> {
        match &facts.blend {
            Some(blend) => self.keep_blend(&blend_as_text(&blend.value)),
            None => Ok(()),
        }
    }

    /// Keeps a blend, by its text, where it is new.
    pub(super) fn keep_blend(&self, parts: &str) -> Result<(), StoreError> {
        let sql = "INSERT INTO blend (parts) VALUES (?) ON CONFLICT DO NOTHING";
        self.db.run(sql, [parts]).map(|_| ())
    }
}

/// The cells of facts, the blend by its text.
pub(super) fn cells(facts: &YarnFacts) -> Cells {
    Cells::of(facts).and(&facts.grist())
}

/// The cells of facts, the blend by its number, in the same order.
pub(super) fn encode_numbered(cells: &mut Cells, facts: &YarnFacts, number: Option<i64>) {
    let YarnFacts {
        length,
        mass,
        count,
        class,
        blend,
        construction,
        plies,
        gauge,
        needles,
        care,
        price,
    } = facts;
    length.encode(cells);
    mass.encode(cells);
    count.encode(cells);
    class.encode(cells);
    match blend {
        Some(blend) => cells.text(&blend.text),
        None => cells.push(Null),
    }
    number.encode(cells);
    construction.encode(cells);
    plies.encode(cells);
    gauge.encode(cells);
    needles.encode(cells);
    care.encode(cells);
    price.encode(cells);
    facts.grist().encode(cells);
}
