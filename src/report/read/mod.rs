//! What was understood of a piece of text.

mod fields;
mod words;

pub use fields::{
    AmountFields, AmountPartFields, BlendFields, CountFields, GaugeFields, NotReadFields,
    PriceFields, PutUpFields,
};

use crate::{label::band::BandReading, label::reading::Note};
use serde::Serialize;

/// Answer to `read`.
#[derive(Debug, Clone, Serialize)]
pub struct ReadReport {
    /// The text, as given.
    pub text: String,
    /// Length and mass of one skein.
    pub put_up: Option<PutUpFields>,
    /// Yarn count.
    pub yarn_count: Option<CountFields>,
    /// Length per mass.
    pub grist_m_per_g: Option<f64>,
    /// Fibres and shares.
    pub blend: Option<Vec<BlendFields>>,
    /// Gauge.
    pub gauge: Option<GaugeFields>,
    /// Needles, [low, high].
    pub needles_mm: Option<[f64; 2]>,
    /// Every weight class that is possible.
    pub weight_classes: Vec<u8>,
    /// Wraps per inch, [low, high].
    pub wraps_per_inch: Option<[f64; 2]>,
    /// Price.
    pub price: Option<PriceFields>,
    /// How much there is, or is needed.
    pub amount: Option<AmountFields>,
    /// How the yarn is built.
    pub construction: Option<&'static str>,
    /// Singles or strands of the yarn itself.
    pub plies: Option<u8>,
    /// Washing.
    pub care: Option<&'static str>,
    /// Strands to hold together.
    pub strands_held: Option<u8>,
    /// Article number.
    pub gtin: Option<String>,
    /// Shade.
    pub shade: Option<String>,
    /// Dye lot.
    pub lot: Option<String>,
    /// What the thing is for.
    pub purpose: Option<&'static str>,
    /// How close it sits.
    pub fit: Option<&'static str>,
    /// What to know about what was read.
    pub warnings: Vec<String>,
    /// What was not understood or not taken, and why.
    pub not_read: Vec<NotReadFields>,
}

impl ReadReport {
    /// The report of a reading of `text`.
    pub fn of(text: &str, band: &BandReading) -> Self {
        let facts = &band.facts;
        Self {
            text: text.to_owned(),
            put_up: fields::put_up(facts),
            yarn_count: facts
                .count
                .as_ref()
                .map(|count| fields::count_fields(&count.value)),
            grist_m_per_g: facts.grist().map(|grist| grist.as_metres_per_gram()),
            blend: facts
                .blend
                .as_ref()
                .map(|blend| fields::blend_fields(&blend.value)),
            gauge: facts
                .gauge
                .as_ref()
                .map(|gauge| fields::gauge_fields(&gauge.value)),
            needles_mm: facts
                .needles
                .as_ref()
                .map(|needles| fields::needle_ends(&needles.value)),
            weight_classes: facts
                .class
                .iter()
                .flat_map(|class| class.value.as_slice())
                .map(|class| class.number())
                .collect(),
            wraps_per_inch: band.wraps_per_inch.map(fields::ends),
            price: facts
                .price
                .as_ref()
                .map(|price| fields::price_fields(&price.value)),
            amount: band.amount.as_ref().map(fields::amount_fields),
            construction: facts.construction.as_ref().map(|c| c.value.name()),
            plies: facts.plies,
            care: facts.care.as_ref().map(|care| care.value.name()),
            strands_held: band.strands_held,
            gtin: band.gtin.as_ref().map(ToString::to_string),
            shade: band.shade.clone(),
            lot: band.lot.clone(),
            purpose: band.purpose.map(|purpose| purpose.name()),
            fit: band.fit.map(|fit| fit.name()),
            warnings: band
                .warnings
                .iter()
                .chain(&band.lone_length)
                .map(|Note { message, .. }| message.clone())
                .collect(),
            not_read: band.not_read.iter().map(fields::not_read).collect(),
        }
    }
}
