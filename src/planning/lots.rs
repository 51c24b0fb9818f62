//! Which lots of one shade each role takes: as few as cover it, one before several.

use super::programme::{PlanError, SLACK};
use crate::{
    measure::{Length, MeasureError},
    quantity::{Shelf, cover},
};
use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};
use ordered_float::OrderedFloat;
use std::cmp::Reverse;

/// So many roles of one shade are tried in every order; of more, the largest goes first.
const MOST_ORDERS: usize = 5;

/// Who gets less by more than this, m, does not get all.
const SHORT_M: f64 = 1e-3;

/// What a role takes of one lot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LotShare {
    /// Place of the lot among the lots.
    pub lot: usize,
    /// How much of it, m.
    pub takes_m: f64,
}

/// A role that takes of a shade.
#[derive(Debug, Clone, PartialEq)]
pub struct Taker {
    /// How much, m.
    pub takes_m: f64,
    /// Of which lots it may.
    pub lots: Vec<usize>,
}

/// Shares the lots of one shade out among roles that it is enough for, so that the
/// fewest lots are used over all of them. `holds_m` of each lot; one list of shares a
/// role, in their order.
pub fn share_lots(takers: &[Taker], holds_m: &[f64]) -> Result<Vec<Vec<LotShare>>, PlanError> {
    let mut best: Option<(bool, usize, Vec<Vec<LotShare>>)> = None;
    for order in orders(takers) {
        let shares = in_order(&order, takers, holds_m)?;
        let is_short = is_short(takers, &shares);
        let used = shares.iter().map(Vec::len).sum();
        let is_better =
            |(was_short, least, _): &(bool, usize, _)| (is_short, used) < (*was_short, *least);
        if best.as_ref().is_none_or(is_better) {
            best = Some((is_short, used, shares));
        }
    }
    match best {
        Some((true, ..)) => spread(takers, holds_m),
        best => Ok(best.map(|(.., shares)| shares).unwrap_or_default()),
    }
}

/// Whether a role gets less than it takes.
fn is_short(takers: &[Taker], shares: &[Vec<LotShare>]) -> bool {
    takers.iter().zip(shares).any(|(taker, shares)| {
        let taken: f64 = shares.iter().map(|share| share.takes_m).sum();
        taken < taker.takes_m - SHORT_M
    })
}

/// Orders of the roles worth trying, before all those of few lots first, of them the
/// largest.
fn orders(takers: &[Taker]) -> Vec<Vec<usize>> {
    let mut first: Vec<usize> = (0..takers.len()).collect();
    first.sort_by_key(|role| {
        let taker = takers.get(*role);
        taker.map(|taker| (taker.lots.len(), Reverse(OrderedFloat(taker.takes_m))))
    });
    if first.len() > MOST_ORDERS {
        return vec![first];
    }
    permutations(&first)
}

/// Any way in which every role gets what it takes.
fn spread(takers: &[Taker], holds_m: &[f64]) -> Result<Vec<Vec<LotShare>>, PlanError> {
    let mut variables = ProblemVariables::new();
    let takes = takers.iter().map(|taker| {
        let lots = taker.lots.iter();
        lots.map(|lot| (*lot, variables.add(variable().min(0.0))))
            .collect()
    });
    let takes: Vec<Vec<(usize, Variable)>> = takes.collect();
    let mut model = variables.minimise(Expression::default()).using(microlp);
    for (lot, holds) in holds_m.iter().enumerate() {
        let of_lot = takes.iter().flatten().filter(|(other, _)| *other == lot);
        let taken: Expression = of_lot.map(|(_, metres)| Expression::from(*metres)).sum();
        model.add_constraint(taken.leq(*holds));
    }
    for (taker, takes) in takers.iter().zip(&takes) {
        let taken: Expression = takes
            .iter()
            .map(|(_, metres)| Expression::from(*metres))
            .sum();
        model.add_constraint(taken.geq((taker.takes_m - SLACK).max(0.0)));
    }
    let found = model.solve()?;
    let shares = takes.iter().map(|takes| {
        let shares = takes.iter().map(|(lot, metres)| LotShare {
            lot: *lot,
            takes_m: found.value(*metres),
        });
        shares.filter(|share| share.takes_m > SLACK).collect()
    });
    Ok(shares.collect())
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
    takers: &[Taker],
    holds_m: &[f64],
) -> Result<Vec<Vec<LotShare>>, PlanError> {
    let mut left = holds_m.to_vec();
    let mut shares = vec![Vec::new(); takers.len()];
    for role in order {
        let (Some(taker), Some(share)) = (takers.get(*role), shares.get_mut(*role)) else {
            continue;
        };
        *share = take(taker, &mut left)?;
    }
    Ok(shares)
}

