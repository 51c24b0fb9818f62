//! A figure with the interval about it.

use crate::{quantity::Estimate, words::number};
use serde::Serialize;

/// A figure and the interval that holds it 95 times in 100.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Range {
    /// The figure.
    pub value: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl From<Estimate> for Range {
    fn from(estimate: Estimate) -> Self {
        Self {
            value: estimate.value,
            low: estimate.low,
            high: estimate.high,
        }
    }
}

impl Range {
    /// All three times `factor`, which is not negative.
    pub fn times(self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            low: self.low * factor,
            high: self.high * factor,
        }
    }

    /// `12.4 (11 to 13.8)`.
    pub fn words(self, places: usize) -> String {
        format!(
            "{} ({} to {})",
            number(self.value, places),
            number(self.low, places),
            number(self.high, places)
        )
    }
}
