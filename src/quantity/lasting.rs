//! Whether what is left of a yarn lasts, from two weighings.

use super::{
    rows_ahead::RowCourse,
    spread::{Estimated, Known, estimated},
};

/// What one row takes, and from what.
#[derive(Debug, Clone, PartialEq)]
pub enum Taken {
    /// From two weighings: the mass before, g, and the rows worked since.
    Weighed {
        /// Mass before, g.
        before: Known,
        /// Rows worked between the weighings.
        rows: f64,
    },
    /// A row as it is now takes so many grams.
    Row(Known),
}

/// Two weighings and what is to come. Masses in g.
#[derive(Debug, Clone, PartialEq)]
pub struct Lasting {
    /// What a row takes.
    pub taken: Taken,
    /// What is left now, with the core it lies on.
    pub left: Known,
    /// The core, and what is kept for the bind-off and the tails.
    pub kept: f64,
    /// How the rows go on.
    pub course: RowCourse,
}

impl Lasting {
    fn inputs(&self) -> [Known; 2] {
        let first = match &self.taken {
            Taken::Weighed { before, .. } => before,
            Taken::Row(takes) => takes,
        };
        [first.clone(), self.left.clone()]
    }

    /// Grams per stitch: (before - left) / stitches of the rows between, or the
    /// grams of a row / its stitches.
    fn per_stitch(&self, first: f64, left: f64) -> f64 {
        match self.taken {
            Taken::Weighed { rows, .. } => (first - left) / self.course.behind(rows),
            Taken::Row(_) => first / self.course.now,
        }
    }

    /// The interval is that of first order: see [`estimated`].
    fn figure(&self, of: impl Fn(f64, f64) -> f64) -> Estimated {
        estimated(&self.inputs(), |values| match values {
            [first, left] => of(*first, *left),
            _ => f64::NAN,
        })
    }

    /// Grams that a row takes as it is now.
    pub fn row_now(&self) -> Estimated {
        self.figure(|first, left| self.per_stitch(first, left) * self.course.now)
    }

    /// Rows that what is left makes: those of (left - kept) / (grams per stitch)
    /// stitches. The ends are the rows after which the ends of what is spare are
    /// nothing, so that both always agree; a narrowing piece ends with its rows, and
    /// no interval reaches beyond twenty times the figure.
    pub fn rows_left(&self) -> Estimated {
        let [first, left] = self.inputs().map(|known| known.value);
        let stitches = (left - self.kept) / self.per_stitch(first, left);
        let value = self.course.rows_for(stitches.max(0.0));
        let most = self.course.ends_after().unwrap_or(20.0 * value);
        Estimated {
            value,
            low: self.rows_until(value, |spare| spare.low),
            high: self.rows_until(most, |spare| spare.high).max(value),
        }
    }

    /// The most rows, to `most`, after which an end of what is spare is not below
    /// zero; by halving.
    fn rows_until(&self, most: f64, end: impl Fn(Estimated) -> f64) -> f64 {
        if end(self.spare(most)) >= 0.0 {
            return most;
        }
        let (mut low, mut high) = (0.0, most);
        for _ in 0..50 {
            let middle = (low + high) / 2.0;
            match end(self.spare(middle)) >= 0.0 {
                true => low = middle,
                false => high = middle,
            }
        }
        low
    }

    /// Grams that the next `rows` rows take.
    pub fn takes(&self, rows: f64) -> Estimated {
        self.figure(|first, left| self.per_stitch(first, left) * self.course.ahead(rows))
    }

