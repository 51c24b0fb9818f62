//! What records are made of, as cells: names, quantities, gauges, prices, blends,
//! needs, amounts of stock.

use super::{
    changes::{Action, RecordKind},
    rows::{BadRow, CellSink, Columns, DecodeError, FromRow, RowReader, field_columns},
};
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
    trade::{Colour, Construction, Gtin, WeightClass, fibre},
};
use iso_currency::Currency;
use rusqlite::types::ValueRef;
use rust_decimal::Decimal;
use serde_json::json;

/// What is kept under its name.
macro_rules! named_columns {
    ($($named:ty, $all:expr;)*) => {$(
        impl FromRow for $named {
            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                let name = row.text()?;
                let known = $all.into_iter().find(|known| known.name() == name);
                Ok(known.ok_or_else(|| BadRow::Unknown(name.to_owned()))?)
            }
        }

        impl Columns for $named {
            const WIDTH: usize = 1;

            fn encode(&self, cells: &mut dyn CellSink) {
                cells.put(ValueRef::Text(self.name().as_bytes()));
            }
        }
    )*};
}

named_columns! {
    Action, Action::ALL;
    RecordKind, RecordKind::ALL;
    Care, Care::ALL;
    Construction, Construction::ALL;
    EntryKind, EntryKind::ALL;
    Fit, Fit::ALL;
    Purpose, Purpose::ALL;
    FlatOrRound, [FlatOrRound::Flat, FlatOrRound::InTheRound];
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

/// A value stored as something simpler: how to take it apart, how to put it together.
macro_rules! columns_as {
    ($($whole:ty as $parts:ty: $apart:expr, $together:expr;)*) => {$(
        impl FromRow for $whole {
            fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
                let together: fn($parts) -> Result<Self, DecodeError> = $together;
                together(row.part()?)
            }
        }

        impl Columns for $whole {
            const WIDTH: usize = <$parts as Columns>::WIDTH;

            fn encode(&self, cells: &mut dyn CellSink) {
                let apart: fn(&Self) -> $parts = $apart;
                apart(self).encode(cells);
            }
        }
    )*};
}

// Quantities, in the canonical unit.
columns_as! {
    Length as f64: |length| length.as_metres(), |m| Ok(Self::metres(m)?);
    Mass as f64: |mass| mass.as_grams(), |g| Ok(Self::grams(g)?);
    NeedleSize as f64: |needle| needle.as_millimetres(), |mm| Ok(Self::millimetres(mm)?);
    Over as f64: |over| over.as_metres(), |m| Ok(Self::metres(m)?);
    Grist as f64: |grist| grist.as_metres_per_gram(), |n| Ok(Self::metres_per_gram(n)?);
    Ratio as f64: |ratio| ratio.as_fraction(), |n| Ok(Self::fraction(n)?);
}

// Thousandths of a skein, milligrams.
columns_as! {
    StockAmount as (i64, i64):
        |amount| (amount.milliskeins(), amount.milligrams()),
        |(skeins, grams)| Ok(Self::from_thousandths(skeins, grams)?);
}

columns_as! {
    Name as String:
        |name| name.as_str().to_owned(),
        |text| Ok(Self::new("name", &text)?);
    Colour as u32:
        |colour| colour.number(),
        |number| {
            let colour = Self::from_number(number);
            Ok(colour.ok_or(BadRow::Unknown(number.to_string()))?)
        };
    Gtin as String:
        |gtin| gtin.to_string(),
        |text| Ok(Self::read(&text)?);
    Gauge as (Interval<f64>, Option<Interval<f64>>, Option<Over>):
        |gauge| (gauge.stitches(), gauge.rows(), gauge.over()),
        |(stitches, rows, over)| Ok(Self::new(stitches, rows, over)?);
}

/// Behind each other with a line between; none is NULL.
impl FromRow for Vec<Gtin> {
    fn decode(row: &mut RowReader<'_, '_>) -> Result<Self, DecodeError> {
        let text: Option<String> = row.cell()?;
        let numbers = text.iter().flat_map(|text| text.split('|'));
        numbers.map(|number| Ok(Gtin::read(number)?)).collect()
    }
}

impl Columns for Vec<Gtin> {
    const WIDTH: usize = 1;

    fn encode(&self, cells: &mut dyn CellSink) {
        let numbers: Vec<String> = self.iter().map(ToString::to_string).collect();
        let text = Some(numbers.join("|")).filter(|text| !text.is_empty());
        text.encode(cells);
    }
}

// Whether it is stockinette, then the name of any other.
columns_as! {
    Stitch as (bool, Option<String>):
        |stitch| match stitch {
            Self::Stockinette => (true, None),
            Self::Other(name) => (false, Some(name.clone())),
        },
        |cells| match cells {
            (true, None) => Ok(Self::Stockinette),
            (false, Some(name)) => Ok(Self::Other(name)),
            _ => Err(BadRow::Stitch.into()),
        };
}

