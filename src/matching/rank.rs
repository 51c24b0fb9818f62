//! The best candidates, in an order that does not depend on that of the input.

use super::{AtBest, Judgement, Verdict};
use ordered_float::OrderedFloat;
use std::{cmp::Ordering, collections::BinaryHeap};

/// The `keep` best of `judged`: by verdict, then overall departure with what could not
/// be judged, then `key`. Give a key that no two candidates share, such as (name, id).
pub fn rank<T, K: Ord>(
    judged: impl IntoIterator<Item = (T, Judgement)>,
    key: impl Fn(&T) -> K,
    keep: usize,
) -> Vec<(T, Judgement)> {
    let mut best = Best::new(keep);
    for (item, judgement) in judged {
        let key = key(&item);
        best.offer(item, key, judgement);
    }
    best.in_order()
}

/// The best candidates of those offered so far, in the order of [`rank`].
pub struct Best<T, K> {
    keep: usize,
    heap: BinaryHeap<Ranked<T, K>>,
}

impl<T, K: Ord> Best<T, K> {
    /// Keeps at most `keep`.
    pub fn new(keep: usize) -> Self {
        let heap = BinaryHeap::new();
        Self { keep, heap }
    }

    /// One more candidate; `key` decides between equals.
    pub fn offer(&mut self, item: T, key: K, judgement: Judgement) {
        self.offer_of_stock(item, key, judgement, true);
    }

    /// The same of one that is in stock: of a verdict those that cover the need come
    /// first.
    pub fn offer_of_stock(&mut self, item: T, key: K, judgement: Judgement, covers: bool) {
        let departure = OrderedFloat(judgement.for_ranking);
        let place = (judgement.verdict, !covers, departure, key);
        self.heap.push(Ranked {
            place,
            item,
            judgement,
        });
        if self.heap.len() > self.keep {
            self.heap.pop();
        }
    }

    /// The worst of the best, once every place is filled.
    pub fn worst(&self) -> Option<AtBest> {
        let worst = self.heap.peek().filter(|_| self.heap.len() >= self.keep)?;
        let (verdict, _, OrderedFloat(least), _) = worst.place;
        Some(AtBest { verdict, least })
    }

    /// Whether every place is filled by better ones than a candidate that does no
    /// better than `at_best`.
    pub fn has_no_place_for(&self, at_best: AtBest) -> bool {
        if self.heap.len() < self.keep {
            return false;
        }
        self.heap.peek().is_none_or(|worst| {
            let (verdict, _, departure, _) = worst.place;
            let slack = at_best.least * (1.0 - SLACK);
            (verdict, departure) < (at_best.verdict, OrderedFloat(slack))
        })
    }

    /// The same of one that is in stock, and covers the need or does not.
    pub fn has_no_place_of_stash(&self, at_best: AtBest, covers: bool) -> bool {
        if self.heap.len() < self.keep {
            return false;
        }
        self.heap.peek().is_none_or(|worst| {
            let (verdict, is_short, departure, _) = worst.place;
            let slack = OrderedFloat(at_best.least * (1.0 - SLACK));
            (verdict, is_short, departure) < (at_best.verdict, !covers, slack)
        })
    }

    /// The same of a candidate with this key, of which `at_best` is the place itself
    /// but for a worse verdict.
    pub fn has_no_place_for_key(&self, at_best: AtBest, key: &K) -> bool {
        let is_after = |worst: &Ranked<T, K>| {
            let (verdict, _, departure, last) = &worst.place;
            ((*verdict, *departure), last) < (at_best.order(), key)
        };
        self.has_no_place_for(at_best)
            || self.heap.len() >= self.keep && self.heap.peek().is_none_or(is_after)
    }

    /// The best, the best first.
    pub fn in_order(self) -> Vec<(T, Judgement)> {
        let sorted = self.heap.into_sorted_vec().into_iter();
        sorted
            .map(|ranked| (ranked.item, ranked.judgement))
            .collect()
    }
}

/// Relative slack where a bound meets a departure, for rounding only.
const SLACK: f64 = 1e-9;

/// A candidate that compares by its place alone.
struct Ranked<T, K> {
    /// Verdict, whether the need is not covered, departure, key.
    place: (Verdict, bool, OrderedFloat<f64>, K),
    item: T,
    judgement: Judgement,
}

impl<T, K: Ord> PartialEq for Ranked<T, K> {
    fn eq(&self, other: &Self) -> bool {
        self.place == other.place
    }
}

