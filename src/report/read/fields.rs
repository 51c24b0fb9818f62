//! The fields of a reading, documented for programs.

use crate::{
    app::ReadAnswer,
    label::{
        band::{Amount, AmountPart, BandReading, Denied, Quantity},
        reading::NotRead,
    },
    measure::{Interval, Length, YarnCount},
    record::{Blend, Needles, Price, PriceBasis, StatedGauge, YarnFacts},
    trade::Family,
    words::number,
};
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

/// Fields of the answer to `read`.
#[derive(Debug, Clone, Serialize)]
pub(super) struct ReadFields {
    /// The text, as given.
    text: String,
    /// Length and mass of one skein.
    put_up: Option<PutUpFields>,
    /// Yarn count.
    yarn_count: Option<CountFields>,
    /// Length per mass.
    grist_m_per_g: Option<f64>,
    /// Fibres and shares.
    blend: Option<Vec<BlendFields>>,
    /// Gauge.
    gauge: Option<GaugeFields>,
    /// Needles, [low, high].
    needles_mm: Option<[f64; 2]>,
    /// Every weight class that is possible.
    weight_classes: Vec<u8>,
    /// Wraps per inch, [low, high].
    wraps_per_inch: Option<[f64; 2]>,
    /// Price.
    price: Option<PriceFields>,
    /// How much there is, or is needed.
    amount: Option<AmountFields>,
    /// The amounts of further colours.
    other_colours: Vec<AmountFields>,
    /// How the yarn is built.
    construction: Option<&'static str>,
    /// Singles or strands of the yarn itself.
    plies: Option<u8>,
    /// Washing.
    care: Option<&'static str>,
    /// Strands to hold together.
    strands_held: Option<u8>,
    /// Article number.
    gtin: Option<String>,
    /// Shade.
    shade: Option<String>,
    /// Dye lot.
    lot: Option<String>,
    /// What the thing is for.
    purpose: Option<&'static str>,
    /// How close it sits.
    fit: Option<&'static str>,
    /// What to know about what was read.
    warnings: Vec<String>,
    /// Fibres, and families of fibres, that are said not to be there.
    denied: Vec<&'static str>,
    /// What was not understood or not taken, and why.
    not_read: Vec<NotReadFields>,
}

impl ReadFields {
    /// The fields of a reading.
    pub(super) fn new(answer: &ReadAnswer) -> Self {
        let band = &answer.band;
        let facts = &band.facts;
        let printed_class = facts.class.iter();
        Self {
            text: answer.text.clone(),
            put_up: put_up(facts),
            yarn_count: facts.count.as_ref().map(|it| count_fields(&it.value)),
            grist_m_per_g: facts.grist().map(|grist| grist.as_metres_per_gram()),
            blend: facts.blend.as_ref().map(|it| blend_fields(&it.value)),
            gauge: facts.gauge.as_ref().map(|it| gauge_fields(&it.value)),
            needles_mm: facts.needles.as_ref().map(|it| needle_ends(&it.value)),
            weight_classes: printed_class
                .flat_map(|class| class.value.as_slice())
                .map(|class| class.number())
                .collect(),
            wraps_per_inch: band.wraps_per_inch.map(ends),
            price: facts.price.as_ref().map(|it| price_fields(&it.value)),
            amount: band.amount.as_ref().map(amount_fields),
            other_colours: band.other_colours.iter().map(amount_fields).collect(),
            construction: facts.construction.as_ref().map(|it| it.value.name()),
            plies: facts.plies,
            care: facts.care.as_ref().map(|it| it.value.name()),
            strands_held: band.strands_held,
            gtin: band.gtin.as_ref().map(ToString::to_string),
            shade: band.shade.clone(),
            lot: band.lot.clone(),
            purpose: band.purpose.map(|purpose| purpose.name()),
            fit: band.fit.map(|fit| fit.name()),
            warnings: warnings(band),
            denied: band.denied.iter().map(denied).collect(),
            not_read: band.not_read.iter().map(not_read).collect(),
        }
    }
}

fn denied(denied: &Denied) -> &'static str {
    match denied {
        Denied::Fibre(fibre) => fibre.name,
        Denied::Family(Family::Animal) => "animal",
        Denied::Family(Family::Plant) => "plant",
        Denied::Family(Family::Regenerated) => "regenerated",
        Denied::Family(Family::Synthetic) => "synthetic",
    }
}

