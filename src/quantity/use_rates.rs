//! What each stitch takes, learned from what was knitted and weighed; and the need by
//! the geometry of plain knitting, to hold that against.

use crate::trade::PLAIN_KNIT;

/// Something knitted and weighed: the yarn in it, m, and how much of each
/// stitch it holds, in m2 or in stitches.
#[derive(Debug, Clone, PartialEq)]
pub struct WeighedPiece {
    /// Metres of yarn, edges and tails taken off.
    pub metres: f64,
    /// Place of the stitch, and how much of it.
    pub parts: Vec<(usize, f64)>,
}

impl WeighedPiece {
    /// How much of a stitch it holds.
    fn amount_of(&self, stitch: usize) -> f64 {
        let of_it = self.parts.iter().filter(|(place, _)| *place == stitch);
        of_it.map(|(_, amount)| amount).sum()
    }

    /// How much fabric it holds in all.
    fn amount(&self) -> f64 {
        self.parts.iter().map(|(_, amount)| amount).sum()
    }

    /// Metres at these rates; `None` where one is not known.
    fn metres_at(&self, rates: &[Option<f64>]) -> Option<f64> {
        let each = self
            .parts
            .iter()
            .map(|(stitch, amount)| Some(rates.get(*stitch).copied().flatten()? * amount));
        each.sum()
    }
}

/// How much yarn pieces took over what they were to take: sum of u / sum of p, u what
/// each took and p what was planned for it, both in one unit; no rounding. `None` where
/// nothing was weighed.
pub fn pace(pieces: impl Iterator<Item = (f64, f64)>) -> Option<f64> {
    let (used, planned) = pieces.fold((0.0, 0.0), |(used, planned), (one, of_plan)| {
        (used + one, planned + of_plan)
    });
    (planned > 0.0).then(|| used / planned)
}

/// Metres per m2 (or per stitch) of each of `stitches` stitches; `None` where
/// what was weighed does not tell. Rates r that make sum (m - sum r a)^2 / A
/// least, m the metres of a weighed thing, a its amount of each stitch, A its
/// amount in all; for one stitch that is sum of metres / sum of amounts. Weighted
/// least squares, the error of a thing growing with its size; no rounding.
pub fn use_rates(weighed: &[WeighedPiece], stitches: usize) -> Vec<Option<f64>> {
    let sum = |of: &dyn Fn(&WeighedPiece) -> f64| -> f64 {
        let sound = weighed.iter().filter(|one| one.amount() > 0.0);
        sound.map(|one| of(one) / one.amount()).sum()
    };
    let rows = (0..stitches).map(|row| {
        let mut equation: Vec<f64> = (0..stitches)
            .map(|column| sum(&|one| one.amount_of(row) * one.amount_of(column)))
            .collect();
        equation.push(sum(&|one| one.amount_of(row) * one.metres));
        equation
    });
    let rates = solve(rows.collect(), stitches);
    let positive = rates
        .into_iter()
        .map(|rate| rate.filter(|rate| *rate > 0.0));
    positive.collect()
}

/// For each of several weighed things: how far what the others foretell lies
/// from its metres, as a share (foretold / weighed - 1); `None` where the others
/// do not tell.
pub fn left_out_errors(weighed: &[WeighedPiece], stitches: usize) -> Vec<Option<f64>> {
    (0..weighed.len())
        .map(|place| {
            let others: Vec<WeighedPiece> = weighed
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != place)
                .map(|(_, one)| one.clone())
                .collect();
            let one = weighed.get(place)?;
            Some(one.metres_at(&use_rates(&others, stitches))? / one.metres - 1.0)
        })
        .collect()
}

/// How a stitch differs from fully relaxed plain knitting, learned from a
/// sample: c = (metres per m2) / sqrt(Ks S), S stitches per m2 of the sample, Ks
/// of [`PLAIN_KNIT`]. Length per area is S l and S = Ks / l^2, so plain knitting
/// itself has c = 1.
pub fn stitch_factor(metres_per_m2: f64, stitches_per_m2: f64) -> f64 {
    metres_per_m2 / (PLAIN_KNIT.ks() * stitches_per_m2).sqrt()
}

