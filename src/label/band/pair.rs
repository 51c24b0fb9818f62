//! Quantities that belong together: a length and a mass that stand together, so that
//! they say what one skein holds; one of them printed in both systems in two places of a
//! label, as in `120 m/50 g, 131 yd`; and those whose units stand before their numbers.

use super::{
    builder::BandBuilder,
    scan::{Item, Part},
};
use crate::{
    label::{
        cells,
        length_mass::{DualMeasure, Measurement, is_yarn_unit, unit_word},
        range::number_range,
        reading::Note,
        token::{ParseResult, Tokens, require, skein_word, skip, skip_fillers, symbol, upcoming},
    },
    measure::units::{Dimension, Unit},
    record::Printed,
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, peek, preceded},
};

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

impl BandBuilder<'_> {
    /// Whether the quantity at `span` is the put-up's in the other system; it is kept
    /// beside the first then, and a word is said where they disagree.
    ///
    /// A length is that where it lies within a third of the first, a mass within
    /// twice: farther away it is what is needed.
    pub(super) fn restates(&mut self, dimension: Dimension, span: &Range<usize>) -> bool {
        let second = self.printed(span);
        let facts = &mut self.out.facts;
        let notes = match dimension {
            Dimension::Length => join(&mut facts.length, ", ", &second, cells::length),
            Dimension::Mass => join(&mut facts.mass, " = ", &second, cells::mass),
        };
        let Some(notes) = notes else { return false };
        let notes = notes.into_iter().map(|note| Note {
            span: span.clone(),
            ..note
        });
        self.out.warnings.extend(notes);
        true
    }
}

/// Makes both statements one, where they read as one; what there is to say of it.
fn join<T: PartialEq>(
    first: &mut Option<Printed<T>>,
    sign: &str,
    second: &str,
    read: fn(&str) -> cells::Cell<T>,
) -> Option<Vec<Note>> {
    let known = first.as_mut()?;
    if read(second).is_ok_and(|same| same.value == known.value) {
        return None;
    }
    let both = format!("{}{sign}{second}", known.text);
    let reading = read(&both).ok()?;
    *known = Printed::new(both, reading.value);
    Some(reading.notes)
}

/// One quantity whose unit is a word of several letters, or a length and a mass.
/// A letter alone before a number may name a size or a colour, and `Gr. 38` a size
/// in German.
pub fn unit_first(input: &mut Tokens<'_>) -> ParseResult<Vec<DualMeasure>> {
    let doubtful = upcoming(input, 0).is_some_and(|token| {
        let word = token.text.trim_end_matches('.');
        word.chars().count() == 1 || token.text.eq_ignore_ascii_case("gr.")
    });
    let first = one_unit_first(input)?;
    let other = one_unit_first.verify(|other: &DualMeasure| other.dimension() != first.dimension());
    let second = opt(preceded(skip_fillers, other)).parse_next(input)?;
    require(!doubtful || second.is_some() || other_follows(&first, input))?;
    Ok(std::iter::once(first).chain(second).collect())
}

/// Whether a quantity of the other kind stands next, as in `Gr. 50 = 120 m`.
fn other_follows(first: &DualMeasure, input: &mut Tokens<'_>) -> bool {
    peek((skip_fillers, number_range, unit_word))
        .verify(|(_, _, unit): &(_, _, &Unit)| {
            is_yarn_unit(unit) && unit.dimension != first.dimension()
        })
        .parse_next(input)
        .is_ok()
}

fn one_unit_first(input: &mut Tokens<'_>) -> ParseResult<DualMeasure> {
    let unit = unit_word.verify(|unit: &&Unit| is_yarn_unit(unit));
    let ((unit, (), range), span) = (unit, skip(0..2, symbol(":=.")), number_range)
        .with_span()
        .parse_next(input)?;
    not(counts_what_follows).parse_next(input)?;
    Ok(Measurement { range, unit, span }.into())
}

/// The number belongs to the word behind it: `125 m`, but not `50 mt 125`, where
/// that word has a number of its own.
fn counts_what_follows(input: &mut Tokens<'_>) -> ParseResult<()> {
    alt((skein_word.void(), (unit_word, not(number_range)).void())).parse_next(input)
}
