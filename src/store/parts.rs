//! Parts of records as cells: what is named, blends, needs, amounts of stock.

use super::cells::{Cells, Flaw, Kept, Taken, kept_fields};
use crate::{
    measure::{Gauge, Interval, Length, Mass},
    record::{
        Blend, BlendPart, Care, Classes, EntryKind, FibreName, Fit, Multiple, Name, Need, Printed,
        Purpose, Size, StatedGauge, Stitch, StockAmount, Worked,
    },
    trade::{Construction, Gtin, WeightClass, fibre},
};
use rusqlite::types::Null;
use serde_json::json;

/// What is kept under its name.
macro_rules! kept_named {
    ($($named:ty, $what:literal, $all:expr;)*) => {$(
        impl Kept for $named {
            const WIDTH: usize = 1;

            fn put(&self, cells: &mut Cells) {
                cells.text(self.name());
            }

            fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
                let name = row.text()?;
                let known = $all.into_iter().find(|known| known.name() == name);
                known.ok_or_else(|| Flaw::unknown($what, name))
            }
        }
    )*};
}

kept_named! {
    Care, "way of washing", Care::ALL;
    Construction, "construction", Construction::ALL;
    EntryKind, "line of a ledger", EntryKind::ALL;
    Fit, "fit", Fit::ALL;
    Purpose, "purpose", Purpose::ALL;
    Worked, "way of working", [Worked::Flat, Worked::InTheRound];
}

kept_fields!(StatedGauge {
    gauge: Gauge,
    stitch: Option<Stitch>,
    worked: Option<Worked>,
    washed: Option<bool>,
    strands: Option<u8>,
});

kept_fields!(Multiple {
    stitches: u32,
    plus: u32,
});

kept_fields!(Size {
    name: Name,
    width: Option<Printed<Length>>,
    height: Option<Printed<Length>>,
    cast_on: Option<u32>,
    rows: Option<u32>,
});

impl Kept for Name {
    const WIDTH: usize = 1;

    fn put(&self, cells: &mut Cells) {
        cells.text(self.as_str());
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        Ok(Self::new("a name", row.text()?)?)
    }
}

impl Kept for Gtin {
    const WIDTH: usize = 1;

    fn put(&self, cells: &mut Cells) {
        cells.text(&self.to_string());
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        Ok(Self::read(row.text()?)?)
    }
}

/// Whether it is stockinette, then the name of any other.
impl Kept for Stitch {
    const WIDTH: usize = 2;

    fn put(&self, cells: &mut Cells) {
        match self {
            Self::Stockinette => {
                cells.push(true);
                cells.push(Null);
            }
            Self::Other(name) => {
                cells.push(false);
                name.put(cells);
            }
        }
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        let (stockinette, name): (bool, Option<String>) = (row.cell()?, row.cell()?);
        match (stockinette, name) {
            (true, None) => Ok(Self::Stockinette),
            (false, Some(name)) => Ok(Self::Other(name)),
            _ => Err(Flaw("the stitch has no name, or two".to_owned())),
        }
    }
}

/// One number in which bit n stands for class n.
impl Kept for Classes {
    const WIDTH: usize = 1;

    fn put(&self, cells: &mut Cells) {
        let bits = self.as_slice().iter().map(|class| 1_u8 << class.number());
        cells.push(bits.fold(0, |all, bit| all | bit));
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        let bits: u8 = row.cell()?;
        classes_of_bits(bits).ok_or_else(|| Flaw("no weight class is named".to_owned()))
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

fn part((percent, known, other): KeptFibre) -> Result<BlendPart, Flaw> {
    let fibre = match (known, other) {
        (Some(name), None) => {
            FibreName::Known(fibre(&name).ok_or_else(|| Flaw::unknown("known fibre", &name))?)
        }
        (None, Some(name)) => FibreName::Other(name),
        _ => return Err(Flaw("a fibre has no name, or two".to_owned())),
    };
    let percent = percent.parse()?;
    Ok(BlendPart { fibre, percent })
}

/// The blend of a text of [`blend_as_text`].
impl Kept for Blend {
    const WIDTH: usize = 1;

    fn put(&self, cells: &mut Cells) {
        cells.text(&blend_as_text(self));
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        let parts: Vec<KeptFibre> = serde_json::from_str(row.text()?)?;
        let parts: Result<Vec<BlendPart>, Flaw> = parts.into_iter().map(part).collect();
        Ok(Self::new(parts?)?)
    }
}

/// Thousandths of a skein, milligrams.
impl Kept for StockAmount {
    const WIDTH: usize = 2;

    fn put(&self, cells: &mut Cells) {
        cells.push(self.milliskeins());
        cells.push(self.milligrams());
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        Ok(Self::from_thousandths(row.cell()?, row.cell()?)?)
    }
}

/// Kind, from, to, and the length of a skein where skeins are counted.
impl Kept for Need {
    const WIDTH: usize = 4;

    fn put(&self, cells: &mut Cells) {
        match self {
            Self::Length(range) => {
                cells.text("length");
                range.put(cells);
                cells.push(Null);
            }
            Self::Skeins { count, skein } => {
                cells.text("skeins");
                count.put(cells);
                count.put(cells);
                skein.put(cells);
            }
            Self::Mass(range) => {
                cells.text("mass");
                range.put(cells);
                cells.push(Null);
            }
        }
    }

    fn take(row: &mut Taken<'_, '_>) -> Result<Self, Flaw> {
        match row.text()? {
            "length" => row.part::<Interval<Length>>().map(Self::Length),
            "mass" => row.part::<Interval<Mass>>().map(Self::Mass),
            "skeins" => {
                let (count, _): (f64, f64) = (row.cell()?, row.cell()?);
                let skein = row.part()?;
                Ok(Self::Skeins { count, skein })
            }
            other => Err(Flaw::unknown("kind of need", other)),
        }
    }
}
