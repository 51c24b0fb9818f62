//! Which strands may have a place among the best.
//!
//! Of a stash every strand is looked at, by a few sums. Of a catalogue a bound tells for
//! two blends, then for two kinds of them, what no pair beats; within two kinds, sorted by
//! mass, those are looked at whose sum of masses lies where the worst of the best leaves a
//! place. There are few blends, and few pairs of them come near.

use super::{
    Strand, StrandSearch,
    ends::{Ends, Kind},
};
use crate::{
    app::AppError,
    matching::{AtBest, BlendsAtBest, Bounds},
};
use std::cmp::Reverse;

/// So many pairs of kinds are looked at first, so that the best are nearly known.
const FIRST: usize = 64;

/// But no more once so many yarns were gone through for it.
const LOOKS: usize = 10_000;

/// And so many pairs of yarns of each, for each place.
const OF_EACH: usize = 4;

/// Two blends.
#[derive(Clone, Copy)]
struct BlendPair<'k> {
    at_best: AtBest,
    one: &'k [Kind],
    other: &'k [Kind],
}

/// Two kinds.
#[derive(Clone, Copy)]
struct KindPair<'k> {
    at_best: AtBest,
    one: &'k Kind,
    other: &'k Kind,
}

impl StrandSearch<'_> {
    /// Looks at every strand.
    pub(super) fn combine(&mut self, ends: &Ends, bounds: &Bounds<'_>) -> Result<(), AppError> {
        let ends: Vec<_> = ends.all().collect();
        for (i, (a, one)) in ends.iter().enumerate() {
            for (j, (b, two)) in ends.iter().enumerate().skip(i) {
                if self.question.count == 2 {
                    let same = 1 + usize::from(i == j);
                    let covers = one.enough >= same && two.enough >= same;
                    let strand = Strand::pair(one.id, two.id);
                    self.add((bounds.of_strand(&[*a, *b]), covers, strand))?;
                    continue;
                }
                for (k, (c, three)) in ends.iter().enumerate().skip(j) {
                    let places = [i, j, k];
                    let same = |own: usize| places.iter().filter(|it| **it == own).count();
                    let covers =
                        one.enough >= same(i) && two.enough >= same(j) && three.enough >= same(k);
                    let strand = Strand::three([one.id, two.id, three.id]);
                    self.add((bounds.of_strand(&[*a, *b, *c]), covers, strand))?;
                }
            }
        }
        self.judge_pending()
    }

    /// The same of pairs of a catalogue, of which few are looked at.
    pub(super) fn walk(
        &mut self,
        blends: &[Vec<Kind>],
        bounds: &Bounds<'_>,
    ) -> Result<(), AppError> {
        let mut left = LOOKS;
        for pair in likeliest(blends, bounds) {
            left = left.saturating_sub(pair.one.ends.len());
            if left > 0 || self.best.worst().is_none() {
                self.look_first(pair, bounds)?;
            }
        }
        let pairs = blend_pairs(blends, bounds);
        let mut pairs: Vec<_> = pairs.filter(|pair| !self.is_out(pair.at_best)).collect();
        pairs.sort_by_key(|pair| pair.at_best.order());
        for pair in pairs {
            if self.is_out(pair.at_best) {
                break;
            }
            for pair in kind_pairs(pair, bounds) {
                if !self.is_out(pair.at_best) {
                    self.walk_kinds(pair, bounds)?;
                }
            }
        }
        self.judge_pending()
    }

    /// Judges some pairs of two kinds that come near to what is wanted.
    fn look_first(&mut self, pair: KindPair<'_>, bounds: &Bounds<'_>) -> Result<(), AppError> {
        let KindPair { one, other, .. } = pair;
        let Some(wanted) = bounds.wanted_mass() else {
            return Ok(());
        };
        let mut near = Vec::new();
        for end in &one.ends {
            let from = other.ends.partition_point(|it| end.mass + it.mass < wanted);
            for partner in other.ends.iter().skip(from.saturating_sub(1)).take(2) {
                let parts = [one.part_of(end), other.part_of(partner)];
                near.push((
                    bounds.of_strand(&parts),
                    true,
                    Strand::pair(end.id, partner.id),
                ));
            }
        }
        near.sort_by_key(|(at_best, _, strand)| (at_best.order(), *strand));
        near.dedup_by_key(|(_, _, strand)| *strand);
        near.truncate(OF_EACH * self.source.top);
        near.retain(|(_, _, strand)| self.judged.insert(*strand));
        self.pending.extend(near);
        self.judge_pending()
    }

    fn walk_kinds(&mut self, pair: KindPair<'_>, bounds: &Bounds<'_>) -> Result<(), AppError> {
        let KindPair { one, other, .. } = pair;
        let is_same = std::ptr::eq(one, other);
        let kinds = [one.part, other.part];
        let mut worst = self.best.worst();
        let mut masses = bounds.masses(&kinds, pair.at_best, worst);
        for (place, end) in one.ends.iter().enumerate() {
            if self.best.worst() != worst {
                worst = self.best.worst();
                masses = bounds.masses(&kinds, pair.at_best, worst);
            }
            let (low, high) = masses;
            let from = other.ends.partition_point(|it| end.mass + it.mass < low);
            // Of one kind each pair comes once.
            let from = if is_same { from.max(place) } else { from };
            let near = other.ends.iter().skip(from);
            let mut near = near.take_while(|it| end.mass + it.mass <= high).peekable();
            let part = one.part_of(end);
            if near.peek().is_none()
                || high.is_finite()
                    && self.is_out(bounds.of_strand_shares(&[part, other.part], masses))
            {
                continue;
            }
            for partner in near {
                let at_best = bounds.of_strand(&[part, other.part_of(partner)]);
                let strand = Strand::pair(end.id, partner.id);
                if !self.is_out(at_best) {
                    self.add((at_best, true, strand))?;
                }
            }
        }
        Ok(())
    }

    /// Whether what does no better than this has no place.
    fn is_out(&self, at_best: AtBest) -> bool {
        self.best.has_no_place_of_stash(at_best, true)
    }
}

