//! Small whole numbers, in digits or as words.

use crate::label::reading::{Parsed, Token, Tokens, exact};
use winnow::{Parser, combinator::alt, token::any};

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 1 to 24, checked just before"
)]
fn small(value: f64) -> Option<u8> {
    ((1.0..=24.0).contains(&value) && value.fract() == 0.0).then_some(value as u8)
}

/// A whole number from 1 to 24, in digits or as a word.
pub fn small_number(input: &mut Tokens<'_>) -> Parsed<u8> {
    alt((exact, number_word))
        .verify_map(small)
        .parse_next(input)
}

/// `one` to `twelve`.
pub fn number_word(input: &mut Tokens<'_>) -> Parsed<f64> {
    const NUMBERS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    any.verify_map(|token: &Token<'_>| {
        let word = token.word()?;
        let place = NUMBERS.iter().position(|known| *known == word)?;
        u8::try_from(place + 1).ok().map(f64::from)
    })
    .parse_next(input)
}
