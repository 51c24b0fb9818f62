//! Whether a knitter works tighter or looser than labels say.

use crate::measure::Interval;

/// k of the shrinkage m x n / (n + k): the spread of single swatches around a
/// knitter's habit is taken as twice that of habits among knitters, so 4 times
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
    use super::*;
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
