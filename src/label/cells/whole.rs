//! The whole text as one value.

use crate::label::reading::{
    Outcome, Parsed, ReadError, Reading, Refusal, Token, Tokens, lex, says_nothing, skip_fillers,
    span_of,
};
use winnow::stream::Stream;

/// What reading a cell gives.
pub type Cell<T> = Result<Reading<T>, ReadError>;

/// What a cell holds, for its messages.
#[derive(Debug, Clone, Copy)]
pub struct Asked {
    /// With its article: `a length`.
    pub what: &'static str,
    /// What may be written, with examples.
    pub allowed: &'static str,
}

/// `text` as one `grammar`, joining words around it allowed.
pub fn whole<T>(
    text: &str,
    asked: Asked,
    grammar: impl FnMut(&mut Tokens<'_>) -> Parsed<Outcome<T>>,
) -> Cell<T> {
    let tokens = lex(text);
    read(&tokens, text.len(), asked, grammar).map_err(|refusal| refusal.error(text))
}

fn read<T>(
    tokens: &[Token<'_>],
    end: usize,
    asked: Asked,
    mut grammar: impl FnMut(&mut Tokens<'_>) -> Parsed<Outcome<T>>,
) -> Outcome<T> {
    if let Some(why) = nothing(tokens) {
        return Err(Refusal::new(0..end, why, asked.allowed));
    }
    let mut input = Tokens::new(tokens);
    let found = at_first(&mut input, &mut grammar);
    let (outcome, rest) = match found {
        Some(outcome) => (outcome, rest(&input)),
        None => {
            return Err(Refusal::new(
                span_of(tokens),
                format!("it is not {}", asked.what),
                asked.allowed,
            ));
        }
    };
    let left: Vec<Token<'_>> = rest
        .iter()
        .filter(|token| !says_nothing(token))
        .cloned()
        .collect();
    match (outcome, left.is_empty()) {
        (Ok(_), false) => Err(Refusal::new(
            span_of(&left),
            format!("this is more than {}", asked.what),
            format!("one value only: {}", asked.allowed),
        )),
        (outcome, _) => outcome,
    }
}

/// The grammar at the start, or after words that say nothing.
fn at_first<T>(
    input: &mut Tokens<'_>,
    grammar: &mut impl FnMut(&mut Tokens<'_>) -> Parsed<Outcome<T>>,
) -> Option<Outcome<T>> {
    let start = input.checkpoint();
    if let Ok(outcome) = grammar(input) {
        return Some(outcome);
    }
    input.reset(&start);
    skip_fillers(input).ok()?;
    grammar(input).ok()
}

fn rest<'t>(input: &Tokens<'t>) -> &'t [Token<'t>] {
    input.peek_slice(input.len())
}

/// Why there is no value at all.
fn nothing(tokens: &[Token<'_>]) -> Option<&'static str> {
    const NONE: [&str; 8] = [
        "none", "na", "nan", "unknown", "inf", "infinity", "nil", "null",
    ];
    match tokens {
        [] => Some("it is empty"),
        [first, ..]
            if first.is('-')
                && tokens
                    .get(1)
                    .is_some_and(|next| next.glued && next.number().is_some()) =>
        {
            Some("a number below zero is not possible")
        }
        [only] if only.word().is_some_and(|word| NONE.contains(&word)) => {
            Some("it names no value; leave it empty where it is not known")
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::label::cells;

    #[test]
    fn a_message_says_what_was_given_why_and_what_is_allowed() {
        let error = cells::length("125 quills").unwrap_err().to_string();
        assert_eq!(
            error,
            "`125 quills` is not read: it is not a length; write `125 m`, `137 yd` or `1 1/2 yd`"
        );
        let error = cells::length("125 m blue").unwrap_err().to_string();
        assert_eq!(
            error,
            "`blue` is not read: this is more than a length; write one value only: `125 m`, `137 yd` or `1 1/2 yd`"
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
