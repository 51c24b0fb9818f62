//! Which lots of one shade each role takes: as few as cover it, one before several.

use super::programme::SLACK;
use crate::{
    measure::{Length, MeasureError},
    quantity::{Shelf, cover},
};

/// So many roles of one shade are tried in every order; of more, the largest goes first.
const MOST_ORDERS: usize = 5;

/// What a role takes of one lot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LotShare {
    /// Place of the lot among the lots.
    pub lot: usize,
    /// How much of it, m.
    pub takes_m: f64,
}

/// Shares the lots of one shade out among roles that it is enough for, so that the
/// fewest lots are used over all of them. `takes_m` of each role and `holds_m` of each lot
/// in m; one list of shares a role, in their order.
pub fn share_lots(takes_m: &[f64], holds_m: &[f64]) -> Result<Vec<Vec<LotShare>>, MeasureError> {
    let mut best: Option<(usize, Vec<Vec<LotShare>>)> = None;
    for order in orders(takes_m) {
        let shares = in_order(&order, takes_m, holds_m)?;
        let used = shares.iter().map(Vec::len).sum();
        if best.as_ref().is_none_or(|(least, _)| used < *least) {
            best = Some((used, shares));
        }
    }
    Ok(best.map(|(_, shares)| shares).unwrap_or_default())
}

/// Orders of the roles worth trying, the largest first before all.
fn orders(takes_m: &[f64]) -> Vec<Vec<usize>> {
    let mut largest: Vec<usize> = (0..takes_m.len()).collect();
    let takes = |role: &usize| takes_m.get(*role).copied().unwrap_or(0.0);
    largest.sort_by(|a, b| takes(b).total_cmp(&takes(a)));
    if largest.len() > MOST_ORDERS {
        return vec![largest];
    }
    permutations(&largest)
}

fn permutations(items: &[usize]) -> Vec<Vec<usize>> {
    if items.is_empty() {
        return vec![Vec::new()];
    }
    let firsts = items.iter().copied();
    firsts
        .flat_map(|first| {
            let rest: Vec<usize> = items.iter().copied().filter(|it| *it != first).collect();
            let rests = permutations(&rest).into_iter();
            rests.map(move |rest| std::iter::once(first).chain(rest).collect())
        })
        .collect()
}

/// The roles in this order each take the fewest lots of what those before leave.
fn in_order(
    order: &[usize],
    takes_m: &[f64],
    holds_m: &[f64],
) -> Result<Vec<Vec<LotShare>>, MeasureError> {
    let mut left = holds_m.to_vec();
    let mut shares = vec![Vec::new(); takes_m.len()];
    for role in order {
        let (Some(takes), Some(share)) = (takes_m.get(*role), shares.get_mut(*role)) else {
            continue;
        };
        *share = take(*takes, &mut left)?;
    }
    Ok(shares)
}

fn take(takes_m: f64, left: &mut [f64]) -> Result<Vec<LotShare>, MeasureError> {
    let shelves = left.iter().enumerate().map(|(key, holds)| {
        let holds = Length::metres(holds.max(0.0))?;
        let shade = String::new();
        Ok(Shelf { key, shade, holds })
    });
    let shelves: Vec<Shelf<usize>> = shelves.collect::<Result<_, MeasureError>>()?;
    // Sums of metres may pass what is there by rounding alone.
    let need = Length::metres((takes_m - SLACK).max(0.0))?;
    let found = cover(need, &shelves, None).into_iter().next();
    let mut open = takes_m;
    let mut shares = Vec::new();
    for (lot, holds) in found.into_iter().flat_map(|found| found.lots) {
        let takes_m = holds.as_metres().min(open);
        open -= takes_m;
        if let Some(left) = left.get_mut(lot) {
            *left -= takes_m;
        }
        shares.push(LotShare { lot, takes_m });
    }
    Ok(shares)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lots(shares: &[Vec<LotShare>]) -> Vec<Vec<usize>> {
        let shares = shares.iter();
        shares
            .map(|role| role.iter().map(|share| share.lot).collect())
            .collect()
    }

    #[test]
    fn one_lot_that_is_enough_comes_before_several() {
        let shares = share_lots(&[300.0], &[100.0, 200.0, 310.0]).unwrap();
        assert_eq!(lots(&shares), [[2]]);
    }

    #[test]
    fn the_order_in_which_fewest_lots_are_used_is_found() {
        // The smaller of the two takes the lot that is just enough for it.
        let shares = share_lots(&[250.0, 240.0], &[240.0, 260.0]).unwrap();
        assert_eq!(lots(&shares), [[1], [0]]);
    }

    #[test]
    fn what_one_leaves_of_a_lot_the_next_takes() {
        let shares = share_lots(&[80.0, 60.0], &[100.0, 40.0]).unwrap();
        let taken: f64 = shares.iter().flatten().map(|share| share.takes_m).sum();
        assert!((taken - 140.0).abs() < 1e-9);
        assert_eq!(shares.iter().flatten().count(), 3);
    }

    proptest! {
        #[test]
        fn prop_every_role_gets_all_and_no_lot_gives_more_than_it_holds(
            holds in prop::collection::vec(1.0..500.0_f64, 1..6),
            parts in prop::collection::vec(0.05..1.0_f64, 1..7),
        ) {
            let all: f64 = holds.iter().sum();
            let sum: f64 = parts.iter().sum();
            let takes: Vec<f64> = parts.iter().map(|part| part / sum * all).collect();
            let shares = share_lots(&takes, &holds).unwrap();
            for (takes, shares) in takes.iter().zip(&shares) {
                let taken: f64 = shares.iter().map(|share| share.takes_m).sum();
                prop_assert!((taken - takes).abs() < 1e-4, "{taken} of {takes}");
            }
            for (lot, holds) in holds.iter().enumerate() {
                let given = shares.iter().flatten().filter(|share| share.lot == lot);
                let given: f64 = given.map(|share| share.takes_m).sum();
                prop_assert!(given <= holds + 1e-9, "{given} of {holds}");
            }
        }
    }
}
