//! What a candidate takes for the needs of one role.

use super::{ResolvedQuestion, Role, candidate::Candidate};
use crate::{
    app::AppError,
    measure::{Length, Money, Ratio},
    quantity::{MassEstimate, Purchase, cost, mass_estimates, purchase, strand_need},
    record::{Classes, Need, NeedRange, Price, YarnFacts},
};

/// How a candidate is knitted: strands held, and what the need is multiplied by.
#[derive(Debug, Clone, Copy)]
pub struct KnittingPlan {
    /// Strands held together.
    pub strands: u8,
    /// What the need is multiplied by.
    pub factor: f64,
}

impl KnittingPlan {
    /// The same of one yarn of a strand, of which that may hold more strands than one.
    pub(in crate::app) fn of_end(self, end: &Candidate) -> Self {
        Self {
            strands: self.strands.saturating_mul(end.strands_held()),
            ..self
        }
    }
}

/// What to buy for one size.
#[derive(Debug, Clone)]
pub struct SizePurchase {
    /// The size.
    pub size: String,
    /// What to buy.
    pub purchase: Purchase,
    /// What it costs, where the price is known.
    pub cost: Option<Money>,
}

impl SizePurchase {
    pub(in crate::app) fn new(
        size: String,
        purchase: Purchase,
        price: Option<&Price>,
        facts: &YarnFacts,
    ) -> Self {
        let (length, mass) = (facts.skein_length(), facts.skein_mass());
        let cost = price.and_then(|price| cost(price, purchase.skeins, length, mass));
        Self {
            size,
            purchase,
            cost,
        }
    }

    /// Skeins that might do, where they are fewer.
    pub fn minimum(&self) -> Option<u32> {
        let fewest = self.purchase.fewest;
        (self.is_range() && fewest < self.purchase.skeins).then_some(fewest)
    }

    /// Whether the need is known as a range only.
    pub fn is_range(&self) -> bool {
        self.purchase.need.at_least < self.purchase.need.buy_for
    }
}

/// What to buy for one size; `None` where the length of a skein or the need in
/// metres is not known.
pub(in crate::app) fn bought(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
    place: usize,
    plan: KnittingPlan,
) -> Result<Option<Purchase>, AppError> {
    let metres = strand_metres(role, place, plan)?;
    let Some((metres, skein)) = metres.zip(candidate.facts.skein_length()) else {
        return Ok(None);
    };
    Ok(Some(purchase(metres, skein, asked.margin)?))
}

/// The strand metres of one size, nothing spare; `None` where the need in metres is not
/// known.
pub(in crate::app) fn strand_metres(
    role: &Role,
    place: usize,
    plan: KnittingPlan,
) -> Result<Option<NeedRange>, AppError> {
    let need = role.needs.get(place);
    let metres = need.and_then(|need| need.in_metres(role.wanted.facts.grist()));
    let Some(metres) = metres else {
        return Ok(None);
    };
    let strands = (role.wanted.strands, plan.strands);
    Ok(Some(strand_need(
        metres?,
        strands.0,
        strands.1,
        plan.factor,
    )?))
}

/// What to buy for every size that is asked about.
pub(in crate::app) fn purchases(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
    plan: KnittingPlan,
) -> Result<Vec<SizePurchase>, AppError> {
    let mut found = Vec::new();
    for (place, size) in asked.chosen_sizes() {
        if let Some(bought) = bought(asked, role, candidate, place, plan)? {
            let (price, facts) = (candidate.price(), &candidate.facts);
            found.push(SizePurchase::new(size.to_owned(), bought, price, facts));
        }
    }
    Ok(found)
}

/// What a need stated as a mass alone may be, by one reading of its class.
#[derive(Debug, Clone)]
pub struct SizeEstimate {
    /// The size.
    pub size: String,
    /// What it rests on, the least and the most.
    pub estimate: MassEstimate,
    /// Skeins for the least, margin included.
    pub fewest: Option<u32>,
    /// Skeins for the most, margin included.
    pub most: Option<u32>,
}

/// Estimates of a need in mass, where the reference has no length per mass but a
/// class: nothing for any other need.
pub(in crate::app) fn size_estimates(
    size: &str,
    need: &Need,
    reference: &YarnFacts,
    class: Option<&Classes>,
    (skein, margin): (Option<Length>, Ratio),
) -> Vec<SizeEstimate> {
    let (Need::Mass(mass), None, Some(class)) = (need, reference.grist(), class) else {
        return Vec::new();
    };
    let count = |metres: Option<Length>| {
        let need = NeedRange {
            at_least: metres?,
            buy_for: metres?,
        };
        let bought = purchase(need, skein?, margin).ok();
        bought.map(|bought| bought.skeins)
    };
    let found = mass_estimates(*mass, class.as_slice()).into_iter();
    found
        .map(|estimate| SizeEstimate {
            size: size.to_owned(),
            fewest: count(estimate.at_least),
            most: count(estimate.at_most),
            estimate,
        })
        .collect()
}

/// The estimates of every size that is asked about.
pub(in crate::app) fn role_estimates(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
) -> Vec<SizeEstimate> {
    let reference = &role.wanted.facts;
    let class = reference.class.as_ref().map(|class| &class.value);
    let fill = (candidate.facts.skein_length(), asked.margin);
    let needs = asked.chosen_sizes();
    let needs = needs.filter_map(|(place, size)| Some((size, role.needs.get(place)?)));
    needs
        .flat_map(|(size, need)| size_estimates(size, need, reference, class, fill))
        .collect()
}
