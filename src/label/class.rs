//! Weight classes and the market names for them.

use super::{
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        ParseResult, Tokens, Words, exact, joined, lex, longest_among, number, phrase, require,
        sign_or_word, skip, small_number, symbol, upcoming, word, words,
    },
};
use crate::{
    record::Classes,
    trade::{CLASS_NAMES, WeightClass, class_of_ply},
    words::{number as shown, or_list},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, delimited, eof, not, opt, peek, preceded, terminated},
    error::EmptyError,
};

/// What is allowed, with examples.
pub const CLASS_ALLOWED: &str = "`DK`, `8 ply`, `class 3` or a class from 0 to 7";

/// Names too common in other senses to be a class anywhere but in a class cell.
const COMMON: Words = words! { fine, light, medium, thread, baby, craft, rug };
/// Words before the number of a class.
const LEADS: Words = words! { cyc, class, category, cat, weight, gewichtsklasse };

const PLY: Words = words! { ply, plys, plies };

/// One name as written, and the classes that it may mean.
#[derive(Debug, Clone)]
struct ClassName {
    name: String,
    classes: Vec<u8>,
    ply: bool,
}

/// Classes anywhere in a text: `DK`, `dk/8ply`, `CYC 4`, `4 ply`.
pub fn class_in_text(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Classes>> {
    classes(input, false)
}

/// Classes in a cell of their own: also a bare `3`, `#3` or `light`.
pub fn class_alone(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Classes>> {
    classes(input, true)
}

/// `#4 medium`: the published symbol's number with its name.
pub fn published_class(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Classes>> {
    preceded(peek(symbol("#(")), |input: &mut Tokens<'_>| {
        bare_number(input, false)
    })
    .with_span()
    .map(|(named, span)| resolve(&[named], &span))
    .parse_next(input)
}

/// How many plies a text names that says nothing else: `2 ply`.
pub fn plies_named(text: &str) -> Option<u8> {
    let tokens = lex(text);
    let ply = (opt(symbol("-")), word(PLY));
    (small_number, ply, eof)
        .map(|(plies, ..)| plies)
        .parse(Tokens::new(&tokens))
        .ok()
}

fn classes(input: &mut Tokens<'_>, alone: bool) -> ParseResult<ReadResult<Classes>> {
    let one = |input: &mut Tokens<'_>| one(input, alone);
    let between = |input: &mut Tokens<'_>| {
        skip(1..3, sign_or_word("/,(=~-+", words! { or, to, and })).parse_next(input)
    };
    terminated(joined((1, 6), one, between), opt(symbol(")")))
        .with_span()
        .map(|(names, span)| resolve(&names, &span))
        .parse_next(input)
}

fn one(input: &mut Tokens<'_>, alone: bool) -> ParseResult<ClassName> {
    alt((
        numbered,
        ply,
        |input: &mut Tokens<'_>| name(input, alone),
        |input: &mut Tokens<'_>| bare_number(input, alone),
    ))
    .parse_next(input)
}

/// `CYC 4`, `class 4`, `weight: 4`, `class 4 medium`.
fn numbered(input: &mut Tokens<'_>) -> ParseResult<ClassName> {
    let lead = alt((
        phrase("weight class"),
        phrase("yarn weight"),
        word(LEADS).void(),
    ));
    let sign = sign_or_word(":#=-", words! { no, number, category, cyc });
    let named = preceded((lead, skip(0..3, sign)), of_number).parse_next(input)?;
    opt(|input: &mut Tokens<'_>| name_of(&named, input)).parse_next(input)?;
    Ok(named)
}

/// The name of a class behind its number: `medium`, `- medium`, `(medium)`.
fn name_of(named: &ClassName, input: &mut Tokens<'_>) -> ParseResult<()> {
    let name = |input: &mut Tokens<'_>| longest_name(Some(&named.classes), input);
    delimited(opt(symbol("-:/(")), name, opt(symbol(")")))
        .void()
        .parse_next(input)
}

/// The number of a class behind its name: `(3)`, `#3`, `(#3)`; `3`, `: 3` and `, 3`
/// where nothing follows that it could count.
fn number_of(classes: &[u8], input: &mut Tokens<'_>) -> ParseResult<()> {
    let opened = opt(symbol("(")).parse_next(input)?.is_some();
    let before = opt(symbol("#-:,/")).parse_next(input)?;
    of_number
        .verify(|number: &ClassName| number.classes == classes)
        .parse_next(input)?;
    let closed = opened && opt(symbol(")")).parse_next(input)?.is_some();
    require(closed || before == Some('#') || may_end(input))
}

fn may_end(input: &Tokens<'_>) -> bool {
    upcoming(input, 0).is_none_or(|token| ",;.)".chars().any(|sign| token.is(sign)))
}

fn of_number(input: &mut Tokens<'_>) -> ParseResult<ClassName> {
    let value = exact(input)?;
    let class = (0..=7u8)
        .find(|class| f64::from(*class) == value)
        .ok_or(EmptyError)?;
    Ok(ClassName {
        name: format!("class {class}"),
        classes: vec![class],
        ply: false,
    })
}

/// `8 ply`, `8ply`, `8-ply`; not `3-ply construction`. One that no market uses has
/// no class.
fn ply(input: &mut Tokens<'_>) -> ParseResult<ClassName> {
    let hyphen = || opt(symbol("-"));
    let unit = (hyphen(), word(PLY));
    let weight = opt((hyphen(), word(words! { weight, wt })));
    let number = terminated(exact, (unit, weight)).parse_next(input)?;
    Ok(ClassName {
        name: format!("{} ply", shown(number, 2)),
        classes: class_of_ply(number).map_or_else(Vec::new, <[u8]>::to_vec),
        ply: true,
    })
}

fn name(input: &mut Tokens<'_>, alone: bool) -> ParseResult<ClassName> {
    let (name, classes) = longest_name(None, input)?;
    let weight = (opt(symbol("-")), word(words! { weight, wt, yarn, garn }));
    let weight = opt(weight).parse_next(input)?;
    let number = opt(|input: &mut Tokens<'_>| number_of(classes, input)).parse_next(input)?;
    if name == "worsted" {
        not(word(words! { spun, count, system })).parse_next(input)?;
    }
    let bare = weight.is_none() && number.is_none();
    require(alone || !bare || !COMMON.contains(name))?;
    Ok(ClassName {
        name: name.to_owned(),
        classes: classes.to_vec(),
        ply: false,
    })
}

/// The longest name here, of these classes where they are given.
fn longest_name(
    of: Option<&[u8]>,
    input: &mut Tokens<'_>,
) -> ParseResult<(&'static str, &'static [u8])> {
    let named = |first| {
        let names = CLASS_NAMES.iter().filter(move |(name, classes)| {
            name.starts_with(first) && of.is_none_or(|of| of == *classes)
        });
        names.map(|(name, classes)| (*name, (*name, *classes)))
    };
    longest_among(named, input)
}

/// `3`, `#3` in a cell; `4 medium`, `(3) light`, number and published name,
/// anywhere.
fn bare_number(input: &mut Tokens<'_>, alone: bool) -> ParseResult<ClassName> {
    let opened = opt(symbol("(")).parse_next(input)?.is_some();
    let named = preceded(opt(symbol("#")), of_number).parse_next(input)?;
    if opened {
        symbol(")").parse_next(input)?;
    }
    let published = opt(|input: &mut Tokens<'_>| name_of(&named, input)).parse_next(input)?;
    let more = peek(number).parse_next(input).is_ok();
    require(published.is_some() || alone && !more)?;
    Ok(named)
}

/// Several names of one yarn: the classes they share, else all of them.
fn resolve(names: &[ClassName], span: &Range<usize>) -> ReadResult<Classes> {
    let refuse = |why: String| Refusal::new(span.clone(), why, CLASS_ALLOWED);
    if let Some(unknown) = names.iter().find(|named| named.classes.is_empty()) {
        let name = &unknown.name;
        return Err(refuse(format!("{name} is not a known class name")));
    }
    let all = || names.iter().flat_map(|named| named.classes.iter().copied());
    let of_all = |class: &u8| names.iter().all(|named| named.classes.contains(class));
    let shared: Vec<u8> = all().filter(of_all).collect();
    let apart = shared.is_empty();
    let chosen = if apart { all().collect() } else { shared };
    let classes = Classes::new(chosen.into_iter().filter_map(WeightClass::new).collect())
        .ok_or_else(|| refuse("it names no class".to_owned()))?;
    let note = note(names, &classes, apart).map(|message| Note::new(span, message));
    Ok(Reading::new(classes, note))
}

fn note(names: &[ClassName], classes: &Classes, apart: bool) -> Option<String> {
    let several: Vec<String> = classes.as_slice().iter().map(ToString::to_string).collect();
    let first = names.first().filter(|_| several.len() > 1)?;
    let (name, several) = (&first.name, or_list(&several));
    Some(if apart {
        format!("the names disagree: the class may be {several}")
    } else if first.ply {
        format!("{name} is a market's name, not a count of strands: the class may be {several}")
    } else {
        format!("{name} may mean class {several}")
    })
}

#[cfg(test)]
mod tests {
    use crate::label::{band::read_band, cells};

    #[test]
    fn a_class_in_a_cell_may_be_a_bare_number_or_a_common_word_and_on_a_band_not() {
        for (text, classes, on_band) in [
            ("DK", &[3][..], true),
            ("dk/8ply", &[3], true),
            ("4 ply", &[1, 2, 4], true),
            ("CYC 4", &[4], true),
            ("class 4 medium", &[4], true),
            ("#4 medium", &[4], true),
            ("light worsted", &[3], true),
            ("3", &[3], false),
            ("light", &[3], false),
            ("worsted spun", &[], false),
            ("3-ply construction", &[], false),
        ] {
            let numbers = |classes: crate::record::Classes| -> Vec<u8> {
                classes
                    .as_slice()
                    .iter()
                    .map(|class| class.number())
                    .collect()
            };
            let cell = cells::class(text).map_or(Vec::new(), |read| numbers(read.value));
            assert_eq!(cell, classes, "{text}");
            let band = read_band(text)
                .facts
                .class
                .map(|class| numbers(class.value));
            assert_eq!(band, on_band.then(|| classes.to_vec()), "{text}");
        }
    }
}
