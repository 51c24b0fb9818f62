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

    /// Where only stitches are known: rows are assumed to change as they do.
    pub fn of_stitches(ratio: f64) -> Self {
        Self {
            stitches: ratio,
            rows: None,
        }
    }
}

/// What a knitter keeps when the gauge is not the pattern's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Keep {
    /// The finished size: counts are reworked.
    Size,
    /// All counts, of stitches and of rows: the finished size changes both ways.
    Counts,
    /// The stitch counts, while lengths are worked until they measure: only widths
    /// change. Most patterns are written so (common practice, no source), so this
    /// is what a pattern means that does not say.
    #[default]
    Stitches,
}

impl Keep {
    /// k, which a need is multiplied by at another gauge. With p = stitches and
    /// q = rows per length, own / pattern's (q = p where rows are not known of both):
    /// size kept k = sqrt(p q); counts kept k = 1 / sqrt(p q); stitches kept and
    /// lengths measured k = sqrt(q / p).
    ///
    /// Loops per area are S = stitches x rows per area, and yarn per area is
    /// sqrt(Ks S) (plain-knit geometry), so it goes with sqrt(p q); the area goes
    /// with 1, 1 / (p q) and 1 / p.
    pub fn need_factor(self, change: GaugeRatio) -> f64 {
        let p = change.stitches;
        let q = change.rows.unwrap_or(p);
        match self {
            Self::Size => (p * q).sqrt(),
            Self::Counts => 1.0 / (p * q).sqrt(),
            Self::Stitches => (q / p).sqrt(),
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
            let k = Keep::Size.need_factor(ratio);
            assert!((k - 0.9_f64.sqrt()).abs() < 1e-12);
        }

        /// FlatOrRound example of common practice, no source; recomputed (case C49): own 19
        /// stitches over 4 in, the pattern's 30: 0.6333.
        #[test]
        fn without_rows_the_stitches_decide() {
            let ratio =
                GaugeRatio::between(&per_inch(4.75, None), &per_inch(7.5, Some(9.0))).unwrap();
            assert!((Keep::Size.need_factor(ratio) - 0.6333).abs() < 5e-5);
            assert_eq!(Keep::Stitches.need_factor(ratio), 1.0);
            assert_eq!(ratio.rows, None);
        }

        #[test]
        fn an_unstated_length_gives_no_ratio() {
            let unstated = Gauge::new(Interval::one(20.0), None, None).unwrap();
            assert_eq!(GaugeRatio::between(&unstated, &per_inch(5.0, None)), None);
        }
    }

    mod keep {
        use super::super::*;
        use proptest::prelude::*;

        const ALL: [Keep; 3] = [Keep::Size, Keep::Counts, Keep::Stitches];

        fn change(stitches: f64, rows: f64) -> GaugeRatio {
            let rows = Some(rows);
            GaugeRatio { stitches, rows }
        }

        #[test]
        fn a_tighter_gauge_takes_more_yarn_for_the_same_size_and_less_for_the_same_counts() {
            assert_eq!(Keep::Size.need_factor(GaugeRatio::of_stitches(1.1)), 1.1);
            assert!((Keep::Counts.need_factor(GaugeRatio::of_stitches(1.25)) - 0.8).abs() < 1e-12);
        }

        /// Recomputed from the formula: 22 x 36 against 22 x 30 over 10 cm is
        /// sqrt(1.2) = 1.0954, so that 1200 m become 1314.5 m.
        #[test]
        fn rows_alone_change_the_need() {
            for keep in [Keep::Size, Keep::Stitches] {
                let metres = 1200.0 * keep.need_factor(change(1.0, 1.2));
                assert!((metres - 1314.5).abs() < 0.05, "{keep:?}");
            }
        }

        /// Recomputed from the formula: 20 x 27 against 22 x 30.
        #[test]
        fn with_lengths_that_are_measured_only_the_width_changes() {
            let k = Keep::Stitches.need_factor(change(20.0 / 22.0, 27.0 / 30.0));
            assert!((k - (0.9_f64 * 1.1).sqrt()).abs() < 1e-12);
        }

        proptest! {
            #[test]
            fn prop_the_same_gauge_changes_nothing(stitches in 1.0..60.0_f64, rows in 1.0..80.0_f64) {
                for keep in ALL {
                    prop_assert_eq!(keep.need_factor(change(stitches / stitches, rows / rows)), 1.0);
                    prop_assert_eq!(keep.need_factor(GaugeRatio::of_stitches(1.0)), 1.0);
                }
            }

            #[test]
            fn prop_more_rows_take_more_yarn_unless_they_are_counted(p in 0.5..2.0_f64, q in 0.5..2.0_f64, more in 1.01..2.0_f64) {
                let k = |keep: Keep, rows| keep.need_factor(change(p, rows));
                prop_assert!(k(Keep::Size, q * more) > k(Keep::Size, q));
                prop_assert!(k(Keep::Stitches, q * more) > k(Keep::Stitches, q));
                prop_assert!(k(Keep::Counts, q * more) < k(Keep::Counts, q));
            }

            #[test]
            fn prop_more_stitches_take_more_yarn_only_where_the_width_is_kept(p in 0.5..2.0_f64, q in 0.5..2.0_f64, more in 1.01..2.0_f64) {
                let k = |keep: Keep, stitches| keep.need_factor(change(stitches, q));
                prop_assert!(k(Keep::Size, p * more) > k(Keep::Size, p));
                prop_assert!(k(Keep::Stitches, p * more) < k(Keep::Stitches, p));
                prop_assert!(k(Keep::Counts, p * more) < k(Keep::Counts, p));
            }

            /// There and back: the yarn of the own gauge, brought to the pattern's.
            #[test]
            fn prop_going_back_undoes_the_change(p in 0.5..2.0_f64, q in 0.5..2.0_f64) {
                for keep in ALL {
                    let both = keep.need_factor(change(p, q)) * keep.need_factor(change(1.0 / p, 1.0 / q));
                    prop_assert!((both - 1.0).abs() < 1e-12);
                }
            }
        }
    }
}
