//! Whether lots on the shelf cover a need.

use super::purchase::whole_up;
use crate::measure::Length;

/// One lot that may be used, and what it holds, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf<K> {
    /// Which lot.
    pub key: K,
    /// Its shade: only lots of one shade are used together.
    pub shade: String,
    /// What of it is free.
    pub holds: Length,
}

/// What the lots of one shade do for a need.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover<K> {
    /// The shade.
    pub shade: String,
    /// Lots to use and what each holds, fullest first, ties in the given order.
    pub lots: Vec<(K, Length)>,
    /// What is left over, m, where they cover.
    pub left_over_m: Option<f64>,
    /// What is missing, m, where they do not.
    pub missing_m: Option<f64>,
    /// Skeins that would fill the gap, where a skein's length is known.
    pub missing_skeins: Option<u32>,
}

impl<K> Cover<K> {
    /// Whether the need is covered.
    pub fn covers(&self) -> bool {
        self.missing_m.is_none()
    }

    /// Whether skeins of several lots would be alternated.
    pub fn is_mixed(&self) -> bool {
        self.lots.len() > 1
    }
}

/// How many sets of lots are looked at before the best so far is the answer. Reached
/// only by some thirty part lots of one shade.
const MOST_SETS: usize = 200_000;

/// The best cover of `need` (strand metres, margin included by the caller) for
/// each shade: one lot that covers comes first, else the fewest lots, then the
/// least left over. Shades that cover come first, by fewest lots, then least
/// left over; then the others, least missing first; ties by shade.
pub fn cover<K: Clone>(need: Length, shelves: &[Shelf<K>], skein: Option<Length>) -> Vec<Cover<K>> {
    let mut shades: Vec<&str> = shelves.iter().map(|shelf| shelf.shade.as_str()).collect();
    shades.sort_unstable();
    shades.dedup();
    let mut covers: Vec<Cover<K>> = shades
        .iter()
        .map(|shade| of_shade(need, shelves, shade, skein))
        .collect();
    covers.sort_by(|a, b| {
        order(a)
            .partial_cmp(&order(b))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    covers
}

fn order<K>(cover: &Cover<K>) -> (bool, usize, f64) {
    match cover.missing_m {
        None => (false, cover.lots.len(), cover.left_over_m.unwrap_or(0.0)),
        Some(missing) => (true, 0, missing),
    }
}

fn of_shade<K: Clone>(
    need: Length,
    shelves: &[Shelf<K>],
    shade: &str,
    skein: Option<Length>,
) -> Cover<K> {
    let mut lots: Vec<&Shelf<K>> = shelves
        .iter()
        .filter(|shelf| shelf.shade == shade && shelf.holds.as_metres() > 0.0)
        .collect();
    lots.sort_by_key(|lot| std::cmp::Reverse(lot.holds));
    let held: Vec<f64> = lots.iter().map(|lot| lot.holds.as_metres()).collect();
    let chosen = fewest_then_least(&held, need.as_metres());
    let used = chosen.clone().unwrap_or_else(|| (0..lots.len()).collect());
    let taken: Vec<&&Shelf<K>> = used.iter().filter_map(|place| lots.get(*place)).collect();
    let sum: f64 = taken.iter().map(|lot| lot.holds.as_metres()).sum();
    let gap = need.as_metres() - sum;
    Cover {
        shade: shade.to_owned(),
        lots: taken
            .into_iter()
            .map(|lot| (lot.key.clone(), lot.holds))
            .collect(),
        left_over_m: chosen.is_some().then_some(-gap),
        missing_m: chosen.is_none().then_some(gap),
        missing_skeins: skein
            .filter(|_| chosen.is_none())
            .and_then(|skein| whole_up(gap / skein.as_metres())),
    }
}

/// Places in `held` (descending, m) of the fewest lots that reach `need`, of
/// those the set that leaves least; `None` when all together do not reach it.
fn fewest_then_least(held: &[f64], need: f64) -> Option<Vec<usize>> {
    let mut reached = 0.0;
    let fewest = held.iter().position(|metres| {
        reached += metres;
        reached >= need - 1e-9
    })? + 1;
    let mut search = Search {
        held,
        need,
        best: None,
        sets: 0,
    };
    search.extend(&mut Vec::with_capacity(fewest), 0, 0.0, fewest);
    search.best.map(|(_, places)| places)
}

/// Depth-first over sets of a given number of lots, fullest first.
struct Search<'a> {
    held: &'a [f64],
    need: f64,
    best: Option<(f64, Vec<usize>)>,
    sets: usize,
}

impl Search<'_> {
    fn extend(&mut self, chosen: &mut Vec<usize>, from: usize, sum: f64, wanted: usize) {
        self.sets += 1;
        if wanted == 0 {
            return self.keep(chosen, sum);
        }
        for (place, metres) in self.held.iter().enumerate().skip(from) {
            let most = sum + metres * f64::from(u32::try_from(wanted).unwrap_or(u32::MAX));
            if most < self.need - 1e-9 || self.sets > MOST_SETS {
                return;
            }
            chosen.push(place);
            self.extend(chosen, place + 1, sum + metres, wanted - 1);
            chosen.pop();
        }
    }

    fn keep(&mut self, chosen: &[usize], sum: f64) {
        let enough = sum >= self.need - 1e-9;
        if enough
            && self
                .best
                .as_ref()
                .is_none_or(|(best, _)| sum < best - 1e-12)
        {
            self.best = Some((sum, chosen.to_vec()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn metres(m: f64) -> Length {
        Length::metres(m).unwrap()
    }

    fn shelf(key: u32, shade: &str, holds: f64) -> Shelf<u32> {
        Shelf {
            key,
            shade: shade.to_owned(),
            holds: metres(holds),
        }
    }

    fn keys(cover: &Cover<u32>) -> Vec<u32> {
        cover.lots.iter().map(|(key, _)| *key).collect()
    }

    #[test]
    fn one_lot_that_covers_comes_before_two_that_fit_better() {
        let shelves = [
            shelf(1, "moss", 900.0),
            shelf(2, "moss", 250.0),
            shelf(3, "moss", 251.0),
        ];
        let covers = cover(metres(500.0), &shelves, None);
        assert_eq!(keys(&covers[0]), [1]);
        assert!(!covers[0].is_mixed());
    }

    #[test]
    fn of_the_lots_that_cover_alone_the_one_that_leaves_least_is_used() {
        let shelves = [
            shelf(1, "moss", 900.0),
            shelf(2, "moss", 510.0),
            shelf(3, "moss", 600.0),
        ];
        let best = cover(metres(500.0), &shelves, None).remove(0);
        assert_eq!(keys(&best), [2]);
        assert_eq!(best.left_over_m, Some(10.0));
    }

    #[test]
    fn two_lots_that_leave_least_are_alternated() {
        let shelves = [
            shelf(1, "moss", 400.0),
            shelf(2, "moss", 300.0),
            shelf(3, "moss", 120.0),
            shelf(4, "moss", 210.0),
        ];
        let best = cover(metres(500.0), &shelves, None).remove(0);
        assert_eq!(keys(&best), [2, 4]);
        assert!(best.is_mixed() && best.covers());
    }

    #[test]
    fn shades_are_never_mixed_and_a_shade_that_covers_comes_first() {
        let shelves = [
            shelf(1, "fern", 300.0),
            shelf(2, "moss", 300.0),
            shelf(3, "moss", 250.0),
        ];
        let covers = cover(metres(500.0), &shelves, Some(metres(120.0)));
        assert_eq!(
            (covers[0].shade.as_str(), keys(&covers[0])),
            ("moss", vec![2, 3])
        );
        assert_eq!(
            (covers[1].missing_m, covers[1].missing_skeins),
            (Some(200.0), Some(2))
        );
        assert!(covers[0].covers() && !covers[1].covers());
    }

    #[test]
    fn lots_that_hold_the_need_exactly_cover_it() {
        // In floating point 0.7 + 0.1 is a little less than 0.8.
        let shelves = [shelf(1, "moss", 0.7), shelf(2, "moss", 0.1)];
        let best = cover(metres(0.8), &shelves, None).remove(0);
        assert_eq!(keys(&best), [1, 2]);
        assert!(best.covers());
    }

    #[test]
    fn of_lots_that_hold_the_same_the_first_given_is_used() {
        let shelves = [
            shelf(7, "moss", 300.0),
            shelf(3, "moss", 300.0),
            shelf(5, "moss", 300.0),
        ];
        let best = cover(metres(250.0), &shelves, None).remove(0);
        assert_eq!(keys(&best), [7]);
    }

    /// Sets of twenty of forty lots are 138 thousand million.
    #[test]
    fn many_part_lots_are_answered_without_looking_at_every_set() {
        let shelves: Vec<Shelf<u32>> = (0..40)
            .map(|key| shelf(key, "moss", 100.0 + 0.37 * f64::from(key)))
            .collect();
        let best = cover(metres(2200.0), &shelves, None).remove(0);
        assert_eq!(best.lots.len(), 20);
        assert!(best.covers());
    }

    #[test]
    fn an_empty_shelf_covers_nothing() {
        assert!(cover::<u32>(metres(10.0), &[], None).is_empty());
        let covers = cover(metres(10.0), &[shelf(1, "moss", 0.0)], None);
        assert_eq!(covers[0].missing_m, Some(10.0));
        assert!(covers[0].lots.is_empty());
    }

    proptest! {
        /// Against every set of lots, the plain way.
        #[test]
        fn prop_no_other_set_has_fewer_lots_or_as_many_and_less_left(held in prop::collection::vec(1u32..500, 1..9), need in 1u32..1500) {
            let shelves: Vec<Shelf<u32>> = (0u32..).zip(&held).map(|(key, m)| shelf(key, "moss", f64::from(*m))).collect();
            let found = cover(metres(f64::from(need)), &shelves, None).remove(0);
            let sets = 1u32..1 << held.len();
            let sums = sets.map(|set| {
                let chosen = held.iter().enumerate().filter(|(place, _)| set >> place & 1 == 1);
                (set.count_ones() as usize, chosen.map(|(_, m)| *m).sum::<u32>())
            });
            let best = sums.filter(|(_, sum)| *sum >= need).min();
            let answered = found.left_over_m.map(|left| (found.lots.len(), left));
            let best = best.map(|(lots, sum)| (lots, f64::from(sum - need)));
            prop_assert_eq!(answered, best);
        }
    }
}
