//! What own swatches say: how a fabric grows in the wash, and whether a knitter works
//! tighter or looser than labels say.

use super::{FinishedSize, GaugeRatio};
use crate::measure::{Gauge, Interval, Length, MeasureError};

/// Length after washing / length before, in each direction; above 1 it grew.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WashGrowth {
    /// Across the stitches.
    pub across: f64,
    /// Along the rows, where both gauges state rows.
    pub along: Option<f64>,
}

impl WashGrowth {
    /// Growth of a swatch: the same stitches measure count / gauge, so length
    /// after / length before = gauge before / gauge after, middles of ranges.
    /// `None` where one of the gauges does not say over what length.
    pub fn between(before: &Gauge, after: &Gauge) -> Option<Self> {
        let shrunk = GaugeRatio::between(after, before)?;
        Some(Self {
            across: 1.0 / shrunk.stitches,
            along: shrunk.rows.map(|rows| 1.0 / rows),
        })
    }

    /// The mean of several swatches: the geometric mean of their ratios, so that
    /// growth and shrinkage of one size cancel. Along the rows only the swatches
    /// that state it count.
    pub fn mean(swatches: &[Self]) -> Option<Self> {
        let across: Vec<f64> = swatches.iter().map(|growth| growth.across).collect();
        let along: Vec<f64> = swatches.iter().filter_map(|growth| growth.along).collect();
        Some(Self {
            across: geometric_mean(&across)?,
            along: geometric_mean(&along),
        })
    }

    /// The gauge to expect after washing: gauge before / growth. Rows are dropped
    /// where their growth is not known.
    pub fn washed(&self, before: &Gauge) -> Result<Gauge, MeasureError> {
        let rows: Option<Interval<f64>> = before
            .rows()
            .zip(self.along)
            .map(|(rows, along)| rows.map(|count| count / along));
        let stitches = before.stitches().map(|count| count / self.across);
        Gauge::new(stitches, rows, before.over())
    }

    /// What to measure before washing for `size` after it: size / growth.
    pub fn unwashed(&self, size: FinishedSize) -> Result<FinishedSize, MeasureError> {
        let before = |after: Length, growth: f64| Length::metres(after.as_metres() / growth);
        let width = size.width.map(|width| before(width, self.across));
        let height = size.height.zip(self.along);
        let height = height.map(|(height, along)| before(height, along));
        Ok(FinishedSize {
            width: width.transpose()?,
            height: height.transpose()?,
        })
    }
}

fn geometric_mean(ratios: &[f64]) -> Option<f64> {
    let count = f64::from(u32::try_from(ratios.len()).ok()?);
    let sum: f64 = ratios.iter().map(|ratio| ratio.ln()).sum();
    (count > 0.0).then(|| (sum / count).exp())
}

/// k of the shrinkage m x n / (n + k): the spread of single swatches around a
/// knitter's habit is assumed to be twice that of habits among knitters, so 4 times
/// in variance (n / (n + s2 / t2) is the mean that a normal prior gives). One
/// swatch then counts a fifth of what it says, four count half. Chosen here, no
/// source.
pub const SPREAD: f64 = 4.0;

/// A knitter's tendency against label gauges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnTendency {
    /// Washed swatches with a label gauge to compare with.
    pub swatches: u32,
    /// m: mean of ln(own gauge / label gauge); 0 where there is no swatch.
    pub mean_log: f64,
}

impl OwnTendency {
    /// The mean of own gauge / label gauge; `None` where there is no swatch.
    pub fn mean_ratio(&self) -> Option<f64> {
        (self.swatches > 0).then(|| self.mean_log.exp())
    }

    /// What label gauges are multiplied by: exp(m x n / (n + k)), n swatches,
    /// k = [`SPREAD`]; 1 where there is no swatch.
    pub fn factor(&self) -> f64 {
        let n = f64::from(self.swatches);
        (self.mean_log * n / (n + SPREAD)).exp()
    }
}

/// Tendency over pairs of own washed stitches and the label's, per one length:
/// m = mean of ln(own / label). A label's range counts from its nearer end, so
/// that working within it is no tendency.
pub fn own_tendency(pairs: &[(f64, Interval<f64>)]) -> OwnTendency {
    let logs: f64 = pairs
        .iter()
        .map(|(own, label)| (own / label.nearest(*own)).ln())
        .sum();
    let swatches = u32::try_from(pairs.len()).unwrap_or(u32::MAX);
    OwnTendency {
        swatches,
        mean_log: match swatches {
            0 => 0.0,
            n => logs / f64::from(n),
        },
    }
}

