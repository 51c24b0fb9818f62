//! Stitches and needles of the weight classes.
//!
//! Source: Craft Yarn Council, Standard Yarn Weight System, current version
//! with eight classes (www.YarnStandards.com): knit stitches over 4 in of
//! stockinette, needle in mm. Its ranges are guidelines; lace is often knitted
//! on larger needles, so its row is only a hint. Older charts of seven classes
//! differ in class 6 and are not used.

use super::WeightClass;
use crate::measure::{Interval, NeedleSize};

/// One row of the table; an end without a limit is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassGauge {
    /// The class.
    pub class: WeightClass,
    /// Fewest stitches over 4 in.
    pub fewest: Option<f64>,
    /// Most stitches over 4 in.
    pub most: f64,
    /// Thinnest needle, mm.
    pub thinnest_mm: f64,
    /// Thickest needle, mm.
    pub thickest_mm: Option<f64>,
}

const fn row(
    number: usize,
    fewest: Option<f64>,
    most: f64,
    thinnest_mm: f64,
    thickest_mm: Option<f64>,
) -> ClassGauge {
    let [c0, c1, c2, c3, c4, c5, c6, c7] = WeightClass::ALL;
    let class = match number {
        0 => c0,
        1 => c1,
        2 => c2,
        3 => c3,
        4 => c4,
        5 => c5,
        6 => c6,
        _ => c7,
    };
    ClassGauge {
        class,
        fewest,
        most,
        thinnest_mm,
        thickest_mm,
    }
}

/// The published table, class 0 to 7.
pub const CLASS_GAUGES: [ClassGauge; 8] = [
    row(0, Some(33.0), 40.0, 1.5, Some(2.25)),
    row(1, Some(27.0), 32.0, 2.25, Some(3.25)),
    row(2, Some(23.0), 26.0, 3.25, Some(3.75)),
    row(3, Some(21.0), 24.0, 3.75, Some(4.5)),
    row(4, Some(16.0), 20.0, 4.5, Some(5.5)),
    row(5, Some(12.0), 15.0, 5.5, Some(8.0)),
    row(6, Some(7.0), 11.0, 8.0, Some(12.75)),
    row(7, None, 6.0, 12.75, None),
];

/// Classes that a gauge over 4 in may belong to. A class holds both ends of its
/// row; 23 and 24 stitches lie in two rows and belong to both classes. A count
/// in the gap between two rows, such as 20.5, belongs to both neighbours; more
/// stitches than the lace row has are lace. The table leaves this open.
pub fn classes_by_gauge(stitches_over_4_in: Interval<f64>) -> Vec<WeightClass> {
    let (low, high) = (stitches_over_4_in.low(), stitches_over_4_in.high());
    let reaches = |row: &&ClassGauge| {
        let finer = CLASS_GAUGES.iter().rfind(|finer| finer.class < row.class);
        let coarser = CLASS_GAUGES.iter().find(|other| other.class > row.class);
        let finer_starts = finer.map_or(f64::INFINITY, |finer| finer.fewest.unwrap_or(0.0));
        let coarser_ends = coarser.map_or(0.0, |coarser| coarser.most);
        let not_above = low <= row.most || low < finer_starts;
        let not_below = high >= row.fewest.unwrap_or(0.0) || high > coarser_ends;
        not_above && not_below
    };
    let rows = CLASS_GAUGES.iter().filter(reaches);
    rows.map(|row| row.class).collect()
}

/// Classes whose needles include any of `needles`. Rows share their ends, so
/// 4.5 mm belongs to two classes; a needle below the lace row is lace.
pub fn classes_by_needle(needles: Interval<NeedleSize>) -> Vec<WeightClass> {
    let (low, high) = (
        needles.low().as_millimetres(),
        needles.high().as_millimetres(),
    );
    let reaches = |row: &&ClassGauge| {
        let thinnest = match row.class.number() {
            0 => 0.0,
            _ => row.thinnest_mm,
        };
        thinnest <= high && row.thickest_mm.is_none_or(|thickest| low <= thickest)
    };
    let rows = CLASS_GAUGES.iter().filter(reaches);
    rows.map(|row| row.class).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn by_gauge(stitches: f64) -> Vec<u8> {
        numbers(classes_by_gauge(Interval::one(stitches)))
    }

    fn numbers(classes: Vec<WeightClass>) -> Vec<u8> {
        classes.into_iter().map(WeightClass::number).collect()
    }

    /// Craft Yarn Council, Standard Yarn Weight System, eight classes: knit
    /// stitches over 4 in.
    #[test]
    fn both_ends_of_each_published_row_are_of_its_class() {
        for (class, ends) in [
            (0, [33.0, 40.0]),
            (1, [27.0, 32.0]),
            (2, [23.0, 26.0]),
            (3, [21.0, 24.0]),
            (4, [16.0, 20.0]),
            (5, [12.0, 15.0]),
            (6, [7.0, 11.0]),
            (7, [6.0, 2.0]),
        ] {
            for end in ends {
                assert!(by_gauge(end).contains(&class), "{end} is of class {class}");
            }
        }
    }

    /// Craft Yarn Council, Standard Yarn Weight System, eight classes: needles.
    #[test]
    fn both_ends_of_each_published_needle_row_are_of_its_class() {
        for (class, ends) in [
            (0, [1.5, 2.25]),
            (1, [2.25, 3.25]),
            (2, [3.25, 3.75]),
            (3, [3.75, 4.5]),
            (4, [4.5, 5.5]),
            (5, [5.5, 8.0]),
            (6, [8.0, 12.75]),
            (7, [12.75, 25.0]),
        ] {
            for end in ends {
                let needle = NeedleSize::millimetres(end).unwrap();
                let classes = numbers(classes_by_needle(Interval::one(needle)));
                assert!(classes.contains(&class), "{end} mm is of class {class}");
            }
        }
    }

    #[test]
    fn a_count_between_two_rows_belongs_to_both() {
        for (stitches, classes) in [
            (32.5, [0, 1]),
            (26.5, [1, 2]),
            (23.0, [2, 3]),
            (20.5, [3, 4]),
            (15.5, [4, 5]),
            (11.5, [5, 6]),
            (6.5, [6, 7]),
        ] {
            assert_eq!(by_gauge(stitches), classes, "{stitches}");
        }
        assert_eq!(by_gauge(22.0), [3]);
        assert_eq!(by_gauge(21.0), [3]);
        assert_eq!(by_gauge(20.0), [4]);
        assert_eq!(by_gauge(16.0), [4]);
        assert_eq!(by_gauge(15.0), [5]);
        assert_eq!(by_gauge(50.0), [0]);
        assert_eq!(by_gauge(18.0), [4]);
    }

    #[test]
    fn a_needle_finer_than_every_row_is_of_lace() {
        let needle = NeedleSize::millimetres(1.0).unwrap();
        assert_eq!(numbers(classes_by_needle(Interval::one(needle))), [0]);
    }

    #[test]
    fn a_range_of_gauges_reaches_every_class_it_touches() {
        let range = Interval::between(15.0, 22.0).unwrap();
        assert_eq!(numbers(classes_by_gauge(range)), [3, 4, 5]);
    }
}
