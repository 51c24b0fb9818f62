//! What the lots of a candidate do for the needs of one role.

use super::{
    amounts::SizePurchase,
    candidate::{Candidate, StockLot},
};
use crate::{
    app::AppError,
    measure::Length,
    quantity::{Cover, Purchase, Shelf, cover},
};

/// What the lots of one shade do for one size.
#[derive(Debug, Clone)]
pub struct SizeCover {
    /// The size.
    pub size: String,
    /// The shade, its lots, and what is left over or missing.
    pub cover: Cover<StockLot>,
    /// How many other shades would do too.
    pub others: usize,
}

/// One for each size: the best shade that no role before it has taken.
pub(in crate::app) fn size_covers(
    candidate: &Candidate,
    purchases: &[SizePurchase],
    taken: &[String],
) -> Result<Vec<SizeCover>, AppError> {
    let mut found = Vec::new();
    let shelves = shelves(candidate, taken);
    for bought in purchases {
        let need = with_margin(&bought.purchase)?;
        let mut covers = cover(need, &shelves, Some(bought.purchase.skein)).into_iter();
        if let Some(best) = covers.next() {
            found.push(SizeCover {
                size: bought.size.clone(),
                cover: with_lots(best, candidate),
                others: covers.filter(Cover::covers).count(),
            });
        }
    }
    Ok(found)
}

/// Strand metres of one size with the margin.
fn with_margin(bought: &Purchase) -> Result<Length, AppError> {
    let metres = bought.need.buy_for.as_metres();
    Ok(Length::metres(
        metres * (1.0 + bought.margin.as_fraction()),
    )?)
}

fn shelves(candidate: &Candidate, taken: &[String]) -> Vec<Shelf<usize>> {
    let lots = candidate.lots.iter().enumerate();
    lots.filter(|(_, held)| !taken.contains(&held.lot.shade))
        .filter_map(|(key, held)| {
            Some(Shelf {
                key,
                shade: held.lot.shade.clone(),
                holds: held.length(&candidate.facts)?,
            })
        })
        .collect()
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
