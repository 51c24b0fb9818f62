//! What each stitch takes, learned from what was knitted and weighed.

use super::linear::solved;

/// Something knitted and weighed: the yarn in it, m, and how much of each
/// stitch it holds, in m2 or in stitches.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Metres of yarn, edges and tails taken off.
    pub metres: f64,
    /// Place of the stitch, and how much of it.
    pub parts: Vec<(usize, f64)>,
}

impl Weighed {
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

/// Metres per m2 (or per stitch) of each of `stitches` stitches; `None` where
/// what was weighed does not tell. Rates r that make sum (m - sum r a)^2 / A
/// least, m the metres of a weighed thing, a its amount of each stitch, A its
/// amount in all; for one stitch that is sum of metres / sum of amounts. Weighted
/// least squares, the error of a thing growing with its size; no rounding.
pub fn use_rates(weighed: &[Weighed], stitches: usize) -> Vec<Option<f64>> {
    let sum = |of: &dyn Fn(&Weighed) -> f64| -> f64 {
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
    let rates = solved(rows.collect(), stitches);
    let positive = rates
        .into_iter()
        .map(|rate| rate.filter(|rate| *rate > 0.0));
    positive.collect()
}

/// For each of several weighed things: how far what the others foretell lies
/// from its metres, as a share (foretold / weighed - 1); `None` where the others
/// do not tell.
pub fn left_out_errors(weighed: &[Weighed], stitches: usize) -> Vec<Option<f64>> {
    (0..weighed.len())
        .map(|place| {
            let others: Vec<Weighed> = weighed
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn weighed(metres: f64, parts: &[(usize, f64)]) -> Weighed {
        Weighed {
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
