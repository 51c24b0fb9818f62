//! The smallest parsers over tokens, of which every grammar is made.

use super::{Number, Token, Words, common_fraction, vocabulary::says_nothing};
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, repeat},
    error::EmptyError,
    stream::{Range, Stream, TokenSlice},
    token::any,
};

/// A stream of tokens.
pub type Tokens<'t> = TokenSlice<'t, Token<'t>>;

/// What a grammar gives: something, or nothing of this kind is here.
pub type ParseResult<T> = Result<T, EmptyError>;

/// Goes on only where `condition` holds.
pub fn require(condition: bool) -> ParseResult<()> {
    condition.then_some(()).ok_or(EmptyError)
}

/// The token that is next: every grammar looks at its text through this or
/// [`upcoming`], so that it is known how far it looked, and how often.
pub fn here<'t>(input: &mut Tokens<'t>) -> ParseResult<&'t Token<'t>> {
    let token = any.parse_next(input)?;
    look_at(token);
    Ok(token)
}

/// The token so many places ahead, which stays where it is.
pub fn upcoming<'t>(input: &Tokens<'t>, places: usize) -> Option<&'t Token<'t>> {
    let token = input.peek_slice(input.len()).get(places)?;
    look_at(token);
    Some(token)
}

fn look_at(token: &Token<'_>) {
    #[cfg(test)]
    super::work::count();
    token.looked_at.set(true);
}

/// One token of which `holds` is true.
pub fn one_of<'t>(
    holds: impl Fn(&Token<'t>) -> bool,
) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<&'t Token<'t>> {
    move |input| {
        here.verify(|token: &&Token<'t>| holds(token))
            .parse_next(input)
    }
}

/// A number.
pub fn number<'t>(input: &mut Tokens<'t>) -> ParseResult<&'t Number> {
    here.verify_map(|token: &'t Token<'t>| token.number())
        .parse_next(input)
}

/// A number of one meaning.
pub fn exact(input: &mut Tokens<'_>) -> ParseResult<f64> {
    number.verify_map(Number::one).parse_next(input)
}

/// `3/4`, without spaces.
pub fn fraction(input: &mut Tokens<'_>) -> ParseResult<f64> {
    (exact, symbol("/"), exact)
        .verify_map(|(top, _, bottom)| common_fraction(top, bottom))
        .parse_next(input)
}

/// `one` to `twelve`.
pub fn number_word(input: &mut Tokens<'_>) -> ParseResult<f64> {
    const NUMBERS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    any_word
        .verify_map(|word| {
            let place = NUMBERS.iter().position(|known| *known == word)?;
            u8::try_from(place + 1).ok().map(f64::from)
        })
        .parse_next(input)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 1 to 24, checked just before"
)]
fn small(value: f64) -> Option<u8> {
    ((1.0..=24.0).contains(&value) && value.fract() == 0.0).then_some(value as u8)
}

/// A whole number from 1 to 24, in digits or as a word.
pub fn small_number(input: &mut Tokens<'_>) -> ParseResult<u8> {
    alt((exact, number_word))
        .verify_map(small)
        .parse_next(input)
}

/// Any word.
pub fn any_word<'t>(input: &mut Tokens<'t>) -> ParseResult<&'t str> {
    here.verify_map(|token: &'t Token<'t>| token.word())
        .parse_next(input)
}

/// One of these words, folded.
pub fn word<'t>(words: Words) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<&'t str> {
    move |input| {
        any_word
            .verify(|word: &str| words.contains(word))
            .parse_next(input)
    }
}

/// One of these symbols.
pub fn symbol<'t>(symbols: &'static str) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<char> {
    move |input| {
        here.verify_map(|token: &Token<'_>| symbols.chars().find(|c| token.is(*c)))
            .parse_next(input)
    }
}

/// One of these symbols or words.
pub fn sign_or_word<'t>(
    symbols: &'static str,
    words: Words,
) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<()> {
    move |input| alt((symbol(symbols).void(), word(words).void())).parse_next(input)
}

/// So many of `parser`, of no further interest.
pub fn skip<'t, T>(
    times: impl Into<Range>,
    parser: impl Parser<Tokens<'t>, T, EmptyError>,
) -> impl Parser<Tokens<'t>, (), EmptyError> {
    repeat(times, parser)
}

/// Signs and words that say nothing by themselves.
pub fn skip_fillers(input: &mut Tokens<'_>) -> ParseResult<()> {
    skip(0.., one_of(says_nothing)).parse_next(input)
}

/// These words one after another, with a hyphen between them or nothing.
pub fn phrase<'t>(words: &'static str) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<()> {
    move |input| {
        for (place, wanted) in words.split(' ').enumerate() {
            if place > 0 {
                opt(symbol("-")).parse_next(input)?;
            }
            any_word
                .verify(|word: &str| word == wanted)
                .parse_next(input)?;
        }
        Ok(())
    }
}

/// The longest of these phrases that is next.
pub fn longest<'t>(phrases: Words) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<&'static str> {
    move |input| {
        longest_among(
            |first| phrases.beginning(first).map(|name| (name, name)),
            input,
        )
    }
}

/// What the longest phrase of a table that is next means; of equally long ones the
/// first. The rows of the table are a meaning and its names.
pub fn longest_of<'t, T: Copy + 'static>(
    table: &'static [(T, Words)],
) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<T> {
    move |input| {
        let named = |first| {
            let rows = table.iter();
            rows.flat_map(move |(meaning, names)| {
                names.beginning(first).map(|name| (name, *meaning))
            })
        };
        longest_among(named, input)
    }
}

/// The longest of the phrases that begin with the word that is next.
pub fn longest_among<'t, T, I: Iterator<Item = (&'static str, T)>>(
    beginning: impl FnOnce(&'t str) -> I,
    input: &mut Tokens<'t>,
) -> ParseResult<T> {
    let start = input.clone();
    let first = any_word.parse_peek(start.clone())?.1;
    let behind = |name| phrase(name).parse_peek(start.clone()).ok();
    let (rest, meaning) = beginning(first)
        .filter_map(|(name, meaning)| behind(name).map(|(rest, ())| (rest, meaning)))
        .min_by_key(|(rest, _)| rest.len())
        .ok_or(EmptyError)?;
    *input = rest;
    Ok(meaning)
}

/// From `least` to `most` of `item`, with `between` between them, which may be
/// nothing at all (and may not in winnow's `separated`).
pub fn joined<'t, T, U>(
    (least, most): (usize, usize),
    mut item: impl FnMut(&mut Tokens<'t>) -> ParseResult<T>,
    mut between: impl FnMut(&mut Tokens<'t>) -> ParseResult<U>,
) -> impl FnMut(&mut Tokens<'t>) -> ParseResult<Vec<T>> {
    move |input| {
        let first = item(input)?;
        let more: Vec<T> =
            repeat(least - 1..most, preceded(&mut between, &mut item)).parse_next(input)?;
        Ok(std::iter::once(first).chain(more).collect())
    }
}
