//! The best strands of two yarns, or of three of the stash, held together. A yarn counts
//! beside itself too, as two strands of it, and nothing comes twice that differs in order
//! alone. Only yarns whose length per mass is known come into question, since of no other
//! strand anything can be said.
//!
//! Every strand is judged by the one function that judges `check`; `walk` tells which of
//! them have no place among the best, so that few are judged. The answer is that of
//! judging all (`tests`).

mod beside;
mod ends;
#[cfg(test)]
mod tests;
mod walk;

use super::{CandidateSource, LeftOut, TieOrder, tie_order};
use crate::{
    app::{
        AppError, Source,
        question::{
            ResolvedQuestion, Role,
            amounts::{KnittingPlan, SizePurchase, purchases},
            answer::{best_plan, judged},
            candidate::Candidate,
            cover::{Allotted, SizeCover, size_covers},
        },
    },
    matching::{AtBest, Best, Bounds, Judgement},
    record::{Id, Yarn},
    store::{KeptSwatch, NameKeys},
};
pub(in crate::app) use beside::Beside;
use ends::Ends;
use std::collections::{HashMap, HashSet};

/// The best strands, and of how many yarns they were made.
pub(in crate::app) struct NearestStrands {
    /// The yarns of each strand, and how it is judged.
    pub(in crate::app) best: Vec<(Vec<Id<Yarn>>, Judgement)>,
    /// Yarns that come into question.
    pub(in crate::app) yarns: u64,
    pub(in crate::app) left_out: LeftOut,
}

/// What is asked of strands.
#[derive(Clone, Copy)]
pub(in crate::app) struct StrandQuestion<'a> {
    pub(in crate::app) asked: &'a ResolvedQuestion,
    pub(in crate::app) role: &'a Role,
    /// What of the stash is given to roles before.
    pub(in crate::app) allotted: &'a Allotted,
    /// How many yarns are held together: 2 or 3.
    pub(in crate::app) count: usize,
}

impl CandidateSource<'_> {
    /// The best strands for a role.
    pub(in crate::app) fn best_strands(
        &self,
        question: StrandQuestion<'_>,
    ) -> Result<NearestStrands, AppError> {
        let bounds = Bounds::new(&question.role.wanted, &question.asked.settings, false);
        let is_of_stash = self.is_of_stash(question);
        let mut ends = Ends::of(self, question, &bounds)?;
        let (yarns, left_out) = ends.counts(self, is_of_stash)?;
        let mut search = StrandSearch::new(self, question);
        search.judge_swatched(&ends)?;
        if is_of_stash {
            search.combine(&ends, &bounds)?;
        } else {
            search.walk(&ends.by_blend(), &bounds)?;
        }
        Ok(NearestStrands {
            best: search.best.in_order(),
            yarns,
            left_out,
        })
    }

    /// Whether only what there is counts.
    fn is_of_stash(&self, question: StrandQuestion<'_>) -> bool {
        self.from == Source::Stash || question.asked.wishes.is_of_stash()
    }

    /// A strand of these yarns, with what the stash has of each.
    pub(in crate::app) fn strand(
        &self,
        asked: &ResolvedQuestion,
        ids: &[Id<Yarn>],
    ) -> Result<Candidate, AppError> {
        let ends = ids.iter().map(|id| self.candidate(asked, *id));
        Ok(Candidate::held_together(ends.collect::<Result<_, _>>()?))
    }
}

/// A strand that may have a place: what it does at best, whether the stash may cover it,
/// and its yarns.
type Pending = (AtBest, bool, Strand);

/// Numbers of the yarns of a strand, in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Strand(i64, Option<i64>, Option<i64>);

impl Strand {
    fn pair(one: Id<Yarn>, other: Id<Yarn>) -> Self {
        let (one, other) = (one.number(), other.number());
        Self(one.min(other), Some(one.max(other)), None)
    }

    /// Of one beside yarns that are the same in all.
    fn one(yarn: Id<Yarn>) -> Self {
        Self(yarn.number(), None, None)
    }

    fn three(mut yarns: [Id<Yarn>; 3]) -> Self {
        yarns.sort();
        let [one, two, three] = yarns.map(Id::number);
        Self(one, Some(two), Some(three))
    }

