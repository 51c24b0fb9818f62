//! What is asked: what the pattern wants, what is offered, and how strictly.

use super::Criterion;
use crate::{
    measure::GristTolerance,
    record::{Care, Fit, Multiple, Purpose, Size, StatedGauge, Swatch, YarnFacts},
};

/// What one yarn role of a pattern wants.
#[derive(Debug, Clone, PartialEq)]
pub struct Requirement {
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
pub struct Candidate {
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
pub struct Weights {
    grist: f64,
    gauge: f64,
    weight_class: f64,
    fibre: f64,
    construction: f64,
    care: f64,
}

impl Default for Weights {
    fn default() -> Self {
        Self {
            grist: 4.0,
            gauge: 3.0,
            weight_class: 1.0,
            fibre: 2.0,
            construction: 1.0,
            care: 1.0,
        }
    }
}

impl Weights {
    /// The weight of a criterion.
    pub fn of(&self, criterion: Criterion) -> f64 {
        match criterion {
            Criterion::Grist => self.grist,
            Criterion::Gauge => self.gauge,
            Criterion::WeightClass => self.weight_class,
            Criterion::Fibre => self.fibre,
            Criterion::Construction => self.construction,
            Criterion::Care => self.care,
        }
    }

    /// The same weights with another one for `criterion`; none unless it is from 0,
    /// which leaves the criterion out of the order, to 1000.
    pub fn with(mut self, criterion: Criterion, weight: f64) -> Option<Self> {
        if !(0.0..=1000.0).contains(&weight) {
            return None;
        }
        let weighed = match criterion {
            Criterion::Grist => &mut self.grist,
            Criterion::Gauge => &mut self.gauge,
            Criterion::WeightClass => &mut self.weight_class,
            Criterion::Fibre => &mut self.fibre,
            Criterion::Construction => &mut self.construction,
            Criterion::Care => &mut self.care,
        };
        *weighed = weight;
        Some(self)
    }
}
