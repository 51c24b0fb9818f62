//! Stitches of a piece that is given row by row.

use crate::record::RowRange;

/// Stitches worked in all: the sum over the runs of rows (first + last) / 2,
/// the sum of an even row of numbers. A triangle is judged by these, not by its
/// rows: 77 of 100 rows are 59 % of its stitches.
pub fn stitches_in(ranges: &[RowRange]) -> f64 {
    ranges
        .iter()
        .map(|range| f64::from(range.rows) * (range.first + range.last) / 2.0)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn triangle(rows: u32) -> f64 {
        stitches_in(&[RowRange {
            rows,
            first: 1.0,
            last: f64::from(rows),
        }])
    }

    /// A worked example of common practice, no source; recomputed: 77 % of the
    /// rows of a triangle are 59 % of its yarn.
    #[test]
    fn three_quarters_of_the_rows_of_a_triangle_are_not_three_quarters_of_its_yarn() {
        let share = triangle(77) / triangle(100);
        assert!((share - 0.59).abs() < 0.005, "{share}");
    }

    #[test]
    fn straight_rows_are_rows_times_stitches() {
        let straight = RowRange {
            rows: 20,
            first: 20.0,
            last: 20.0,
        };
        assert_eq!(stitches_in(&[straight, straight]), 800.0);
    }
}
