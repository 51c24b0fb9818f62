//! The lines of a pattern at another gauge: fields, rows and sentences.

use crate::{
    measure::units::{INCH_M, YARD_M},
    words::{number, signed},
};
use serde::Serialize;

/// Width and height, m.
#[derive(Debug, Clone, Copy, Default, Serialize)]
pub struct Measures {
    /// Across.
    pub width_m: Option<f64>,
    /// Along.
    pub height_m: Option<f64>,
}

/// One size at the own gauge.
#[derive(Debug, Clone, Serialize)]
pub struct ResizedLine {
    /// The size.
    pub size: String,
    /// Cast-on of the pattern.
    pub stitches: Option<u32>,
    /// Rows of the pattern.
    pub rows: Option<u32>,
    /// What it is meant to measure.
    pub wanted: Measures,
    /// What it measures with the pattern's counts.
    pub counts_kept: Measures,
    /// The size whose counts come nearest in width.
    pub knit_instead: Option<String>,
    /// What that one measures.
    pub instead: Option<Measures>,
    /// Stitches that keep the size.
    pub to_stitches: Option<u32>,
    /// Rows that keep the size.
    pub to_rows: Option<u32>,
    /// What those measure, rounded to the multiple as they are.
    pub reworked: Measures,
    /// What to measure before washing, so that the wanted size comes out.
    pub before_washing: Option<Measures>,
}

/// A need and its skeins.
#[derive(Debug, Clone, Copy, Default, Serialize)]
pub struct Taken {
    /// Strand metres, without the margin.
    pub need_m: f64,
    /// Skeins, with it.
    pub skeins: u32,
}

/// What one size takes of one yarn.
#[derive(Debug, Clone, Serialize)]
pub struct RegaugedLine {
    /// The size.
    pub size: String,
    /// Key of the role.
    pub yarn: String,
    /// At the pattern's gauge.
    pub at_pattern_gauge: Taken,
    /// With the pattern's counts at the own gauge.
    pub counts_kept: Taken,
    /// With reworked counts.
    pub size_kept: Taken,
    /// With the counts of the size to knit instead.
    pub instead: Option<Taken>,
}

/// What washing does to the fabric.
#[derive(Debug, Clone, Serialize)]
pub struct GrowthLine {
    /// Width after / before.
    pub across: f64,
    /// Height after / before.
    pub along: Option<f64>,
    /// From which swatches.
    pub source: String,
    /// The gauge before washing to which it was applied.
    pub applied_to: Option<String>,
}

/// The own tendency against label gauges.
#[derive(Debug, Clone, Default, Serialize)]
pub struct TendencyLine {
    /// Swatches behind it.
    pub swatches: u32,
    /// Own gauge / label gauge, mean.
    pub mean_ratio: Option<f64>,
    /// The same shrunk towards 1 while swatches are few.
    pub factor: f64,
    /// Whether the answer uses it.
    pub used: bool,
    /// The same as a sentence.
    pub text: String,
}

impl Measures {
    fn each(&self, unit_m: f64, places: usize) -> String {
        let told = |metres: Option<f64>| metres.map(|metres| number(metres / unit_m, places));
        let known: Vec<String> = [told(self.width_m), told(self.height_m)]
            .into_iter()
            .flatten()
            .collect();
        known.join(" x ")
    }

    pub(super) fn centimetres(&self) -> String {
        self.each(0.01, 1)
    }

    pub(super) fn inches(&self) -> String {
        self.each(INCH_M, 1)
    }
}

impl ResizedLine {
    pub(super) fn kept_row(&self) -> Vec<String> {
        let width = self.counts_kept.width_m.zip(self.wanted.width_m);
        vec![
            self.size.clone(),
            self.wanted.centimetres(),
            self.wanted.inches(),
            self.counts_kept.centimetres(),
            self.counts_kept.inches(),
            width
                .map(|(comes_out, wanted)| signed((comes_out - wanted) * 100.0, 1))
                .unwrap_or_default(),
        ]
    }

    /// The size whose counts come nearest; none where no width is known.
    pub(super) fn instead_row(&self) -> Option<Vec<String>> {
        let other = self.knit_instead.as_ref()?;
        let measures = self.instead?;
        let knit = match *other == self.size {
            true => "this size".to_owned(),
            false => other.clone(),
        };
        Some(vec![
            self.size.clone(),
            knit,
            measures.centimetres(),
            measures.inches(),
        ])
    }

    pub(super) fn reworked_row(&self) -> Vec<String> {
        let count = |count: Option<u32>| count.map(|count| count.to_string()).unwrap_or_default();
        vec![
            self.size.clone(),
            count(self.stitches),
            count(self.to_stitches),
            count(self.rows),
            count(self.to_rows),
            self.reworked.centimetres(),
            self.reworked.inches(),
        ]
    }
}

impl RegaugedLine {
    pub(super) fn row(&self, told: fn(&Taken) -> String) -> Vec<String> {
        vec![
            self.size.clone(),
            self.yarn.clone(),
            told(&self.at_pattern_gauge),
            told(&self.counts_kept),
            self.instead.as_ref().map(told).unwrap_or_default(),
            told(&self.size_kept),
        ]
    }
}

impl Taken {
    pub(super) fn need_words(&self) -> String {
        format!(
            "{} m ({} yd)",
            number(self.need_m, 0),
            number(self.need_m / YARD_M, 0)
        )
    }

    pub(super) fn skeins_words(&self) -> String {
        self.skeins.to_string()
    }
}

impl GrowthLine {
    pub(super) fn sentence(&self) -> String {
        let along = self.along.map_or_else(
            || "; along the rows it is not known".to_owned(),
            |along| format!(", along the rows x {}", number(along, 4)),
        );
        let applied = self.applied_to.as_ref().map_or_else(
            || " Your gauge is one after washing, so it was not applied again.".to_owned(),
            |before| format!(" Applied to {before} before washing."),
        );
        format!(
            "Length after washing / before, from {}: across the stitches x {}{along}.{applied}",
            self.source,
            number(self.across, 4)
        )
    }
}
