//! A measured gauge of one yarn on one needle.

use super::StatedGauge;
use crate::measure::{Gauge, NeedleSize};

/// A swatch: what was measured before washing, after it, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Swatch {
    /// The needle.
    pub needle: NeedleSize,
    /// Gauge before washing, with stitch, flat or round and strands.
    pub before: Option<StatedGauge>,
    /// Counts after washing, over their own length.
    pub after: Option<Gauge>,
    /// The day it was measured, as `YYYY-MM-DD`.
    pub measured_on: String,
    /// Anything else.
    pub notes: String,
}