#[cfg(test)]
mod tests {
    mod wash_growth {
        use super::super::*;
        use crate::measure::Over;

        #[test]
        fn the_mean_of_ratios_is_geometric() {
            assert!((geometric_mean(&[1.0, 1.21]).unwrap() - 1.1).abs() < 1e-12);
            assert!((geometric_mean(&[0.5, 2.0]).unwrap() - 1.0).abs() < 1e-12);
            assert_eq!(geometric_mean(&[]), None);
        }

        fn ten_cm(stitches: f64, rows: Option<f64>) -> Gauge {
            let over = Over::centimetres(10.0).ok();
            Gauge::new(Interval::one(stitches), rows.map(Interval::one), over).unwrap()
        }

        /// Recomputed: 22 stitches before are 21 after, so 10 cm became 22 / 21 of it.
        #[test]
        fn fewer_stitches_in_ten_centimetres_after_washing_are_growth() {
            let growth =
                WashGrowth::between(&ten_cm(22.0, Some(30.0)), &ten_cm(21.0, Some(32.0))).unwrap();
            assert!((growth.across - 22.0 / 21.0).abs() < 1e-12);
            assert!((growth.along.unwrap() - 30.0 / 32.0).abs() < 1e-12);
        }

        #[test]
        fn what_a_swatch_did_is_expected_of_the_next() {
            let growth =
                WashGrowth::between(&ten_cm(22.0, Some(30.0)), &ten_cm(21.0, Some(32.0))).unwrap();
            let washed = growth.washed(&ten_cm(22.0, Some(30.0))).unwrap();
            assert!((washed.stitches().low() - 21.0).abs() < 1e-9);
            assert!((washed.rows().unwrap().low() - 32.0).abs() < 1e-9);
        }

        #[test]
        fn growth_that_is_not_known_is_not_applied() {
            let growth =
                WashGrowth::between(&ten_cm(22.0, None), &ten_cm(21.0, Some(32.0))).unwrap();
            assert_eq!(growth.along, None);
            assert_eq!(
                growth.washed(&ten_cm(22.0, Some(30.0))).unwrap().rows(),
                None
            );
        }

        #[test]
        fn growth_and_the_same_shrinkage_cancel() {
            let grew = WashGrowth {
                across: 1.1,
                along: None,
            };
            let shrank = WashGrowth {
                across: 1.0 / 1.1,
                along: Some(1.2),
            };
            let mean = WashGrowth::mean(&[grew, shrank]).unwrap();
            assert!((mean.across - 1.0).abs() < 1e-12);
            assert_eq!(
                mean.along.map(|along| (along - 1.2).abs() < 1e-12),
                Some(true)
            );
            assert_eq!(WashGrowth::mean(&[]), None);
        }
    }

    mod own_tendency {
        use super::super::*;
        use proptest::prelude::*;

        fn pairs(own: f64, label: f64, times: usize) -> Vec<(f64, Interval<f64>)> {
            vec![(own, Interval::one(label)); times]
        }

        #[test]
        fn without_swatches_there_is_no_tendency() {
            let none = own_tendency(&[]);
            assert_eq!((none.swatches, none.factor()), (0, 1.0));
        }

        /// Recomputed by hand: ln 1.1 x 1/5 and x 4/8.
        #[test]
        fn one_swatch_counts_a_fifth_and_four_count_half() {
            let one = own_tendency(&pairs(22.0, 20.0, 1)).factor();
            let four = own_tendency(&pairs(22.0, 20.0, 4)).factor();
            assert!((one - 1.1_f64.powf(0.2)).abs() < 1e-12);
            assert!((four - 1.1_f64.sqrt()).abs() < 1e-12);
        }

        #[test]
        fn working_within_the_labels_range_is_no_tendency() {
            let range = Interval::between(20.0, 22.0).unwrap();
            assert_eq!(own_tendency(&[(21.0, range)]).mean_log, 0.0);
        }

        proptest! {
            #[test]
            fn prop_more_swatches_that_say_the_same_never_say_less(ratio in 0.7..1.4f64, n in 1usize..40) {
                let few = own_tendency(&pairs(20.0 * ratio, 20.0, n)).factor().ln().abs();
                let more = own_tendency(&pairs(20.0 * ratio, 20.0, n + 1)).factor().ln().abs();
                prop_assert!(more >= few - 1e-12);
                prop_assert!(more <= ratio.ln().abs() + 1e-12);
            }
        }
    }
}
