//! Another gauge than the pattern's: how far it lies from it, and which of its
//! counts and lengths a knitter keeps. Every question reads it here.

use crate::{
    measure::{Gauge, Over},
    quantity::{GaugeRatio, Keep},
};

/// What is kept at the own gauge, and whether somebody said so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GaugeReading {
    /// What is kept.
    pub keep: Keep,
    /// Whether nobody said, so that it is read as most patterns are written.
    pub is_assumed: bool,
}

/// An own gauge beside the pattern's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeChange {
    /// Own gauge / pattern's gauge.
    pub ratio: GaugeRatio,
    /// What is kept.
    pub reading: GaugeReading,
}

impl GaugeChange {
    /// What the need is multiplied by.
    pub fn need_factor(&self) -> f64 {
        self.reading.keep.need_factor(self.ratio)
    }
}

impl GaugeReading {
    /// One of the values of a request's `keep`, or nothing.
    pub(super) fn new(typed: Option<&str>) -> Self {
        let keep = match typed {
            Some("size") => Some(Keep::Size),
            Some("counts") => Some(Keep::Counts),
            Some(_) => Some(Keep::Stitches),
            None => None,
        };
        Self {
            keep: keep.unwrap_or_default(),
            is_assumed: keep.is_none(),
        }
    }
}

/// Own / pattern's gauge, where a gauge that does not say over what length counts as
/// over 10 cm.
pub(super) fn ratio_of(own: &Gauge, pattern: &Gauge) -> Option<GaugeRatio> {
    let ten = Over::centimetres(10.0).ok()?;
    GaugeRatio::between(&own.or_over(ten), &pattern.or_over(ten))
}
