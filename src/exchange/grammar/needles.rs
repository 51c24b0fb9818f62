//! Needle sizes: `4 mm`, `3.25-3.75 mm`, `US 6`, `4mm (old 8)`, `size 10½`.
//!
//! Millimetres count. A number of an unnamed system is taken only where it
//! means one size in all of them.

use crate::{
    measure::{
        Interval, NeedleSize,
        reading::{
            Note, NumberRange, Outcome, Parsed, Reading, Refusal, Token, Tokens, ahead,
            number_range, span_of, symbol, with_pieces, word,
        },
    },
    record::Needles,
    trade::{NeedleSystem, is_needle_size, needle_sizes},
    words::{number as shown, or_list},
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

const NEEDLE_WORDS: &[&str] = &[
    "needle",
    "needles",
    "ndl",
    "ndls",
    "circular",
    "circulars",
    "dpn",
    "dpns",
    "straight",
];
/// Needle words of countries that count needles in millimetres.
const METRIC_WORDS: &[&str] = &[
    "nadel",
    "nadeln",
    "nadelstarke",
    "nadelst",
    "ns",
    "stricknadeln",
    "stricknadel",
    "aiguille",
    "aiguilles",
    "aig",
    "aguja",
    "agujas",
    "agulha",
    "agulhas",
    "naald",
    "naalden",
    "breinaalden",
    "pinde",
    "pind",
    "strikkepinde",
    "pinner",
    "pinne",
    "sticka",
    "stickor",
    "puikot",
    "puikko",
    "ø",
    "ferri",
    "ferro",
];
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
const SIZE_WORDS: &[&str] = &["size", "sz", "no", "nr", "number", "num", "numero"];

/// Needles, or a hook, as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Tool {
    /// Needles.
    Needles(Needles),
    /// A hook: recognised, not taken for needles.
    Hook,
}