fn take(taker: &Taker, left: &mut [f64]) -> Result<Vec<LotShare>, PlanError> {
    let lots = taker
        .lots
        .iter()
        .filter_map(|lot| Some((*lot, *left.get(*lot)?)));
    let shelves = lots.map(|(key, holds)| {
        let holds = Length::metres(holds.max(0.0))?;
        let shade = String::new();
        Ok(Shelf { key, shade, holds })
    });
    let shelves: Vec<Shelf<usize>> = shelves.collect::<Result<_, MeasureError>>()?;
    // Sums of metres may pass what is there by rounding alone.
    let need = Length::metres((taker.takes_m - SLACK).max(0.0))?;
    let found = cover(need, &shelves, None).into_iter().next();
    let mut open = taker.takes_m;
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

    /// Roles that may take of all of so many lots.
    fn free(takes_m: &[f64], lots: usize) -> Vec<Taker> {
        let takers = takes_m.iter().map(|takes_m| Taker {
            takes_m: *takes_m,
            lots: (0..lots).collect(),
        });
        takers.collect()
    }

    fn lots(shares: &[Vec<LotShare>]) -> Vec<Vec<usize>> {
        let shares = shares.iter();
        shares
            .map(|role| role.iter().map(|share| share.lot).collect())
            .collect()
    }

    #[test]
    fn one_lot_that_is_enough_comes_before_several() {
        let shares = share_lots(&free(&[300.0], 3), &[100.0, 200.0, 310.0]).unwrap();
        assert_eq!(lots(&shares), [[2]]);
    }

    #[test]
    fn the_order_in_which_fewest_lots_are_used_is_found() {
        // The smaller of the two takes the lot that is just enough for it.
        let shares = share_lots(&free(&[250.0, 240.0], 2), &[240.0, 260.0]).unwrap();
        assert_eq!(lots(&shares), [[1], [0]]);
    }

    #[test]
    fn what_one_leaves_of_a_lot_the_next_takes() {
        let shares = share_lots(&free(&[80.0, 60.0], 2), &[100.0, 40.0]).unwrap();
        let taken: f64 = shares.iter().flatten().map(|share| share.takes_m).sum();
        assert!((taken - 140.0).abs() < 1e-9);
        assert_eq!(shares.iter().flatten().count(), 3);
    }

    #[test]
    fn who_may_take_of_one_lot_only_gets_it_from_those_who_may_take_of_others() {
        let mut takers = free(&[240.0, 200.0], 2);
        takers[1].lots = vec![0];
        let shares = share_lots(&takers, &[240.0, 260.0]).unwrap();
        assert_eq!(lots(&shares), [[1], [0]]);
    }

    /// No order gives each the fewest lots: the first takes 10 m of the lot that the
    /// second needs whole, or the second of the lot that the first does.
    #[test]
    fn parts_that_overlap_are_shared_out_where_no_order_does() {
        let taker = |takes_m, lots: &[usize]| Taker {
            takes_m,
            lots: lots.to_vec(),
        };
        let takers = [
            taker(100.0, &[0, 1]),
            taker(100.0, &[1, 2]),
            taker(100.0, &[0, 2]),
        ];
        let shares = share_lots(&takers, &[100.0, 100.0, 100.0]).unwrap();
        assert!(!is_short(&takers, &shares), "{shares:?}");
        let tight = [taker(150.0, &[0, 1]), taker(150.0, &[1, 2])];
        let shares = share_lots(&tight, &[100.0, 100.0, 100.0]).unwrap();
        assert!(!is_short(&tight, &shares), "{shares:?}");
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
            let shares = share_lots(&free(&takes, holds.len()), &holds).unwrap();
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
