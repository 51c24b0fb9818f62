//! Quantities whose units stand before their numbers: `gr 50 = mt 125`,
//! `Metres: 400`.

use super::{
    length_mass::{DualMeasure, Measurement, is_yarn_unit, unit_word},
    range::number_range,
    token::{ParseResult, Tokens, require, skein_word, skip, skip_fillers, symbol},
};
use crate::measure::units::Unit;
use winnow::{
    Parser,
    combinator::{alt, not, opt, peek, preceded},
};

/// One quantity whose unit is a word of several letters, or a length and a mass.
/// A letter alone before a number may name a size or a colour, and `Gr. 38` a size
/// in German.
pub fn unit_first(input: &mut Tokens<'_>) -> ParseResult<Vec<DualMeasure>> {
    let doubtful = input.first().is_some_and(|token| {
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
