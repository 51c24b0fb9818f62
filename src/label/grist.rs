//! Length per mass: `230 m/100 g`, `1150 yd/lb`, `4.6 m/g`.

use super::{
    length_mass::{DualMeasure, Measurement, dual, measured, unit_of, unit_word},
    range::number_range,
    reading::{ReadResult, Reading, Refusal},
    token::{ParseResult, Tokens, Words, exact, require, sign_or_word, symbol, word, words},
};
use crate::measure::{
    Grist,
    units::{Dimension, POUND_G, Unit, unit},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, preceded},
    error::EmptyError,
};

/// What is allowed, with examples.
pub const GRIST_ALLOWED: &str = "`230 m/100 g`, `1150 yd/lb`, `4.6 m/g` or a yarn count";

const PER: Words = words! { per, pro, par, por, pr, je, p };

fn per(input: &mut Tokens<'_>) -> ParseResult<()> {
    let to_the = (word(words! { to }), word(words! { the })).void();
    alt((sign_or_word("/", PER), to_the)).parse_next(input)
}

/// A length to one whole unit of mass: `1150 yd/lb`, `4.6 m per g`, `1150 ypp`;
/// with the units first, to any mass: `yd/lb: 1150`, `m/100 g 230`.
pub fn per_unit(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Grist>> {
    let ((length, grams), span) = alt((number_first, yards_per_pound, units_first))
        .with_span()
        .parse_next(input)?;
    let length = DualMeasure::from(length).magnitude();
    Ok(length.and_then(|length| length.try_map(|length| grist(length.one()?, grams, &span))))
}

fn grist(metres: f64, grams: f64, span: &Range<usize>) -> Result<Grist, Refusal> {
    Grist::metres_per_gram(metres / grams)
        .map_err(|error| Refusal::new(span.clone(), error, GRIST_ALLOWED))
}

/// A length, and the grams that it is of.
type LengthToMass = (Measurement, f64);

fn number_first(input: &mut Tokens<'_>) -> ParseResult<LengthToMass> {
    let length = measured.verify(|length: &Measurement| length.unit.dimension == Dimension::Length);
    (length, per, one_whole(Dimension::Mass))
        .map(|(length, (), mass)| (length, mass.factor))
        .parse_next(input)
}

/// `ypp`, as weavers shorten yards per pound.
fn yards_per_pound(input: &mut Tokens<'_>) -> ParseResult<LengthToMass> {
    let (range, span) = number_range.with_span().parse_next(input)?;
    word(words! { ypp }).parse_next(input)?;
    let unit = unit("yd").ok_or(EmptyError)?;
    Ok((Measurement { range, unit, span }, POUND_G))
}

fn units_first(input: &mut Tokens<'_>) -> ParseResult<LengthToMass> {
    let unit = one_whole(Dimension::Length)(input)?;
    per(input)?;
    let times = opt(exact).parse_next(input)?.unwrap_or(1.0);
    let mass = one_whole(Dimension::Mass)(input)?;
    opt(symbol(":=")).parse_next(input)?;
    let (range, span) = number_range.with_span().parse_next(input)?;
    not(unit_word).parse_next(input)?;
    require(times > 0.0)?;
    Ok((Measurement { range, unit, span }, times * mass.factor))
}

/// `a pound`, `g`.
fn one_whole(dimension: Dimension) -> impl FnMut(&mut Tokens<'_>) -> ParseResult<&'static Unit> {
    move |input| preceded(opt(word(words! { a, the, one })), unit_of(dimension)).parse_next(input)
}

/// A length to a stated mass: `230 m/100 g`, `125 m per 50 g`.
pub fn per_mass(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Grist>> {
    let join = alt((per, symbol("=~:,-").void()));
    let ((first, (), second), span) = (dual, join, dual).with_span().parse_next(input)?;
    require(first.dimension() != second.dimension())?;
    let (length, mass) = match first.dimension() {
        Dimension::Length => (first, second),
        Dimension::Mass => (second, first),
    };
    Ok(ratio(&length, &mass, &span))
}

fn ratio(length: &DualMeasure, mass: &DualMeasure, span: &Range<usize>) -> ReadResult<Grist> {
    let mut notes = Vec::new();
    let length = length.magnitude()?.note_in(&mut notes);
    let mass = mass.magnitude()?.note_in(&mut notes);
    let value = grist(length.one()?, mass.one()?, span)?;
    Ok(Reading { value, notes })
}

#[cfg(test)]
mod tests {
    use crate::label::cells;

    /// A pound is 453.59237 g and a yard 0.9144 m.
    #[test]
    fn a_length_per_mass_is_read_with_its_units_behind_or_before() {
        let per_pound = 1150.0 * 0.9144 / 453.592_37;
        for (text, grist) in [
            ("230 m/100 g", 2.3),
            ("125 m per 50 g", 2.5),
            ("50 g = 125 m", 2.5),
            ("4.6 m/g", 4.6),
            ("1150 yd/lb", per_pound),
            ("1150 yards to the pound", per_pound),
            ("1150 ypp", per_pound),
            ("yd/lb: 1150", per_pound),
            ("m/100 g 230", 2.3),
            ("14 Nm", 14.0),
        ] {
            let read = cells::grist(text).unwrap().value.as_metres_per_gram();
            assert!((read - grist).abs() < 1e-9, "{text}: {read}");
        }
        for text in ["230 m", "230 m/100 m", "0 m/100 g"] {
            assert!(cells::grist(text).is_err(), "{text}");
        }
    }
}