/// Metres of yarn in `area` m2 of a stitch of factor c at S stitches per m2:
/// area x c x sqrt(Ks S).
pub fn metres_by_geometry(area: f64, factor: f64, stitches_per_m2: f64) -> f64 {
    area * factor * (PLAIN_KNIT.ks() * stitches_per_m2).sqrt()
}

/// How far a need may lie from the geometry without a word, as a share. Common
/// practice, no source: gauges are counted to about half a stitch in twenty.
pub const GEOMETRY_TOLERANCE: f64 = 0.05;

/// Pivots below this share of the largest coefficient are zero. Right sides do not
/// count: they have a unit of their own.
const NOTHING: f64 = 1e-9;

/// The unknowns of `equations`, each row its coefficients and then its right
/// side (Gauss-Jordan elimination with the largest pivot of each column); `None`
/// for an unknown that the equations leave open.
pub(super) fn solve(mut equations: Vec<Vec<f64>>, unknowns: usize) -> Vec<Option<f64>> {
    let coefficients = equations.iter().flat_map(|row| row.iter().take(unknowns));
    let largest = coefficients.fold(0.0_f64, |most, x| most.max(x.abs()));
    let mut pivots: Vec<usize> = Vec::new();
    for column in 0..unknowns {
        let from = pivots.len();
        let size = |row: &Vec<f64>| row.get(column).map_or(0.0, |x| x.abs());
        let candidates = equations.iter().enumerate().skip(from);
        let best = candidates.max_by(|(_, a), (_, b)| size(a).total_cmp(&size(b)));
        let Some((place, pivot)) = best.map(|(place, row)| (place, size(row))) else {
            break;
        };
        if pivot > NOTHING * largest {
            equations.swap(from, place);
            clear(&mut equations, from, column);
            pivots.push(column);
        }
    }
    let row_of = |unknown: usize| {
        let row = equations.get(pivots.iter().position(|column| *column == unknown)?)?;
        let open = (0..unknowns).filter(|column| !pivots.contains(column));
        let free = open
            .filter_map(|column| row.get(column))
            .all(|x| x.abs() <= NOTHING);
        row.last().copied().filter(|_| free)
    };
    (0..unknowns).map(row_of).collect()
}

/// Makes `column` 1 in row `pivot` and 0 in every other.
fn clear(equations: &mut [Vec<f64>], pivot: usize, column: usize) {
    let Some(row) = equations.get_mut(pivot) else {
        return;
    };
    let by = row.get(column).copied().unwrap_or(1.0);
    row.iter_mut().for_each(|x| *x /= by);
    let row = row.clone();
    for (_, other) in equations
        .iter_mut()
        .enumerate()
        .filter(|(place, _)| *place != pivot)
    {
        let times = other.get(column).copied().unwrap_or(0.0);
        for (x, y) in other.iter_mut().zip(&row) {
            *x -= times * y;
        }
    }
}

#[cfg(test)]
mod tests {
    mod use_rates {
        use super::super::*;
        use proptest::prelude::*;

        fn weighed(metres: f64, parts: &[(usize, f64)]) -> WeighedPiece {
            WeighedPiece {
                metres,
                parts: parts.to_vec(),
            }
        }

        #[test]
        fn a_stitch_weighed_alone_tells_what_another_beside_it_takes() {
            let samples = [
                weighed(1000.0, &[(0, 1.0)]),
                weighed(1390.0, &[(0, 1.0), (1, 0.3)]),
            ];
            let rates = use_rates(&samples, 2);
            assert!((rates[0].unwrap() - 1000.0).abs() < 1e-9);
            assert!((rates[1].unwrap() - 1300.0).abs() < 1e-9);
        }

        #[test]
        fn two_stitches_in_one_piece_tell_neither() {
            assert_eq!(
                use_rates(&[weighed(500.0, &[(0, 0.4), (1, 0.1)])], 2),
                [None, None]
            );
        }

        #[test]
        fn what_is_left_out_is_foretold_by_the_others() {
            let samples = [weighed(1000.0, &[(0, 1.0)]), weighed(1100.0, &[(0, 1.0)])];
            let errors = left_out_errors(&samples, 1);
            assert!((errors[0].unwrap() - 0.1).abs() < 1e-9);
            assert!((errors[1].unwrap() + 1.0 / 11.0).abs() < 1e-9);
            assert_eq!(left_out_errors(&samples[..1], 1), [None]);
        }