impl<T, K: Ord> Eq for Ranked<T, K> {}

impl<T, K: Ord> PartialOrd for Ranked<T, K> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T, K: Ord> Ord for Ranked<T, K> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.place.cmp(&other.place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn judgement(verdict: Verdict, for_ranking: f64) -> Judgement {
        Judgement {
            verdict,
            overall: None,
            for_ranking,
            departures: Vec::new(),
            not_judged: Vec::new(),
            bar: None,
            conditions: Vec::new(),
            remedies: Vec::new(),
            cautions: Vec::new(),
            gauge_ratio: None,
            grist_not_comparable: false,
            doubts: Vec::new(),
        }
    }

    fn ranked(items: Vec<(u32, Judgement)>, keep: usize) -> Vec<u32> {
        let ranked = rank(items, |item| *item, keep);
        ranked.into_iter().map(|(item, _)| item).collect()
    }

    #[test]
    fn verdict_comes_before_departure_and_departure_before_name() {
        let items = vec![
            (1, judgement(Verdict::CouldWork, 0.1)),
            (2, judgement(Verdict::ShouldWork, 0.9)),
            (4, judgement(Verdict::ShouldWork, 0.2)),
            (3, judgement(Verdict::ShouldWork, 0.2)),
            (5, judgement(Verdict::CannotSay, 0.0)),
        ];
        assert_eq!(ranked(items.clone(), 10), [3, 4, 2, 1, 5]);
        assert_eq!(ranked(items.clone(), 2), [3, 4]);
        assert!(ranked(items, 0).is_empty());
    }

    #[test]
    fn of_the_stash_what_covers_the_need_comes_before_what_is_nearer() {
        let mut best = Best::new(4);
        for (id, verdict, departure, covers) in [
            (1, Verdict::ShouldWork, 0.1, false),
            (2, Verdict::ShouldWork, 0.4, true),
            (3, Verdict::CouldWork, 0.0, true),
        ] {
            best.offer_of_stock(id, id, judgement(verdict, departure), covers);
        }
        let order = best.in_order().into_iter().map(|(id, _)| id);
        assert_eq!(order.collect::<Vec<_>>(), [2, 1, 3]);
    }

    #[test]
    fn only_what_may_beat_the_worst_of_the_best_has_a_place() {
        let at_best = |verdict, least| AtBest { verdict, least };
        let mut best: Best<(), u32> = Best::new(2);
        best.offer((), 1, judgement(Verdict::ShouldWork, 0.5));
        assert_eq!(best.worst(), None);
        assert!(!best.has_no_place_for(at_best(Verdict::WillNotWork, 9.0)));
        best.offer((), 2, judgement(Verdict::CouldWork, 0.4));
        assert_eq!(best.worst(), Some(at_best(Verdict::CouldWork, 0.4)));
        assert!(!best.has_no_place_for(at_best(Verdict::ShouldWork, 9.0)));
        assert!(!best.has_no_place_for(at_best(Verdict::CouldWork, 0.3)));
        // As good: its name may come first.
        assert!(!best.has_no_place_for(at_best(Verdict::CouldWork, 0.4)));
        assert!(best.has_no_place_for(at_best(Verdict::CouldWork, 0.5)));
        assert!(best.has_no_place_for(at_best(Verdict::CannotSay, 0.0)));
        assert!(!best.has_no_place_for_key(at_best(Verdict::CouldWork, 0.4), &1));
        assert!(best.has_no_place_for_key(at_best(Verdict::CouldWork, 0.4), &3));
        assert!(Best::<(), u32>::new(0).has_no_place_for(at_best(Verdict::ShouldWork, 0.0)));
    }

    proptest! {
        #[test]
        fn prop_the_order_does_not_depend_on_the_input(
            departures in prop::collection::vec((0_u8..3, 0_u8..4), 0..20),
            keep in 0_usize..25,
        ) {
            let verdicts = [Verdict::ShouldWork, Verdict::CouldWork, Verdict::WillNotWork];
            let items: Vec<(u32, Judgement)> = (0..).zip(departures).map(|(id, (v, d))| {
                (id, judgement(verdicts[usize::from(v)], f64::from(d)))
            }).collect();
            let backwards: Vec<_> = items.iter().rev().cloned().collect();
            prop_assert_eq!(ranked(items, keep), ranked(backwards, keep));
        }
    }
}