    /// Of two yarns, or of three; of any other number there is none.
    fn of(yarns: &[Id<Yarn>]) -> Option<Self> {
        match yarns {
            [one, other] => Some(Self::pair(*one, *other)),
            [one, two, three] => Some(Self::three([*one, *two, *three])),
            _ => None,
        }
    }

    fn numbers(self) -> impl Iterator<Item = i64> {
        [Some(self.0), self.1, self.2].into_iter().flatten()
    }
}

/// Strands to judge later are judged at the latest when there are so many.
const PENDING: usize = 16_000;

/// Yarns that stay in memory once read.
const READ: usize = 10_000;

/// A yarn to judge, and what decides between equals.
type ReadYarn = (Candidate, TieOrder);

/// One yarn of a strand.
type StrandEnd = (Id<Yarn>, ReadYarn);

struct StrandSearch<'a> {
    source: &'a CandidateSource<'a>,
    question: StrandQuestion<'a>,
    /// The yarns that are in every strand, where only one is looked for.
    beside: Option<&'a Beside>,
    best: Best<Vec<Id<Yarn>>, (bool, Vec<NameKeys>)>,
    pending: Vec<Pending>,
    /// Strands judged before the walk: those with swatches of their own, which may do
    /// better than any bound tells, and some that show what the best are like.
    judged: HashSet<Strand>,
    /// Yarns that were read; none where a number is not that of a yarn that is meant.
    read: HashMap<i64, Option<ReadYarn>>,
}

impl<'a> StrandSearch<'a> {
    fn new(source: &'a CandidateSource<'a>, question: StrandQuestion<'a>) -> Self {
        Self {
            source,
            question,
            beside: None,
            best: Best::new(source.top),
            pending: Vec::new(),
            judged: HashSet::new(),
            read: HashMap::new(),
        }
    }

    /// Judges the strands of these yarns that have a swatch of their own.
    fn judge_swatched(&mut self, ends: &Ends) -> Result<(), AppError> {
        let kept = self.source.reader.swatches_of_strands()?;
        let strands = kept.iter().map(KeptSwatch::strand);
        let asked = strands.filter(|yarns| yarns.len() == self.question.count);
        let mut swatched: Vec<Strand> = asked.filter_map(|yarns| Strand::of(&yarns)).collect();
        let known = ends.of_these(swatched.iter().flat_map(|strand| strand.numbers()));
        swatched.retain(|strand| strand.numbers().all(|yarn| known.contains(&yarn)));
        for strand in swatched {
            if self.judged.insert(strand) {
                self.judge(strand)?;
            }
        }
        Ok(())
    }

    /// Keeps a strand in mind that has a place, if it does as well as it may.
    fn add(&mut self, pending: Pending) -> Result<(), AppError> {
        let (at_best, covers, strand) = pending;
        if self.best.has_no_place_of_stash(at_best, covers) || self.judged.contains(&strand) {
            return Ok(());
        }
        self.pending.push(pending);
        if self.pending.len() < PENDING {
            return Ok(());
        }
        self.judge_pending()
    }

    /// Judges what may have a place, the likeliest first.
    fn judge_pending(&mut self) -> Result<(), AppError> {
        let mut pending = std::mem::take(&mut self.pending);
        pending.sort_by_key(|(at_best, covers, strand)| {
            let (verdict, least) = at_best.order();
            (verdict, !covers, least, *strand)
        });
        for (at_best, covers, strand) in pending {
            if self.best.has_no_place_of_stash(at_best, covers) {
                break;
            }
            self.judge(strand)?;
        }
        Ok(())
    }

