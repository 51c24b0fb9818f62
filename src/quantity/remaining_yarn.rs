//! Whether what is left of a yarn lasts: from two weighings, and the stitches of the
//! rows to come.

use super::uncertainty::{Estimate, Measurement, estimate};

/// What one row takes, and from what.
#[derive(Debug, Clone, PartialEq)]
pub enum RowUse {
    /// From two weighings: the mass before, g, and the rows worked since.
    Weighed {
        /// Mass before, g.
        before: Measurement,
        /// Rows worked between the weighings.
        rows: f64,
    },
    /// A row as it is now takes so many grams.
    Row(Measurement),
}

/// Two weighings and what is to come. Masses in g.
#[derive(Debug, Clone, PartialEq)]
pub struct RemainingYarn {
    /// What a row takes.
    pub taken: RowUse,
    /// What is left now, with the core it lies on.
    pub left: Measurement,
    /// The core, and what is kept for the bind-off and the tails.
    pub kept: f64,
    /// How the rows go on.
    pub course: RowCourse,
}

impl RemainingYarn {
    fn inputs(&self) -> [Measurement; 2] {
        let first = match &self.taken {
            RowUse::Weighed { before, .. } => before,
            RowUse::Row(takes) => takes,
        };
        [first.clone(), self.left.clone()]
    }

    /// Grams per stitch: (before - left) / stitches of the rows between, or the
    /// grams of a row / its stitches.
    fn per_stitch(&self, first: f64, left: f64) -> f64 {
        match self.taken {
            RowUse::Weighed { rows, .. } => (first - left) / self.course.behind(rows),
            RowUse::Row(_) => first / self.course.now,
        }
    }

    /// The interval is that of first order: see [`estimate`].
    fn figure(&self, of: impl Fn(f64, f64) -> f64) -> Estimate {
        estimate(&self.inputs(), |values| match values {
            [first, left] => of(*first, *left),
            _ => f64::NAN,
        })
    }

    /// Grams that a row takes as it is now.
    pub fn row_now(&self) -> Estimate {
        self.figure(|first, left| self.per_stitch(first, left) * self.course.now)
    }

    /// Rows that what is left makes: those of (left - kept) / (grams per stitch)
    /// stitches. The ends are the rows after which the ends of what is spare are
    /// nothing, so that both always agree; a narrowing piece ends with its rows, and
    /// no interval reaches beyond twenty times the figure.
    pub fn rows_left(&self) -> Estimate {
        let [first, left] = self.inputs().map(|known| known.value);
        let stitches = (left - self.kept) / self.per_stitch(first, left);
        let value = self.course.rows_for(stitches.max(0.0));
        let most = self.course.ends_after().unwrap_or(20.0 * value);
        Estimate {
            value,
            low: self.rows_until(value, |spare| spare.low),
            high: self.rows_until(most, |spare| spare.high).max(value),
        }
    }

    /// The most rows, to `most`, after which an end of what is spare is not below
    /// zero; by halving.
    fn rows_until(&self, most: f64, end: impl Fn(Estimate) -> f64) -> f64 {
        if end(self.spare(most)) >= 0.0 {
            return most;
        }
        let (mut low, mut high) = (0.0, most);
        for _ in 0..50 {
            let middle = (low + high) / 2.0;
            if end(self.spare(middle)) >= 0.0 {
                low = middle
            } else {
                high = middle
            }
        }
        low
    }

    /// Grams that the next `rows` rows take.
    pub fn takes(&self, rows: f64) -> Estimate {
        self.figure(|first, left| self.per_stitch(first, left) * self.course.ahead(rows))
    }

