//! What was understood of a piece of text.

use super::{Align, Page, Report, Role, Table, per_100_g_and_pound};
use crate::{
    exchange::band::{Amount, AmountPart, BandReading, Quantity},
    measure::{
        Interval, Length,
        reading::{NotRead, Note},
    },
    record::{Blend, Needles, Price, PriceBasis, StatedGauge, YarnFacts},
    words::{number, or_list},
};
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

/// Answer to `read`.
#[derive(Debug, Clone, Serialize)]
pub struct ReadReport {
    /// The text, as given.
    pub text: String,
    /// Length and mass of one skein.
    pub put_up: Option<PutUpFields>,
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

/// Length and mass of one skein; `null` where not given.
#[derive(Debug, Clone, Serialize)]
pub struct PutUpFields {
    /// m.
    pub length_m: Option<f64>,
    /// g.
    pub mass_g: Option<f64>,
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

impl ReadReport {
    /// The report of a reading of `text`.
    pub fn of(text: &str, band: &BandReading) -> Self {
        let facts = &band.facts;
        Self {
            text: text.to_owned(),
            put_up: put_up(facts),
            grist_m_per_g: facts.grist().map(|grist| grist.as_metres_per_gram()),
            blend: facts.blend.as_ref().map(|blend| blend_fields(&blend.value)),
            gauge: facts.gauge.as_ref().map(|gauge| gauge_fields(&gauge.value)),
            needles_mm: facts
                .needles
                .as_ref()
                .map(|needles| needle_ends(&needles.value)),
            weight_classes: facts
                .class
                .iter()
                .flat_map(|class| class.value.as_slice())
                .map(|class| class.number())
                .collect(),
            wraps_per_inch: band.wraps_per_inch.map(ends),
            price: facts.price.as_ref().map(|price| price_fields(&price.value)),
            amount: band.amount.as_ref().map(amount_fields),
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
                .map(|Note { message, .. }| message.clone())
                .collect(),
            not_read: band.not_read.iter().map(not_read).collect(),
        }
    }
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

fn price_fields(price: &Price) -> PriceFields {
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

impl Report for ReadReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!("Read: {}", self.text));
        let mut table = Table::new(&[("understood", Align::Left), ("value", Align::Left)]);
        let rows = self.understood();
        table.rows = rows
            .into_iter()
            .filter_map(|(what, value)| Some(vec![what.to_owned(), value?]))
            .collect();
        if table.rows.is_empty() {
            page.text(Role::Doubtful, "Nothing was understood.");
        }
        page.table(table);
        page.part("To know", Role::Caution, &self.warnings);
        let left: Vec<String> = self
            .not_read
            .iter()
            .map(|part| format!("`{}`: {}", part.text, part.why))
            .collect();
        page.part("Not understood, or not taken", Role::Doubtful, &left);
        page
    }
}

impl ReadReport {
    fn understood(&self) -> Vec<(&'static str, Option<String>)> {
        let put_up = self.put_up.as_ref();
        let classes: Vec<String> = self.weight_classes.iter().map(u8::to_string).collect();
        vec![
            (
                "length of one skein",
                put_up
                    .and_then(|p| p.length_m)
                    .and_then(|m| Length::metres(m).ok())
                    .map(super::metres_and_yards),
            ),
            (
                "mass of one skein",
                put_up.and_then(|p| p.mass_g).map(grams_and_ounces),
            ),
            (
                "length per mass",
                self.grist_m_per_g
                    .and_then(|g| crate::measure::Grist::metres_per_gram(g).ok())
                    .map(per_100_g_and_pound),
            ),
            ("fibre", self.blend.as_ref().map(|parts| blend_words(parts))),
            ("gauge", self.gauge.as_ref().map(gauge_words)),
            (
                "needle",
                self.needles_mm
                    .map(|range| format!("{} mm", range_words(range))),
            ),
            (
                "weight class",
                (!classes.is_empty()).then(|| or_list(&classes)),
            ),
            ("wraps per inch", self.wraps_per_inch.map(range_words)),
            (
                "price",
                self.price.as_ref().map(|p| {
                    format!(
                        "{} {} for one {}",
                        p.amount.map(|a| format!("{a:.2}")).unwrap_or_default(),
                        p.currency,
                        p.per
                    )
                    .replace("for one 1", "for 1")
                }),
            ),
            ("amount", self.amount.as_ref().map(|amount| amount.words())),
            ("construction", self.construction.map(str::to_owned)),
            ("plies", self.plies.map(|n| n.to_string())),
            ("care", self.care.map(str::to_owned)),
            (
                "strands held together",
                self.strands_held.map(|n| n.to_string()),
            ),
            ("article number", self.gtin.clone()),
            ("shade", self.shade.clone()),
            ("dye lot", self.lot.clone()),
            ("for", self.purpose.map(str::to_owned)),
            ("fit", self.fit.map(str::to_owned)),
        ]
    }
}

fn grams_and_ounces(grams: f64) -> String {
    format!(
        "{} g ({} oz)",
        number(grams, 1),
        number(grams / crate::measure::units::OUNCE_G, 2)
    )
}

fn blend_words(parts: &[BlendFields]) -> String {
    let words: Vec<String> = parts
        .iter()
        .map(|part| format!("{} % {}", number(part.percent, 1), part.fibre))
        .collect();
    words.join(", ")
}

fn range_words([low, high]: [f64; 2]) -> String {
    match low == high {
        true => number(low, 2),
        false => format!("{} to {}", number(low, 2), number(high, 2)),
    }
}

fn gauge_words(gauge: &GaugeFields) -> String {
    let rows = gauge
        .rows
        .map(|rows| format!(" x {} rows", range_words(rows)))
        .unwrap_or_default();
    let over = match gauge.over_m {
        Some(metres) => format!("over {} cm", number(metres * 100.0, 2)),
        None => "over a length that is not stated".to_owned(),
    };
    let said = [
        gauge.stitch.clone(),
        gauge.worked.map(str::to_owned),
        gauge
            .washed
            .map(|washed| if washed { "washed" } else { "not washed" }.to_owned()),
        gauge.strands.map(|n| format!("{n} strands")),
    ];
    let said: String = said
        .into_iter()
        .flatten()
        .map(|word| format!(", {word}"))
        .collect();
    format!(
        "{} stitches{rows} {over}{said}",
        range_words(gauge.stitches)
    )
}

impl AmountFields {
    fn words(&self) -> String {
        let parts: Vec<String> = self.parts.iter().map(AmountPartFields::words).collect();
        let about = if self.about { "about " } else { "" };
        let plus = self
            .plus_g
            .map(|g| format!(" and {} g", number(g, 1)))
            .unwrap_or_default();
        let each = match self.each_of.is_empty() {
            true => String::new(),
            false => format!(", each of {}", crate::words::and_list(&self.each_of)),
        };
        format!("{about}{}{plus}{each}", parts.join("; "))
    }
}

impl AmountPartFields {
    fn words(&self) -> String {
        let size = self
            .size
            .as_ref()
            .map(|size| format!("size {size}: "))
            .unwrap_or_default();
        let quantity = [
            self.skeins
                .map(|range| format!("{} skeins", range_words(range))),
            self.length_m
                .map(|range| format!("{} m", range_words(range))),
            self.mass_g.map(|range| format!("{} g", range_words(range))),
        ];
        format!(
            "{size}{}",
            quantity.into_iter().flatten().collect::<String>()
        )
    }
}
