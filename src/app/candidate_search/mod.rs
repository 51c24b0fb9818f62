//! The best yarns for a role, of the catalogue or of the stash: by verdict, then of the
//! stash whether it covers the need, then overall departure, then those still made,
//! then folded maker and name.

mod blend_groups;
mod catalogue;
mod eligible;
pub(in crate::app) mod held_together;
mod scan_plan;
mod shortlist;

use super::{
    AppError, Source,
    question::{
        ResolvedQuestion, Role,
        amounts::{SizePurchase, purchases},
        answer::{Working, best_plan, judged},
        candidate::Candidate,
        cover::{Allotted, SizeCover, size_covers},
        lookup::candidate_of,
        wishes::{LeftOutReason, UnmetWish},
    },
};
use crate::{
    matching::{Best, Exclusion, FibreLimits, Judgement},
    record::{Blend, Id, Yarn, YarnFacts},
    store::{NameKeys, Reader, name_key},
};

/// The yarns among which the best are looked for.
pub(super) struct CandidateSource<'a> {
    pub(super) reader: &'a Reader<'a>,
    pub(super) from: Source,
    /// Whether reserved yarn counts as there.
    pub(super) with_reserved: bool,
    /// How many are wanted.
    pub(super) top: usize,
    /// Which yarns come into question.
    pub(super) meant: &'a dyn Fn(&Yarn) -> bool,
}

/// The best yarns, their judgements, and how many were judged in full.
pub(super) struct Nearest {
    /// Those with a length per mass.
    pub(super) with_grist: Vec<(Id<Yarn>, Judgement)>,
    /// Those without.
    pub(super) without_grist: Vec<(Id<Yarn>, Judgement)>,
    pub(super) judged: u64,
    /// Those that are not what the asker will have.
    pub(super) left_out: LeftOut,
}

/// How many yarns were left out, by reason.
#[derive(Debug, Default)]
pub(super) struct LeftOut(Vec<(LeftOutReason, u64)>);

impl LeftOut {
    fn add(&mut self, why: Option<LeftOutReason>, yarns: u64) {
        let Some(why) = why.filter(|_| yarns > 0) else {
            return;
        };
        match self.0.iter_mut().find(|(known, _)| *known == why) {
            Some((_, count)) => *count = count.saturating_add(yarns),
            None => self.0.push((why, yarns)),
        }
    }

    fn add_all(&mut self, other: Self) {
        for (why, yarns) in other.0 {
            self.add(Some(why), yarns);
        }
    }

    /// How many in all.
    pub(super) fn count(&self) -> u64 {
        self.0.iter().map(|(_, yarns)| yarns).sum()
    }

    /// What an answer says of it: the commonest reason first.
    pub(super) fn working(mut self) -> Option<Working> {
        self.0.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
        (!self.0.is_empty()).then_some(Working::LeftOut(self.0))
    }
}

