//! Strands held together and wraps per inch.

use super::small_number;
use crate::label::reading::{Parsed, Tokens, symbol, word};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
};

/// `held double`, `2 strands together`, `hold three strands`.
pub fn strands_held(input: &mut Tokens<'_>) -> Parsed<u8> {
    repeat::<_, _, (), _, _>(0..3, word(&["with", "worked"])).parse_next(input)?;
    alt((
        (
            word(&["held", "hold", "holding", "used", "knit", "knitted"]),
            opt(word(&["yarn"])),
            how_often,
        )
            .map(|found| found.1.map_or(found.2, |_| found.2)),
        (
            word(&["held", "hold", "holding"]),
            small_number,
            word(&["strands", "ends", "strand", "threads"]),
            opt(word(&["together"])),
        )
            .map(|found| found.1),
        (
            small_number,
            word(&["strands", "ends", "threads"]),
            opt(word(&["held"])),
            opt(word(&["together"])),
        )
            .map(|found| found.0),
        (small_number, word(&["strand"]), word(&["held", "together"])).map(|found| found.0),
        (word(&["doubled", "dubbelt", "doppelfadig", "doppelt"])).value(2),
        (
            word(&["double", "triple"]),
            word(&["stranded", "strand", "strands"]),
        )
            .map(|(times, _)| if times == "triple" { 3 } else { 2 }),
    ))
    .parse_next(input)
}

fn how_often(input: &mut Tokens<'_>) -> Parsed<u8> {
    alt((
        word(&["double", "doubled", "twice"]).value(2),
        word(&["triple", "tripled"]).value(3),
        word(&["quadruple"]).value(4),
        word(&["single", "singly"]).value(1),
    ))
    .parse_next(input)
}

/// `wpi 13`, `13 wpi`, `13 wraps per inch`.
pub fn wraps(input: &mut Tokens<'_>) -> Parsed<crate::label::reading::NumberRange> {
    use crate::label::reading::number_range;
    let wpi = |input: &mut Tokens<'_>| {
        alt((
            word(&["wpi"]).void(),
            (
                word(&["wraps", "wrap"]),
                alt((word(&["per"]).void(), symbol("/").void())),
                word(&["inch", "in"]),
            )
                .void(),
        ))
        .parse_next(input)
    };
    alt((
        (wpi, opt(symbol(":=")), number_range).map(|found| found.2),
        (number_range, wpi).map(|found| found.0),
    ))
    .parse_next(input)
}
