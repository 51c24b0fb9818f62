//! Needle sizes: `4 mm`, `3.25-3.75 mm`, `US 6`, `4mm (old 8)`, `size 10½`.
//!
//! Millimetres count. A number of an unnamed system is taken only where it
//! means one size in all of them.

use super::{
    needle_meanings::{agreed, compared, paired, spanned},
    needle_sizes::{METRIC_WORDS, NEEDLE_WORDS, SIZE_WORDS, Size, label, next, size},
};
use crate::{
    label::reading::{
        Outcome, Parsed, Reading, Refusal, Token, Tokens, ahead, number_range, span_of, symbol,
        with_pieces, word,
    },
    measure::{Interval, NeedleSize},
    record::Needles,
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
    token::any,
};

/// What is allowed, with examples.
pub const NEEDLES_ALLOWED: &str = "`4 mm`, `3.25-3.75 mm`, `US 6` or `old UK 8`";

const HOOK_WORDS: &[&str] = &[
    "hook",
    "hooks",
    "crochet",
    "hakelnadel",
    "crochetage",
    "heklenal",
    "haaknaald",
    "virknal",
    "haeklenal",
    "hæklenal",
    "uncinetto",
    "ganchillo",
];
/// Needles, or a hook, as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Tool {
    /// Needles.
    Needles(Needles),
    /// A hook: recognised, not taken for needles.
    Hook,
}

/// Needles or a hook.
pub fn tool(input: &mut Tokens<'_>) -> Parsed<Outcome<Tool>> {
    let ((sizes, hook), pieces) = with_pieces(|input| {
        let mut hook = lead(input)?;
        let first = size(input)?;
        let mut sizes = vec![first];
        for _ in 0..3 {
            match opt(next).parse_next(input)? {
                Some(size) => sizes.push(size),
                None => break,
            }
        }
        hook |= tail(input)?;
        Ok((sizes, hook))
    })
    .parse_next(input)?;
    let span = span_of(pieces);
    match hook {
        true => Ok(Ok(Reading {
            value: Tool::Hook,
            notes: Vec::new(),
        })),
        false => Ok(settle(&sizes, span)),
    }
}

/// Words before the size that say nothing of it; true for those of hooks.
fn lead(input: &mut Tokens<'_>) -> Parsed<bool> {
    let heard: Vec<bool> = repeat(
        0..4,
        alt((
            (word(HOOK_WORDS), not_needle).value(true),
            word(NEEDLE_WORDS).value(false),
            word(&["knitting", "knit", "recommended", "pair", "of", "on"]).value(false),
            (word(SIZE_WORDS), symbol(":=")).value(false),
            symbol(":=").value(false),
        )),
    )
    .parse_next(input)?;
    Ok(heard.contains(&true))
}

fn not_needle(input: &mut Tokens<'_>) -> Parsed<()> {
    match ahead(input).and_then(Token::word) {
        Some(word) if NEEDLE_WORDS.contains(&word) => Err(EmptyError),
        _ => Ok(()),
    }
}

fn tail(input: &mut Tokens<'_>) -> Parsed<bool> {
    let heard: Vec<bool> = repeat(
        0..4,
        alt((
            word(HOOK_WORDS).value(true),
            word(NEEDLE_WORDS).value(false),
            word(METRIC_WORDS).value(false),
            word(&["knitting"]).value(false),
            symbol(")").value(false),
        )),
    )
    .parse_next(input)?;
    Ok(heard.contains(&true))
}

/// The size in millimetres; the other statements are compared with it.
fn settle(sizes: &[Size], span: Range<usize>) -> Outcome<Tool> {
    let refuse = |why: String| Refusal::new(span.clone(), why, NEEDLES_ALLOWED);
    let metric = sizes.iter().filter_map(Size::in_millimetres);
    let metric: Vec<(f64, f64)> = metric
        .map(|range| range.settled(None))
        .collect::<Result<_, Refusal>>()?;
    let chosen = match metric.is_empty() {
        true => agreed(sizes),
        false => spanned(&metric),
    }
    .map_err(refuse)?;
    let end = |mm: f64| NeedleSize::millimetres(mm).map_err(|error| refuse(error.to_string()));
    let needles = Interval::between(end(chosen.0)?, end(chosen.1)?)
        .map_err(|error| refuse(error.to_string()))?;
    let mut notes = compared(sizes, chosen, span.clone());
    notes.extend(paired(sizes, chosen, &span));
    Ok(Reading {
        value: Tool::Needles(needles),
        notes,
    })
}

/// `needles 8` in English: a number without a system.
pub fn needle_number(input: &mut Tokens<'_>) -> Parsed<Outcome<Tool>> {
    let (found, pieces) = with_pieces(|input| {
        word(&["needle", "needles", "ndl", "ndls"]).parse_next(input)?;
        opt(symbol(":#")).parse_next(input)?;
        label(input)
    })
    .parse_next(input)?;
    let (number, value) = found;
    Ok(settle(
        &[Size::Unnamed {
            number,
            value,
            metric: true,
        }],
        span_of(pieces),
    ))
}

/// A hook letter such as `G-6`, `H/8`, `I-9`, before or after `hook`.
pub fn hook_letter(input: &mut Tokens<'_>) -> Parsed<()> {
    let hook_before = opt(word(HOOK_WORDS)).parse_next(input)?.is_some();
    opt(word(&["size"])).parse_next(input)?;
    any.verify(|token: &&Token<'_>| {
        token
            .word()
            .is_some_and(|word| crate::trade::hook_size(word).is_some())
    })
    .parse_next(input)?;
    opt((symbol("-/"), crate::label::reading::number)).parse_next(input)?;
    opt((symbol("("), number_range, word(&["mm"]), symbol(")"))).parse_next(input)?;
    let hook_after = opt(word(HOOK_WORDS)).parse_next(input)?.is_some();
    match hook_before || hook_after {
        true => Ok(()),
        false => Err(EmptyError),
    }
}
