//! Which yarns of a catalogue may meet the wishes at all, before any is judged: by their
//! fibres and shades, and by the least they cost, held single and with the stitch counts
//! of the pattern. Those that need more strands cost more: judging them shows it.

use super::LeftOut;
use crate::{
    app::{
        AppError,
        question::{
            ResolvedQuestion, Role,
            amounts::{KnittingPlan, purchases},
            candidate::Candidate,
            wishes::{LeftOutReason, UnmetWish},
        },
    },
    matching::{Exclusion, FibreLimits},
    record::{Id, Yarn},
    store::{PricedYarn, Reader},
};
use std::collections::{HashMap, HashSet};

/// The least of a yarn that is bought for a need.
const SINGLE: KnittingPlan = KnittingPlan {
    strands: 1,
    factor: 1.0,
};

/// Yarns that may meet the wishes, and how many do not, by reason.
pub(super) struct Eligible {
    /// And whether each has a length per mass.
    yarns: HashMap<Id<Yarn>, bool>,
    pub(super) left_out: LeftOut,
}

impl Eligible {
    /// `None` where nothing is wished for but fibres.
    pub(super) fn of(
        reader: &Reader<'_>,
        asked: &ResolvedQuestion,
        role: &Role,
    ) -> Result<Option<Self>, AppError> {
        if asked.wishes.is_empty() {
            return Ok(None);
        }
        let mut eligible = Self {
            yarns: HashMap::new(),
            left_out: LeftOut::default(),
        };
        let shades = shades_meant(reader, asked)?;
        let mut fibres = Fibres::new(reader, &asked.settings.limits);
        reader.priced_yarns(|priced| {
            let fibre = fibres.exclusion(priced.blend)?.map(LeftOutReason::Fibre);
            let why = match (fibre, other_shade(asked, &shades, priced.yarn)) {
                (None, None) => unmet_cost(asked, role, &priced)?.map(LeftOutReason::Wish),
                (fibre, shade) => fibre.or(shade),
            };
            if why.is_none() {
                let has_grist = priced.facts.grist().is_some();
                eligible.yarns.insert(priced.yarn, has_grist);
            }
            eligible.left_out.add(why, 1);
            Ok::<_, AppError>(())
        })?;
        Ok(Some(eligible))
    }

    pub(super) fn holds(&self, yarn: Id<Yarn>) -> bool {
        self.yarns.contains_key(&yarn)
    }

    /// All with a length per mass, or all without, where there are at most so many.
    pub(super) fn few(&self, most: u32, with_grist: bool) -> Option<Vec<Id<Yarn>>> {
        if u32::try_from(self.yarns.len()).is_ok_and(|count| count > most) {
            return None;
        }
        let meant = self.yarns.iter().filter(|(_, has)| **has == with_grist);
        let mut meant: Vec<Id<Yarn>> = meant.map(|(yarn, _)| *yarn).collect();
        meant.sort_by_key(|id| id.number());
        Some(meant)
    }
}

fn unmet_cost(
    asked: &ResolvedQuestion,
    role: &Role,
    priced: &PricedYarn,
) -> Result<Option<UnmetWish>, AppError> {
    let price = priced.facts.price.as_ref().map(|price| &price.value);
    let unmet = asked.wishes.unmet_price(price);
    if asked.wishes.max_cost.is_none() || unmet.is_some() {
        return Ok(unmet);
    }
    let candidate = Candidate {
        facts: priced.facts.clone(),
        ..Candidate::default()
    };
    let skeins = purchases(asked, role, &candidate, SINGLE)?;
    Ok(asked.wishes.unmet_cost(price, &skeins))
}

/// Yarns of which there is a shade that is meant; `None` where any is.
fn shades_meant(
    reader: &Reader<'_>,
    asked: &ResolvedQuestion,
) -> Result<Option<HashSet<Id<Yarn>>>, AppError> {
    if asked.wishes.shade.is_none() {
        return Ok(None);
    }
    let mut meant = HashSet::new();
    reader.shades_of_yarns(|(yarn, name, colour)| {
        let colour = colour.map(|printed| printed.value);
        if asked.wishes.is_shade_meant(&name, colour) {
            meant.insert(yarn);
        }
        Ok::<_, AppError>(())
    })?;
    Ok(Some(meant))
}

fn other_shade(
    asked: &ResolvedQuestion,
    meant: &Option<HashSet<Id<Yarn>>>,
    yarn: Id<Yarn>,
) -> Option<LeftOutReason> {
    let is_other = meant.as_ref().is_some_and(|meant| !meant.contains(&yarn));
    let words = asked.wishes.shade.clone().filter(|_| is_other)?;
    Some(LeftOutReason::Wish(UnmetWish::OtherShade(words)))
}

/// Why blends are excluded, each looked up once.
struct Fibres<'a> {
    reader: &'a Reader<'a>,
    limits: &'a FibreLimits,
    known: HashMap<Option<i64>, Option<Exclusion>>,
}

impl<'a> Fibres<'a> {
    fn new(reader: &'a Reader<'a>, limits: &'a FibreLimits) -> Self {
        Self {
            reader,
            limits,
            known: HashMap::new(),
        }
    }

    fn exclusion(&mut self, number: Option<i64>) -> Result<Option<Exclusion>, AppError> {
        if self.limits.is_empty() {
            return Ok(None);
        }
        if let Some(known) = self.known.get(&number) {
            return Ok(*known);
        }
        let blend = number.map(|number| self.reader.blend(number)).transpose()?;
        let found = self.limits.exclusion(blend.flatten().as_ref());
        self.known.insert(number, found);
        Ok(found)
    }
}
