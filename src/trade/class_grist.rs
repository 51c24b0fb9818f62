//! Length per mass of the weight classes.
//!
//! Source: Spin-Off magazine, `Yarn Standards` sheet: yards per pound and wraps
//! per inch by class, described there as rough guidelines. It follows the older
//! chart of seven classes, so its last row holds classes 6 and 7.
//!
//! Other charts of the trade draw the lines elsewhere: those of a thread maker, of
//! dyers and shops in the United Kingdom, New Zealand and Australia, of handspinners,
//! and what knitters call worsted (900 to 1200 yd/lb). [`OTHER_CHARTS`] is as far as
//! any of them reaches.

use super::WeightClass;
use crate::measure::Grist;

/// One row of the table; an end without a limit is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassGrist {
    /// Number of the class.
    pub class: u8,
    /// Fewest yards in a pound.
    pub fewest: Option<f64>,
    /// Most yards in a pound.
    pub most: Option<f64>,
}

const fn row(class: u8, fewest: Option<f64>, most: Option<f64>) -> ClassGrist {
    ClassGrist {
        class,
        fewest,
        most,
    }
}

/// The published table; class 7 shares the row of class 6.
pub const CLASS_GRISTS: [ClassGrist; 8] = [
    row(0, Some(2401.0), None),
    row(1, Some(1901.0), Some(2400.0)),
    row(2, Some(1201.0), Some(1900.0)),
    row(3, Some(901.0), Some(1200.0)),
    row(4, Some(601.0), Some(900.0)),
    row(5, Some(401.0), Some(600.0)),
    row(6, None, Some(400.0)),
    row(7, None, Some(400.0)),
];

/// How far charts of the trade reach for a class, m/100 g: the least and the most of
/// any that was seen. No two of them agree.
pub const OTHER_CHARTS: [(u8, Option<f64>, Option<f64>); 8] = [
    (0, Some(600.0), None),
    (1, Some(330.0), Some(600.0)),
    (2, Some(242.0), Some(400.0)),
    (3, Some(200.0), Some(300.0)),
    (4, Some(120.0), Some(242.0)),
    (5, Some(81.0), Some(130.0)),
    (6, None, Some(100.0)),
    (7, None, Some(80.0)),
];

/// Further classes that other charts give a grist, beside [`classes_by_grist`].
pub fn classes_by_other_charts(grist: Grist) -> Vec<WeightClass> {
    let metres = grist.as_metres_per_100_g();
    let first = classes_by_grist(grist);
    let reaches = |(_, from, to): &&(u8, Option<f64>, Option<f64>)| {
        from.is_none_or(|from| metres >= from - 1e-9) && to.is_none_or(|to| metres <= to + 1e-9)
    };
    let rows = OTHER_CHARTS.iter().filter(reaches);
    let classes = rows.filter_map(|(class, _, _)| WeightClass::new(*class));
    classes.filter(|class| !first.contains(class)).collect()
}

/// Classes that a grist may belong to. The rows are whole yards per pound; what
/// lies between two rows, such as 1200.5, belongs to both neighbours.
pub fn classes_by_grist(grist: Grist) -> Vec<WeightClass> {
    let yards = grist.as_yards_per_pound();
    classes_between(yards, yards)
}

/// Classes whose rows, each widened by less than a yard on either side to close
/// the gaps, reach into `low..=high` yards per pound.
pub(super) fn classes_between(low: f64, high: f64) -> Vec<WeightClass> {
    let reaches = |row: &&ClassGrist| {
        let from = row.fewest.map_or(0.0, |fewest| fewest - 1.0);
        let above = high > from || row.fewest.is_none();
        above && row.most.is_none_or(|most| low < most + 1.0)
    };
    let rows = CLASS_GRISTS.iter().filter(reaches);
    rows.filter_map(|row| WeightClass::new(row.class)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::units::{POUND_G, YARD_M};

    fn by_yards(yards: f64) -> Vec<u8> {
        let grist = Grist::metres_per_gram(yards * YARD_M / POUND_G).unwrap();
        let classes = classes_by_grist(grist);
        classes.into_iter().map(WeightClass::number).collect()
    }

    /// Spin-Off magazine, `Yarn Standards` sheet, yards per pound.
    #[test]
    fn the_middle_and_the_ends_of_each_published_row_are_of_its_class() {
        for (class, yards) in [
            (0, [2401.5, 3000.0, 6000.0]),
            (1, [1901.5, 2100.0, 2399.5]),
            (2, [1201.5, 1500.0, 1899.5]),
            (3, [901.5, 1000.0, 1199.5]),
            (4, [601.5, 750.0, 899.5]),
            (5, [401.5, 500.0, 599.5]),
        ] {
            for yards in yards {
                assert_eq!(by_yards(yards), [class], "{yards} yd/lb");
            }
        }
        assert_eq!(by_yards(399.0), [6, 7]);
        assert_eq!(by_yards(100.0), [6, 7]);
    }

    #[test]
    fn a_whole_yard_at_the_end_of_a_row_is_of_that_row_alone() {
        for (yards, class) in [(401.0, 5), (600.0, 5), (601.0, 4), (900.0, 4)] {
            let classes = classes_between(yards, yards);
            let numbers: Vec<u8> = classes.into_iter().map(WeightClass::number).collect();
            assert_eq!(numbers, [class], "{yards} yd/lb");
        }
    }

    /// 220 yd in 100 g are 998 yd/lb: light by the published table, and what knitters
    /// call worsted reaches from 900 to 1200 yd/lb. A chart gives aran 120 to 160
    /// m/100 g and chunky 110 to 130, another sport 300 to 400 and fingering 330.
    #[test]
    fn where_charts_overlap_the_other_class_is_named_too() {
        let others = |metres: f64| -> Vec<u8> {
            let grist = Grist::metres_per_gram(metres / 100.0).unwrap();
            let classes = classes_by_other_charts(grist);
            classes.into_iter().map(WeightClass::number).collect()
        };
        assert_eq!(by_yards(997.9), [3]);
        for (metres, other) in [
            (220.0 * YARD_M, [4].as_slice()),
            (125.0, &[5]),
            (390.0, &[2]),
            (350.0, &[1]),
            (270.0, &[3]),
            (90.0, &[6]),
            (160.0, &[]),
            (700.0, &[]),
        ] {
            assert_eq!(others(metres), other, "{metres} m/100 g");
        }
    }

    #[test]
    fn a_grist_between_two_rows_belongs_to_both() {
        assert_eq!(by_yards(1200.5), [2, 3]);
        assert_eq!(by_yards(400.5), [5, 6, 7]);
    }
}
