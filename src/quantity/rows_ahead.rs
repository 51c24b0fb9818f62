//! Stitches of rows to come, and how many rows a number of stitches makes.

/// How the stitch count goes from here: stitches now, and stitches gained
/// (below zero: lost) with each row. Any unit of stitches does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowCourse {
    /// Stitches in a row now.
    pub now: f64,
    /// Stitches gained with each row.
    pub each: f64,
}

impl RowCourse {
    /// A straight piece.
    pub const STRAIGHT: Self = Self {
        now: 1.0,
        each: 0.0,
    };

    /// A triangle from its point after so many rows: stitches grow as rows do.
    pub fn triangle(rows_done: f64) -> Self {
        Self {
            now: rows_done,
            each: 1.0,
        }
    }

    /// Stitches in the next `rows` rows: n rows x (stitches now + each n / 2), the
    /// mean of the first and the last; a piece that narrows to nothing ends there.
    pub fn ahead(&self, rows: f64) -> f64 {
        let rows = self.ends_after().map_or(rows, |end| rows.min(end));
        rows * (self.now + self.each * rows / 2.0)
    }

    /// Stitches in the last `rows` rows: n x (stitches now - each n / 2).
    pub fn behind(&self, rows: f64) -> f64 {
        rows * (self.now - self.each * rows / 2.0)
    }

    /// Rows after which a narrowing piece has no stitches left.
    pub fn ends_after(&self) -> Option<f64> {
        (self.each < 0.0).then(|| self.now / -self.each)
    }

    /// Rows that so many stitches make: n of n (now + each n / 2) = stitches, so n =
    /// 2 T / (now + sqrt(now^2 + 2 each T)). A narrowing piece with stitches to
    /// spare ends with its last row.
    pub fn rows_for(&self, stitches: f64) -> f64 {
        let root = self.now * self.now + 2.0 * self.each * stitches;
        match self.ends_after() {
            Some(end) if root <= 0.0 => end,
            _ => 2.0 * stitches / (self.now + root.max(0.0).sqrt()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A worked example of common practice, no source; recomputed: a triangle at
    /// 77 % of its rows has taken 59 % of its yarn.
    #[test]
    fn a_triangle_goes_by_stitches() {
        let done = RowCourse::triangle(77.0);
        let share = done.behind(77.0) / (done.behind(77.0) + done.ahead(23.0));
        assert!((share - 0.59).abs() < 0.005, "{share}");
    }

    #[test]
    fn a_yoke_that_closes_takes_no_more() {
        let yoke = RowCourse {
            now: 100.0,
            each: -4.0,
        };
        assert_eq!(yoke.ends_after(), Some(25.0));
        assert_eq!(yoke.ahead(40.0), yoke.ahead(25.0));
        assert_eq!(yoke.rows_for(1e6), 25.0);
    }

    proptest! {
        #[test]
        fn prop_rows_for_the_stitches_of_rows_are_those_rows(now in 1.0f64..500.0, each in -2.0f64..8.0, share in 0.01f64..0.99) {
            let course = RowCourse { now, each };
            let rows = share * course.ends_after().unwrap_or(200.0);
            prop_assert!((course.rows_for(course.ahead(rows)) / rows - 1.0).abs() < 1e-6);
        }
    }
}
