//! One cell, field or argument at a time: the whole text must be one value.
//!
//! CSV columns, pattern files, command-line arguments and forms all read here.
//! Printing any of these values and reading it back gives the same value.

mod knitting;
mod stock;
pub mod written;
mod yarn;

pub use knitting::{
    Step, day, degrees, fit, multiple, percent, plain_number, purpose, row_counts, step, times,
    tolerance, yes_no,
};
pub use stock::{
    HandAmount, amount_in_hand, amount_on_scale, colour, colour_in_name, needs, new_amount,
    stock_amount, weighed,
};
pub use yarn::{
    blend, care, class, construction, count, fibre_groups, gauge, grist, length, mass, money,
    needle, needles, price, put_up,
};

use super::{
    reading::{ReadError, ReadResult, Reading, Refusal},
    token::{ParseResult, Token, Tokens, Words, lex, says_nothing, skip_fillers, span_of, words},
};
use winnow::{
    Parser,
    combinator::{alt, preceded},
};

/// What reading a cell gives.
pub type Cell<T> = Result<Reading<T>, ReadError>;

/// `text` as one `grammar`, joining words around it allowed. Messages call it `what`
/// (with its article) and say what is `allowed` (with examples).
fn whole<T>(
    text: &str,
    what: &str,
    allowed: &str,
    grammar: impl Fn(&mut Tokens<'_>) -> ParseResult<ReadResult<T>>,
) -> Cell<T> {
    let tokens = lex(text);
    let refuse =
        |span, why: String, allowed: String| Err(Refusal::new(span, why, allowed).error(text));
    if let Some(why) = why_nothing(&tokens) {
        return refuse(0..text.len(), why.to_owned(), allowed.to_owned());
    }
    let mut input = Tokens::new(&tokens);
    let at_first = alt((&grammar, preceded(skip_fillers, &grammar))).parse_next(&mut input);
    let Ok(read) = at_first else {
        let is_bare = matches!(tokens.as_slice(), [only] if only.number().is_some());
        let why = match what {
            "a length" | "a mass" if is_bare => "it has no unit".to_owned(),
            "a price" | "an amount of money" if is_bare => "it has no currency".to_owned(),
            "fibres" => "no such fibre is known".to_owned(),
            _ => format!("it is not {what}"),
        };
        return refuse(span_of(&tokens), why, allowed.to_owned());
    };
    let more: Vec<Token<'_>> = input
        .iter()
        .filter(|token| !says_nothing(token))
        .cloned()
        .collect();
    if read.is_ok() && !more.is_empty() {
        let why = format!("this is more than {what}");
        return refuse(span_of(&more), why, format!("one value only: {allowed}"));
    }
    read.map_err(|refusal| refusal.error(text))
}

/// The same of a grammar that takes all that it recognises.
fn whole_plain<T>(
    text: &str,
    what: &str,
    allowed: &str,
    grammar: impl Fn(&mut Tokens<'_>) -> ParseResult<T>,
) -> Cell<T> {
    whole(text, what, allowed, |input| {
        Ok(Ok(Reading::plain(grammar(input)?)))
    })
}

/// Why there is no value at all.
fn why_nothing(tokens: &[Token<'_>]) -> Option<&'static str> {
    const NONE: Words = words! { none, na, nan, unknown, inf, infinity, nil, null };
    match tokens {
        [] => Some("it is empty"),
        tokens if has_number_below_zero(tokens) => Some("it is below zero"),
        [only] if only.is_word(NONE) => {
            Some("it gives no value; leave it empty if you do not know")
        }
        _ => None,
    }
}

/// Whether a number stands behind a minus that joins it to nothing: at the start, or
/// behind a sign as in `22 sts x -5 rows`.
fn has_number_below_zero(tokens: &[Token<'_>]) -> bool {
    const SIGNS: [char; 5] = ['(', '/', ',', '=', '×'];
    const TIMES: Words = words! { x };
    let parts =
        |token: &Token<'_>| SIGNS.iter().any(|sign| token.is(*sign)) || token.is_word(TIMES);
    let before = std::iter::once(true).chain(tokens.iter().map(parts));
    before.zip(tokens.windows(2)).any(|(is_free, pair)| {
        matches!(pair, [minus, number] if is_free && minus.is('-') && number.glued && number.number().is_some())
    })
}

#[cfg(test)]
mod tests {
    use crate::{label::cells, record::YarnFacts};

    #[test]
    fn a_minus_behind_a_sign_is_below_zero_and_between_numbers_joins_them() {
        for text in [
            "22 sts x -5 rows / 10 cm",
            "22 sts / -5 cm",
            "22 sts x 30 rows / -4 in",
        ] {
            let error = cells::gauge(text).unwrap_err().to_string();
            assert!(error.contains("below zero"), "{error}");
        }
        assert!(cells::needs("6 (-5, 8) skeins", &YarnFacts::default()).is_err());
        for text in ["22-24 sts / 10 cm", "22 - 24 sts x 30 -32 rows / 10 cm"] {
            assert!(cells::gauge(text).is_ok(), "{text}");
        }
    }

    #[test]
    fn a_message_says_what_was_given_why_and_what_is_allowed() {
        let error = cells::length("125 quills").unwrap_err().to_string();
        assert_eq!(
            error,
            "`125 quills` is not understood: it is not a length; write `125 m`, `137 yd` or `1 1/2 yd`"
        );
        let error = cells::length("125 m blue").unwrap_err().to_string();
        assert_eq!(
            error,
            "`blue` is not understood: this is more than a length; write one value only: `125 m`, `137 yd` or `1 1/2 yd`"
        );
    }

    #[test]
    fn nothing_zero_negative_and_endless_are_no_length() {
        for text in [
            "",
            "   ",
            "none",
            "n/a",
            "-5 m",
            "nan",
            "inf m",
            "0 m",
            "99999999999999 m",
            "1e9 m",
            "m",
            "5",
            &"9".repeat(400),
        ] {
            assert!(cells::length(text).is_err(), "{text}");
        }
    }
}
