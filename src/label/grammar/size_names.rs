//! Names of sizes: `XS`, `2XL`, `XS/S`, `2/3XL`.

use crate::label::reading::{Parsed, Token, Tokens, symbol};
use winnow::{
    Parser,
    combinator::{alt, opt},
    token::any,
};

/// `XS`, `M`, `2XL`, `XS/S`, `one size`; capitals only.
fn size_name(input: &mut Tokens<'_>) -> Parsed<String> {
    let part = |input: &mut Tokens<'_>| {
        let digits =
            opt(any.verify(|token: &&Token<'_>| token.text.len() == 1 && token.number().is_some()))
                .parse_next(input)?;
        let letters = any
            .verify(|token: &&Token<'_>| {
                let size = matches!(
                    token.word(),
                    Some(
                        "xxs"
                            | "xs"
                            | "s"
                            | "m"
                            | "l"
                            | "xl"
                            | "xxl"
                            | "xxxl"
                            | "sm"
                            | "med"
                            | "lg"
                    )
                );
                size && token.text.chars().next().is_some_and(char::is_uppercase)
                    && (digits.is_none() || token.glued)
            })
            .parse_next(input)?;
        Ok(format!(
            "{}{}",
            digits.map_or("", |token| token.text),
            letters.text
        ))
    };
    let first = part(input)?;
    let double_digit = |input: &mut Tokens<'_>| {
        symbol("/-").parse_next(input)?;
        part(input)
    };
    let second = opt(double_digit).parse_next(input)?;
    Ok(match second {
        Some(second) => format!("{first}/{second}"),
        None => first,
    })
}

/// `2/3XL`: a digit before the slash.
pub fn any_size_name(input: &mut Tokens<'_>) -> Parsed<String> {
    let slashed = |input: &mut Tokens<'_>| {
        let digit = any
            .verify(|token: &&Token<'_>| token.text.len() == 1 && token.number().is_some())
            .parse_next(input)?;
        symbol("/").parse_next(input)?;
        let rest = size_name(input)?;
        Ok(format!("{}/{rest}", digit.text))
    };
    alt((slashed, size_name)).parse_next(input)
}
