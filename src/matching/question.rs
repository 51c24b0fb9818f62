//! What is asked: what the pattern wants, what is offered, and how strictly.

use super::Criterion;
use crate::{
    measure::GristTolerance,
    record::{Care, Fit, Multiple, Purpose, Size, StatedGauge, Swatch, YarnFacts},
};

/// What one yarn role of a pattern wants.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// What is known of the reference yarn.
    pub facts: YarnFacts,
    /// Strands of the reference held together.
    pub strands: u8,
    /// The pattern's gauge.
    pub gauge: Option<StatedGauge>,
    /// How close the thing sits; sets the gauge tolerance.
    pub fit: Fit,
    /// What it is for.
    pub purpose: Option<Purpose>,
    /// The washing that the pattern asks for.
    pub care: Option<Care>,
    /// Stitch multiple of the pattern.
    pub multiple: Option<Multiple>,
    /// Sizes of the pattern, in order; empty where not known.
    pub sizes: Vec<Size>,
    /// Which of `sizes` is to be knitted, where one was chosen.
    pub size: Option<usize>,
}

/// A candidate yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Offered {
    /// What is known of it.
    pub facts: YarnFacts,
    /// The user's own swatches of it.
    pub swatches: Vec<Swatch>,
    /// A gauge that the user measured of it just now, trusted before all others.
    pub measured: Option<StatedGauge>,
    /// Strands of it to be held together.
    pub strands: u8,
}

/// How strictly to judge.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Tolerance on grist, either way.
    pub tolerance: GristTolerance,
    /// What each criterion counts in the overall departure.
    pub weights: Weights,
}

/// What each criterion counts in the overall departure; not negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights([f64; 6]);

impl Default for Weights {
    /// Grist 4, gauge 3, fibre 2, the others 1.
    fn default() -> Self {
        Self([4.0, 3.0, 1.0, 2.0, 1.0, 1.0])
    }
}

impl Weights {
    /// The weight of a criterion.
    pub fn of(&self, criterion: Criterion) -> f64 {
        let place = Criterion::ALL.iter().position(|c| *c == criterion);
        place
            .and_then(|place| self.0.get(place))
            .copied()
            .unwrap_or(0.0)
    }

    /// The same weights with another one for `criterion`; refused when negative
    /// or not finite.
    pub fn with(
        mut self,
        criterion: Criterion,
        weight: f64,
    ) -> Result<Self, crate::measure::MeasureError> {
        if !(0.0..=1000.0).contains(&weight) {
            return Err(crate::measure::MeasureError::OutOfRange {
                what: "weight",
                given: weight,
                low: 0.0,
                high: 1000.0,
                unit: "(0 leaves a criterion out of the order)",
            });
        }
        let place = Criterion::ALL.iter().position(|c| *c == criterion);
        if let Some(slot) = place.and_then(|place| self.0.get_mut(place)) {
            *slot = weight;
        }
        Ok(self)
    }
}
