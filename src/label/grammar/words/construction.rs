//! How a yarn is built, in words.

use super::small_number;
use crate::{
    label::reading::{Parsed, Tokens, phrase, symbol, word},
    trade::Construction,
};
use winnow::{
    Parser,
    combinator::{alt, not, opt},
    error::EmptyError,
};

/// A construction, and the number of plies where it is given with it.
pub fn construction(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    alt((plied, thread_word, single_ply, named)).parse_next(input)
}

/// `3 plied`, `plied from 3`, `3-ply construction`, `3 strands plied`.
fn plied(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    let plies = alt((
        (
            small_number,
            opt(symbol("-")),
            word(&["ply"]),
            opt(symbol("-,")),
            word(&[
                "construction",
                "structure",
                "twist",
                "twisted",
                "plied",
                "yarn-construction",
            ]),
        )
            .map(|found| found.0),
        (
            small_number,
            opt(symbol("-")),
            opt(word(&["strand", "strands"])),
            word(&["plied", "fold"]),
        )
            .map(|found| found.0),
        (
            word(&["plied"]),
            opt(word(&["from", "of", "x"])),
            small_number,
        )
            .map(|found| found.2),
    ))
    .parse_next(input)?;
    Ok((Construction::Plied, Some(plies)))
}

/// `4-fach`, `4fach verzwirnt`, `4-draads`, `3-trådet`: how many threads are
/// twisted; unlike `4 ply` no name of a class. `4-fach verstrickt` may count strands.
fn thread_word(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    let plies = small_number(input)?;
    opt(symbol("-")).parse_next(input)?;
    word(&["fach", "draads", "tradet", "trads", "tradig"]).parse_next(input)?;
    opt(word(&["verzwirnt", "gezwirnt", "getwijnd", "tvinnet"])).parse_next(input)?;
    not(word(&["stricken", "gestrickt", "verstrickt"])).parse_next(input)?;
    Ok(match plies {
        1 => (Construction::Single, Some(1)),
        plies => (Construction::Plied, Some(plies)),
    })
}

fn single_ply(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    alt((
        phrase("single ply"),
        phrase("single plied"),
        phrase("singles yarn"),
        phrase("singles"),
        phrase("single strand"),
        phrase("unplied"),
    ))
    .parse_next(input)?;
    Ok((Construction::Single, Some(1)))
}

const NAMES: &[(&str, Construction)] = &[
    ("plied", Construction::Plied),
    ("twisted", Construction::Plied),
    ("gezwirnt", Construction::Plied),
    ("retors", Construction::Plied),
    ("cabled", Construction::Cabled),
    ("cable plied", Construction::Cabled),
    ("single", Construction::Single),
    ("dochtgarn", Construction::Single),
    ("chainette", Construction::Chainette),
    ("chain", Construction::Chainette),
    ("i cord", Construction::Chainette),
    ("icord", Construction::Chainette),
    ("tube", Construction::Chainette),
    ("tubular", Construction::Chainette),
    ("chain plied", Construction::Plied),
    ("blown", Construction::Blown),
    ("blow yarn", Construction::Blown),
    ("brushed", Construction::Brushed),
    ("geburstet", Construction::Brushed),
    ("boucle", Construction::Boucle),
    ("bouclé", Construction::Boucle),
    ("loop", Construction::Boucle),
    ("looped", Construction::Boucle),
    ("slub", Construction::Slub),
    ("slubby", Construction::Slub),
    ("thick and thin", Construction::Slub),
    ("tape", Construction::Tape),
    ("ribbon", Construction::Tape),
];

fn named(input: &mut Tokens<'_>) -> Parsed<(Construction, Option<u8>)> {
    let here = input.clone();
    let left = |name: &'static str| {
        let mut trial = here.clone();
        phrase(name)
            .parse_next(&mut trial)
            .ok()
            .map(|()| trial.len())
    };
    let (_, name, construction) = NAMES
        .iter()
        .filter_map(|(name, construction)| left(name).map(|left| (left, *name, *construction)))
        .min_by_key(|(left, _, _)| *left)
        .ok_or(EmptyError)?;
    phrase(name).parse_next(input)?;
    opt(word(&["construction", "yarn", "structure"])).parse_next(input)?;
    Ok((construction, None))
}