/// Each two of several, also one twice.
fn pairs<T>(each: &[T]) -> impl Iterator<Item = (&T, &T)> {
    let places = each.iter().enumerate();
    places.flat_map(move |(place, one)| each.iter().skip(place).map(move |other| (one, other)))
}

fn blend_pairs<'k>(
    blends: &'k [Vec<Kind>],
    bounds: &Bounds<'_>,
) -> impl Iterator<Item = BlendPair<'k>> {
    pairs(blends).map(move |(one, other)| BlendPair {
        at_best: bounds.of_any_finish(&of_blends(one, other, bounds)),
        one,
        other,
    })
}

fn of_blends(one: &[Kind], other: &[Kind], bounds: &Bounds<'_>) -> BlendsAtBest {
    let first = [one, other].map(|kinds| kinds.first());
    let parts: Vec<_> = first.into_iter().flatten().map(|kind| kind.part).collect();
    bounds.of_strand_blends(&parts)
}

fn kind_pairs<'k>(
    BlendPair { one, other, .. }: BlendPair<'k>,
    bounds: &Bounds<'_>,
) -> impl Iterator<Item = KindPair<'k>> {
    let blends = of_blends(one, other, bounds);
    let is_same = std::ptr::eq(one, other);
    one.iter().enumerate().flat_map(move |(place, one)| {
        let from = if is_same { place } else { 0 };
        other.iter().skip(from).map(move |other| KindPair {
            at_best: bounds.of_strand_kinds(&blends, &[one.part, other.part]),
            one,
            other,
        })
    })
}

/// The pairs of kinds that may do best; of those that are as good the ones with more
/// yarns first.
fn likeliest<'k>(blends: &'k [Vec<Kind>], bounds: &Bounds<'_>) -> Vec<KindPair<'k>> {
    let yarns = |kinds: &[Kind]| kinds.iter().map(|kind| kind.ends.len()).sum::<usize>();
    let blends = first_by(blend_pairs(blends, bounds), |pair| {
        (
            pair.at_best.order(),
            Reverse(yarns(pair.one) + yarns(pair.other)),
        )
    });
    let kinds = blends.into_iter().flat_map(|pair| kind_pairs(pair, bounds));
    first_by(kinds, |pair| {
        let yarns = pair.one.ends.len() + pair.other.ends.len();
        (pair.at_best.order(), Reverse(yarns))
    })
}

/// The first by a key.
fn first_by<T, K: Ord>(each: impl Iterator<Item = T>, key: impl Fn(&T) -> K) -> Vec<T> {
    let mut first = Vec::new();
    for item in each {
        first.push(item);
        if first.len() >= 8 * FIRST {
            first.sort_by_cached_key(&key);
            first.truncate(FIRST);
        }
    }
    first.sort_by_cached_key(&key);
    first.truncate(FIRST);
    first
}
