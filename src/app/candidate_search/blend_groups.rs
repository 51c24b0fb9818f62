//! The blends of a catalogue in groups that are alike in how far they depart on fibre and
//! in density. So the yarns of most blends are passed over where those of others fill
//! the places, and few ranges are looked at where there is nothing in them.

use super::super::AppError;
use crate::{
    matching::{Bounds, FibreLimits, Thickness},
    record::Blend,
    store::{BlendFilter, NO_BLEND, Reader},
};
use std::collections::BTreeMap;

/// Yarns of some blends.
pub(super) struct BlendGroup {
    pub(super) blends: BlendFilter,
    /// How far they depart on fibre at least, in tolerances.
    pub(super) least: f64,
    /// How thick they are beside what is wanted.
    pub(super) thickness: Thickness,
}

/// Of more blends it would take too long to tell how far each departs.
const MOST: usize = 500;

/// Each group may take a pass of its own over the same range.
const MOST_GROUPS: usize = 8;

/// Blends of a group depart on fibre within so much of each other, in tolerances.
const ALIKE: f64 = 0.1;

/// Blends that are alike.
struct Alike {
    numbers: Vec<i64>,
    least: f64,
    thickness: Thickness,
}

impl Alike {
    fn new(number: i64, blend: Option<Blend>, bounds: &Bounds<'_>) -> Self {
        let kind = bounds.of_fibre(blend, None);
        Self {
            numbers: vec![number],
            least: kind.fibre_departure(),
            thickness: Thickness::of(&kind, bounds),
        }
    }

    fn and(mut self, other: Self) -> Self {
        self.numbers.extend(other.numbers);
        Self {
            numbers: self.numbers,
            least: self.least.min(other.least),
            thickness: self.thickness.and(other.thickness),
        }
    }

    /// Which groups it may share: none departs on fibre in the first.
    fn place(&self) -> (u32, i64) {
        let steps = std::iter::successors(Some(0.0), |from| Some(from + ALIKE));
        let below = steps.take(MOST).take_while(|from| *from < self.least);
        let fibre = u32::try_from(below.count()).unwrap_or(u32::MAX);
        (fibre, self.thickness.step())
    }
}

/// Groups that hold every yarn between them, but for those of blends that the limits
/// exclude.
pub(super) fn blend_groups(
    reader: &Reader<'_>,
    bounds: &Bounds<'_>,
    limits: &FibreLimits,
) -> Result<Vec<BlendGroup>, AppError> {
    let blends = reader.blends(MOST + 1)?;
    let is_too_many = blends.len() > MOST;
    let is_unknown_met = limits.is_empty() && reader.has_yarn_without_blend()?;
    let known = blends.into_iter();
    let known = known.map(|(number, blend)| (number, Some(blend)));
    let (mut excluded, mut each) = (Vec::new(), Vec::new());
    for (number, blend) in known.chain(is_unknown_met.then_some((NO_BLEND, None))) {
        if limits.exclusion(blend.as_ref()).is_some() {
            excluded.push(number);
        } else {
            each.push(Alike::new(number, blend, bounds));
        }
    }
    if !limits.is_empty() {
        excluded.push(NO_BLEND);
    }
    if is_too_many {
        return Ok(vec![BlendGroup {
            blends: BlendFilter::all_but(excluded),
            least: 0.0,
            thickness: bounds.any_thickness(),
        }]);
    }
    Ok(complete(few(together(each)), excluded))
}

/// Those of one place together, the nearest first.
fn together(each: Vec<Alike>) -> Vec<Alike> {
    let mut places: BTreeMap<(u32, i64), Alike> = BTreeMap::new();
    for one in each {
        let place = one.place();
        let all = match places.remove(&place) {
            Some(others) => others.and(one),
            None => one,
        };
        places.insert(place, all);
    }
    let mut groups: Vec<_> = places.into_values().collect();
    groups.sort_by(|a, b| a.least.total_cmp(&b.least));
    groups
}

/// The farthest together, so that there are not too many.
fn few(mut groups: Vec<Alike>) -> Vec<Alike> {
    let far = groups.split_off(groups.len().min(MOST_GROUPS - 1));
    groups.extend(far.into_iter().reduce(Alike::and));
    groups
}

/// The last group holds all yarns that are in no other and are not excluded.
fn complete(mut groups: Vec<Alike>, excluded: Vec<i64>) -> Vec<BlendGroup> {
    let group = |alike: Alike, blends| BlendGroup {
        blends,
        least: alike.least,
        thickness: alike.thickness,
    };
    let Some(last) = groups.pop() else {
        return Vec::new();
    };
    let numbers = groups.iter().flat_map(|each| each.numbers.iter().copied());
    let rest = BlendFilter::all_but(numbers.chain(excluded).collect());
    let only = groups.into_iter().map(|mut alike| {
        let numbers = std::mem::take(&mut alike.numbers);
        group(alike, BlendFilter::Only(numbers))
    });
    only.chain([group(last, rest)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn alike(number: i64, least: f64) -> Alike {
        Alike {
            numbers: vec![number],
            least,
            thickness: Thickness::EQUAL,
        }
    }

    fn groups(each: Vec<Alike>, excluded: Vec<i64>) -> Vec<BlendGroup> {
        complete(few(together(each)), excluded)
    }

    #[test]
    fn blends_that_depart_nearly_as_far_share_a_group_but_not_with_those_that_do_not() {
        let each = vec![alike(1, 0.06), alike(2, 0.0), alike(3, 0.04)];
        let groups = groups(each, vec![9]);
        let [near, far] = groups.as_slice() else {
            panic!("{} groups", groups.len())
        };
        assert_eq!(near.blends, BlendFilter::Only(vec![2]));
        assert_eq!(far.blends, BlendFilter::AllBut(vec![2, 9]));
        assert_eq!((near.least, far.least), (0.0, 0.04));
    }

    #[test]
    fn the_last_of_many_groups_holds_what_no_other_does() {
        let each = (0..20_i32).map(|number| alike(number.into(), 0.25 * f64::from(number)));
        let groups = groups(each.rev().collect(), Vec::new());
        assert_eq!(groups.len(), MOST_GROUPS);
        let last = groups.last().unwrap();
        assert_eq!(last.blends, BlendFilter::AllBut((0..7).collect()));
        assert_eq!(last.least, 1.75);
    }

    #[test]
    fn one_group_of_which_none_is_excluded_asks_for_no_blend() {
        let blends = |excluded| groups(vec![alike(1, 0.0)], excluded).remove(0).blends;
        assert_eq!(blends(Vec::new()), BlendFilter::Any);
        assert_eq!(blends(vec![2]), BlendFilter::AllBut(vec![2]));
        assert!(groups(Vec::new(), vec![2]).is_empty());
    }
}