    fn judge(&mut self, strand: Strand) -> Result<(), AppError> {
        let Some(mut ends) = self.ends_of(strand)? else {
            return Ok(());
        };
        ends.sort_by(|(_, (_, a)), (_, (_, b))| a.1.cmp(&b.1));
        let ids = ends.iter().map(|(id, _)| *id).collect();
        let is_gone = ends.iter().any(|(_, (_, order))| order.0);
        let names = ends.iter().map(|(_, (_, order))| order.1.clone()).collect();
        let mut each = ends.into_iter().map(|(_, (candidate, _))| candidate);
        let candidate = match self.beside {
            None => Candidate::held_together(each.collect()),
            Some(beside) => each
                .next()
                .map(|yarn| beside.strand(yarn))
                .unwrap_or_default(),
        };
        let judgement = judged(self.question.asked, self.question.role, &candidate, 1);
        if let Some(covers) = self.covers_as_wished(&candidate, &judgement)? {
            let covers = covers || self.source.from == Source::Catalogue;
            let key = (is_gone, names);
            self.best.offer_of_stock(ids, key, judgement, covers);
        }
        Ok(())
    }

    fn ends_of(&mut self, strand: Strand) -> Result<Option<Vec<StrandEnd>>, AppError> {
        let mut ends = Vec::new();
        for number in strand.numbers() {
            let id = Id::new(number);
            if self.read.len() > READ {
                self.read.clear();
            }
            let read = match self.read.get(&number) {
                Some(read) => read.clone(),
                None => {
                    let read = self.read_yarn(id)?;
                    self.read.insert(number, read.clone());
                    read
                }
            };
            let Some(read) = read else { return Ok(None) };
            ends.push((id, read));
        }
        Ok(Some(ends))
    }

    fn read_yarn(&self, id: Id<Yarn>) -> Result<Option<ReadYarn>, AppError> {
        let yarn = self.source.reader.yarn_to_judge(id)?;
        let Some(yarn) = yarn.filter(|yarn| (self.source.meant)(&yarn.record)) else {
            return Ok(None);
        };
        let candidate = self.source.candidate(self.question.asked, id)?;
        Ok(Some((candidate, tie_order(&yarn.record))))
    }

    /// Whether the stash has enough of each yarn; nothing where what all of them cost, or
    /// what there is of one, is not as wished.
    fn covers_as_wished(
        &self,
        strand: &Candidate,
        judgement: &Judgement,
    ) -> Result<Option<bool>, AppError> {
        let plan = best_plan(judgement, 1);
        let wishes = &self.question.asked.wishes;
        let (mut covers, mut bought) = (true, Vec::new());
        let own = self.beside.map(|beside| beside.place);
        let is_own =
            |end: &&Candidate| own.is_none() || end.stands_for.is_none() || end.stands_for == own;
        for end in strand.ends.iter().filter(is_own) {
            let (skeins, found) = self.question.needed(end, plan)?;
            if wishes.unmet_amount(end, &skeins, &found).is_some() {
                return Ok(None);
            }
            covers &= self.question.is_enough(&found);
            bought.push((end, skeins));
        }
        let is_cheap = wishes.unmet_cost_of_each(&bought).is_none();
        Ok(is_cheap.then_some(covers))
    }
}

impl StrandQuestion<'_> {
    /// What is bought of one yarn of a strand, and what the stash has of it.
    fn needed(
        self,
        end: &Candidate,
        plan: KnittingPlan,
    ) -> Result<(Vec<SizePurchase>, Vec<SizeCover>), AppError> {
        let plan = plan.of_end(end);
        let role = self.role.of_end(end.stands_for);
        let skeins = purchases(self.asked, role, end, plan)?;
        let covers = size_covers(end, &skeins, self.allotted)?;
        Ok((skeins, covers))
    }

    /// Of how many strands of a yarn the stash has enough.
    fn strands_covered(self, end: &Candidate) -> Result<usize, AppError> {
        let end = &match self.role.only_end {
            Some(place) => end.clone().in_place_of(place),
            None => end.clone(),
        };
        let mut covered = 0;
        for strands in (1..=self.count).filter_map(|n| u8::try_from(n).ok()) {
            let plan = KnittingPlan {
                strands,
                factor: 1.0,
            };
            let (_, covers) = self.needed(end, plan)?;
            covered += usize::from(self.is_enough(&covers));
        }
        Ok(covered)
    }

    fn is_enough(self, covers: &[SizeCover]) -> bool {
        let is_enough = covers.iter().all(|cover| cover.cover.covers());
        is_enough && (self.role.needs.is_empty() || !covers.is_empty())
    }
}
