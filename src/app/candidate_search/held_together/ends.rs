//! The yarns of which strands are made, by kind: blend, build and washing. Within a kind
//! they differ in their mass per metre alone, as far as a strand goes.

use super::{CandidateSource, LeftOut, StrandQuestion};
use crate::{
    app::{
        AppError,
        candidate_search::{blend_of, catalogue::left_out, eligible::Eligible},
        question::{amounts::KnittingPlan, lookup::candidate_of, wishes::LeftOutReason},
    },
    matching::{Bounds, StrandPart},
    record::{Blend, Care, Id, Yarn},
    store::{BlendFilter, IndexScan, ScanRange},
    trade::Construction,
};
use std::collections::HashMap;

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
pub(super) struct Ends {
    pub(super) kinds: Vec<Kind>,
    pub(super) count: u64,
    pub(super) left_out: LeftOut,
}

impl Ends {
    /// Those of the stash, each a kind of its own.
    pub(super) fn of_stash(
        source: &CandidateSource<'_>,
        question: StrandQuestion<'_>,
        bounds: &Bounds<'_>,
    ) -> Result<Self, AppError> {
        let asked = question.asked;
        let (mut kinds, mut left_out) = (Vec::new(), LeftOut::default());
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
                left_out.add(Some(why.unwrap_or(LeftOutReason::LengthNotKnown)), 1);
                continue;
            };
            let built = facts.construction.as_ref().map(|printed| printed.value);
            let care = facts.care.as_ref().map(|printed| printed.value);
            let known = (blend_of(facts), built, care);
            let part = bounds.strand_part(grist.as_metres_per_gram(), known);
            let mut enough = 0;
            for strands in (1..=question.count).filter_map(|n| u8::try_from(n).ok()) {
                let plan = KnittingPlan {
                    strands,
                    factor: 1.0,
                };
                let (_, covers) = question.needed(&candidate, plan)?;
                enough += usize::from(question.is_enough(&covers));
            }
            let mass = part.mass;
            kinds.push(Kind {
                part,
                ends: vec![End { id, mass, enough }],
            });
        }
        let count = u64::try_from(kinds.len()).unwrap_or(u64::MAX);
        Ok(Self {
            kinds,
            count,
            left_out,
        })
    }

    /// Those of the catalogue, as the index tells them.
    pub(super) fn of_catalogue(
        source: &CandidateSource<'_>,
        question: StrandQuestion<'_>,
        bounds: &Bounds<'_>,
    ) -> Result<Self, AppError> {
        let (reader, asked) = (source.reader, question.asked);
        let eligible = Eligible::of(reader, asked, question.role)?;
        let limits = &asked.settings.limits;
        let mut blends: HashMap<i64, Option<Blend>> = HashMap::new();
        let mut kinds: HashMap<Key, Option<Kind>> = HashMap::new();
        let scan = IndexScan {
            range: ScanRange::AnyGrist,
            blends: &BlendFilter::Any,
            reaching: None,
            with_gauge: false,
        };
        let mut count = 0;
        reader.scan_index(&scan, |entry| {
            let is_meant = eligible.as_ref().is_none_or(|it| it.holds(entry.yarn));
            let Some(grist) = entry.grist.filter(|_| is_meant) else {
                return Ok(());
            };
            let key = (entry.kind.blend, entry.kind.construction, entry.kind.care);
            let kind = match kinds.entry(key) {
                std::collections::hash_map::Entry::Occupied(known) => known.into_mut(),
                std::collections::hash_map::Entry::Vacant(place) => {
                    if let Some(number) = key.0
                        && !blends.contains_key(&number)
                    {
                        blends.insert(number, reader.blend(number)?);
                    }
                    let blend = key.0.and_then(|number| blends.get(&number)?.as_ref());
                    let is_out = limits.exclusion(blend).is_some();
                    place.insert((!is_out).then(|| Kind {
                        part: bounds.strand_part(grist, (blend, key.1, key.2)),
                        ends: Vec::new(),
                    }))
                }
            };
            if let Some(kind) = kind {
                let mass = 1.0 / grist;
                kind.ends.push(End {
                    id: entry.yarn,
                    mass,
                    enough: question.count,
                });
                count += 1;
            }
            Ok::<_, AppError>(())
        })?;
        let left_out = match eligible {
            Some(eligible) => eligible.left_out,
            None => left_out(reader, limits)?,
        };
        let kinds = sorted(kinds.into_values().flatten());
        Ok(Self {
            kinds,
            count,
            left_out,
        })
    }
}

fn sorted(kinds: impl Iterator<Item = Kind>) -> Vec<Kind> {
    let kinds = kinds.map(|mut kind| {
        kind.ends.sort_by(|a, b| a.mass.total_cmp(&b.mass));
        kind
    });
    kinds.collect()
}

/// Blend, build and washing.
type Key = (Option<i64>, Option<Construction>, Option<Care>);
