//! What a count of wraps per inch may mean.
//!
//! No standard states wraps. Hand wraps lie at 0.31 to 0.41 times the square
//! root of yards per pound: computed from the tables of Spin-Off magazine's
//! `Yarn Standards` sheet (0.37 to 0.39) and of two trade pages, common
//! practice. Wraps depend on the hand, so they never settle a class.

use super::{WeightClass, class_grist::classes_between};
use crate::measure::{
    Grist, Interval, MeasureError,
    units::{POUND_G, YARD_M},
};

/// Least wraps per inch over the square root of yards per pound.
const LOOSEST: f64 = 0.31;
/// Most wraps per inch over the square root of yards per pound.
const TIGHTEST: f64 = 0.41;

/// Grists that so many wraps per inch may stand for:
/// (wraps / 0.41)^2 to (wraps / 0.31)^2 yd/lb.
pub fn grist_by_wraps(per_inch: f64) -> Result<Interval<Grist>, MeasureError> {
    let (low, high) = yards_per_pound(per_inch);
    let grist = |yards: f64| Grist::metres_per_gram(yards * YARD_M / POUND_G);
    Interval::between(grist(low)?, grist(high)?)
}

/// Classes that so many wraps per inch may stand for, never fewer than two: a
/// count so high or low that one row holds all of it gets the neighbour too.
pub fn classes_by_wraps(per_inch: f64) -> Result<Vec<WeightClass>, MeasureError> {
    grist_by_wraps(per_inch)?;
    let (low, high) = yards_per_pound(per_inch);
    let classes = classes_between(low, high);
    match classes.as_slice() {
        [only] => Ok(WeightClass::ALL
            .into_iter()
            .filter(|class| class.steps_to(*only) <= 1)
            .collect()),
        _ => Ok(classes),
    }
}

fn yards_per_pound(per_inch: f64) -> (f64, f64) {
    ((per_inch / TIGHTEST).powi(2), (per_inch / LOOSEST).powi(2))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn classes(wraps: f64) -> Vec<u8> {
        let classes = classes_by_wraps(wraps).unwrap();
        classes.into_iter().map(WeightClass::number).collect()
    }

    /// Spin-Off magazine, `Yarn Standards` sheet, wraps per inch.
    #[test]
    fn the_published_class_is_among_the_possible_ones() {
        for (class, wraps) in [
            (0, [18.0, 30.0]),
            (1, [16.0, 18.0]),
            (2, [14.0, 15.0]),
            (3, [12.0, 13.0]),
            (4, [10.0, 11.0]),
            (5, [8.0, 9.0]),
            (6, [7.0, 4.0]),
        ] {
            for wraps in wraps {
                assert!(
                    classes(wraps).contains(&class),
                    "{wraps} wraps, class {class}"
                );
            }
        }
    }

    /// (12 / 0.41)^2 = 856.6 and (12 / 0.31)^2 = 1498.4 yd/lb, with a yard of
    /// 0.9144 m and a pound of 453.59237 g 1.727 and 3.021 m/g.
    #[test]
    fn twelve_wraps_are_a_grist_between_the_loosest_and_the_tightest_hand() {
        let grist = grist_by_wraps(12.0).unwrap();
        assert!((grist.low().as_metres_per_gram() - 1.727).abs() < 0.0005);
        assert!((grist.high().as_metres_per_gram() - 3.021).abs() < 0.0005);
        // Of one row only, so the neighbours come too.
        assert_eq!(classes(45.0), [0, 1]);
    }

    #[test]
    fn wraps_never_settle_a_class() {
        for wraps in 2..60 {
            assert!(classes(f64::from(wraps)).len() > 1, "{wraps}");
        }
    }

    #[test]
    fn no_wraps_are_no_grist() {
        assert!(grist_by_wraps(0.0).is_err());
        assert!(classes_by_wraps(f64::NAN).is_err());
    }
}
