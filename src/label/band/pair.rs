//! A length and a mass that stand together, so that they say what one skein holds.

use super::scan::{Item, Part};
use crate::{label::length_mass::DualMeasure, measure::units::Dimension};
use std::ops::Range;

/// What stands between a length and a mass that belong together, folded.
const JOINS: &[&str] = &[
    "/",
    "=",
    "≈",
    "~",
    "(",
    "per",
    "je",
    "pro",
    "par",
    "por",
    "pr",
    "auf",
    "à",
    "a",
    "= ca.",
    "= approx.",
    "≈ ca.",
];

/// A length and a mass that stand together: `225 m/100 g`, `50 g = 135 m`.
pub struct Pair {
    /// Bytes of both.
    pub(super) span: Range<usize>,
    /// The mass.
    pub(super) grams: f64,
}

/// The parts, with lengths and masses that stand alone put behind the first
/// pair: what one skein holds is said by the pair, so that `600 g` before it is
/// what is wanted or there.
pub fn pair_first(parts: Vec<Part>, text: &str) -> Vec<Part> {
    let Some(place) = place_of_pair(&parts, text) else {
        return parts;
    };
    let (mut before, mut after) = (Vec::new(), Vec::new());
    let mut lone = Vec::new();
    for (at, part) in parts.into_iter().enumerate() {
        if at < place && measured(&part).is_some() {
            lone.push(part);
        } else if at < place + 2 {
            before.push(part);
        } else {
            after.push(part);
        }
    }
    before.into_iter().chain(lone).chain(after).collect()
}

fn place_of_pair(parts: &[Part], text: &str) -> Option<usize> {
    let mut twos = parts.windows(2);
    twos.position(|two| matches!(two, [one, two] if paired(one, two, text)))
}

/// The first pair, where its mass is one.
pub fn first_pair(parts: &[Part], text: &str) -> Option<Pair> {
    let place = place_of_pair(parts, text)?;
    let [one, two] = parts.get(place..place + 2)? else {
        return None;
    };
    let grams = [one, two]
        .into_iter()
        .find_map(|part| grams(measured(part)?))?;
    let span = one.span().start..two.span().end;
    Some(Pair { span, grams })
}

/// How many grams, where it is one mass.
pub(super) fn grams(dual: &DualMeasure) -> Option<f64> {
    let magnitude = dual.magnitude().ok()?.value;
    let mass = magnitude.dimension == Dimension::Mass;
    magnitude.one().ok().filter(|_| mass)
}

fn measured(part: &Part) -> Option<&DualMeasure> {
    match part.item() {
        Some(Item::Measured(dual)) => Some(dual),
        _ => None,
    }
}

fn paired(one: &Part, two: &Part, text: &str) -> bool {
    let Some((first, second)) = measured(one).zip(measured(two)) else {
        return false;
    };
    let gap = text.get(one.span().end..two.span().start).unwrap_or("");
    first.dimension() != second.dimension() && JOINS.contains(&gap.trim().to_lowercase().as_str())
}
