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
    let side = stream::number(input)?;
    opt(stream::symbol("-")).parse_next(input)?;
    let unit = opt(unit_word).parse_next(input)?;
    let again = opt((stream::symbol("×"), stream::exact, unit_word)).parse_next(input)?;
    let unit = unit.or(again.map(|(_, _, unit)| unit)).ok_or(EmptyError)?;
    let likely = side
        .values()
        .into_iter()
        .find(|side| is_likely(*side, unit));
    likely.map(|side| (side, unit)).ok_or(EmptyError)
}

/// Whether people count a gauge over that much. What parts thousands in one
/// reading and decimals in the other is never likely as both.
fn is_likely(side: f64, unit: &Unit) -> bool {
    matches!(
        (unit.symbol, side),
        ("cm", 1.0..=50.8) | ("in", 1.0..=20.0) | ("mm", 25.0..=500.0)
    )
}

fn over_of(side: f64, unit: &Unit) -> Option<Over> {
    match unit.symbol {
        "cm" | "mm" | "in" => Over::of(side, unit.factor).ok(),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::reading::lex;

    fn centimetres(text: &str) -> Option<f64> {
        let tokens = lex(text);
        let over = over_after(&mut Tokens::new(&tokens)).ok()?;
        Some((over.as_metres() * 1e6).round() / 1e4)
    }

    #[test]
    fn three_decimals_are_decimals_where_thousands_would_be_no_gauge() {
        for (text, over) in [
            ("/ 3.302 cm", 3.302),
            ("= 10,500 cm", 10.5),
            ("over 2.875 in", 7.3025),
            ("= 101.600 mm", 10.16),
        ] {
            assert_eq!(centimetres(text), Some(over), "{text}");
        }
    }

    #[test]
    fn a_gauge_is_counted_over_a_likely_length_only() {
        for (text, over) in [
            ("/ 1 cm", Some(1.0)),
            ("/ 50.8 cm", Some(50.8)),
            ("/ 51 cm", None),
            ("/ 20 in", Some(50.8)),
            ("/ 21 in", None),
            ("/ 25 mm", Some(2.5)),
            ("/ 24 mm", None),
            ("/ 10 m", None),
            ("/in", Some(2.54)),
        ] {
            assert_eq!(centimetres(text), over, "{text}");
        }
    }
}
