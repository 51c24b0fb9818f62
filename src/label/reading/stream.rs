//! The stream of pieces that the grammars run over, and their smallest parts.

use super::{Number, Reading, Refusal, Token, fillers};
use winnow::{Parser, combinator::repeat, error::EmptyError, stream::TokenSlice, token::any};

/// A stream of pieces.
pub type Tokens<'t> = TokenSlice<'t, Token<'t>>;

/// What a grammar gives: something, or nothing of this kind stands here.
pub type Parsed<T> = Result<T, EmptyError>;

/// Something recognised: a value with notes, or why it is not taken.
pub type Outcome<T> = Result<Reading<T>, Refusal>;

/// A value without notes.
pub fn plain<T>(value: T) -> Outcome<T> {
    Ok(Reading {
        value,
        notes: Vec::new(),
    })
}

/// The next piece, whatever it is.
pub fn piece<'t>(input: &mut Tokens<'t>) -> Parsed<&'t Token<'t>> {
    any.parse_next(input)
}

/// The next piece, without taking it.
pub fn ahead<'t>(input: &Tokens<'t>) -> Option<&'t Token<'t>> {
    let slice: &'t [Token<'t>] = winnow::stream::Stream::peek_slice(input, input.len());
    slice.first()
}

/// A number.
pub fn number<'t>(input: &mut Tokens<'t>) -> Parsed<&'t Number> {
    any.verify_map(|token: &'t Token<'t>| token.number())
        .parse_next(input)
}

/// A number of one meaning.
pub fn exact(input: &mut Tokens<'_>) -> Parsed<f64> {
    number.verify_map(Number::one).parse_next(input)
}

/// Any word.
pub fn any_word<'t>(input: &mut Tokens<'t>) -> Parsed<&'t str> {
    any.verify_map(|token: &'t Token<'t>| token.word())
        .parse_next(input)
}

/// One of these words, folded.
pub fn word<'t>(words: &'static [&'static str]) -> impl FnMut(&mut Tokens<'t>) -> Parsed<&'t str> {
    move |input: &mut Tokens<'t>| {
        any_word
            .verify(|word: &str| words.contains(&word))
            .parse_next(input)
    }
}

/// One of these symbols.
pub fn symbol<'t>(symbols: &'static str) -> impl FnMut(&mut Tokens<'t>) -> Parsed<char> {
    move |input: &mut Tokens<'t>| {
        any.verify_map(|token: &'t Token<'t>| symbols.chars().find(|c| token.is(*c)))
            .parse_next(input)
    }
}

/// These words one after another, with a hyphen between them or nothing.
pub fn phrase<'t>(words: &'static str) -> impl FnMut(&mut Tokens<'t>) -> Parsed<()> {
    move |input: &mut Tokens<'t>| {
        for (place, wanted) in words.split(' ').enumerate() {
            if place > 0 {
                winnow::combinator::opt(symbol("-")).parse_next(input)?;
            }
            any_word
                .verify(|word: &str| word == wanted)
                .parse_next(input)?;
        }
        Ok(())
    }
}

/// The longest of these phrases that stands here.
pub fn longest<'t>(
    phrases: &'static [&'static str],
) -> impl FnMut(&mut Tokens<'t>) -> Parsed<&'static str> {
    move |input: &mut Tokens<'t>| {
        let here = input.clone();
        let fits = |text: &'static str| {
            let mut trial = here.clone();
            phrase(text)
                .parse_next(&mut trial)
                .ok()
                .map(|()| trial.len())
        };
        let best = phrases
            .iter()
            .filter_map(|text| fits(text).map(|left| (left, *text)))
            .min_by_key(|(left, _)| *left)
            .map(|(_, text)| text)
            .ok_or(EmptyError)?;
        phrase(best).parse_next(input)?;
        Ok(best)
    }
}

/// Signs and words that say nothing by themselves.
pub fn skip_fillers(input: &mut Tokens<'_>) -> Parsed<()> {
    repeat(
        0..,
        any.verify(|token: &&Token<'_>| fillers::says_nothing(token)),
    )
    .parse_next(input)
}

/// From `least` to `most` of `item`, with `between` between them, which may be
/// nothing at all.
pub fn parted<'t, T>(
    least: usize,
    most: usize,
    mut item: impl FnMut(&mut Tokens<'t>) -> Parsed<T>,
    mut between: impl FnMut(&mut Tokens<'t>) -> Parsed<()>,
) -> impl FnMut(&mut Tokens<'t>) -> Parsed<Vec<T>> {
    move |input: &mut Tokens<'t>| {
        let mut items = vec![item(input)?];
        while items.len() < most {
            let next = |input: &mut Tokens<'t>| {
                between(input)?;
                item(input)
            };
            match winnow::combinator::opt(next).parse_next(input)? {
                Some(next) => items.push(next),
                None => break,
            }
        }
        match items.len() >= least {
            true => Ok(items),
            false => Err(EmptyError),
        }
    }
}

/// `grammar` with the pieces that it took.
pub fn with_pieces<'t, T>(
    mut grammar: impl FnMut(&mut Tokens<'t>) -> Parsed<T>,
) -> impl FnMut(&mut Tokens<'t>) -> Parsed<(T, &'t [Token<'t>])> {
    move |input: &mut Tokens<'t>| {
        let before: &'t [Token<'t>] = winnow::stream::Stream::peek_slice(input, input.len());
        let value = grammar(input)?;
        let taken = before.len() - input.len();
        Ok((value, before.get(..taken).unwrap_or(before)))
    }
}
