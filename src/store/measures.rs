//! Quantities, gauges and prices as cells.

use super::cells::{Cells, Flaw, Kept, Taken, kept_fields};
use crate::{
    measure::{
        Gauge, Grist, GristTolerance, Length, Mass, Money, NeedleSize, Over, Ratio, YarnCount,
        units::{COUNT_SYSTEMS, CountSystem},
    },
    record::{Price, PriceBasis},
};
use iso_currency::Currency;
use rusqlite::types::Null;
use rust_decimal::Decimal;

/// Quantities of one column, in the canonical unit.
macro_rules! kept_quantity {
    ($($quantity:ty, $new:ident, $get:ident;)*) => {$(
        impl Kept for $quantity {
            const WIDTH: usize = 1;

            fn put(&self, cells: &mut Cells) {
                cells.push(self.$get());
            }

            fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
                Ok(Self::$new(row.cell()?)?)
            }
        }
    )*};
}

kept_quantity! {
    Length, metres, as_metres;
    Mass, grams, as_grams;
    NeedleSize, millimetres, as_millimetres;
    Over, metres, as_metres;
    Grist, metres_per_gram, as_metres_per_gram;
    Ratio, fraction, as_fraction;
}

/// Number of one single, plies, system.
impl Kept for YarnCount {
    const WIDTH: usize = 3;

    fn put(&self, cells: &mut Cells) {
        cells.push(self.single());
        cells.push(self.plies());
        cells.text(symbol(self.system()));
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        let (single, plies, system) = (row.cell()?, row.cell()?, row.text()?);
        let known = COUNT_SYSTEMS.iter().find(|known| known.symbol == system);
        let known = known.ok_or_else(|| Flaw::unknown("count system", system))?;
        Ok(Self::new(single, plies, known.system)?)
    }
}

/// The symbol of a count system; every one has its row.
fn symbol(system: CountSystem) -> &'static str {
    let row = COUNT_SYSTEMS.iter().find(|row| row.system == system);
    row.map_or("", |row| row.symbol)
}

/// Stitches, rows, what they were counted over.
impl Kept for Gauge {
    const WIDTH: usize = 5;

    fn put(&self, cells: &mut Cells) {
        self.stitches().put(cells);
        self.rows().put(cells);
        self.over().put(cells);
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        Ok(Self::new(row.part()?, row.part()?, row.part()?)?)
    }
}

/// Kind, then the number.
impl Kept for GristTolerance {
    const WIDTH: usize = 2;

    fn put(&self, cells: &mut Cells) {
        match self {
            Self::Share(share) => {
                cells.text("share");
                share.put(cells);
            }
            Self::Absolute(grist) => {
                cells.text("grist");
                grist.put(cells);
            }
        }
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        match row.text()? {
            "share" => row.part().map(Self::Share),
            "grist" => row.part().map(Self::Absolute),
            other => Err(Flaw::unknown("kind of tolerance", other)),
        }
    }
}

kept_fields!(Price {
    money: Money,
    per: PriceBasis,
});

/// The amount as exact decimal text, then the currency's code.
impl Kept for Money {
    const WIDTH: usize = 2;

    fn put(&self, cells: &mut Cells) {
        cells.text(&self.amount.to_string());
        cells.text(self.currency.code());
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        let amount = Decimal::from_str_exact(row.text()?)?;
        let code = row.text()?;
        let currency = Currency::from_code(code).ok_or_else(|| Flaw::unknown("currency", code))?;
        Ok(Self { amount, currency })
    }
}

/// Kind, then how many grams or metres.
impl Kept for PriceBasis {
    const WIDTH: usize = 2;

    fn put(&self, cells: &mut Cells) {
        match self {
            Self::Skein => {
                cells.text("skein");
                cells.push(Null);
            }
            Self::Mass(mass) => {
                cells.text("mass");
                mass.put(cells);
            }
            Self::Length(length) => {
                cells.text("length");
                length.put(cells);
            }
        }
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        match row.text()? {
            "skein" => row.part::<Option<f64>>().map(|_| Self::Skein),
            "mass" => row.part().map(Self::Mass),
            "length" => row.part().map(Self::Length),
            other => Err(Flaw::unknown("basis of a price", other)),
        }
    }
}