    /// Grams to spare after `rows` more: left - kept - what they take; below zero
    /// where it does not last.
    pub fn spare(&self, rows: f64) -> Estimate {
        self.figure(|first, left| {
            left - self.kept - self.per_stitch(first, left) * self.course.ahead(rows)
        })
    }
}

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
    #[cfg(test)]
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
    mod remaining {
        use super::super::*;
        use crate::quantity::uncertainty::Doubt;
        use proptest::test_runner::{RngAlgorithm, TestRng};

        /// A worked example of common practice, no source; recomputed (C89): 38 to 35
        /// g over 4 rows are 0.75 g a row; 26 rows and 6 g kept need 25.5 g of the 35,
        /// 9.5 g or 12.67 rows to spare.
        #[test]
        fn grams_by_the_row_say_how_far_it_goes() {
            let remaining = RemainingYarn {
                taken: RowUse::Weighed {
                    before: Measurement::exactly(38.0),
                    rows: 4.0,
                },
                left: Measurement::exactly(35.0),
                kept: 6.0,
                course: RowCourse::STRAIGHT,
            };
            assert!((remaining.row_now().value - 0.75).abs() < 1e-9);
            assert!((remaining.takes(26.0).value + 6.0 - 25.5).abs() < 1e-9);
            assert!((remaining.spare(26.0).value - 9.5).abs() < 1e-9);
            assert!((remaining.rows_left().value - 26.0 - 12.67).abs() < 0.005);
        }

        /// By hand: a row of 80 stitches takes 2 g, so a stitch 0.025 g; the next ten rows
        /// of a triangle have 10 x (80 + 5) = 850 stitches, 21.25 g.
        #[test]
        fn a_row_that_was_weighed_says_how_far_it_goes() {
            let remaining = RemainingYarn {
                taken: RowUse::Row(Measurement::exactly(2.0)),
                left: Measurement::exactly(40.0),
                kept: 5.0,
                course: RowCourse::triangle(80.0),
            };
            assert!((remaining.row_now().value - 2.0).abs() < 1e-9);
            assert!((remaining.takes(10.0).value - 21.25).abs() < 1e-9);
            assert!((remaining.spare(10.0).value - 13.75).abs() < 1e-9);
            let rows = remaining.rows_left();
            assert!((remaining.takes(rows.value).value - 35.0).abs() < 1e-9);
            assert!((rows.low - rows.value).abs() < 1e-6 && (rows.high - rows.value).abs() < 1e-6);
        }

        #[test]
        fn the_ends_of_the_rows_left_are_where_the_ends_of_the_spare_are_nothing() {
            let known = |value: f64| Measurement {
                value,
                doubts: vec![Doubt::Within(0.5)],
            };
            let remaining = RemainingYarn {
                taken: RowUse::Weighed {
                    before: known(60.0),
                    rows: 20.0,
                },
                left: known(40.0),
                kept: 2.0,
                course: RowCourse::triangle(80.0),
            };
            let rows = remaining.rows_left();
            assert!(rows.low + 0.5 < rows.value && rows.value + 0.5 < rows.high);
            assert!(remaining.spare(rows.low).low.abs() < 1e-6);
            assert!(remaining.spare(rows.value).value.abs() < 1e-6);
            assert!(remaining.spare(rows.high).high.abs() < 1e-6);
        }

        #[test]
        fn a_narrowing_piece_with_plenty_left_ends_with_its_rows() {
            let remaining = RemainingYarn {
                taken: RowUse::Row(Measurement::exactly(1.0)),
                left: Measurement::exactly(500.0),
                kept: 0.0,
                course: RowCourse {
                    now: 100.0,
                    each: -4.0,
                },
            };
            let rows = remaining.rows_left();
            assert_eq!((rows.low, rows.value, rows.high), (25.0, 25.0, 25.0));
        }

        /// A number from 0 to 1.
        fn draw(random: &mut TestRng) -> f64 {
            use proptest::prelude::Rng;
            f64::from(random.next_u32()) / f64::from(u32::MAX)
        }

        /// Seeded: of 2,500 true weights, weighed on a scale that rounds and in air
        /// that is damp, the interval of 95 % holds the truth 93 to 97 times in 100.
        #[test]
        fn the_interval_holds_the_truth_about_95_times_in_100() {
            let mut random = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
            for (scale, damp) in [(1.0, 0.0), (1.0, 0.02), (0.1, 0.01)] {
                let (mut held, mut rows_held) = (0, 0);
                for _ in 0..2_500 {
                    let left = 30.0 + 20.0 * draw(&mut random);
                    let before = left + 10.0 + 20.0 * draw(&mut random);
                    let weigh = |truth: f64, random: &mut TestRng| {
                        let air = truth * (1.0 + damp * (2.0 * draw(random) - 1.0));
                        (air / scale).round() * scale
                    };
                    let known = |value: f64| Measurement {
                        value,
                        doubts: vec![Doubt::Within(scale / 2.0), Doubt::Within(damp * value)],
                    };
                    let of = |before: Measurement, left: Measurement| RemainingYarn {
                        taken: RowUse::Weighed { before, rows: 20.0 },
                        left,
                        kept: 0.0,
                        course: RowCourse::triangle(80.0),
                    };
                    let truth = of(Measurement::exactly(before), Measurement::exactly(left));
                    let before = weigh(before, &mut random);
                    let told = of(known(before), known(weigh(left, &mut random)));
                    let spare = told.spare(15.0);
                    held += u32::from((spare.low..=spare.high).contains(&truth.spare(15.0).value));
                    let rows = told.rows_left();
                    rows_held +=
                        u32::from((rows.low..=rows.high).contains(&truth.rows_left().value));
                }
                for held in [held, rows_held] {
                    assert!((2325..=2425).contains(&held), "{scale} g, {damp}: {held}");
                }
            }
        }
    }

    mod rows_ahead {
        use super::super::*;
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
}
