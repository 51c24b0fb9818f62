//! Weight classes and the market names for them.

use crate::{
    label::reading::{
        Note, Outcome, Parsed, Reading, Refusal, Tokens, ahead, exact, number, parted, phrase,
        span_of, symbol, with_pieces, word,
    },
    record::Classes,
    trade::{CLASS_NAMES, WeightClass, class_of_ply},
    words::{number as shown, or_list},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
};

/// What is allowed, with examples.
pub const CLASS_ALLOWED: &str = "`DK`, `8 ply`, `class 3` or a class from 0 to 7";

/// Names too common in other senses to be a class anywhere but in a class cell.
const COMMON: &[&str] = &["fine", "light", "medium", "thread", "baby", "craft", "rug"];

/// One name as written, and the classes that it may mean.
#[derive(Debug, Clone)]
struct Named {
    name: String,
    classes: Vec<u8>,
    ply: bool,
}

/// Classes anywhere in a text: `DK`, `dk/8ply`, `CYC 4`, `4 ply`.
pub fn class_in_text(input: &mut Tokens<'_>) -> Parsed<Outcome<Classes>> {
    classes(input, false)
}

/// Classes in a cell of their own: also a bare `3`, `#3` or `light`.
pub fn class_alone(input: &mut Tokens<'_>) -> Parsed<Outcome<Classes>> {
    classes(input, true)
}

/// `#4 medium`: the published symbol's number with its name.
pub fn published(input: &mut Tokens<'_>) -> Parsed<Outcome<Classes>> {
    let (named, pieces) = with_pieces(|input| {
        symbol("#(").parse_next(&mut input.clone())?;
        bare(input, false)
    })
    .parse_next(input)?;
    Ok(settle(&[named], span_of(pieces)))
}

fn classes(input: &mut Tokens<'_>, alone: bool) -> Parsed<Outcome<Classes>> {
    let (named, pieces) = with_pieces(|input| {
        let between = |input: &mut Tokens<'_>| {
            repeat::<_, _, (), _, _>(
                1..3,
                alt((symbol("/,(=~-+").void(), word(&["or", "to", "and"]).void())),
            )
            .parse_next(input)
        };
        let named: Vec<Named> =
            parted(1, 6, |input: &mut Tokens<'_>| one(input, alone), between)(input)?;
        opt(symbol(")")).parse_next(input)?;
        Ok(named)
    })
    .parse_next(input)?;
    Ok(settle(&named, span_of(pieces)))
}

fn one(input: &mut Tokens<'_>, alone: bool) -> Parsed<Named> {
    let named = alt((
        numbered,
        ply,
        |input: &mut Tokens<'_>| name(input, alone),
        |input: &mut Tokens<'_>| bare(input, alone),
    ))
    .parse_next(input)?;
    Ok(named)
}

