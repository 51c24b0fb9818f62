//! What records are made of, as cells: names, quantities, gauges, prices, blends,
//! needs, amounts of stock.

use super::rows::{Cells, Columns, DecodeError, RowReader, field_columns};
use crate::{
    measure::{
        Gauge, Grist, GristTolerance, Interval, Length, Mass, Money, NeedleSize, Over, Ratio,
        YarnCount,
        units::{COUNT_SYSTEMS, CountSystem},
    },
    record::{
        Blend, BlendPart, Care, Classes, EntryKind, FibreName, Fit, FlatOrRound, Multiple, Name,
        Need, Price, PriceBasis, Printed, Purpose, Size, StatedGauge, Stitch, StockAmount,
    },
    trade::{Construction, Gtin, WeightClass, fibre},
};
use iso_currency::Currency;
use rusqlite::types::Null;
use rust_decimal::Decimal;
use serde_json::json;

/// What is kept under its name.
macro_rules! named_columns {
    ($($named:ty, $what:literal, $all:expr;)*) => {$(
        impl Columns for $named {
            const WIDTH: usize = 1;

            fn encode(&self, cells: &mut Cells) {
                cells.text(self.name());
            }

            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                let name = row.text()?;
                let known = $all.into_iter().find(|known| known.name() == name);
                known.ok_or_else(|| DecodeError::unknown($what, name))
            }
        }
    )*};
}

named_columns! {
    Care, "way of washing", Care::ALL;
    Construction, "construction", Construction::ALL;
    EntryKind, "line of a ledger", EntryKind::ALL;
    Fit, "fit", Fit::ALL;
    Purpose, "purpose", Purpose::ALL;
    FlatOrRound, "way of working", [FlatOrRound::Flat, FlatOrRound::InTheRound];
}

field_columns!(StatedGauge {
    gauge: Gauge,
    stitch: Option<Stitch>,
    worked: Option<FlatOrRound>,
    washed: Option<bool>,
    strands: Option<u8>,
});

field_columns!(Multiple {
    stitches: u32,
    plus: u32,
});

field_columns!(Size {
    name: Name,
    width: Option<Printed<Length>>,
    height: Option<Printed<Length>>,
    cast_on: Option<u32>,
    rows: Option<u32>,
});

impl Columns for Name {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut Cells) {
        cells.text(self.as_str());
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self::new("a name", row.text()?)?)
    }
}

impl Columns for Gtin {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut Cells) {
        cells.text(&self.to_string());
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self::read(row.text()?)?)
    }
}

/// Whether it is stockinette, then the name of any other.
impl Columns for Stitch {
    const WIDTH: usize = 2;

    fn encode(&self, cells: &mut Cells) {
        match self {
            Self::Stockinette => {
                cells.push(true);
                cells.push(Null);
            }
            Self::Other(name) => {
                cells.push(false);
                name.encode(cells);
            }
        }
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let (stockinette, name): (bool, Option<String>) = (row.cell()?, row.cell()?);
        match (stockinette, name) {
            (true, None) => Ok(Self::Stockinette),
            (false, Some(name)) => Ok(Self::Other(name)),
            _ => Err(DecodeError("the stitch has no name, or two".to_owned())),
        }
    }
}

/// One number in which bit n stands for class n.
impl Columns for Classes {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut Cells) {
        let bits = self.as_slice().iter().map(|class| 1_u8 << class.number());
        cells.push(bits.fold(0, |all, bit| all | bit));
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let bits: u8 = row.cell()?;
        classes_of_bits(bits).ok_or_else(|| DecodeError("no weight class is named".to_owned()))
    }
}

/// The classes whose bits are set; none where none is.
pub(super) fn classes_of_bits(bits: u8) -> Option<Classes> {
    let possible = (0..8).filter(|n| bits & (1 << n) != 0);
    Classes::new(possible.filter_map(WeightClass::new).collect())
}

/// A blend as text that is the same for the same blend: a list of `[share,
/// fibre of the table, other fibre]`. The share is text, since numbers in JSON
/// may lose their last digit on the way.
pub(super) fn blend_as_text(blend: &Blend) -> String {
    let parts = blend.parts().iter().map(|part| {
        let (known, other) = match &part.fibre {
            FibreName::Known(fibre) => (Some(fibre.name), None),
            FibreName::Other(name) => (None, Some(name.as_str())),
        };
        json!([part.percent.to_string(), known, other])
    });
    serde_json::Value::Array(parts.collect()).to_string()
}

/// A part as [`blend_as_text`] writes it.
type KeptFibre = (String, Option<String>, Option<String>);

fn part((percent, known, other): KeptFibre) -> Result<BlendPart, DecodeError> {
    let fibre = match (known, other) {
        (Some(name), None) => FibreName::Known(
            fibre(&name).ok_or_else(|| DecodeError::unknown("known fibre", &name))?,
        ),
        (None, Some(name)) => FibreName::Other(name),
        _ => return Err(DecodeError("a fibre has no name, or two".to_owned())),
    };
    let percent = percent.parse()?;
    Ok(BlendPart { fibre, percent })
}

