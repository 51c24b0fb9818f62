//! Length per mass: `230 m/100 g`, `1150 yd/lb`, `4.6 m/g`.

use crate::{
    label::reading::{
        Dual, Measured, Note, Outcome, Parsed, Reading, Refusal, Tokens, dual, exact, measured,
        number_range, span_of, symbol, unit_word, with_pieces, word,
    },
    measure::{
        Grist,
        units::{Dimension, POUND_G, Unit, unit},
    },
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
        word(&["per", "pro", "par", "por", "pr", "je", "p"]).void(),
        (word(&["to"]), word(&["the"])).void(),
    ))
    .parse_next(input)
}

/// A length to one whole unit of mass: `1150 yd/lb`, `4.6 m per g`, `1150 ypp`;
/// with the units first, to any mass: `yd/lb: 1150`, `m/100 g 230`.
pub fn per_unit(input: &mut Tokens<'_>) -> Parsed<Outcome<Grist>> {
    let ((length, grams), pieces) =
        with_pieces(|input| alt((number_first, yards_per_pound, units_first)).parse_next(input))
            .parse_next(input)?;
    let span = span_of(pieces);
    let settled = Dual {
        span: length.span.clone(),
        first: length,
        second: None,
    }
    .settle();
    Ok(settled.and_then(|length| {
        let metres = length.value.one()?;
        Grist::metres_per_gram(metres / grams)
            .map(|value| Reading {
                value,
                notes: length.notes,
            })
            .map_err(|error| Refusal::new(span, error.to_string(), GRIST_ALLOWED))
    }))
}

/// A length, and the grams that it is of.
fn number_first(input: &mut Tokens<'_>) -> Parsed<(Measured, f64)> {
    let length = measured
        .verify(|length: &Measured| length.unit.dimension == Dimension::Length)
        .parse_next(input)?;
    per(input)?;
    Ok((length, one_of(Dimension::Mass, input)?.factor))
}

/// `ypp`, as weavers shorten yards per pound.
fn yards_per_pound(input: &mut Tokens<'_>) -> Parsed<(Measured, f64)> {
    let (range, pieces) = with_pieces(number_range).parse_next(input)?;
    word(&["ypp"]).parse_next(input)?;
    let span = span_of(pieces);
    let unit = unit("yd").ok_or(EmptyError)?;
    Ok((Measured { range, unit, span }, POUND_G))
}

fn units_first(input: &mut Tokens<'_>) -> Parsed<(Measured, f64)> {
    let unit = one_of(Dimension::Length, input)?;
    per(input)?;
    let times = opt(exact).parse_next(input)?.unwrap_or(1.0);
    let mass = one_of(Dimension::Mass, input)?;
    opt(symbol(":=")).parse_next(input)?;
    let (range, pieces) = with_pieces(number_range).parse_next(input)?;
    match times > 0.0 && unit_word(&mut input.clone()).is_err() {
        true => {
            let span = span_of(pieces);
            Ok((Measured { range, unit, span }, times * mass.factor))
        }
        false => Err(EmptyError),
    }
}

fn one_of(dimension: Dimension, input: &mut Tokens<'_>) -> Parsed<&'static Unit> {
    opt(word(&["a", "the", "one"])).parse_next(input)?;
    unit_word
        .verify(|unit: &&Unit| unit.dimension == dimension)
        .parse_next(input)
}

/// A length to a stated mass: `230 m/100 g`, `125 m per 50 g`.
pub fn per_mass(input: &mut Tokens<'_>) -> Parsed<Outcome<Grist>> {
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
