//! Where the text of a pattern says that some of its yarns are held together as one
//! strand: `held together with A`, `one strand of each held together`.

use super::token::{Token, Words, lex, words};
use crate::words::fold;
use std::ops::Range;

/// What is said of yarns that are held together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeldPhrase {
    /// Keys of the yarns that are named, with strands where more than one is; none where
    /// all are meant.
    pub named: Vec<(String, Option<u8>)>,
    /// Whether it is said of all yarns, or of none by name.
    pub of_all: bool,
    /// Bytes of the whole.
    pub span: Range<usize>,
}

const HOLD: Words = words! { held, hold, holding, gehalten, holdt, holdes };
const TOGETHER: Words = words! { together, zusammen, sammen };
const ALL: Words = words! { each, both, all, beide, begge, hver };
const STRANDS: Words = words! { strand, strands, end, ends, thread, threads };
/// Words that may stand in such a phrase beside these.
const BESIDE: Words = words! {
    one, a, single, of, the, is, are, and, with, yarn, yarns, colour, colours, color, colors, two,
    using, work, worked, knit, knitted, throughout, von, und, mit, af, og, med, garn,
};

/// Every such phrase of the text; `keys` are those of its yarns, as written.
pub fn held_phrases(text: &str, keys: &[String]) -> Vec<HeldPhrase> {
    let tokens = lex(text);
    let mut found: Vec<HeldPhrase> = Vec::new();
    for (place, token) in tokens.iter().enumerate() {
        let done = found.last().map_or(0, |phrase| phrase.span.end);
        if token.span.start >= done && token.is_word(HOLD) {
            found.extend(phrase_around(&tokens, place, keys));
        }
    }
    found
}

/// The phrase with the word for holding at this place: all around it that may belong to
/// it, if a word for together does.
fn phrase_around(tokens: &[Token<'_>], hold: usize, keys: &[String]) -> Option<HeldPhrase> {
    let belongs = |token: &&Token<'_>| is_part(token, keys);
    let (before, from) = tokens.split_at_checked(hold)?;
    let same_sentence = before
        .iter()
        .rev()
        .take_while(|token| !ends_sentence(token));
    let first = hold - same_sentence.take_while(belongs).count();
    let parts = from.iter().take_while(belongs).count();
    let mut sentence = from.iter().take(parts);
    let count = sentence
        .position(ends_sentence)
        .map_or(parts, |last| last + 1);
    let phrase = tokens.get(first..hold + count)?;
    phrase
        .get(hold - first..)?
        .iter()
        .find(|token| token.is_word(TOGETHER))?;
    let named = named(phrase, keys);
    let of_all = phrase.iter().any(|token| token.is_word(ALL));
    // `2 strands held together` is said of one yarn.
    let is_of_one = named.is_empty() && !of_all && phrase.iter().any(|it| it.is_word(STRANDS));
    let span = phrase.first()?.span.start..phrase.last()?.span.end;
    (!is_of_one).then_some(HeldPhrase {
        of_all: of_all || named.is_empty(),
        named,
        span,
    })
}

fn ends_sentence(token: &Token<'_>) -> bool {
    token.text.ends_with('.')
}

fn is_part(token: &Token<'_>, keys: &[String]) -> bool {
    let all = [HOLD, TOGETHER, ALL, STRANDS, BESIDE];
    all.into_iter().any(|words| token.is_word(words))
        || token.is('&')
        || token.is('+')
        || strands_of(token).is_some()
        || key_of(token, keys).is_some()
}

fn strands_of(token: &Token<'_>) -> Option<u8> {
    token.is_digits().then(|| token.text.parse().ok()).flatten()
}

fn key_of<'k>(token: &Token<'_>, keys: &'k [String]) -> Option<&'k String> {
    let text = token.text.trim_end_matches('.');
    keys.iter().find(|key| key.as_str() == text)
}

/// The yarns that are named, with their strands: `2 strands of A and B`. The article
/// `A` at the beginning is no key.
fn named(phrase: &[Token<'_>], keys: &[String]) -> Vec<(String, Option<u8>)> {
    let mut found: Vec<(String, Option<u8>)> = Vec::new();
    for (place, token) in phrase.iter().enumerate() {
        let Some(key) = key_of(token, keys) else {
            continue;
        };
        let next = phrase.get(place + 1);
        let is_article = fold(key) == "a" && next.is_some_and(|next| next.is_word(STRANDS));
        let is_known = found.iter().any(|(known, _)| known == key);
        if !is_article && !is_known {
            found.push((key.clone(), strands_before(phrase, place)));
        }
    }
    found
}

/// How many strands of the yarn at this place, where more than one: `2 strands of A`.
fn strands_before(phrase: &[Token<'_>], place: usize) -> Option<u8> {
    let before = phrase.get(..place)?.iter().rev();
    let mut before = before.skip_while(|token| token.is_word(words! { of, yarn, von, af }));
    before.next().filter(|token| token.is_word(STRANDS))?;
    strands_of(before.next()?).filter(|strands| *strands > 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<HeldPhrase> {
        held_phrases(text, &["A", "B", "MC"].map(str::to_owned))
    }

    #[test]
    fn yarns_are_named_by_key_or_all_are_meant() {
        for (text, named, phrase) in [
            (
                "1 skein, held together with A",
                vec!["A"],
                "held together with A",
            ),
            (
                "held together with yarn A.",
                vec!["A"],
                "held together with yarn A.",
            ),
            (
                "10 cm with A and B held together",
                vec!["A", "B"],
                "with A and B held together",
            ),
            (
                "Hold A + MC together throughout",
                vec!["A", "MC"],
                "Hold A + MC together throughout",
            ),
            (
                "A strand of each yarn held together",
                vec![],
                "A strand of each yarn held together",
            ),
            (
                "1 strand of each held together; 4 mm",
                vec![],
                "1 strand of each held together",
            ),
            (
                "both yarns held together",
                vec![],
                "both yarns held together",
            ),
            ("25 g, held together", vec![], "held together"),
        ] {
            let [found] = &read(text)[..] else {
                panic!("{text}")
            };
            let keys: Vec<&str> = found.named.iter().map(|(key, _)| key.as_str()).collect();
            let span = text.get(found.span.clone());
            assert_eq!((keys, span), (named.clone(), Some(phrase)));
            assert_eq!(found.of_all, named.is_empty(), "{text}");
        }
    }

    #[test]
    fn strands_are_those_of_the_yarn_behind_them() {
        let found = read("2 strands of A and 1 strand of B held together");
        let named = [("A".to_owned(), Some(2)), ("B".to_owned(), None)];
        assert_eq!(found[0].named, named);
    }

    #[test]
    fn strands_of_one_yarn_and_other_words_are_no_such_phrase() {
        for text in [
            "2 strands held together",
            "held double",
            "hold 2 strands together",
            "sew together",
        ] {
            assert_eq!(read(text), [], "{text}");
        }
    }
}
