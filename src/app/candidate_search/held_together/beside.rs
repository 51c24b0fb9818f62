//! The best yarns in place of one of those that a pattern holds together, each judged as
//! the strand of it and the pattern's other yarns. There are as many strands as yarns, so
//! each is looked at, by a few sums.

use super::{Strand, StrandQuestion, StrandSearch, ends::Ends};
use crate::{
    app::{
        AppError,
        candidate_search::{CandidateSource, LeftOut, Nearest},
        question::{
            ResolvedQuestion, Role,
            answer::{CandidateAnswer, best_plan},
            candidate::Candidate,
            cover::Allotted,
            lookup::own_yarn,
        },
    },
    matching::{Bounds, Judgement, StrandPart, Verdict},
    record::{Id, Yarn},
    store::{KeptSwatch, Reader},
};
use std::collections::HashSet;

/// One of the yarns that a role holds together, and the pattern's own others.
#[derive(Debug, Clone)]
pub(in crate::app) struct Beside {
    /// Place of the one among all.
    pub(super) place: usize,
    /// Strands of it.
    strands: u8,
    /// The others, each once for each of its strands.
    others: Vec<Candidate>,
}

impl Beside {
    /// Of a role that asks about one of the yarns that it holds together; nothing where the
    /// length per mass of the strand is not known, so that nothing is to be compared.
    pub(in crate::app) fn of(
        (reader, with_reserved): (&Reader<'_>, bool),
        role: &Role,
    ) -> Result<Option<Self>, AppError> {
        let Some(place) = role
            .only_end
            .filter(|_| role.wanted.facts.grist().is_some())
        else {
            return Ok(None);
        };
        let mut others = Vec::new();
        for (other, end) in role.ends.iter().enumerate() {
            if other != place {
                let own = own_yarn(Some(reader), end, with_reserved)?;
                let own = own.in_place_of(other);
                others.extend(std::iter::repeat_n(own, usize::from(end.wanted.strands)));
            }
        }
        let is_known = others.iter().all(|other| other.facts.grist().is_some());
        let strands = role.each_yarn().first().map_or(1, |end| end.wanted.strands);
        Ok(is_known.then_some(Self {
            place,
            strands,
            others,
        }))
    }

    /// The strand of a yarn and the others, in the order of the pattern.
    pub(in crate::app) fn strand(&self, yarn: Candidate) -> Candidate {
        let yarn = yarn.in_place_of(self.place);
        let own = std::iter::repeat_n(yarn, usize::from(self.strands));
        let mut all: Vec<Candidate> = own.chain(self.others.iter().cloned()).collect();
        all.sort_by_key(|end| end.stands_for);
        Candidate::held_together(all)
    }

    /// Names of the others, each once.
    pub(in crate::app) fn titles(&self) -> Vec<String> {
        let titles = self.others.iter().map(|other| other.title.clone());
        let mut titles: Vec<String> = titles.collect();
        titles.dedup();
        titles
    }

    /// Of an answer about a strand what is said of the one yarn.
    pub(in crate::app) fn own(&self, answer: CandidateAnswer) -> CandidateAnswer {
        // Where it is one of the others too, it stands for both.
        let own = |end: &&CandidateAnswer| {
            let of = end.candidate.stands_for;
            of.is_none_or(|of| of == self.place)
        };
        let found = answer.ends.iter().find(own).cloned();
        found.unwrap_or(answer)
    }

    fn parts(&self, bounds: &Bounds<'_>) -> Vec<StrandPart> {
        let parts = self.others.iter().filter_map(|other| {
            let facts = &other.facts;
            let built = facts.construction.as_ref().map(|printed| printed.value);
            let care = facts.care.as_ref().map(|printed| printed.value);
            let blend = facts.blend.as_ref().map(|printed| &printed.value);
            Some(StrandPart {
                mass: 1.0 / facts.grist()?.as_metres_per_gram(),
                blend: bounds.strand_blend(blend),
                finish: bounds.strand_finish(built, care),
            })
        });
        parts.collect()
    }
}

impl CandidateSource<'_> {
    /// The best in place of the yarn that the role asks about.
    pub(in crate::app) fn best_beside(
        &self,
        question: StrandQuestion<'_>,
        beside: &Beside,
    ) -> Result<Nearest, AppError> {
        let bounds = Bounds::new(&question.role.wanted, &question.asked.settings, false);
        let question = StrandQuestion {
            count: usize::from(beside.strands),
            ..question
        };
        let mut ends = Ends::of(self, question, &bounds)?;
        let (judged, left_out) = ends.counts(self, self.is_of_stash(question))?;
        let mut search = StrandSearch::new(self, question);
        search.beside = Some(beside);
        search.look_beside(beside, &ends, &bounds)?;
        let best = search.best.in_order().into_iter();
        let best = best.filter_map(|(ids, judgement)| Some((*ids.first()?, judgement)));
        Ok(Nearest {
            with_grist: best.collect(),
            without_grist: Vec::new(),
            judged,
            left_out,
        })
    }

