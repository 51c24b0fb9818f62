//! The best yarns of those looked at so far. What may have a place is kept in mind,
//! and judged in full, the likeliest first, of equals in the order of their names: so
//! of thousands that are as good only those are read that are listed. And the bounds of
//! the kinds that a search has met, remembered.

use super::{
    CandidateSource, LeftOut, TieOrder, eligible::Eligible, exclusion, first_of_name, tie_order,
};
use crate::{
    app::{
        AppError,
        question::{
            ResolvedQuestion, Role,
            amounts::purchases,
            answer::{best_plan, judged},
            candidate::Candidate,
            wishes::LeftOutReason,
        },
    },
    matching::{AtBest, Best, Bounds, Judgement, KindBound},
    record::{Care, Id, Stored, Yarn},
    store::{Kind, NameKeys, Reader},
    trade::Construction,
};
use std::{
    collections::{HashMap, HashSet},
    hash::Hash,
};

/// How many yarns are handled at a time; the answer does not depend on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Batches {
    /// Yarns to judge later.
    pub(super) pending: usize,
    /// Yarns that may all be as good, of which each name is read on its own; of more,
    /// all names are gone through in their order until enough are found.
    pub(super) tied: usize,
    /// Names that are read at a time.
    pub(super) names: u32,
    /// So many yarns are gone through whole: in ranges they would take longer.
    pub(super) few: u32,
}

pub(super) const BATCHES: Batches = Batches {
    pending: 16_000,
    tied: 1000,
    names: 500,
    few: 2000,
};

pub(super) struct Shortlist<'a> {
    source: &'a CandidateSource<'a>,
    asked: &'a ResolvedQuestion,
    role: &'a Role,
    /// Yarns that may meet what is wished for; `None` where all may.
    eligible: Option<&'a Eligible>,
    batches: Batches,
    /// Yarns with swatches, of which the index tells too little.
    swatched: HashSet<Id<Yarn>>,
    /// Yarns that were judged in the order of names.
    by_name: HashSet<Id<Yarn>>,
    best: Best<Id<Yarn>, TieOrder>,
    /// Yarns that may have a place among the best.
    pending: Vec<(AtBest, Id<Yarn>)>,
    judged: u64,
    left_out: LeftOut,
}

impl<'a> Shortlist<'a> {
    pub(super) fn new(
        (source, asked, role): (&'a CandidateSource<'a>, &'a ResolvedQuestion, &'a Role),
        eligible: Option<&'a Eligible>,
        batches: Batches,
    ) -> Result<Self, AppError> {
        Ok(Self {
            source,
            asked,
            role,
            eligible,
            batches,
            swatched: source.reader.yarns_with_swatches()?,
            by_name: HashSet::new(),
            best: Best::new(source.top),
            pending: Vec::new(),
            judged: 0,
            left_out: LeftOut::default(),
        })
    }

    /// How many yarns were judged in full, and those left out that proved too dear.
    pub(super) fn judged(self) -> (u64, LeftOut) {
        (self.judged, self.left_out)
    }

    /// The best, which leaves the list empty.
    pub(super) fn take_in_order(&mut self) -> Vec<(Id<Yarn>, Judgement)> {
        let empty = Best::new(self.source.top);
        std::mem::replace(&mut self.best, empty).in_order()
    }

    /// The worst of the best, once every place is filled.
    pub(super) fn worst(&self) -> Option<AtBest> {
        self.best.worst()
    }

    pub(super) fn has_no_place_for(&self, at_best: AtBest) -> bool {
        self.best.has_no_place_for(at_best)
    }

    /// The same of yarns of this name and later ones, of which none beats `at_best`.
    pub(super) fn has_no_place_for_name(&self, at_best: AtBest, name: &NameKeys) -> bool {
        self.best
            .has_no_place_for_key(at_best, &first_of_name(name.clone()))
    }

    /// Whether no scan has to look at a yarn: it is judged before, or not as wished.
    pub(super) fn is_out_of_question(&self, id: Id<Yarn>) -> bool {
        self.swatched.contains(&id) || self.by_name.contains(&id) || !self.may_be_meant(id)
    }

    fn may_be_meant(&self, id: Id<Yarn>) -> bool {
        self.eligible.is_none_or(|eligible| eligible.holds(id))
    }

    /// Judges all of these.
    pub(super) fn judge_all(&mut self, ids: Vec<Id<Yarn>>) -> Result<(), AppError> {
        ids.into_iter().try_for_each(|id| self.judge(id))
    }

    /// Judges one that no scan has to judge again.
    pub(super) fn judge_by_name(&mut self, id: Id<Yarn>) -> Result<(), AppError> {
        self.by_name.insert(id);
        self.judge(id)
    }

    /// Judges the yarns with swatches that have a length per mass, or those that have
    /// none.
    pub(super) fn judge_swatched(&mut self, with_grist: bool) -> Result<(), AppError> {
        let mut swatched: Vec<_> = self.swatched.iter().copied().collect();
        swatched.sort_by_key(|id| id.number());
        for id in swatched {
            let yarn = self.source.reader.yarn_to_judge(id)?;
            let meant = yarn.filter(|yarn| yarn.record.facts.grist().is_some() == with_grist);
            meant.map(|yarn| self.judge_yarn(yarn)).transpose()?;
        }
        Ok(())
    }

    /// Keeps a yarn in mind that has a place, if it does as well as it may.
    pub(super) fn add(&mut self, at_best: AtBest, id: Id<Yarn>) -> Result<(), AppError> {
        self.pending.push((at_best, id));
        if self.pending.len() < self.batches.pending {
            return Ok(());
        }
        self.judge_pending()
    }

