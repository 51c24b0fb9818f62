//! The fields of a reading, documented for programs, and how they are filled.

use crate::{
    label::band::{Amount, AmountPart, Quantity},
    label::reading::NotRead,
    measure::{Interval, Length, YarnCount},
    record::{Blend, Needles, Price, PriceBasis, StatedGauge, YarnFacts},
    words::number,
};
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

/// Length and mass of one skein; `null` where not given.
#[derive(Debug, Clone, Serialize)]
pub struct PutUpFields {
    /// m.
    pub length_m: Option<f64>,
    /// g.
    pub mass_g: Option<f64>,
}

/// A yarn count.
#[derive(Debug, Clone, Serialize)]
pub struct CountFields {
    /// The number of one single.
    pub number: f64,
    /// Singles.
    pub plies: u8,
    /// Numbering system, as printed: `Nm`, `Ne`, `tex`.
    pub system: &'static str,
}

/// One fibre of a blend.
#[derive(Debug, Clone, Serialize)]
pub struct BlendFields {
    /// Its name here.
    pub fibre: String,
    /// Its share of the mass.
    pub percent: f64,
}

/// A gauge.
#[derive(Debug, Clone, Serialize)]
pub struct GaugeFields {
    /// [low, high].
    pub stitches: [f64; 2],
    /// [low, high].
    pub rows: Option<[f64; 2]>,
    /// Over what length; `null` where the text does not say.
    pub over_m: Option<f64>,
    /// Stitch pattern.
    pub stitch: Option<String>,
    /// Flat or in the round.
    pub worked: Option<&'static str>,
    /// After washing.
    pub washed: Option<bool>,
    /// Strands held together.
    pub strands: Option<u8>,
}

/// A price.
#[derive(Debug, Clone, Serialize)]
pub struct PriceFields {
    /// In units of the currency.
    pub amount: Option<f64>,
    /// ISO 4217 code.
    pub currency: &'static str,
    /// What it buys: `skein`, or an amount with its unit.
    pub per: String,
}

/// An amount.
#[derive(Debug, Clone, Serialize)]
pub struct AmountFields {
    /// As it was written.
    pub text: String,
    /// One part a size.
    pub parts: Vec<AmountPartFields>,
    /// Loose grams beside counted skeins.
    pub plus_g: Option<f64>,
    /// Said to be about so much.
    pub about: bool,
    /// Colours or keys that it is for each.
    pub each_of: Vec<String>,
}

/// The amount of one size: one of `skeins`, `length_m`, `mass_g`, [low, high].
#[derive(Debug, Clone, Default, Serialize)]
pub struct AmountPartFields {
    /// The size, where named.
    pub size: Option<String>,
    /// Skeins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub skeins: Option<[f64; 2]>,
    /// m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_m: Option<[f64; 2]>,
    /// g.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<[f64; 2]>,
}

/// A part of the text that was not taken.
#[derive(Debug, Clone, Serialize)]
pub struct NotReadFields {
    /// The part.
    pub text: String,
    /// Its first byte.
    pub from: usize,
    /// The byte after its last.
    pub to: usize,
    /// Why not, and what to write instead.
    pub why: String,
}

pub(super) fn ends(range: Interval<f64>) -> [f64; 2] {
    [range.low(), range.high()]
}

pub(super) fn needle_ends(needles: &Needles) -> [f64; 2] {
    ends(needles.map(|needle| needle.as_millimetres()))
}

pub(super) fn put_up(facts: &YarnFacts) -> Option<PutUpFields> {
    let length_m = facts.length.as_ref().map(|length| length.value.as_metres());
    let mass_g = facts.mass.as_ref().map(|mass| mass.value.as_grams());
    (length_m.is_some() || mass_g.is_some()).then_some(PutUpFields { length_m, mass_g })
}

pub(super) fn count_fields(count: &YarnCount) -> CountFields {
    CountFields {
        number: count.single(),
        plies: count.plies(),
        system: count.system().symbol(),
    }
}

pub(super) fn blend_fields(blend: &Blend) -> Vec<BlendFields> {
    blend
        .parts()
        .iter()
        .map(|part| BlendFields {
            fibre: part.fibre.to_string(),
            percent: part.percent,
        })
        .collect()
}

pub(super) fn gauge_fields(stated: &StatedGauge) -> GaugeFields {
    GaugeFields {
        stitches: ends(stated.gauge.stitches()),
        rows: stated.gauge.rows().map(ends),
        over_m: stated.gauge.over().map(|over| over.as_metres()),
        stitch: stated
            .stitch
            .as_ref()
            .map(|stitch| stitch.name().to_owned()),
        worked: stated.worked.map(|worked| worked.name()),
        washed: stated.washed,
        strands: stated.strands,
    }
}

pub(super) fn price_fields(price: &Price) -> PriceFields {
    PriceFields {
        amount: price.money.amount.to_f64(),
        currency: price.money.currency.code(),
        per: basis(price.per),
    }
}

fn basis(per: PriceBasis) -> String {
    match per {
        PriceBasis::Skein => "skein".to_owned(),
        PriceBasis::Mass(mass) => format!("{} g", number(mass.as_grams(), 3)),
        PriceBasis::Length(length) => format!("{} m", number(length.as_metres(), 3)),
    }
}

pub(super) fn amount_fields(amount: &Amount) -> AmountFields {
    AmountFields {
        text: amount.text.clone(),
        parts: amount.parts.iter().map(amount_part).collect(),
        plus_g: amount.plus.map(|mass| mass.as_grams()),
        about: amount.about,
        each_of: amount.each_of.clone(),
    }
}

fn amount_part(part: &AmountPart) -> AmountPartFields {
    let size = part.size.clone();
    match part.quantity {
        Quantity::Skeins(range) => AmountPartFields {
            size,
            skeins: Some(ends(range)),
            ..Default::default()
        },
        Quantity::Length(range) => AmountPartFields {
            size,
            length_m: Some(ends(range.map(Length::as_metres))),
            ..Default::default()
        },
        Quantity::Mass(range) => AmountPartFields {
            size,
            mass_g: Some(ends(range.map(|mass| mass.as_grams()))),
            ..Default::default()
        },
    }
}

pub(super) fn not_read(part: &NotRead) -> NotReadFields {
    NotReadFields {
        text: part.text.clone(),
        from: part.span.start,
        to: part.span.end,
        why: part.why.clone(),
    }
}
