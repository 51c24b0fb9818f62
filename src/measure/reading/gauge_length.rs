//! The length that a gauge is counted over: `10 x 10 cm`, `4 in`, `/in`.

use super::{Parsed, Tokens, stream, unit_word};
use crate::measure::{Over, units::Unit};
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, repeat},
    error::EmptyError,
};

/// Words before the length.
pub const OVER: &[&str] = &[
    "to", "over", "per", "on", "in", "is", "equals", "measure", "sur", "auf", "su", "en", "op",
    "pa", "por", "pour", "par", "pro", "sobre", "em", "for", "make", "makes", "uber", "the", "a",
    "each", "gives",
];

/// The length behind the counts: `= 10 cm`, `over 4 in`, `/in`.
pub fn over_after(input: &mut Tokens<'_>) -> Parsed<Over> {
    alt((
        preceded(join_over, over),
        preceded(
            alt((
                stream::symbol("/").void(),
                stream::word(&["per", "pro", "par", "por"]).void(),
                (stream::word(&["to"]), stream::word(&["the", "an", "one"])).void(),
            )),
            unit_word.verify_map(|unit| over_of(1.0, unit)),
        ),
        stream::word(&["spi"]).verify_map(|_| Over::inches(1.0).ok()),
    ))
    .parse_next(input)
}

fn join_over(input: &mut Tokens<'_>) -> Parsed<()> {
    repeat(
        0..4,
        alt((stream::symbol("=/~,:-(").void(), stream::word(OVER).void())),
    )
    .parse_next(input)
}

/// `10 cm`, `10 x 10 cm`, `4 in`, `10 cm/4 in` (the metric one counts).
pub fn over(input: &mut Tokens<'_>) -> Parsed<Over> {
    let first = square(input)?;
    let second = opt(preceded(
        repeat::<_, _, (), _, _>(
            1..3,
            alt((stream::symbol("/(=,~").void(), stream::word(&["or"]).void())),
        ),
        square,
    ))
    .parse_next(input)?;
    opt(stream::symbol(")")).parse_next(input)?;
    opt(stream::word(&["square", "sq"])).parse_next(input)?;
    let metric = |(_, unit): &(f64, &'static Unit)| unit.symbol != "in";
    let chosen = second.filter(metric).unwrap_or(first);
    over_of(chosen.0, chosen.1).ok_or(EmptyError)
}

fn square(input: &mut Tokens<'_>) -> Parsed<(f64, &'static Unit)> {
    let side = stream::exact(input)?;
    opt(stream::symbol("-")).parse_next(input)?;
    let unit = opt(unit_word).parse_next(input)?;
    let again = opt((stream::symbol("×"), stream::exact, unit_word)).parse_next(input)?;
    let unit = unit.or(again.map(|(_, _, unit)| unit)).ok_or(EmptyError)?;
    match (unit.symbol, side) {
        ("cm", 1.0..=50.0) | ("in", 1.0..=20.0) | ("mm", 25.0..=500.0) => Ok((side, unit)),
        _ => Err(EmptyError),
    }
}

fn over_of(side: f64, unit: &Unit) -> Option<Over> {
    match unit.symbol {
        "cm" | "mm" | "in" => Over::metres(side * unit.factor).ok(),
        _ => None,
    }
}