    /// What a yarn in that place comes to: what it takes itself, judged with the others.
    pub(in crate::app) fn answer_beside(
        &self,
        question: StrandQuestion<'_>,
        beside: &Beside,
        (id, judgement): (Id<Yarn>, Judgement),
    ) -> Result<CandidateAnswer, AppError> {
        let (asked, role) = (question.asked, question.role);
        let plan = best_plan(&judgement, 1);
        let strand = beside.strand(self.candidate(asked, id)?);
        let judged = (judgement, plan);
        let answer = CandidateAnswer::new(asked, role, strand, judged, question.allotted)?;
        Ok(beside.own(answer))
    }

    /// The best that should or could work for a role, in place of the yarn that it asks
    /// about; and how many were left out.
    pub(in crate::app) fn best_usable(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
    ) -> Result<(Vec<CandidateAnswer>, LeftOut), AppError> {
        let allotted = &Allotted::default();
        let beside = Beside::of((self.reader, self.with_reserved), role)?;
        let question = StrandQuestion {
            asked,
            role,
            allotted,
            count: 1,
        };
        let found = match &beside {
            Some(beside) => self.best_beside(question, beside)?,
            None => self.best(asked, role.alone(), allotted)?,
        };
        let each = found.with_grist.into_iter().chain(found.without_grist);
        let works = each.filter(|(_, judgement)| judgement.verdict <= Verdict::CouldWork);
        let answers = works.take(self.top).map(|(id, judgement)| {
            if let Some(beside) = &beside {
                return self.answer_beside(question, beside, (id, judgement));
            }
            let judged = (judgement.clone(), best_plan(&judgement, 1));
            let candidate = self.candidate(asked, id)?;
            CandidateAnswer::new(asked, role.alone(), candidate, judged, allotted)
        });
        Ok((answers.collect::<Result<_, _>>()?, found.left_out))
    }
}

impl StrandSearch<'_> {
    fn look_beside(
        &mut self,
        beside: &Beside,
        ends: &Ends,
        bounds: &Bounds<'_>,
    ) -> Result<(), AppError> {
        // A swatch of a strand may do better than any bound tells.
        let kept = self.source.reader.swatches_of_strands()?;
        let kept = kept.iter().flat_map(KeptSwatch::strand);
        let swatched: HashSet<i64> = ends.of_these(kept.map(Id::number));
        let others = beside.parts(bounds);
        let strands = usize::from(beside.strands);
        for (part, end) in ends.all() {
            let strand = Strand::one(end.id);
            if swatched.contains(&end.id.number()) {
                self.judge(strand)?;
                continue;
            }
            let own = std::iter::repeat_n(part, strands);
            let parts: Vec<StrandPart> = others.iter().copied().chain(own).collect();
            self.add((bounds.of_strand(&parts), end.enough >= strands, strand))?;
        }
        self.judge_pending()
    }
}