impl CandidateSource<'_> {
    /// The best for a role.
    /// What of the stash is `allotted` to roles before does not cover this one.
    pub(super) fn best(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
        allotted: &Allotted,
    ) -> Result<Nearest, AppError> {
        match self.from {
            Source::Catalogue if !asked.wishes.is_of_stash() => {
                catalogue::nearest(self, asked, role)
            }
            Source::Catalogue | Source::Stash => self.of_stash(asked, role, allotted),
        }
    }

    /// A yarn with its swatches, and those of its lots that are meant.
    pub(super) fn candidate(
        &self,
        asked: &ResolvedQuestion,
        id: Id<Yarn>,
    ) -> Result<Candidate, AppError> {
        let yarn = self.reader.yarn(id)?;
        let mut candidate = candidate_of(self.reader, yarn, self.with_reserved)?;
        // Without a lot that is meant it is one to buy.
        let _ = asked.wishes.keep_lots(&mut candidate);
        Ok(candidate)
    }

    /// Every yarn of which something may be used is judged.
    fn of_stash(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
        allotted: &Allotted,
    ) -> Result<Nearest, AppError> {
        let (mut with, mut without) = (Best::new(self.top), Best::new(self.top));
        let (mut count, mut left_out) = (0, LeftOut::default());
        for id in self.reader.yarns_in_stock()? {
            let yarn = self.reader.yarn(id)?;
            if !(self.meant)(&yarn.record) {
                continue;
            }
            let order = tie_order(&yarn.record);
            let mut candidate = candidate_of(self.reader, yarn, self.with_reserved)?;
            if candidate.lots.is_empty() {
                continue;
            }
            let excluded = asked.settings.limits.exclusion(blend_of(&candidate.facts));
            let excluded = excluded.map(LeftOutReason::Fibre);
            let lots = || {
                asked
                    .wishes
                    .keep_lots(&mut candidate)
                    .map(LeftOutReason::Wish)
            };
            if let Some(why) = excluded.or_else(lots) {
                left_out.add(Some(why), 1);
                continue;
            }
            let judgement = judged(asked, role, &candidate, 1);
            let stock = OfStock::new((asked, allotted), role, &candidate, &judgement)?;
            if let Some(why) = stock.unmet(asked, &candidate) {
                left_out.add(Some(LeftOutReason::Wish(why)), 1);
                continue;
            }
            count += 1;
            let best = match candidate.facts.grist() {
                Some(_) => &mut with,
                None => &mut without,
            };
            let covers = self.from == Source::Catalogue || stock.covers(role);
            best.offer_of_stock(id, order, judgement, covers);
        }
        if self.from == Source::Catalogue {
            let others = self.reader.count_yarns()?;
            let others = others.saturating_sub(count + left_out.count());
            left_out.add(Some(LeftOutReason::Wish(UnmetWish::NotInStash)), others);
        }
        Ok(Nearest {
            with_grist: with.in_order(),
            without_grist: without.in_order(),
            judged: count,
            left_out,
        })
    }
}

fn blend_of(facts: &YarnFacts) -> Option<&Blend> {
    facts.blend.as_ref().map(|printed| &printed.value)
}

fn exclusion(limits: &FibreLimits, yarn: &Yarn) -> Option<Exclusion> {
    limits.exclusion(blend_of(&yarn.facts))
}

/// What a candidate takes, and what the stash has of that.
struct OfStock {
    skeins: Vec<SizePurchase>,
    covers: Vec<SizeCover>,
}

impl OfStock {
    fn new(
        (asked, allotted): (&ResolvedQuestion, &Allotted),
        role: &Role,
        candidate: &Candidate,
        judgement: &Judgement,
    ) -> Result<Self, AppError> {
        let skeins = purchases(asked, role, candidate, best_plan(judgement, 1))?;
        let covers = size_covers(candidate, &skeins, allotted)?;
        Ok(Self { skeins, covers })
    }

    /// Whether it covers all that is asked about: so where no need is stated, not so
    /// where nobody knows how far a skein goes.
    fn covers(&self, role: &Role) -> bool {
        let is_enough = self.covers.iter().all(|cover| cover.cover.covers());
        is_enough && (role.needs.is_empty() || !self.covers.is_empty())
    }

    fn unmet(&self, asked: &ResolvedQuestion, candidate: &Candidate) -> Option<UnmetWish> {
        let wishes = &asked.wishes;
        let amount = wishes.unmet_amount(candidate, &self.skeins, &self.covers);
        amount.or_else(|| wishes.unmet_cost(candidate.price(), &self.skeins))
    }
}

/// What decides between yarns that are as good: those that are still made first, then
/// the name as the records keep it.
type TieOrder = (bool, NameKeys);

fn tie_order(yarn: &Yarn) -> TieOrder {
    let name = (name_key(yarn.maker.as_str()), name_key(yarn.name.as_str()));
    (yarn.discontinued, name)
}

/// The first place among equals that a yarn of this name may have.
fn first_of_name(name: NameKeys) -> TieOrder {
    (false, name)
}