/// The blend of a text of [`blend_as_text`].
impl Columns for Blend {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut Cells) {
        cells.text(&blend_as_text(self));
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let parts: Vec<KeptFibre> = serde_json::from_str(row.text()?)?;
        let parts: Result<Vec<BlendPart>, DecodeError> = parts.into_iter().map(part).collect();
        Ok(Self::new(parts?)?)
    }
}

/// Thousandths of a skein, milligrams.
impl Columns for StockAmount {
    const WIDTH: usize = 2;

    fn encode(&self, cells: &mut Cells) {
        cells.push(self.milliskeins());
        cells.push(self.milligrams());
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self::from_thousandths(row.cell()?, row.cell()?)?)
    }
}

/// Kind, from, to, and the length of a skein where skeins are counted.
impl Columns for Need {
    const WIDTH: usize = 4;

    fn encode(&self, cells: &mut Cells) {
        match self {
            Self::Length(range) => {
                cells.text("length");
                range.encode(cells);
                cells.push(Null);
            }
            Self::Skeins { count, skein } => {
                cells.text("skeins");
                count.encode(cells);
                count.encode(cells);
                skein.encode(cells);
            }
            Self::Mass(range) => {
                cells.text("mass");
                range.encode(cells);
                cells.push(Null);
            }
        }
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        match row.text()? {
            "length" => row.part::<Interval<Length>>().map(Self::Length),
            "mass" => row.part::<Interval<Mass>>().map(Self::Mass),
            "skeins" => {
                let (count, _): (f64, f64) = (row.cell()?, row.cell()?);
                let skein = row.part()?;
                Ok(Self::Skeins { count, skein })
            }
            other => Err(DecodeError::unknown("kind of need", other)),
        }
    }
}

/// Quantities of one column, in the canonical unit.
macro_rules! quantity_columns {
    ($($quantity:ty, $new:ident, $get:ident;)*) => {$(
        impl Columns for $quantity {
            const WIDTH: usize = 1;

            fn encode(&self, cells: &mut Cells) {
                cells.push(self.$get());
            }

            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                Ok(Self::$new(row.cell()?)?)
            }
        }
    )*};
}

quantity_columns! {
    Length, metres, as_metres;
    Mass, grams, as_grams;
    NeedleSize, millimetres, as_millimetres;
    Over, metres, as_metres;
    Grist, metres_per_gram, as_metres_per_gram;
    Ratio, fraction, as_fraction;
}

/// Number of one single, plies, system.
impl Columns for YarnCount {
    const WIDTH: usize = 3;

    fn encode(&self, cells: &mut Cells) {
        cells.push(self.single());
        cells.push(self.plies());
        cells.text(symbol(self.system()));
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let (single, plies, system) = (row.cell()?, row.cell()?, row.text()?);
        let known = COUNT_SYSTEMS.iter().find(|known| known.symbol == system);
        let known = known.ok_or_else(|| DecodeError::unknown("count system", system))?;
        Ok(Self::new(single, plies, known.system)?)
    }
}

/// The symbol of a count system; every one has its row.
fn symbol(system: CountSystem) -> &'static str {
    let row = COUNT_SYSTEMS.iter().find(|row| row.system == system);
    row.map_or("", |row| row.symbol)
}

/// Stitches, rows, what they were counted over.
impl Columns for Gauge {
    const WIDTH: usize = 5;

    fn encode(&self, cells: &mut Cells) {
        self.stitches().encode(cells);
        self.rows().encode(cells);
        self.over().encode(cells);
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        Ok(Self::new(row.part()?, row.part()?, row.part()?)?)
    }
}

/// Kind, then the number.
impl Columns for GristTolerance {
    const WIDTH: usize = 2;

    fn encode(&self, cells: &mut Cells) {
        match self {
            Self::Share(share) => {
                cells.text("share");
                share.encode(cells);
            }
            Self::Absolute(grist) => {
                cells.text("grist");
                grist.encode(cells);
            }
        }
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        match row.text()? {
            "share" => row.part().map(Self::Share),
            "grist" => row.part().map(Self::Absolute),
            other => Err(DecodeError::unknown("kind of tolerance", other)),
        }
    }
}

field_columns!(Price {
    money: Money,
    per: PriceBasis,
});

/// The amount as exact decimal text, then the currency's code.
impl Columns for Money {
    const WIDTH: usize = 2;

    fn encode(&self, cells: &mut Cells) {
        cells.text(&self.amount.to_string());
        cells.text(self.currency.code());
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let amount = Decimal::from_str_exact(row.text()?)?;
        let code = row.text()?;
        let currency =
            Currency::from_code(code).ok_or_else(|| DecodeError::unknown("currency", code))?;
        Ok(Self { amount, currency })
    }
}

/// Kind, then how many grams or metres.
impl Columns for PriceBasis {
    const WIDTH: usize = 2;

    fn encode(&self, cells: &mut Cells) {
        match self {
            Self::Skein => {
                cells.text("skein");
                cells.push(Null);
            }
            Self::Mass(mass) => {
                cells.text("mass");
                mass.encode(cells);
            }
            Self::Length(length) => {
                cells.text("length");
                length.encode(cells);
            }
        }
    }

    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        match row.text()? {
            "skein" => row.part::<Option<f64>>().map(|_| Self::Skein),
            "mass" => row.part().map(Self::Mass),
            "length" => row.part().map(Self::Length),
            other => Err(DecodeError::unknown("basis of a price", other)),
        }
    }
}