/// What to know about what was read.
fn warnings(band: &BandReading) -> Vec<String> {
    let notes = band.warnings.iter().chain(&band.lone_length);
    notes.map(|note| note.message.clone()).collect()
}

/// Length and mass of one skein; `null` where not given.
#[derive(Debug, Clone, Serialize)]
struct PutUpFields {
    /// m.
    length_m: Option<f64>,
    /// g.
    mass_g: Option<f64>,
}

/// A yarn count.
#[derive(Debug, Clone, Serialize)]
struct CountFields {
    /// The number of one single.
    number: f64,
    /// Singles.
    plies: u8,
    /// Numbering system, as printed: `Nm`, `Ne`, `tex`.
    system: &'static str,
}

/// One fibre of a blend.
#[derive(Debug, Clone, Serialize)]
struct BlendFields {
    /// Its name here.
    fibre: String,
    /// Its share of the mass.
    percent: f64,
}

/// A gauge.
#[derive(Debug, Clone, Serialize)]
struct GaugeFields {
    /// [low, high].
    stitches: [f64; 2],
    /// [low, high].
    rows: Option<[f64; 2]>,
    /// Over what length; `null` where the text does not say.
    over_m: Option<f64>,
    /// Stitch pattern.
    stitch: Option<String>,
    /// Flat or in the round.
    worked: Option<&'static str>,
    /// After washing.
    washed: Option<bool>,
    /// Strands held together.
    strands: Option<u8>,
}

/// A price.
#[derive(Debug, Clone, Serialize)]
pub(super) struct PriceFields {
    /// In units of the currency.
    pub(super) amount: Option<f64>,
    /// ISO 4217 code.
    pub(super) currency: &'static str,
    /// What it buys: `skein`, or an amount with its unit.
    pub(super) per: String,
}

/// An amount.
#[derive(Debug, Clone, Serialize)]
struct AmountFields {
    /// As it was written.
    text: String,
    /// One part a size.
    parts: Vec<AmountPartFields>,
    /// Loose grams beside counted skeins.
    plus_g: Option<f64>,
    /// Said to be about so much.
    about: bool,
    /// Colours or keys that it is for each.
    each_of: Vec<String>,
}

/// The amount of one size: one of `skeins`, `length_m`, `mass_g`, [low, high].
#[derive(Debug, Clone, Default, Serialize)]
struct AmountPartFields {
    /// The size, where named.
    size: Option<String>,
    /// Skeins.
    #[serde(skip_serializing_if = "Option::is_none")]
    skeins: Option<[f64; 2]>,
    /// m.
    #[serde(skip_serializing_if = "Option::is_none")]
    length_m: Option<[f64; 2]>,
    /// g.
    #[serde(skip_serializing_if = "Option::is_none")]
    mass_g: Option<[f64; 2]>,
}

/// A part of the text that was not taken.
#[derive(Debug, Clone, Serialize)]
struct NotReadFields {
    /// The part.
    text: String,
    /// Its first byte.
    from: usize,
    /// The byte after its last.
    to: usize,
    /// Why not, and what to write instead.
    why: String,
}

fn ends(range: Interval<f64>) -> [f64; 2] {
    [range.low(), range.high()]
}

fn needle_ends(needles: &Needles) -> [f64; 2] {
    ends(needles.map(|needle| needle.as_millimetres()))
}

fn put_up(facts: &YarnFacts) -> Option<PutUpFields> {
    let length_m = facts.length.as_ref().map(|length| length.value.as_metres());
    let mass_g = facts.mass.as_ref().map(|mass| mass.value.as_grams());
    (length_m.is_some() || mass_g.is_some()).then_some(PutUpFields { length_m, mass_g })
}

fn count_fields(count: &YarnCount) -> CountFields {
    CountFields {
        number: count.single(),
        plies: count.plies(),
        system: count.system().symbol(),
    }
}

fn blend_fields(blend: &Blend) -> Vec<BlendFields> {
    blend
        .parts()
        .iter()
        .map(|part| BlendFields {
            fibre: part.fibre.to_string(),
            percent: part.percent,
        })
        .collect()
}

fn gauge_fields(stated: &StatedGauge) -> GaugeFields {
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

fn amount_fields(amount: &Amount) -> AmountFields {
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

fn not_read(part: &NotRead) -> NotReadFields {
    NotReadFields {
        text: part.text.clone(),
        from: part.span.start,
        to: part.span.end,
        why: part.why.clone(),
    }
}
