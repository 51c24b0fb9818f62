//! What would bring a candidate within the tolerances.

use crate::measure::{Grist, NeedleSize};

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
