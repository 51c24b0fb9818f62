//! The best yarns for a role, of the catalogue or of the stash: by verdict, then of the
//! stash whether it covers the need, then overall departure, then those still made,
//! then folded maker and name.

mod blend_groups;
mod catalogue;
mod scan_plan;
mod shortlist;

use super::{
    AppError, Source,
    question::{
        ResolvedQuestion, Role,
        amounts::purchases,
        answer::{Working, best_plan, judged},
        candidate::Candidate,
        cover::{Allotted, size_covers},
        lookup::candidate_of,
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
    /// Those that were not judged for what they hold.
    pub(super) left_out: LeftOut,
}

/// How many yarns were left out, by reason.
#[derive(Debug, Default)]
pub(super) struct LeftOut(Vec<(Exclusion, u64)>);

impl LeftOut {
    fn add(&mut self, why: Option<Exclusion>, yarns: u64) {
        let Some(why) = why else { return };
        match self.0.iter_mut().find(|(known, _)| *known == why) {
            Some((_, count)) => *count = count.saturating_add(yarns),
            None => self.0.push((why, yarns)),
        }
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
            Source::Catalogue => catalogue::nearest(self, asked, role),
            Source::Stash => self.of_stash(asked, role, allotted),
        }
    }

    /// A yarn with its swatches and lots.
    pub(super) fn candidate(&self, id: Id<Yarn>) -> Result<Candidate, AppError> {
        candidate_of(self.reader, self.reader.yarn(id)?, self.with_reserved)
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
            let candidate = candidate_of(self.reader, yarn, self.with_reserved)?;
            if candidate.lots.is_empty() {
                continue;
            }
            let excluded = asked.settings.limits.exclusion(blend_of(&candidate.facts));
            if excluded.is_some() {
                left_out.add(excluded, 1);
                continue;
            }
            count += 1;
            let judgement = judged(asked, role, &candidate, 1);
            let best = match candidate.facts.grist() {
                Some(_) => &mut with,
                None => &mut without,
            };
            let covers = covers((asked, allotted), role, &candidate, &judgement)?;
            best.offer_of_stock(id, order, judgement, covers);
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

/// Whether what is in stock covers all that is asked about: so where no need is stated,
/// not so where nobody knows how far a skein goes.
fn covers(
    (asked, allotted): (&ResolvedQuestion, &Allotted),
    role: &Role,
    candidate: &Candidate,
    judgement: &Judgement,
) -> Result<bool, AppError> {
    let plan = best_plan(judgement, 1);
    let bought = purchases(asked, role, candidate, plan)?;
    let covers = size_covers(candidate, &bought, allotted)?;
    let is_enough = covers.iter().all(|cover| cover.cover.covers());
    Ok(is_enough && (role.needs.is_empty() || !covers.is_empty()))
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
