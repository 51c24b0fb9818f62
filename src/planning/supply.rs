//! What there is to share out: shades, each of several lots, and parts of a shade: those
//! of its lots that someone will have, as one lot alone, or what lies in one place.

use std::collections::BTreeSet;

/// So many parts of more than one lot are told apart in one shade: the sums that bound
/// them grow with the unions of those that overlap.
const MOST_PARTS: usize = 6;

/// Shades and parts of them. A whole shade has the same place among the parts as among
/// the shades.
#[derive(Debug, Clone, Default)]
pub struct Supply {
    /// What each lot of each shade holds, m.
    shades: Vec<Vec<f64>>,
    parts: Vec<Part>,
}

/// Some of the lots of a shade.
#[derive(Debug, Clone, PartialEq)]
struct Part {
    shade: usize,
    lots: BTreeSet<usize>,
}

/// These parts together give no more than this.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Limit {
    pub(super) parts: Vec<usize>,
    pub(super) holds_m: f64,
}

impl Supply {
    /// Of what each lot of each shade holds, m.
    pub fn of_lots(shades: Vec<Vec<f64>>) -> Self {
        Self {
            shades,
            parts: Vec::new(),
        }
    }

    /// Place of the part of a shade that has these lots; `None` where the shade has too
    /// many parts already.
    pub fn part(&mut self, shade: usize, lots: &[usize]) -> Option<usize> {
        if self.shades.get(shade)?.len() == lots.len() {
            return Some(shade);
        }
        let lots = lots.iter().copied().collect();
        let part = Part { shade, lots };
        let known = self.parts.iter().position(|known| *known == part);
        let place = match known {
            Some(place) => place,
            None if part.lots.len() > 1 && self.large_parts(shade) >= MOST_PARTS => return None,
            None => {
                self.parts.push(part);
                self.parts.len() - 1
            }
        };
        Some(self.shades.len() + place)
    }

    fn large_parts(&self, shade: usize) -> usize {
        let parts = self.parts.iter();
        let large = parts.filter(|part| part.shade == shade && part.lots.len() > 1);
        large.count()
    }

    /// The shade of a part, and its lots.
    pub fn lots_of(&self, part: usize) -> Option<(usize, Vec<usize>)> {
        if let Some(lots) = self.shades.get(part) {
            return Some((part, (0..lots.len()).collect()));
        }
        let part = self.parts.get(part.checked_sub(self.shades.len())?)?;
        Some((part.shade, part.lots.iter().copied().collect()))
    }

    /// What there is of a part, m.
    pub fn holds_m(&self, part: usize) -> f64 {
        let found = self.lots_of(part);
        found.map_or(0.0, |(shade, lots)| self.sum(shade, lots))
    }

    /// What each lot of a shade holds, m.
    pub fn lots_m(&self, shade: usize) -> &[f64] {
        self.shades.get(shade).map_or(&[], Vec::as_slice)
    }

    /// What there is of each shade, m.
    pub fn shades_m(&self) -> Vec<f64> {
        let shades = self.shades.iter();
        shades.map(|lots| lots.iter().sum()).collect()
    }

    fn sum(&self, shade: usize, lots: impl IntoIterator<Item = usize>) -> f64 {
        let holds = self.lots_m(shade);
        let lots = lots.into_iter();
        lots.filter_map(|lot| holds.get(lot)).sum()
    }

    /// The limits of every plan: the lots can be shared out exactly where a plan takes no
    /// more of the parts within a set of lots than that set holds, for each shade, each
    /// part and each union of parts that overlap (the theorem of Hall, for amounts).
    pub(super) fn limits(&self) -> Vec<Limit> {
        let whole = self.shades_m().into_iter().enumerate();
        let whole = whole.map(|(shade, holds_m)| {
            let parts = self.numbered_parts();
            let within = parts.filter(|(_, part)| part.shade == shade);
            let parts = within.map(|(place, _)| place);
            Limit {
                parts: std::iter::once(shade).chain(parts).collect(),
                holds_m,
            }
        });
        let shades = 0..self.shades.len();
        let parts = shades.flat_map(|shade| self.limits_of_parts(shade));
        whole.chain(parts).collect()
    }

    /// Every part by its place.
    fn numbered_parts(&self) -> impl Iterator<Item = (usize, &Part)> {
        (self.shades.len()..).zip(&self.parts)
    }

    fn limits_of_parts(&self, shade: usize) -> Vec<Limit> {
        let parts = self.parts.iter().filter(|part| part.shade == shade);
        let sets: BTreeSet<BTreeSet<usize>> = parts.map(|part| part.lots.clone()).collect();
        let limits = with_unions(sets).into_iter().map(|lots| {
            let within = self
                .numbered_parts()
                .filter(|(_, part)| part.shade == shade && part.lots.is_subset(&lots));
            Limit {
                parts: within.map(|(place, _)| place).collect(),
                holds_m: self.sum(shade, lots.iter().copied()),
            }
        });
        limits.collect()
    }
}

/// The sets, and every union of sets that overlap.
fn with_unions(mut sets: BTreeSet<BTreeSet<usize>>) -> BTreeSet<BTreeSet<usize>> {
    loop {
        let pairs = sets
            .iter()
            .flat_map(|one| sets.iter().map(move |other| (one, other)));
        let overlap = pairs.filter(|(one, other)| !one.is_disjoint(other));
        let unions = overlap.map(|(one, other)| one.union(other).copied().collect());
        let new: Vec<BTreeSet<usize>> = unions.filter(|union| !sets.contains(union)).collect();
        if new.is_empty() {
            return sets;
        }
        sets.extend(new);
    }
}

#[cfg(test)]
impl Supply {
    /// Of shades of one lot each.
    pub(super) fn of_shades(holds_m: &[f64]) -> Self {
        Self::of_lots(holds_m.iter().map(|holds| vec![*holds]).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_that_is_the_whole_shade_is_the_shade() {
        let mut supply = Supply::of_lots(vec![vec![100.0, 50.0], vec![30.0]]);
        assert_eq!(supply.part(0, &[0, 1]), Some(0));
        assert_eq!(supply.part(1, &[0]), Some(1));
        assert_eq!(supply.part(0, &[1]), Some(2));
        assert_eq!(supply.part(0, &[1]), Some(2));
        assert_eq!(supply.part(0, &[0]), Some(3));
        assert_eq!(supply.holds_m(2), 50.0);
        assert_eq!(supply.lots_of(3), Some((0, vec![0])));
    }

    #[test]
    fn parts_that_overlap_are_bounded_together() {
        let mut supply = Supply::of_lots(vec![vec![1.0, 2.0, 4.0, 8.0]]);
        let one = supply.part(0, &[0, 1]).unwrap();
        let other = supply.part(0, &[1, 2]).unwrap();
        let limits = supply.limits();
        let both = limits.iter().find(|it| it.parts == [one, other]);
        assert_eq!(both.unwrap().holds_m, 7.0);
        assert_eq!(limits[0].parts, [0, one, other]);
        assert_eq!(limits[0].holds_m, 15.0);
        assert_eq!(limits.len(), 4);
    }
}
