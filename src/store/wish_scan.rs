//! What decides whether a yarn meets a wish, read of every yarn at little cost: what it
//! costs and how much of it a price buys, and the shades it comes in.

use super::{
    Reader, StoreError,
    rows::{DecodeError, FromRow, RowReader},
};
use crate::{
    record::{Id, Printed, Yarn, YarnFacts},
    trade::Colour,
};

/// What of a yarn decides what it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct PricedYarn {
    /// Its number.
    pub yarn: Id<Yarn>,
    /// The number of its blend.
    pub blend: Option<i64>,
    /// Length, mass, yarn count and price; the rest is left out.
    pub facts: YarnFacts,
}

impl FromRow for PricedYarn {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self {
            yarn: row.part()?,
            blend: row.cell()?,
            facts: YarnFacts {
                length: row.part()?,
                mass: row.part()?,
                count: row.part()?,
                price: row.part()?,
                ..YarnFacts::default()
            },
        })
    }
}

/// A shade of a yarn, and its colour where that is known.
pub type ShadeOfYarn = (Id<Yarn>, String, Option<Printed<Colour>>);

impl Reader<'_> {
    /// Hands every yarn to `each`.
    pub fn priced_yarns<E: From<StoreError>>(
        &self,
        each: impl FnMut(PricedYarn) -> Result<(), E>,
    ) -> Result<(), E> {
        let sql = "SELECT id, blend, length_text, length_m, mass_text, mass_g, count_text, \
                   count_single, count_plies, count_system, price_text, price_amount, \
                   price_currency, price_per, price_per_quantity FROM facts JOIN yarn USING (id)";
        self.db.each("facts", sql, [], each)
    }

    /// Hands every shade of every yarn to `each`: those of its lots, and those that it
    /// comes in.
    pub fn shades_of_yarns<E: From<StoreError>>(
        &self,
        each: impl FnMut(ShadeOfYarn) -> Result<(), E>,
    ) -> Result<(), E> {
        let sql = "SELECT DISTINCT stock_lot.yarn, stock_lot.shade, colour_text, colour \
                   FROM stock_lot LEFT JOIN shade_colour ON shade_colour.yarn = stock_lot.yarn \
                   AND shade_colour.shade_key = stock_lot.shade_key \
                   UNION ALL SELECT yarn, name, NULL, NULL FROM shade";
        self.db.each("shade", sql, [], each)
    }
}