// One number in which bit n stands for class n.
columns_as! {
    Classes as u8:
        |classes| {
            let bits = classes.as_slice().iter().map(|class| 1_u8 << class.number());
            bits.fold(0, |all, bit| all | bit)
        },
        |bits| {
            Ok(classes_of_bits(bits).ok_or(BadRow::NoClass)?)
        };
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
        (Some(name), None) => FibreName::Known(fibre(&name).ok_or(BadRow::Unknown(name))?),
        (None, Some(name)) => FibreName::Other(name),
        _ => return Err(BadRow::Fibre.into()),
    };
    let percent = percent.parse()?;
    Ok(BlendPart { fibre, percent })
}

columns_as! {
    Blend as String: blend_as_text, |text| {
        let parts: Vec<KeptFibre> = serde_json::from_str(&text)?;
        let parts: Result<Vec<BlendPart>, DecodeError> = parts.into_iter().map(part).collect();
        Ok(Self::new(parts?)?)
    };
}

// Kind, from, to, and the length of a skein where skeins are counted.
columns_as! {
    Need as (String, f64, f64, Option<Length>):
        |need| match need {
            Self::Length(range) => {
                let range = range.map(|length| length.as_metres());
                ("length".to_owned(), range.low(), range.high(), None)
            }
            Self::Mass(range) => {
                let range = range.map(|mass| mass.as_grams());
                ("mass".to_owned(), range.low(), range.high(), None)
            }
            Self::Skeins { count, skein } => ("skeins".to_owned(), *count, *count, Some(*skein)),
        },
        |(kind, low, high, skein)| match (kind.as_str(), skein) {
            ("length", _) => {
                let range = Interval::between(Length::metres(low)?, Length::metres(high)?)?;
                Ok(Self::Length(range))
            }
            ("mass", _) => {
                let range = Interval::between(Mass::grams(low)?, Mass::grams(high)?)?;
                Ok(Self::Mass(range))
            }
            ("skeins", Some(skein)) => Ok(Self::Skeins { count: low, skein }),
            (other, _) => Err(BadRow::Unknown(other.to_owned()).into()),
        };
}

// Number of one single, plies, system.
columns_as! {
    YarnCount as (f64, u8, String):
        |count| (count.single(), count.plies(), symbol(count.system()).to_owned()),
        |(single, plies, system)| {
            let known = COUNT_SYSTEMS.iter().find(|known| known.symbol == system);
            let known = known.ok_or(BadRow::Unknown(system))?;
            Ok(Self::new(single, plies, known.system)?)
        };
}

/// The symbol of a count system; every one has its row.
fn symbol(system: CountSystem) -> &'static str {
    let row = COUNT_SYSTEMS.iter().find(|row| row.system == system);
    row.map_or("", |row| row.symbol)
}

// Kind, then the number.
columns_as! {
    GristTolerance as (String, f64):
        |tolerance| match tolerance {
            Self::Share(share) => ("share".to_owned(), share.as_fraction()),
            Self::Absolute(grist) => ("grist".to_owned(), grist.as_metres_per_gram()),
        },
        |(kind, number)| match kind.as_str() {
            "share" => Ok(Self::Share(Ratio::fraction(number)?)),
            "grist" => Ok(Self::Absolute(Grist::metres_per_gram(number)?)),
            other => Err(BadRow::Unknown(other.to_owned()).into()),
        };
}

field_columns!(Price {
    money: Money,
    per: PriceBasis,
});

// The amount as exact decimal text, then the currency's code.
columns_as! {
    Money as (String, String):
        |money| (money.amount.to_string(), money.currency.code().to_owned()),
        |(amount, code)| {
            let amount = Decimal::from_str_exact(&amount)?;
            let currency = Currency::from_code(&code);
            let currency = currency.ok_or(BadRow::Unknown(code))?;
            Ok(Self { amount, currency })
        };
}

// Kind, then how many grams or metres.
columns_as! {
    PriceBasis as (String, Option<f64>):
        |per| match per {
            Self::Skein => ("skein".to_owned(), None),
            Self::Mass(mass) => ("mass".to_owned(), Some(mass.as_grams())),
            Self::Length(length) => ("length".to_owned(), Some(length.as_metres())),
        },
        |(kind, number)| match (kind.as_str(), number) {
            ("skein", _) => Ok(Self::Skein),
            ("mass", Some(grams)) => Ok(Self::Mass(Mass::grams(grams)?)),
            ("length", Some(metres)) => Ok(Self::Length(Length::metres(metres)?)),
            (other, _) => Err(BadRow::Unknown(other.to_owned()).into()),
        };
}
