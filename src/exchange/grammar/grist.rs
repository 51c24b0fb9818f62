//! Length per mass: `230 m/100 g`, `1150 yd/lb`, `4.6 m/g`.

use crate::measure::{
    Grist,
    reading::{
        Measured, Note, Outcome, Parsed, Reading, Refusal, Tokens, measured, span_of, symbol,
        unit_word, with_pieces, word,
    },
    units::{Dimension, Unit},
};
use winnow::{
    Parser,
    combinator::{alt, opt},
    error::EmptyError,
};

/// What is allowed, with examples.
pub const GRIST_ALLOWED: &str = "`230 m/100 g`, `1150 yd/lb`, `4.6 m/g` or a yarn count";

fn per(input: &mut Tokens<'_>) -> Parsed<()> {
    alt((
        symbol("/").void(),
        word(&["per", "pro", "par", "por", "je", "p"]).void(),
        (word(&["to"]), word(&["the"])).void(),
    ))
    .parse_next(input)
}

/// A length to one whole unit of mass: `1150 yd/lb`, `4.6 m per g`, `1150 ypp`.
pub fn per_unit(input: &mut Tokens<'_>) -> Parsed<Outcome<Grist>> {
    let ((length, unit), pieces) = with_pieces(|input| {
        let length = measured
            .verify(|length: &Measured| length.unit.dimension == Dimension::Length)
            .parse_next(input)?;
        per(input)?;
        opt(word(&["a", "the", "one"])).parse_next(input)?;
        let unit = unit_word
            .verify(|unit: &&Unit| unit.dimension == Dimension::Mass)
            .parse_next(input)?;
        Ok((length, unit))
    })
    .parse_next(input)?;
    let span = span_of(pieces);
    let settled = crate::measure::reading::Dual {
        span: length.span.clone(),
        first: length,
        second: None,
    }
    .settle();
    Ok(settled.and_then(|length| {
        let metres = length.value.one()?;
        Grist::metres_per_gram(metres / unit.factor)
            .map(|value| Reading {
                value,
                notes: length.notes,
            })
            .map_err(|error| Refusal::new(span, error.to_string(), GRIST_ALLOWED))
    }))
}

/// A length to a stated mass: `230 m/100 g`, `125 m per 50 g`.
pub fn per_mass(input: &mut Tokens<'_>) -> Parsed<Outcome<Grist>> {
    use crate::measure::reading::{Dual, dual};
    let ((length, mass), pieces) = with_pieces(|input| {
        let first = dual(input)?;
        alt((per, symbol("=~:,-").void())).parse_next(input)?;
        let second = dual(input)?;
        match (first.dimension(), second.dimension()) {
            (Dimension::Length, Dimension::Mass) => Ok((first, second)),
            (Dimension::Mass, Dimension::Length) => Ok((second, first)),
            _ => Err(EmptyError),
        }
    })
    .parse_next(input)?;
    let both = |length: &Dual, mass: &Dual| -> Outcome<Grist> {
        let (length, mass) = (length.settle()?, mass.settle()?);
        let notes: Vec<Note> = length.notes.into_iter().chain(mass.notes).collect();
        let value = Grist::metres_per_gram(length.value.one()? / mass.value.one()?)
            .map_err(|error| Refusal::new(span_of(pieces), error.to_string(), GRIST_ALLOWED))?;
        Ok(Reading { value, notes })
    };
    Ok(both(&length, &mass))
}