    /// Judges what may have a place, the likeliest first.
    pub(super) fn judge_pending(&mut self) -> Result<(), AppError> {
        let mut pending = std::mem::take(&mut self.pending);
        pending.sort_by_key(|(at_best, id)| (at_best.order(), id.number()));
        for tied in pending.chunk_by(|(a, _), (b, _)| a == b) {
            let Some((at_best, _)) = tied.first() else {
                continue;
            };
            if self.has_no_place_for(*at_best) {
                break;
            }
            let ids = tied.iter().map(|(_, id)| *id);
            if tied.len() > self.batches.tied {
                self.judge_many_tied(*at_best, &ids.collect())?;
            } else {
                self.judge_tied(*at_best, ids)?;
            }
        }
        Ok(())
    }

    /// Judges yarns that may all be as good, in the order of their names.
    fn judge_tied(
        &mut self,
        at_best: AtBest,
        ids: impl Iterator<Item = Id<Yarn>>,
    ) -> Result<(), AppError> {
        let mut named = Vec::new();
        for id in ids {
            let name = self.source.reader.name_keys(id)?;
            named.extend(name.map(|name| (name, id)));
        }
        named.sort_by(|(a, _), (b, _)| a.cmp(b));
        for (name, id) in named {
            if self
                .best
                .has_no_place_for_key(at_best, &first_of_name(name))
            {
                break;
            }
            self.judge(id)?;
        }
        Ok(())
    }

    fn judge_many_tied(
        &mut self,
        at_best: AtBest,
        ids: &HashSet<Id<Yarn>>,
    ) -> Result<(), AppError> {
        let reader = self.source.reader;
        let mut last = NameKeys::default();
        loop {
            let names = reader.name_keys_after(&last, self.batches.names)?;
            let Some((_, end)) = names.last().cloned() else {
                return Ok(());
            };
            for (id, name) in names {
                if self
                    .best
                    .has_no_place_for_key(at_best, &first_of_name(name))
                {
                    return Ok(());
                }
                if ids.contains(&id) {
                    self.judge(id)?;
                }
            }
            last = end;
        }
    }

    fn judge(&mut self, id: Id<Yarn>) -> Result<(), AppError> {
        let yarn = self.source.reader.yarn_to_judge(id)?;
        yarn.map_or(Ok(()), |yarn| self.judge_yarn(yarn))
    }

    fn judge_yarn(&mut self, yarn: Stored<Yarn>) -> Result<(), AppError> {
        let limits = &self.asked.settings.limits;
        let is_meant = self.may_be_meant(yarn.id) && (self.source.meant)(&yarn.record);
        if !is_meant || exclusion(limits, &yarn.record).is_some() {
            return Ok(());
        }
        let order = tie_order(&yarn.record);
        let mut candidate = Candidate {
            facts: yarn.record.facts,
            ..Candidate::default()
        };
        if self.swatched.contains(&yarn.id) {
            let swatches = self.source.reader.swatches_of(yarn.id)?;
            candidate.swatches = swatches.into_iter().map(|kept| kept.record).collect();
        }
        let judgement = judged(self.asked, self.role, &candidate, 1);
        if self.asked.wishes.max_cost.is_some() {
            let plan = best_plan(&judgement, 1);
            let skeins = purchases(self.asked, self.role, &candidate, plan)?;
            let dear = self.asked.wishes.unmet_cost(candidate.price(), &skeins);
            if let Some(why) = dear {
                self.left_out.add(Some(LeftOutReason::Wish(why)), 1);
                return Ok(());
            }
        }
        self.best.offer(yarn.id, order, judgement);
        self.judged += 1;
        Ok(())
    }
}

/// Parts of kinds that are remembered; more are computed anew.
const MOST: usize = 50_000;

/// Bounds of the parts of kinds, of which there are far fewer than of whole kinds.
#[derive(Default)]
pub(super) struct KindBounds {
    classes: HashMap<Option<u8>, KindBound>,
    constructions: HashMap<Option<Construction>, KindBound>,
    fibres: HashMap<(Option<i64>, Option<Care>), KindBound>,
}

impl KindBounds {
    /// The bound of a kind, as `bounds` compute it.
    pub(super) fn of(
        &mut self,
        kind: Kind,
        bounds: &Bounds<'_>,
        reader: &Reader<'_>,
    ) -> Result<KindBound, AppError> {
        let class = || Ok(bounds.of_class(kind.class()));
        let built = || Ok(bounds.of_construction(kind.construction));
        let fibre = || {
            let blend = kind.blend.map(|number| reader.blend(number)).transpose()?;
            Ok(bounds.of_fibre(blend.flatten(), kind.care))
        };
        Ok(remembered(&mut self.classes, kind.classes, class)?
            .with(&remembered(
                &mut self.constructions,
                kind.construction,
                built,
            )?)
            .with(&remembered(
                &mut self.fibres,
                (kind.blend, kind.care),
                fibre,
            )?))
    }
}

fn remembered<K: Hash + Eq>(
    known: &mut HashMap<K, KindBound>,
    key: K,
    compute: impl FnOnce() -> Result<KindBound, AppError>,
) -> Result<KindBound, AppError> {
    if let Some(bound) = known.get(&key) {
        return Ok(*bound);
    }
    let bound = compute()?;
    if known.len() < MOST {
        known.insert(key, bound);
    }
    Ok(bound)
}