    /// Grams to spare after `rows` more: left - kept - what they take; below zero
    /// where it does not last.
    pub fn spare(&self, rows: f64) -> Estimated {
        self.figure(|first, left| {
            left - self.kept - self.per_stitch(first, left) * self.course.ahead(rows)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::spread::Doubt;
    use proptest::test_runner::{RngAlgorithm, TestRng};

    /// A worked example of common practice, no source; recomputed (C89): 38 to 35
    /// g over 4 rows are 0.75 g a row; 26 rows and 6 g kept need 25.5 g of the 35,
    /// 9.5 g or 12.67 rows to spare.
    #[test]
    fn grams_by_the_row_say_how_far_it_goes() {
        let lasting = Lasting {
            taken: Taken::Weighed {
                before: Known::exactly(38.0),
                rows: 4.0,
            },
            left: Known::exactly(35.0),
            kept: 6.0,
            course: RowCourse::STRAIGHT,
        };
        assert!((lasting.row_now().value - 0.75).abs() < 1e-9);
        assert!((lasting.takes(26.0).value + 6.0 - 25.5).abs() < 1e-9);
        assert!((lasting.spare(26.0).value - 9.5).abs() < 1e-9);
        assert!((lasting.rows_left().value - 26.0 - 12.67).abs() < 0.005);
    }

    /// By hand: a row of 80 stitches takes 2 g, so a stitch 0.025 g; the next ten rows
    /// of a triangle have 10 x (80 + 5) = 850 stitches, 21.25 g.
    #[test]
    fn a_row_that_was_weighed_says_how_far_it_goes() {
        let lasting = Lasting {
            taken: Taken::Row(Known::exactly(2.0)),
            left: Known::exactly(40.0),
            kept: 5.0,
            course: RowCourse::triangle(80.0),
        };
        assert!((lasting.row_now().value - 2.0).abs() < 1e-9);
        assert!((lasting.takes(10.0).value - 21.25).abs() < 1e-9);
        assert!((lasting.spare(10.0).value - 13.75).abs() < 1e-9);
        let rows = lasting.rows_left();
        assert!((lasting.takes(rows.value).value - 35.0).abs() < 1e-9);
        assert!((rows.low - rows.value).abs() < 1e-6 && (rows.high - rows.value).abs() < 1e-6);
    }

    #[test]
    fn the_ends_of_the_rows_left_are_where_the_ends_of_the_spare_are_nothing() {
        let known = |value: f64| Known {
            value,
            doubts: vec![Doubt::Within(0.5)],
        };
        let lasting = Lasting {
            taken: Taken::Weighed {
                before: known(60.0),
                rows: 20.0,
            },
            left: known(40.0),
            kept: 2.0,
            course: RowCourse::triangle(80.0),
        };
        let rows = lasting.rows_left();
        assert!(rows.low + 0.5 < rows.value && rows.value + 0.5 < rows.high);
        assert!(lasting.spare(rows.low).low.abs() < 1e-6);
        assert!(lasting.spare(rows.value).value.abs() < 1e-6);
        assert!(lasting.spare(rows.high).high.abs() < 1e-6);
    }

    #[test]
    fn a_narrowing_piece_with_plenty_left_ends_with_its_rows() {
        let lasting = Lasting {
            taken: Taken::Row(Known::exactly(1.0)),
            left: Known::exactly(500.0),
            kept: 0.0,
            course: RowCourse {
                now: 100.0,
                each: -4.0,
            },
        };
        let rows = lasting.rows_left();
        assert_eq!((rows.low, rows.value, rows.high), (25.0, 25.0, 25.0));
    }

    /// A number from 0 to 1.
    fn draw(random: &mut TestRng) -> f64 {
        use proptest::prelude::Rng;
        f64::from(random.next_u32()) / f64::from(u32::MAX)
    }

    /// Seeded: of 10,000 true weights, weighed on a scale that rounds and in air
    /// that is damp, the interval of 95 % holds the truth 93 to 97 times in 100.
    #[test]
    fn the_interval_holds_the_truth_about_95_times_in_100() {
        let mut random = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
        for (scale, damp) in [(1.0, 0.0), (1.0, 0.02), (0.1, 0.01)] {
            let (mut held, mut rows_held) = (0, 0);
            for _ in 0..10_000 {
                let left = 30.0 + 20.0 * draw(&mut random);
                let before = left + 10.0 + 20.0 * draw(&mut random);
                let weigh = |truth: f64, random: &mut TestRng| {
                    let air = truth * (1.0 + damp * (2.0 * draw(random) - 1.0));
                    (air / scale).round() * scale
                };
                let known = |value: f64| Known {
                    value,
                    doubts: vec![Doubt::Within(scale / 2.0), Doubt::Within(damp * value)],
                };
                let of = |before: Known, left: Known| Lasting {
                    taken: Taken::Weighed { before, rows: 20.0 },
                    left,
                    kept: 0.0,
                    course: RowCourse::triangle(80.0),
                };
                let truth = of(Known::exactly(before), Known::exactly(left));
                let before = weigh(before, &mut random);
                let told = of(known(before), known(weigh(left, &mut random)));
                let spare = told.spare(15.0);
                held += u32::from((spare.low..=spare.high).contains(&truth.spare(15.0).value));
                let rows = told.rows_left();
                rows_held += u32::from((rows.low..=rows.high).contains(&truth.rows_left().value));
            }
            for held in [held, rows_held] {
                assert!((9300..=9700).contains(&held), "{scale} g, {damp}: {held}");
            }
        }
    }
}
