//! The yarns of which strands are made, by kind: blend, build and washing, so far as the
//! question asks for them. Within a kind they differ in their mass per metre alone, as far
//! as a strand goes.

use super::{CandidateSource, LeftOut, StrandQuestion};
use crate::{
    app::{
        AppError,
        candidate_search::{blend_of, catalogue::left_out, eligible::Eligible},
        question::{lookup::candidate_of, wishes::LeftOutReason},
    },
    matching::{Bounds, StrandBlend, StrandPart},
    record::{Care, Id, Yarn},
    store::{BlendFilter, IndexScan, ScanRange},
    trade::Construction,
};
use std::collections::{HashMap, HashSet};

/// One yarn.
pub(super) struct End {
    pub(super) id: Id<Yarn>,
    /// Grams in a metre.
    pub(super) mass: f64,
    /// Of how many strands of it the stash has enough.
    pub(super) enough: usize,
}

/// Yarns of one kind, the lightest first.
pub(super) struct Kind {
    /// What they share; its mass is that of one of them.
    pub(super) part: StrandPart,
    pub(super) ends: Vec<End>,
}

impl Kind {
    pub(super) fn part_of(&self, end: &End) -> StrandPart {
        self.part.of_mass(end.mass)
    }
}

/// All yarns that come into question.
#[derive(Default)]
pub(super) struct Ends {
    kinds: Vec<Kind>,
    pub(super) left_out: LeftOut,
}

impl Ends {
    /// Those of the stash, or of the catalogue, as is asked.
    pub(super) fn of(
        source: &CandidateSource<'_>,
        question: StrandQuestion<'_>,
        bounds: &Bounds<'_>,
    ) -> Result<Self, AppError> {
        match source.is_of_stash(question) {
            true => Self::of_stash(source, question, bounds),
            false => Self::of_catalogue(source, question, bounds),
        }
    }

    /// Those of the stash.
    fn of_stash(
        source: &CandidateSource<'_>,
        question: StrandQuestion<'_>,
        bounds: &Bounds<'_>,
    ) -> Result<Self, AppError> {
        let asked = question.asked;
        let mut ends = Self::default();
        for id in source.reader.yarns_in_stock()? {
            let yarn = source.reader.yarn(id)?;
            if !(source.meant)(&yarn.record) {
                continue;
            }
            let mut candidate = candidate_of(source.reader, yarn, source.with_reserved)?;
            if candidate.lots.is_empty() {
                continue;
            }
            let excluded = asked.settings.limits.exclusion(blend_of(&candidate.facts));
            let lots = asked.wishes.keep_lots(&mut candidate);
            let why = excluded.map(LeftOutReason::Fibre);
            let why = why.or(lots.map(LeftOutReason::Wish));
            let facts = &candidate.facts;
            let Some(grist) = facts.grist().filter(|_| why.is_none()) else {
                let why = why.unwrap_or(LeftOutReason::LengthNotKnown);
                ends.left_out.add(Some(why), 1);
                continue;
            };
            let built = facts.construction.as_ref().map(|printed| printed.value);
            let care = facts.care.as_ref().map(|printed| printed.value);
            let kind = ends.kind_of(StrandPart {
                mass: 1.0 / grist.as_metres_per_gram(),
                blend: bounds.strand_blend(blend_of(facts)),
                finish: bounds.strand_finish(built, care),
            });
            let enough = question.strands_covered(&candidate)?;
            ends.add(kind, id, grist.as_metres_per_gram(), enough);
        }
        Ok(ends)
    }

