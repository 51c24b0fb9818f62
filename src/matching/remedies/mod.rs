//! What would bring a candidate within, with numbers.

mod another_size;
mod needle;
mod rework;
mod strands;

use super::{Candidate, Criterion, Requirement, Settings, assess::Assessment};
use crate::measure::{Grist, NeedleSize};

/// A number of strands that brings length per mass within, and how the
/// candidate is judged so.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StrandsPlan {
    pub(super) remedy: Remedy,
    pub(super) assessed: Assessment,
    /// What mends the gauge so, where that lies outside.
    pub(super) for_gauge: Vec<Remedy>,
}

/// Numbers of strands that work, best first.
pub(super) fn strands_plans(
    wanted: &Requirement,
    offered: &Candidate,
    settings: &Settings,
    now: &Assessment,
) -> Vec<StrandsPlan> {
    strands::plans(wanted, offered, settings, now)
}

/// What can be done about a gauge outside its tolerance; empty for one within,
/// or one that is not known.
pub(super) fn for_gauge(
    wanted: &Requirement,
    offered: &Candidate,
    assessed: &Assessment,
) -> Vec<Remedy> {
    let expected = match &assessed.gauge {
        Some(expected) if assessed.is_beyond(Criterion::Gauge) => expected,
        _ => return Vec::new(),
    };
    [
        needle::change_needle(wanted, offered, expected),
        rework::rework_stitches(wanted, expected),
        another_size::another_size(wanted, expected),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Something to do, with its numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum Remedy {
    /// Hold several strands together.
    HoldStrands {
        /// How many.
        strands: u8,
        /// Grist of them together.
        grist: Grist,
        /// Departure of that grist, in tolerances.
        departure: f64,
    },
    /// Knit with another needle.
    ChangeNeedle {
        /// Up or down.
        turn: Turn,
        /// How many sizes of the needle table.
        steps: u8,
        /// From which needle, where one is known.
        from: Option<NeedleSize>,
        /// To which needle, where one is known.
        to: Option<NeedleSize>,
        /// Expected stitches over 10 cm with the needle one has.
        expected_per_10_cm: f64,
        /// Stitches over 10 cm that are wanted.
        wanted_per_10_cm: f64,
    },
    /// Keep the finished size: work other stitch counts at the yarn's own gauge.
    ReworkStitches {
        /// gauge_c / gauge_r: multiplies stitch counts and the need.
        factor: f64,
        /// Counts of each size that states a cast-on.
        counts: Vec<Rework>,
    },
    /// Keep the counts: work those of another size of the pattern.
    AnotherSize {
        /// Name of the size whose counts to work.
        knit: String,
        /// Name of the size that is wanted.
        instead_of: String,
        /// Its index in the pattern's sizes.
        index: usize,
        /// Finished width that comes out, m.
        width_m: f64,
        /// Finished width that is wanted, m.
        wanted_m: f64,
        /// gauge_r / gauge_c: multiplies the need of the size whose counts are worked.
        factor: f64,
    },
}

/// Which way to change the needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// To a thinner needle: more stitches.
    Down,
    /// To a thicker needle: fewer stitches.
    Up,
}

/// Stitches of one size, before and after.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rework {
    /// The size.
    pub size: String,
    /// Its cast-on in the pattern.
    pub from: u32,
    /// The count that keeps its width, fitting the pattern's multiple.
    pub to: u32,
}