/// `CYC 4`, `class 4`, `weight: 4`, `class 4 medium`.
fn numbered(input: &mut Tokens<'_>) -> Parsed<Named> {
    alt((
        phrase("weight class"),
        phrase("yarn weight"),
        word(&[
            "cyc",
            "class",
            "category",
            "cat",
            "weight",
            "gewichtsklasse",
        ])
        .void(),
    ))
    .parse_next(input)?;
    repeat::<_, _, (), _, _>(
        0..3,
        alt((
            symbol(":#=-").void(),
            word(&["no", "number", "category", "cyc"]).void(),
        )),
    )
    .parse_next(input)?;
    let named = of_number(input)?;
    opt(|input: &mut Tokens<'_>| name_of(&named, input)).parse_next(input)?;
    Ok(named)
}

/// The name of a class behind its number: `medium`, `- medium`, `(medium)`.
fn name_of(named: &Named, input: &mut Tokens<'_>) -> Parsed<()> {
    opt(symbol("-:/(")).parse_next(input)?;
    longest_name(Some(&named.classes), input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok(())
}

/// The number of a class behind its name: `(3)`, `#3`, `(#3)`; `3`, `: 3` and `, 3`
/// where nothing follows that it could count.
fn number_of(classes: &[u8], input: &mut Tokens<'_>) -> Parsed<()> {
    let opened = opt(symbol("(")).parse_next(input)?.is_some();
    let before = opt(symbol("#-:,/")).parse_next(input)?;
    of_number
        .verify(|number: &Named| number.classes == classes)
        .parse_next(input)?;
    let closed = opened && opt(symbol(")")).parse_next(input)?.is_some();
    match closed || before == Some('#') || may_end(input) {
        true => Ok(()),
        false => Err(EmptyError),
    }
}

fn may_end(input: &Tokens<'_>) -> bool {
    ahead(input).is_none_or(|token| ",;.)".chars().any(|sign| token.is(sign)))
}

fn of_number(input: &mut Tokens<'_>) -> Parsed<Named> {
    let value = exact(input)?;
    let class = (0..=7u8)
        .find(|class| f64::from(*class) == value)
        .ok_or(EmptyError)?;
    Ok(Named {
        name: format!("class {class}"),
        classes: vec![class],
        ply: false,
    })
}

/// `8 ply`, `8ply`, `8-ply`; not `3-ply construction`.
fn ply(input: &mut Tokens<'_>) -> Parsed<Named> {
    let number = exact(input)?;
    opt(symbol("-")).parse_next(input)?;
    word(&["ply", "plys", "plies"]).parse_next(input)?;
    opt((opt(symbol("-")), word(&["weight", "wt"]))).parse_next(input)?;
    Ok(Named {
        name: format!("{} ply", shown(number, 2)),
        classes: class_of_ply(number).unwrap_or_default().to_vec(),
        ply: true,
    })
}

fn name(input: &mut Tokens<'_>, alone: bool) -> Parsed<Named> {
    let (name, classes) = longest_name(None, input)?;
    let weight =
        opt((opt(symbol("-")), word(&["weight", "wt", "yarn", "garn"]))).parse_next(input)?;
    let number = opt(|input: &mut Tokens<'_>| number_of(classes, input)).parse_next(input)?;
    let spinning = name == "worsted"
        && opt(word(&["spun", "count", "system"]))
            .parse_next(&mut input.clone())?
            .is_some();
    let bare = weight.is_none() && number.is_none();
    let common = !alone && bare && COMMON.contains(&name);
    match spinning || common {
        true => Err(EmptyError),
        false => Ok(Named {
            name: name.to_owned(),
            classes: classes.to_vec(),
            ply: false,
        }),
    }
}

/// The longest name here, of these classes where they are given.
fn longest_name(
    of: Option<&[u8]>,
    input: &mut Tokens<'_>,
) -> Parsed<(&'static str, &'static [u8])> {
    let here = input.clone();
    let fits = |name: &'static str| {
        let mut trial = here.clone();
        phrase(name)
            .parse_next(&mut trial)
            .ok()
            .map(|()| trial.len())
    };
    let (_, name, classes) = CLASS_NAMES
        .iter()
        .filter(|(_, classes)| of.is_none_or(|of| of == *classes))
        .filter_map(|(name, classes)| fits(name).map(|left| (left, *name, *classes)))
        .min_by_key(|(left, _, _)| *left)
        .ok_or(EmptyError)?;
    phrase(name).parse_next(input)?;
    Ok((name, classes))
}

/// `3`, `#3` in a cell; `4 medium`, `(3) light`, number and published name,
/// anywhere.
fn bare(input: &mut Tokens<'_>, alone: bool) -> Parsed<Named> {
    let opened = opt(symbol("(")).parse_next(input)?.is_some();
    opt(symbol("#")).parse_next(input)?;
    let named = of_number(input)?;
    if opened {
        symbol(")").parse_next(input)?;
    }
    let published = opt(|input: &mut Tokens<'_>| name_of(&named, input)).parse_next(input)?;
    let more = opt(number).parse_next(&mut input.clone())?.is_some();
    match (alone && !more) || published.is_some() {
        true => Ok(named),
        false => Err(EmptyError),
    }
}

/// Several names of one yarn: the classes they share, else all of them.
fn settle(named: &[Named], span: Range<usize>) -> Outcome<Classes> {
    if let Some(unknown) = named.iter().find(|named| named.classes.is_empty()) {
        let why = format!(
            "{} is no market's class name that is known here",
            unknown.name
        );
        return Err(Refusal::new(span, why, CLASS_ALLOWED));
    }
    let all: Vec<u8> = named
        .iter()
        .flat_map(|named| named.classes.clone())
        .collect();
    let shared: Vec<u8> = all
        .iter()
        .copied()
        .filter(|class| named.iter().all(|named| named.classes.contains(class)))
        .collect();
    let apart = shared.is_empty();
    let chosen = if apart { all } else { shared };
    let classes = Classes::new(chosen.into_iter().filter_map(WeightClass::new).collect())
        .ok_or_else(|| Refusal::new(span.clone(), "it names no class", CLASS_ALLOWED))?;
    let notes = note(named, &classes, apart).map(|message| Note { span, message });
    Ok(Reading {
        value: classes,
        notes: notes.into_iter().collect(),
    })
}

fn note(named: &[Named], classes: &Classes, apart: bool) -> Option<String> {
    let several: Vec<String> = classes.as_slice().iter().map(ToString::to_string).collect();
    let first = named.first()?;
    match several.len() {
        1 => None,
        _ if apart => Some(format!(
            "the names disagree: the class may be {}",
            or_list(&several)
        )),
        _ if first.ply => Some(format!(
            "{} is a market's name, not a count of strands: the class may be {}",
            first.name,
            or_list(&several)
        )),
        _ => Some(format!(
            "{} may mean class {}",
            first.name,
            or_list(&several)
        )),
    }
}
