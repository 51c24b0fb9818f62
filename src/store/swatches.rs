//! Swatches of a yarn.

use super::{
    Reader, StoreError, Writer,
    cells::{Cells, kept_fields},
    reader::stored_part,
    table::Table,
};
use crate::{
    measure::{Gauge, NeedleSize},
    record::{Id, StatedGauge, Stored, Swatch, Yarn},
};
use std::sync::LazyLock;

const SWATCH: Table = Table {
    name: "swatch",
    columns: &[
        "needle_mm",
        "before_stitches_low",
        "before_stitches_high",
        "before_rows_low",
        "before_rows_high",
        "before_over_m",
        "before_stockinette",
        "before_stitch",
        "before_worked",
        "before_washed",
        "before_strands",
        "after_stitches_low",
        "after_stitches_high",
        "after_rows_low",
        "after_rows_high",
        "after_over_m",
        "measured_on",
        "notes",
        "yarn",
    ],
};

kept_fields!(Swatch {
    needle: NeedleSize,
    before: Option<StatedGauge>,
    after: Option<Gauge>,
    measured_on: String,
    notes: String,
});

static INSERT: LazyLock<String> = LazyLock::new(|| SWATCH.insert());
static SELECT: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT id, version, {} FROM swatch WHERE yarn = ? ORDER BY id",
        SWATCH.columns()
    )
});

impl Reader<'_> {
    /// The swatches of a yarn, in the order in which they were kept.
    pub fn swatches_of(&self, yarn: Id<Yarn>) -> Result<Vec<Stored<Swatch>>, StoreError> {
        self.db.all("swatch", &SELECT, [yarn.number()], stored_part)
    }
}

impl Writer<'_> {
    /// Keeps a swatch of this yarn.
    pub fn add_swatch(&self, yarn: Id<Yarn>, swatch: &Swatch) -> Result<Id<Swatch>, StoreError> {
        self.yarn(yarn)?;
        let cells = Cells::of(swatch).and(&yarn.number());
        self.db.insert(&INSERT, cells.params()).map(Id::new)
    }

    /// Forgets a swatch.
    pub fn remove_swatch(&self, id: Id<Swatch>) -> Result<(), StoreError> {
        let sql = "DELETE FROM swatch WHERE id = ?";
        match self.db.run(sql, [id.number()])? {
            0 => Err(StoreError::Gone {
                what: "swatch",
                id: id.number(),
            }),
            _ => Ok(()),
        }
    }
}
