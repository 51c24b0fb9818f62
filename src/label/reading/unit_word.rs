//! One word or sign that is a unit.

use super::{Parsed, Tokens, stream};
use crate::measure::units::{Unit, unit};
use winnow::{Parser, combinator::alt};

/// A unit of length or mass; `in total` is no inch.
pub fn unit_word(input: &mut Tokens<'_>) -> Parsed<&'static Unit> {
    let unit = alt((
        stream::any_word.verify_map(unit),
        stream::symbol("\"").verify_map(|_| unit("\"")),
    ))
    .parse_next(input)?;
    let says_in = unit.symbol == "in"
        && stream::ahead(input)
            .and_then(|token| token.word())
            .is_some_and(|word| ["total", "all", "the", "each", "sizes", "size"].contains(&word));
    match says_in {
        true => Err(winnow::error::EmptyError),
        false => Ok(unit),
    }
}
