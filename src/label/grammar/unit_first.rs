//! Units printed before their numbers: `gr 50 = mt 125`, `Metres: 400`.

use super::amount_forms::is_yarn_unit;
use crate::{
    label::reading::{
        Dual, Measured, Parsed, Token, Tokens, ahead, is_skein_word, number_range, skip_fillers,
        span_of, symbol, unit_word, with_pieces,
    },
    measure::units::{Dimension, Unit},
};
use winnow::{
    Parser,
    combinator::{opt, repeat},
    error::EmptyError,
};

/// One quantity whose unit is a word of several letters, or a length and a mass.
/// A letter alone before a number may name a size or a colour, and `Gr. 38` a size
/// in German.
pub fn unit_first(input: &mut Tokens<'_>) -> Parsed<Vec<Dual>> {
    let doubtful = ahead(input).is_some_and(|token| {
        let word = token.text.trim_end_matches('.');
        word.chars().count() == 1 || token.text.eq_ignore_ascii_case("gr.")
    });
    let first = one(input)?;
    let dimension = first.dimension();
    let other = |input: &mut Tokens<'_>| {
        skip_fillers(input)?;
        one.verify(|other: &Dual| other.dimension() != dimension)
            .parse_next(input)
    };
    match opt(other).parse_next(input)? {
        Some(second) => Ok(vec![first, second]),
        None if doubtful && !beside(input, dimension) => Err(EmptyError),
        None => Ok(vec![first]),
    }
}

/// Whether a quantity of the other kind stands next, as in `Gr. 50 = 120 m`.
fn beside(input: &Tokens<'_>, dimension: Dimension) -> bool {
    let mut rest = input.clone();
    let found =
        skip_fillers(&mut rest).and_then(|_| (number_range, unit_word).parse_next(&mut rest));
    found.is_ok_and(|(_, unit)| is_yarn_unit(unit) && unit.dimension != dimension)
}

fn one(input: &mut Tokens<'_>) -> Parsed<Dual> {
    let ((unit, range), pieces) = with_pieces(|input| {
        let unit = unit_word
            .verify(|unit: &&'static Unit| is_yarn_unit(unit))
            .parse_next(input)?;
        repeat::<_, _, (), _, _>(0..2, symbol(":=.")).parse_next(input)?;
        Ok((unit, number_range(input)?))
    })
    .parse_next(input)?;
    let span = span_of(pieces);
    let measured = Measured {
        range,
        unit,
        span: span.clone(),
    };
    match counts_what_follows(input) {
        true => Err(EmptyError),
        false => Ok(Dual {
            first: measured,
            second: None,
            span,
        }),
    }
}

/// Whether the number belongs to the word behind it: `125 m`, but not
/// `50 mt 125`, where that word has a number of its own.
fn counts_what_follows(input: &Tokens<'_>) -> bool {
    let mut rest = input.clone();
    let skeins = ahead(input)
        .and_then(Token::word)
        .is_some_and(is_skein_word);
    skeins || unit_word(&mut rest).is_ok() && number_range(&mut rest).is_err()
}
