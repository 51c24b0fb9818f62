//! What one skein of an amount holds, and which yarn or colour it is for.

use super::amount_forms::{about, yarn_unit};
use crate::label::reading::{Dual, Parsed, Token, Tokens, dual, symbol, word};
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, repeat},
    error::EmptyError,
    token::any,
};

/// `2 balls MC`, `3 skeins in A`.
pub fn of_key(input: &mut Tokens<'_>) -> Parsed<String> {
    opt(word(&["in", "of", "for"])).parse_next(input)?;
    opt(word(&["colour", "color", "yarn"])).parse_next(input)?;
    colour_key(input)
}

/// A key that patterns give to a yarn: `MC`, `CC2`, `A` to `H`.
pub fn colour_key(input: &mut Tokens<'_>) -> Parsed<String> {
    key.verify(|key: &str| {
        let letters = key.trim_end_matches(|c: char| c.is_ascii_digit());
        matches!(
            letters,
            "MC" | "CC" | "A" | "B" | "C" | "D" | "E" | "F" | "G" | "H"
        )
    })
    .parse_next(input)
}

/// `of 182 m`, `, 100 g each`, `à 50 g`, `(50 g each)`.
pub fn of_each(input: &mut Tokens<'_>) -> Parsed<Dual> {
    let sure = opt(alt((
        word(&["of", "a", "at", "je", "de", "da", "von", "each"]).void(),
        symbol("@").void(),
    )))
    .parse_next(input)?;
    if sure.is_none() {
        opt(symbol(",(")).parse_next(input)?;
    }
    opt(about).parse_next(input)?;
    let before = opt(word(&["each"])).parse_next(input)?;
    opt(about).parse_next(input)?;
    let each = dual.verify(yarn_unit).parse_next(input)?;
    let after = opt(word(&["each", "per", "je", "ea"])).parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    match sure.is_some() || before.is_some() || after.is_some() {
        true => Ok(each),
        false => Err(EmptyError),
    }
}

/// `each in A, B, C and MC`: keys of colours, in capitals.
pub fn each_of(input: &mut Tokens<'_>) -> Parsed<Vec<String>> {
    opt(symbol(",")).parse_next(input)?;
    word(&["each", "ea"]).parse_next(input)?;
    opt(word(&["in", "of", "for"])).parse_next(input)?;
    opt(word(&[
        "colours", "colors", "colour", "color", "shades", "yarn", "yarns",
    ]))
    .parse_next(input)?;
    let first = key(input)?;
    let more: Vec<String> = repeat(
        0..40,
        preceded(
            repeat::<_, _, (), _, _>(1..3, alt((symbol(",&+/").void(), word(&["and"]).void()))),
            key,
        ),
    )
    .parse_next(input)?;
    Ok(std::iter::once(first).chain(more).collect())
}

fn key(input: &mut Tokens<'_>) -> Parsed<String> {
    let word = any
        .verify(|token: &&Token<'_>| {
            token.word().is_some()
                && token.text.chars().count() <= 3
                && token.text.chars().all(char::is_uppercase)
        })
        .parse_next(input)?;
    let digit = opt(any.verify(|token: &&Token<'_>| token.glued && token.number().is_some()))
        .parse_next(input)?;
    Ok(format!(
        "{}{}",
        word.text,
        digit.map_or("", |token| token.text)
    ))
}
