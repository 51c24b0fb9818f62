//! Which strands may have a place among the best.
//!
//! Of a stash every strand is looked at, by a few sums. Of a catalogue a bound tells for
//! two kinds what no pair of them beats; within two kinds, sorted by mass, those are
//! looked at whose sum of masses lies where the worst of the best leaves a place.

use super::{Kind, Strand, StrandSearch, order};
use crate::{
    app::AppError,
    matching::{AtBest, Bounds},
};

/// So many pairs of kinds are looked at first, so that the best are nearly known.
const FIRST: usize = 64;

/// And so many pairs of yarns of each, for each place.
const OF_EACH: usize = 4;

impl StrandSearch<'_> {
    /// Looks at every strand.
    pub(super) fn combine(&mut self, kinds: &[Kind], bounds: &Bounds<'_>) -> Result<(), AppError> {
        let ends: Vec<_> = kinds
            .iter()
            .flat_map(|kind| kind.ends.iter().map(|end| (kind.part_of(end), end)))
            .collect();
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
                    let numbers = (one.id.number(), two.id.number(), three.id.number());
                    let strand = Strand(numbers.0, numbers.1, Some(numbers.2));
                    self.add((bounds.of_strand(&[*a, *b, *c]), covers, strand))?;
                }
            }
        }
        self.judge_pending()
    }

    /// The same of pairs of a catalogue, of which few are looked at.
    pub(super) fn walk(&mut self, kinds: &[Kind], bounds: &Bounds<'_>) -> Result<(), AppError> {
        for (one, other) in likeliest(kinds, bounds) {
            self.look_first((one, other), bounds)?;
        }
        for (place, one) in kinds.iter().enumerate() {
            for other in kinds.iter().skip(place) {
                let at_best = bounds.of_strand_kinds(&[one.part, other.part]);
                if !self.best.has_no_place_of_stash(at_best, true) {
                    self.walk_kinds((one, other), bounds)?;
                }
            }
        }
        self.judge_pending()
    }

    /// Judges some pairs of two kinds that come near to what is wanted.
    fn look_first(
        &mut self,
        (one, other): (&Kind, &Kind),
        bounds: &Bounds<'_>,
    ) -> Result<(), AppError> {
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
        near.sort_by_key(|(at_best, _, strand)| (order(*at_best), *strand));
        near.dedup_by_key(|(_, _, strand)| *strand);
        near.truncate(OF_EACH * self.source.top);
        near.retain(|(_, _, strand)| self.judged.insert(*strand));
        self.pending.extend(near);
        self.judge_pending()
    }

    fn walk_kinds(
        &mut self,
        (one, other): (&Kind, &Kind),
        bounds: &Bounds<'_>,
    ) -> Result<(), AppError> {
        let is_same = std::ptr::eq(one, other);
        let kinds = [one.part, other.part];
        let mut worst = self.best.worst();
        let (mut low, mut high) = bounds.masses(&kinds, worst);
        for (place, end) in one.ends.iter().enumerate() {
            if self.best.worst() != worst {
                worst = self.best.worst();
                (low, high) = bounds.masses(&kinds, worst);
            }
            let from = other.ends.partition_point(|it| end.mass + it.mass < low);
            // Of one kind each pair comes once.
            let from = if is_same { from.max(place) } else { from };
            let near = other.ends.iter().skip(from);
            for partner in near.take_while(|it| end.mass + it.mass <= high) {
                let strand = Strand::pair(end.id, partner.id);
                let parts = [one.part_of(end), other.part_of(partner)];
                if !self.judged.contains(&strand) {
                    self.add((bounds.of_strand(&parts), true, strand))?;
                }
            }
        }
        Ok(())
    }
}

/// The pairs of kinds that may do best.
fn likeliest<'k>(kinds: &'k [Kind], bounds: &Bounds<'_>) -> Vec<(&'k Kind, &'k Kind)> {
    let mut best: Vec<(AtBest, usize, (&Kind, &Kind))> = Vec::new();
    for (place, one) in kinds.iter().enumerate() {
        for other in kinds.iter().skip(place) {
            let at_best = bounds.of_strand_kinds(&[one.part, other.part]);
            let is_behind = |worst: &(AtBest, usize, _)| order(worst.0) <= order(at_best);
            if best.get(FIRST - 1).is_some_and(is_behind) {
                continue;
            }
            best.push((at_best, one.ends.len() + other.ends.len(), (one, other)));
            if best.len() >= 4 * FIRST {
                keep_first(&mut best);
            }
        }
    }
    keep_first(&mut best);
    best.into_iter().map(|(_, _, kinds)| kinds).collect()
}

/// Of those that are as good the ones with more yarns first.
fn keep_first<K>(best: &mut Vec<(AtBest, usize, K)>) {
    best.sort_by_key(|(at_best, yarns, _)| (order(*at_best), std::cmp::Reverse(*yarns)));
    best.truncate(FIRST);
}