    /// Those of the catalogue, as the index tells them.
    fn of_catalogue(
        source: &CandidateSource<'_>,
        question: StrandQuestion<'_>,
        bounds: &Bounds<'_>,
    ) -> Result<Self, AppError> {
        let (reader, asked) = (source.reader, question.asked);
        let eligible = Eligible::of(reader, asked, question.role)?;
        let limits = &asked.settings.limits;
        let mut blends: HashMap<Option<i64>, Option<StrandBlend>> = HashMap::new();
        let mut kinds: HashMap<Key, Option<usize>> = HashMap::new();
        let scan = IndexScan {
            range: ScanRange::AnyGrist,
            blends: &BlendFilter::Any,
            reaching: None,
            with_gauge: false,
        };
        let mut ends = Self::default();
        reader.scan_index(&scan, |entry| {
            let is_meant = eligible.as_ref().is_none_or(|it| it.holds(entry.yarn));
            let Some(grist) = entry.grist.filter(|_| is_meant) else {
                return Ok(());
            };
            let key = (entry.kind.blend, entry.kind.construction, entry.kind.care);
            let kind = match kinds.get(&key) {
                Some(known) => *known,
                None => {
                    let blend = match blends.get(&key.0) {
                        Some(known) => *known,
                        None => {
                            let blend = key.0.map(|number| reader.blend(number)).transpose()?;
                            let blend = blend.flatten();
                            let is_in = limits.exclusion(blend.as_ref()).is_none();
                            let counts = is_in.then(|| bounds.strand_blend(blend.as_ref()));
                            *blends.entry(key.0).insert_entry(counts).get()
                        }
                    };
                    let kind = blend.map(|blend| {
                        ends.kind_of(StrandPart {
                            mass: 1.0 / grist,
                            blend,
                            finish: bounds.strand_finish(key.1, key.2),
                        })
                    });
                    *kinds.entry(key).insert_entry(kind).get()
                }
            };
            if let Some(kind) = kind {
                ends.add(kind, entry.yarn, grist, question.count);
            }
            Ok::<_, AppError>(())
        })?;
        ends.left_out = match eligible {
            Some(eligible) => eligible.left_out,
            None => left_out(reader, limits)?,
        };
        Ok(ends)
    }

    /// The place of the kind of a yarn. Kinds between which the question does not tell are
    /// one.
    fn kind_of(&mut self, part: StrandPart) -> usize {
        let is_same =
            |kind: &Kind| (kind.part.blend, kind.part.finish) == (part.blend, part.finish);
        self.kinds.iter().position(is_same).unwrap_or_else(|| {
            let ends = Vec::new();
            self.kinds.push(Kind { part, ends });
            self.kinds.len() - 1
        })
    }

    fn add(&mut self, kind: usize, id: Id<Yarn>, grist: f64, enough: usize) {
        if let Some(kind) = self.kinds.get_mut(kind) {
            let mass = 1.0 / grist;
            kind.ends.push(End { id, mass, enough });
        }
    }

    /// How many yarns come into question, and how many were left out. The index that a
    /// catalogue is read from holds the yarns of patterns too, which are none of those.
    pub(super) fn counts(
        &mut self,
        source: &CandidateSource<'_>,
        is_of_stash: bool,
    ) -> Result<(u64, LeftOut), AppError> {
        let left_out = std::mem::take(&mut self.left_out);
        let count = match is_of_stash {
            true => {
                let count: usize = self.kinds.iter().map(|kind| kind.ends.len()).sum();
                u64::try_from(count).unwrap_or(u64::MAX)
            }
            false => source
                .reader
                .count_yarns()?
                .saturating_sub(left_out.count()),
        };
        Ok((count, left_out))
    }

    /// Those of these numbers that come into question.
    pub(super) fn of_these(&self, numbers: impl Iterator<Item = i64>) -> HashSet<i64> {
        let asked: HashSet<i64> = numbers.collect();
        let ends = self.kinds.iter().flat_map(|kind| &kind.ends);
        let known = ends.map(|end| end.id.number());
        known.filter(|number| asked.contains(number)).collect()
    }

    /// All of them, in no order.
    pub(super) fn all(&self) -> impl Iterator<Item = (StrandPart, &End)> {
        let each = |kind| move |end| (Kind::part_of(kind, end), end);
        let all = self.kinds.iter();
        all.flat_map(move |kind| kind.ends.iter().map(each(kind)))
    }

    /// The kinds of each blend.
    pub(super) fn by_blend(self) -> Vec<Vec<Kind>> {
        let mut blends: Vec<Vec<Kind>> = Vec::new();
        for mut kind in self.kinds {
            kind.ends.sort_by(|a, b| a.mass.total_cmp(&b.mass));
            let blend = kind.part.blend;
            let is_same = |kinds: &&mut Vec<Kind>| {
                kinds.first().is_some_and(|first| first.part.blend == blend)
            };
            match blends.iter_mut().find(is_same) {
                Some(kinds) => kinds.push(kind),
                None => blends.push(vec![kind]),
            }
        }
        blends
    }
}

/// Blend, build and washing.
type Key = (Option<i64>, Option<Construction>, Option<Care>);