/// One statement of a size.
#[derive(Debug, Clone)]
enum Size {
    Millimetres(NumberRange),
    Numbered(NeedleSystem, String, Option<String>),
    /// A number whose system is not named; whether the words allow millimetres.
    Unnamed {
        number: String,
        value: f64,
        metric: bool,
    },
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

/// Another statement of the same size: `(old 8)`, `/US 6`, `, UK 8`.
fn next(input: &mut Tokens<'_>) -> Parsed<Size> {
    repeat::<_, _, (), _, _>(
        0..4,
        alt((
            symbol("(/,=~;-[").void(),
            word(&["or"]).void(),
            word(NEEDLE_WORDS).void(),
        )),
    )
    .parse_next(input)?;
    let next = alt((millimetres, numbered, unnamed)).parse_next(input)?;
    opt(symbol(")]")).parse_next(input)?;
    Ok(next)
}

fn size(input: &mut Tokens<'_>) -> Parsed<Size> {
    alt((doubted, millimetres, numbered, unnamed, in_metric_words)).parse_next(input)
}

/// `#2 (2.75 or 3.0?)`: a number, and two sizes that it may be.
fn doubted(input: &mut Tokens<'_>) -> Parsed<Size> {
    opt(alt((numbered.void(), unnamed.void()))).parse_next(input)?;
    symbol("(").parse_next(input)?;
    let ((low, high), pieces) = with_pieces(|input| {
        let low = crate::measure::reading::number(input)?.clone();
        opt(word(&["mm"])).parse_next(input)?;
        alt((word(&["or", "oder", "ou", "o"]).void(), symbol("/-").void())).parse_next(input)?;
        let high = crate::measure::reading::number(input)?.clone();
        Ok((low, high))
    })
    .parse_next(input)?;
    opt(word(&["mm"])).parse_next(input)?;
    opt(symbol("?")).parse_next(input)?;
    symbol(")").parse_next(input)?;
    Ok(Size::Millimetres(NumberRange {
        low,
        high: Some(high),
        span: span_of(pieces),
    }))
}

fn millimetres(input: &mut Tokens<'_>) -> Parsed<Size> {
    opt(word(SIZE_WORDS)).parse_next(input)?;
    opt(word(METRIC_WORDS)).parse_next(input)?;
    let mut range = number_range(input)?;
    opt(symbol("-")).parse_next(input)?;
    word(&[
        "mm",
        "millimetre",
        "millimetres",
        "millimeter",
        "millimeters",
    ])
    .parse_next(input)?;
    let second = opt((
        alt((symbol("-").void(), word(&["or", "to", "and"]).void())),
        number_range,
        word(&["mm"]),
    ))
    .parse_next(input)?;
    if let (None, Some((_, high, _))) = (&range.high, second) {
        range.high = Some(high.low);
    }
    Ok(Size::Millimetres(range))
}

fn numbered(input: &mut Tokens<'_>) -> Parsed<Size> {
    alt((system_first, number_first)).parse_next(input)
}

fn system(input: &mut Tokens<'_>) -> Parsed<NeedleSystem> {
    let us = word(&["us", "usa", "american"]).value(NeedleSystem::Us);
    let uk = (
        opt(word(&["old"])),
        word(&[
            "uk", "canadian", "canada", "english", "imperial", "british", "cdn",
        ]),
    )
        .value(NeedleSystem::OldUk);
    let old = word(&["old"]).value(NeedleSystem::OldUk);
    alt((us, uk, old)).parse_next(input)
}

/// `US 6`, `US size 6`, `old UK no. 8`, `US 6-8`.
fn system_first(input: &mut Tokens<'_>) -> Parsed<Size> {
    let system = system(input)?;
    repeat::<_, _, (), _, _>(
        0..3,
        alt((
            word(SIZE_WORDS).void(),
            word(NEEDLE_WORDS).void(),
            symbol("#:").void(),
        )),
    )
    .parse_next(input)?;
    let (low, _) = label(input)?;
    let high = opt((symbol("-"), label))
        .parse_next(input)?
        .map(|(_, (high, _))| high);
    Ok(Size::Numbered(system, low, high))
}

/// `6 US`, `size 8 UK`.
fn number_first(input: &mut Tokens<'_>) -> Parsed<Size> {
    repeat::<_, _, (), _, _>(0..3, alt((word(SIZE_WORDS).void(), symbol("#").void())))
        .parse_next(input)?;
    let (low, _) = label(input)?;
    let system = system(input)?;
    Ok(Size::Numbered(system, low, None))
}

/// `size 8`, `#8`, `needles 8`: no system named. Elsewhere a bare number is none.
fn unnamed(input: &mut Tokens<'_>) -> Parsed<Size> {
    repeat::<_, _, (), _, _>(1..3, alt((word(SIZE_WORDS).void(), symbol("#").void())))
        .parse_next(input)?;
    let (number, value) = label(input)?;
    Ok(Size::Unnamed {
        number,
        value,
        metric: true,
    })
}

/// `Ø 5`, `aiguilles 4-4,5`.
fn in_metric_words(input: &mut Tokens<'_>) -> Parsed<Size> {
    word(METRIC_WORDS).parse_next(input)?;
    repeat::<_, _, (), _, _>(
        0..3,
        alt((
            word(SIZE_WORDS).void(),
            word(&["n"]).void(),
            symbol(":.°").void(),
        )),
    )
    .parse_next(input)?;
    let range = number_range(input)?;
    opt(word(&["mm"])).parse_next(input)?;
    Ok(Size::Millimetres(range))
}

/// A needle number as the table writes it: `8`, `10.5`, `00`.
fn label(input: &mut Tokens<'_>) -> Parsed<(String, f64)> {
    any.verify_map(|token: &Token<'_>| {
        let value = token.number()?.one()?;
        let zeros = token.text.chars().all(|c| c == '0');
        let label = if zeros {
            token.text.to_owned()
        } else {
            shown(value, 2)
        };
        Some((label, value))
    })
    .parse_next(input)
}

impl Size {
    /// Every range in millimetres it may mean, with the words for each.
    fn meanings(&self) -> Vec<(f64, f64, String)> {
        match self {
            Self::Millimetres(range) => range
                .readings(None)
                .into_iter()
                .map(|(low, high)| (low, high, "mm".to_owned()))
                .collect(),
            Self::Numbered(system, low, high) => numbered_meanings(*system, low, high.as_deref()),
            Self::Unnamed {
                number,
                value,
                metric,
            } => {
                let mut all = numbered_meanings(NeedleSystem::Us, number, None);
                all.extend(numbered_meanings(NeedleSystem::OldUk, number, None));
                if *metric && is_needle_size(*value) {
                    all.push((*value, *value, format!("{number} mm")));
                }
                all
            }
        }
    }
}

