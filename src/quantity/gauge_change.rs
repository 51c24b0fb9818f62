//! An own gauge against the pattern's, and what it does to the need.

use crate::measure::Gauge;

/// Own gauge / pattern's gauge; above 1 the own fabric is tighter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeRatio {
    /// Of stitches.
    pub stitches: f64,
    /// Of rows, where both gauges state them.
    pub rows: Option<f64>,
}

impl GaugeRatio {
    /// (own count per length) / (pattern's count per length), of ranges the
    /// middle. `None` where one of them does not say over what length.
    pub fn between(own: &Gauge, pattern: &Gauge) -> Option<Self> {
        let stitches = own.stitches_per_metre()?.middle() / pattern.stitches_per_metre()?.middle();
        let rows = own.rows_per_metre().zip(pattern.rows_per_metre());
        Some(Self {
            stitches,
            rows: rows.map(|(own, pattern)| own.middle() / pattern.middle()),
        })
    }

    /// Of stitches alone: rows are not looked at.
    pub fn of_stitches(ratio: f64) -> Self {
        Self {
            stitches: ratio,
            rows: None,
        }
    }

    /// What the yarn goes with: sqrt(stitch ratio x row ratio), where both are
    /// known, else the stitch ratio. Loops per area are S = stitches x rows per
    /// area, and yarn per area is sqrt(Ks S) (plain-knit geometry); where rows
    /// change as stitches do this is the stitch ratio itself.
    pub fn of_yarn(&self) -> f64 {
        let rows = self.rows.unwrap_or(self.stitches);
        (self.stitches * rows).sqrt()
    }
}

/// What a knitter keeps when the gauge is not the pattern's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// The finished size: stitch counts are reworked.
    Size,
    /// The stitch counts: the finished size changes.
    Counts,
}

impl Keep {
    /// What a need is multiplied by at another gauge, g = own gauge / pattern's gauge
    /// as [`GaugeRatio::of_yarn`] gives it. Same size: k = g, since loops per area
    /// S = Ks / l^2 give a length per area of sqrt(Ks S), proportional to the gauge
    /// (plain-knit geometry). Same counts: k = 1 / g, since each loop grows with the
    /// stitch.
    pub fn need_factor(self, change: GaugeRatio) -> f64 {
        match self {
            Self::Size => change.of_yarn(),
            Self::Counts => 1.0 / change.of_yarn(),
        }
    }
}

#[cfg(test)]
mod tests {
    mod gauge_ratio {
        use super::super::*;
        use crate::measure::{Interval, Over};

        fn per_inch(stitches: f64, rows: Option<f64>) -> Gauge {
            let over = Over::inches(1.0).ok();
            Gauge::new(Interval::one(stitches), rows.map(Interval::one), over).unwrap()
        }

        /// FlatOrRound example of common practice, no source; recomputed (case C47): own 9
        /// stitches and 12 rows in an inch, the pattern's 8 and 15: 1.125 and 0.8, so
        /// that 100, 7 and 24 stitches become 112.5, 7.875 and 27, and 10 rows 8.
        #[test]
        fn each_direction_has_a_ratio_of_its_own() {
            let ratio = GaugeRatio::between(&per_inch(9.0, Some(12.0)), &per_inch(8.0, Some(15.0)))
                .unwrap();
            for (count, expected) in [(100.0, 112.5), (7.0, 7.875), (24.0, 27.0)] {
                assert!((count * ratio.stitches - expected).abs() < 1e-9);
            }
            assert!((10.0 * ratio.rows.unwrap() - 8.0).abs() < 1e-9);
            assert!((ratio.of_yarn() - 0.9_f64.sqrt()).abs() < 1e-12);
        }

        /// FlatOrRound example of common practice, no source; recomputed (case C49): own 19
        /// stitches over 4 in, the pattern's 30: 0.6333.
        #[test]
        fn without_rows_the_stitches_decide() {
            let ratio =
                GaugeRatio::between(&per_inch(4.75, None), &per_inch(7.5, Some(9.0))).unwrap();
            assert!((ratio.of_yarn() - 0.6333).abs() < 5e-5);
            assert_eq!(ratio.rows, None);
        }

        #[test]
        fn an_unstated_length_gives_no_ratio() {
            let unstated = Gauge::new(Interval::one(20.0), None, None).unwrap();
            assert_eq!(GaugeRatio::between(&unstated, &per_inch(5.0, None)), None);
        }
    }

    mod gauge_change {
        use super::super::*;

        #[test]
        fn a_tighter_gauge_takes_more_yarn_for_the_same_size_and_less_for_the_same_counts() {
            assert_eq!(Keep::Size.need_factor(GaugeRatio::of_stitches(1.1)), 1.1);
            assert!((Keep::Counts.need_factor(GaugeRatio::of_stitches(1.25)) - 0.8).abs() < 1e-12);
        }
    }
}
