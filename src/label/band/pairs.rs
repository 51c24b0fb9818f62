//! A length and a mass that stand together: `225 m/100 g`, `50 g = 135 m`.

use super::scan::{Item, Part};
use crate::{label::reading::Dual, measure::units::Dimension};
use std::ops::Range;

/// What stands between the two, folded.
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
        match at {
            at if at < place && measured(&part).is_some() => lone.push(part),
            at if at < place + 2 => before.push(part),
            _ => after.push(part),
        }
    }
    before.into_iter().chain(lone).chain(after).collect()
}

fn place_of_pair(parts: &[Part], text: &str) -> Option<usize> {
    let mut twos = parts.windows(2);
    twos.position(|two| matches!(two, [one, two] if paired(one, two, text)))
}

/// The bytes of the first pair, and its mass in grams.
pub fn first_pair(parts: &[Part], text: &str) -> Option<(Range<usize>, f64)> {
    let place = place_of_pair(parts, text)?;
    let [one, two] = parts.get(place..place + 2)? else {
        return None;
    };
    let (first, second) = (measured(one)?.0, measured(two)?.0);
    let mass = [first, second].into_iter().find_map(grams)?;
    Some((one.span().start..two.span().end, mass))
}

/// How many grams, where it is one mass.
pub fn grams(dual: &Dual) -> Option<f64> {
    let settled = dual.settle().ok()?.value;
    let mass = settled.dimension == Dimension::Mass;
    settled.one().ok().filter(|_| mass)
}

fn measured(part: &Part) -> Option<(&Dual, &Range<usize>)> {
    match part {
        Part::Found(outcome, span) => match outcome.as_ref() {
            Ok(reading) => match &reading.value {
                Item::Measured(dual) => Some((dual, span)),
                _ => None,
            },
            Err(_) => None,
        },
        Part::Left(..) => None,
    }
}

fn paired(one: &Part, two: &Part, text: &str) -> bool {
    let Some(((first, before), (second, after))) = measured(one).zip(measured(two)) else {
        return false;
    };
    let gap = text.get(before.end..after.start).unwrap_or("");
    first.dimension() != second.dimension() && JOINS.contains(&gap.trim().to_lowercase().as_str())
}
