//! What the lots of a candidate do for the needs of one role.

use super::{
    amounts::SizePurchase,
    candidate::{Candidate, StockLot},
};
use crate::{
    app::AppError,
    measure::Length,
    quantity::{Cover, Purchase, Shelf, cover},
    record::Lot,
};

/// What the lots of one shade do for one size.
#[derive(Debug, Clone)]
pub struct SizeCover {
    /// The size.
    pub size: String,
    /// Roles that are given of this shade before; the lots hold what those leave.
    pub after: Vec<String>,
    /// The shade, its lots, and what is left over or missing.
    pub cover: Cover<StockLot>,
    /// How many other shades have enough too.
    pub others: usize,
}

/// What of the stash the roles before have been given, for each size by itself: no
/// skein is promised to two roles of one size.
#[derive(Debug, Clone, Default)]
pub(in crate::app) struct Allotted(Vec<Share>);

/// What one role has been given of one lot.
#[derive(Debug, Clone)]
struct Share {
    size: String,
    role: String,
    yarn: String,
    lot: Lot,
    metres: f64,
}

impl Allotted {
    /// Gives a role what `covers` say: of their lots in order, until its need is met.
    pub(in crate::app) fn give(&mut self, role: &str, yarn: &str, covers: &[SizeCover]) {
        for found in covers {
            let sum: f64 = found.cover.lots.iter().map(|(_, m)| m.as_metres()).sum();
            let mut open = sum - found.cover.left_over_m.unwrap_or(0.0);
            for (held, length) in &found.cover.lots {
                let metres = length.as_metres().min(open);
                open -= metres;
                self.0.push(Share {
                    size: found.size.clone(),
                    role: role.to_owned(),
                    yarn: yarn.to_owned(),
                    lot: held.lot.clone(),
                    metres,
                });
            }
        }
    }

    /// Shares of this yarn in this size.
    fn of<'a>(&'a self, yarn: &'a str, size: &'a str) -> impl Iterator<Item = &'a Share> {
        let shares = self.0.iter();
        shares.filter(move |share| share.yarn == yarn && share.size == size)
    }

    fn has_shade(&self, (yarn, size): (&str, &str), shade: &str) -> bool {
        self.of(yarn, size).any(|share| share.lot.shade == shade)
    }

    /// What has been given of this lot, m.
    fn of_lot(&self, (yarn, size): (&str, &str), lot: &Lot) -> f64 {
        let shares = self.of(yarn, size).filter(|share| share.lot == *lot);
        shares.map(|share| share.metres).sum()
    }

    /// The roles that have been given of this shade, in order.
    fn roles(&self, (yarn, size): (&str, &str), shade: &str) -> Vec<String> {
        let shares = self.of(yarn, size).filter(|share| share.lot.shade == shade);
        let mut roles: Vec<String> = shares.map(|share| share.role.clone()).collect();
        roles.dedup();
        roles
    }
}

/// One for each size: the best shade that no role before it has been given, else
/// what such a role leaves.
pub(in crate::app) fn size_covers(
    candidate: &Candidate,
    purchases: &[SizePurchase],
    allotted: &Allotted,
) -> Result<Vec<SizeCover>, AppError> {
    let mut found = Vec::new();
    for bought in purchases {
        let need = with_margin(&bought.purchase)?;
        let place = (candidate.title.as_str(), bought.size.as_str());
        let shelves = shelves(candidate, allotted, place);
        let mut covers = cover(need, &shelves, Some(bought.purchase.skein)).into_iter();
        if let Some(best) = covers.next() {
            found.push(SizeCover {
                size: bought.size.clone(),
                after: allotted.roles(place, &best.shade),
                cover: with_lots(best, candidate),
                others: covers.filter(Cover::covers).count(),
            });
        }
    }
    Ok(found)
}

/// Strand metres of one size with the margin.
pub(in crate::app) fn with_margin(bought: &Purchase) -> Result<Length, AppError> {
    let metres = bought.need.buy_for.as_metres();
    Ok(Length::metres(
        metres * (1.0 + bought.margin.as_fraction()),
    )?)
}

/// The lots of shades that are not in use yet, where there are any; else all of them,
/// less what has been given.
fn shelves(candidate: &Candidate, allotted: &Allotted, place: (&str, &str)) -> Vec<Shelf<usize>> {
    let lots = candidate.lots.iter().enumerate();
    let shelf = |(key, held): (usize, &StockLot)| {
        let given = allotted.of_lot(place, &held.lot);
        let left = held.length(&candidate.facts)?.as_metres() - given;
        Some(Shelf {
            key,
            shade: held.lot.shade.clone(),
            holds: Length::metres(left.max(0.0)).ok()?,
        })
    };
    let all: Vec<Shelf<usize>> = lots.filter_map(shelf).collect();
    let is_new = |shelf: &&Shelf<usize>| !allotted.has_shade(place, &shelf.shade);
    let new: Vec<Shelf<usize>> = all.iter().filter(is_new).cloned().collect();
    if new.is_empty() { all } else { new }
}

fn with_lots(best: Cover<usize>, candidate: &Candidate) -> Cover<StockLot> {
    let lots = best.lots.into_iter();
    let lots = lots.filter_map(|(key, length)| Some((candidate.lots.get(key)?.clone(), length)));
    Cover {
        lots: lots.collect(),
        shade: best.shade,
        left_over_m: best.left_over_m,
        missing_m: best.missing_m,
        missing_skeins: best.missing_skeins,
    }
}