fn numbered_meanings(
    system: NeedleSystem,
    low: &str,
    high: Option<&str>,
) -> Vec<(f64, f64, String)> {
    let mut ends = needle_sizes(system, low);
    ends.extend(
        high.map(|high| needle_sizes(system, high))
            .unwrap_or_default(),
    );
    ends.sort_by(f64::total_cmp);
    let words = |mm: f64| format!("{} {low} ({} mm)", system.name(), shown(mm, 2));
    match (high, ends.as_slice()) {
        (None, several) => several.iter().map(|mm| (*mm, *mm, words(*mm))).collect(),
        (Some(_), [low, .., high]) => vec![(*low, *high, String::new())],
        _ => Vec::new(),
    }
}

/// The size in millimetres; the other statements are compared with it.
fn settle(sizes: &[Size], span: Range<usize>) -> Outcome<Tool> {
    let refuse = |why: String| Refusal::new(span.clone(), why, NEEDLES_ALLOWED);
    let metric = sizes
        .iter()
        .find(|size| matches!(size, Size::Millimetres(_)));
    let chosen = match (metric, sizes) {
        (Some(Size::Millimetres(range)), _) => range.settled(None),
        (_, sizes) => agreed(sizes).map_err(refuse),
    }?;
    let end = |mm: f64| NeedleSize::millimetres(mm).map_err(|error| refuse(error.to_string()));
    let needles = Interval::between(end(chosen.0)?, end(chosen.1)?)
        .map_err(|error| refuse(error.to_string()))?;
    Ok(Reading {
        value: Tool::Needles(needles),
        notes: compared(sizes, chosen, span.clone()),
    })
}

/// Without millimetres: the one size that every statement allows.
fn agreed(sizes: &[Size]) -> Result<(f64, f64), String> {
    let mut possible: Vec<(f64, f64, String)> =
        sizes.first().map(Size::meanings).unwrap_or_default();
    let first = possible.clone();
    for size in sizes.iter().skip(1) {
        let other = size.meanings();
        possible.retain(|(low, high, _)| other.iter().any(|(l, h, _)| l == low && h == high));
    }
    let mut ends: Vec<(f64, f64)> = possible
        .iter()
        .map(|(low, high, _)| (*low, *high))
        .collect();
    ends.dedup();
    match ends.as_slice() {
        [one] => Ok(*one),
        [] if first.is_empty() => Err("no needle bears this number".to_owned()),
        [] => Err("the numbers name different needles".to_owned()),
        _ => {
            let words: Vec<String> = possible.into_iter().map(|(_, _, words)| words).collect();
            Err(format!("it may be {}", or_list(&words)))
        }
    }
}

/// A note where another number does not mean the size in millimetres.
fn compared(sizes: &[Size], (low, high): (f64, f64), span: Range<usize>) -> Vec<Note> {
    let doubtful = sizes
        .iter()
        .filter(|size| !matches!(size, Size::Millimetres(_)))
        .filter_map(|size| {
            let meanings = size.meanings();
            let fits = meanings.iter().any(|(l, h, _)| *l <= high && *h >= low);
            let words: Vec<String> = meanings.into_iter().map(|(_, _, words)| words).collect();
            (!fits && !words.is_empty()).then(|| or_list(&words))
        });
    doubtful
        .map(|words| Note {
            span: span.clone(),
            message: format!(
                "{words} is not {} mm: the millimetres are taken",
                shown(low, 2)
            ),
        })
        .collect()
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
    opt((symbol("-/"), crate::measure::reading::number)).parse_next(input)?;
    opt((symbol("("), number_range, word(&["mm"]), symbol(")"))).parse_next(input)?;
    let hook_after = opt(word(HOOK_WORDS)).parse_next(input)?.is_some();
    match hook_before || hook_after {
        true => Ok(()),
        false => Err(EmptyError),
    }
}