        /// Found by chance: a square decimetre of rib beside much plain fabric, and each
        /// left out in turn.
        #[test]
        fn a_little_of_a_stitch_beside_much_of_another_tells_what_it_takes() {
            let samples = [
                weighed(13.17, &[(0, 0.01)]),
                weighed(1317.0 * 1.7715 + 5.0, &[(0, 1.7715), (1, 0.01)]),
                weighed(5.0, &[(1, 0.01)]),
            ];
            for error in left_out_errors(&samples, 2) {
                assert!(error.unwrap().abs() < 1e-3, "{error:?}");
            }
        }

        proptest! {
            #[test]
            fn prop_rates_that_were_knitted_by_are_found_again(
                plain in 500.0f64..2000.0, rib in 500.0f64..2000.0, areas in proptest::collection::vec(0.01f64..2.0, 4),
            ) {
                let samples = [
                    weighed(plain * areas[0], &[(0, areas[0])]),
                    weighed(plain * areas[1] + rib * areas[2], &[(0, areas[1]), (1, areas[2])]),
                    weighed(rib * areas[3], &[(1, areas[3])]),
                ];
                let rates = use_rates(&samples, 2);
                prop_assert!((rates[0].unwrap() / plain - 1.0).abs() < 1e-4);
                prop_assert!((rates[1].unwrap() / rib - 1.0).abs() < 1e-4);
                for error in left_out_errors(&samples, 2) {
                    prop_assert!(error.unwrap().abs() < 1e-3);
                }
            }
        }
    }

    mod loop_geometry {
        use super::super::*;

        /// GATE TF 2015, question 54: Kw 4.2, Kc 5.5, loop 0.5 cm: 92 loops/cm2, so
        /// 46 cm of yarn to the square centimetre.
        #[test]
        fn loops_times_their_length_is_the_length_per_area() {
            let metres = metres_by_geometry(1.0, 1.0, 92.4e4);
            assert!((metres - 46.2e2).abs() < 0.5e2, "{metres}");
            assert!((stitch_factor(metres, 92.4e4) - 1.0).abs() < 1e-12);
            assert!((stitch_factor(1.2 * metres, 92.4e4) - 1.2).abs() < 1e-12);
            assert!((metres_by_geometry(0.5, 1.2, 92.4e4) / metres - 0.6).abs() < 1e-12);
        }

        #[test]
        fn the_need_grows_with_the_gauge_and_not_with_its_square() {
            let at = |sts: f64| metres_by_geometry(1.0, 1.0, sts * sts * 100.0 * 5.5 / 4.2);
            assert!((at(22.0) / at(20.0) - 1.1).abs() < 1e-12);
            let loops = 20.0 * 20.0 * 100.0 * 5.5 / 4.2;
            // Loops of 10 Kw / stitches cm, 2.1 cm.
            let by_loops = loops * (10.0 * 4.2 / 20.0) / 100.0;
            assert!((at(20.0) - by_loops).abs() < 1e-6);
        }
    }

    mod linear {
        use super::super::*;

        #[test]
        fn what_the_equations_leave_open_stays_open() {
            let equations = vec![
                vec![1.0, 1.0, 0.0, 5.0],
                vec![2.0, 2.0, 0.0, 10.0],
                vec![0.0, 0.0, 4.0, 8.0],
            ];
            assert_eq!(solve(equations, 3), [None, None, Some(2.0)]);
        }

        #[test]
        fn equations_of_nothing_leave_all_open() {
            assert_eq!(solve(vec![vec![0.0, 0.0]], 1), [None]);
            assert_eq!(solve(Vec::new(), 2), [None, None]);
        }

        #[test]
        fn small_numbers_are_solved_as_large_ones_are() {
            let solution = solve(vec![vec![1e-12, 2e-12]], 1);
            assert!((solution[0].unwrap() - 2.0).abs() < 1e-9);
            let solution = solve(vec![vec![1e-6, 1e6]], 1);
            assert!((solution[0].unwrap() / 1e12 - 1.0).abs() < 1e-9);
        }

        #[test]
        fn rows_are_swapped_where_a_pivot_is_nothing() {
            let equations = vec![vec![0.0, 2.0, 6.0], vec![4.0, 0.0, 8.0]];
            assert_eq!(solve(equations, 2), [Some(2.0), Some(3.0)]);
        }
    }
}
