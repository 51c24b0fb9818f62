//! One needle size as written: millimetres, or a number of a market.

use crate::{
    label::reading::{
        NumberRange, Parsed, Token, Tokens, counted_range, span_of, symbol, with_pieces, word,
    },
    trade::NeedleSystem,
    words::number as shown,
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    token::any,
};

/// One statement of a size.
#[derive(Debug, Clone)]
pub enum Size {
    Millimetres(NumberRange),
    /// Two sizes with `and` between them: two pairs of needles, not a range.
    Pair(NumberRange),
    Numbered(NeedleSystem, String, Option<String>),
    /// A number whose system is not named; whether the words allow millimetres.
    Unnamed {
        number: String,
        value: f64,
        metric: bool,
    },
}

impl Size {
    /// The sizes in millimetres, where they are written so.
    pub fn in_millimetres(&self) -> Option<&NumberRange> {
        match self {
            Self::Millimetres(range) | Self::Pair(range) => Some(range),
            _ => None,
        }
    }
}

/// Words for needles that say nothing of their size.
pub const NEEDLE_WORDS: &[&str] = &[
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
pub const METRIC_WORDS: &[&str] = &[
    "nadel",
    "nadeln",
    "nadelstarke",
    "nadelst",
    "nadelspiel",
    "rundnadel",
    "rundnadeln",
    "nd",
    "nds",
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
    "strikkepind",
    "nal",
    "pinner",
    "pinne",
    "sticka",
    "stickor",
    "puikot",
    "puikoille",
    "puikoilla",
    "rundpind",
    "rundpinde",
    "rundpinne",
    "strikkepinner",
    "rundsticka",
    "puikko",
    "ø",
    "ferri",
    "ferro",
];
/// Words that say only that a number is a size.
pub const SIZE_WORDS: &[&str] = &["size", "sz", "no", "nr", "number", "num", "numero", "nro"];

/// Another statement of the same size: `(old 8)`, `/US 6`, `, UK 8`.
pub fn next(input: &mut Tokens<'_>) -> Parsed<Size> {
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

/// One statement of a size.
pub fn size(input: &mut Tokens<'_>) -> Parsed<Size> {
    alt((doubted, millimetres, numbered, unnamed, in_metric_words)).parse_next(input)
}

/// `#2 (2.75 or 3.0?)`: a number, and two sizes that it may be.
fn doubted(input: &mut Tokens<'_>) -> Parsed<Size> {
    opt(alt((numbered.void(), unnamed.void()))).parse_next(input)?;
    symbol("(").parse_next(input)?;
    let ((low, high), pieces) = with_pieces(|input| {
        let low = crate::label::reading::number(input)?.clone();
        opt(word(&["mm"])).parse_next(input)?;
        alt((word(&["or", "oder", "ou", "o"]).void(), symbol("/-").void())).parse_next(input)?;
        let high = crate::label::reading::number(input)?.clone();
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
    let mut range = counted_range(input)?;
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
        alt((
            symbol("-").value(false),
            word(&["or", "to"]).value(false),
            word(&["and"]).value(true),
        )),
        counted_range,
        word(&["mm"]),
    ))
    .parse_next(input)?;
    match (&range.high, second) {
        (None, Some((pair, high, _))) => {
            range.high = Some(high.low);
            Ok(if pair {
                Size::Pair(range)
            } else {
                Size::Millimetres(range)
            })
        }
        _ => Ok(Size::Millimetres(range)),
    }
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
    opt(word(&["size"])).parse_next(input)?;
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
    let pinde = |input: &mut Tokens<'_>| {
        word(&["p"]).parse_next(input)?;
        word(&["nr"]).parse_next(&mut input.clone()).map(|_| ())
    };
    alt((word(METRIC_WORDS).void(), pinde)).parse_next(input)?;
    repeat::<_, _, (), _, _>(
        0..3,
        alt((
            word(SIZE_WORDS).void(),
            word(&["n"]).void(),
            symbol(":.°").void(),
        )),
    )
    .parse_next(input)?;
    let range = alt((counted_range.verify(near), one_number)).parse_next(input)?;
    opt(word(&["mm"])).parse_next(input)?;
    Ok(Size::Millimetres(range))
}

/// Whether both ends may be needles for one yarn: in `4,5 – 20 mailles` the
/// dash only parts. Common practice, no source.
fn near(range: &NumberRange) -> bool {
    range
        .readings(None)
        .iter()
        .all(|(low, high)| *high <= 2.0 * low)
}

fn one_number(input: &mut Tokens<'_>) -> Parsed<NumberRange> {
    let (low, pieces) = with_pieces(crate::label::reading::number).parse_next(input)?;
    Ok(NumberRange {
        low: low.clone(),
        high: None,
        span: span_of(pieces),
    })
}

/// A needle number as the table writes it: `8`, `10.5`, `00`.
pub fn label(input: &mut Tokens<'_>) -> Parsed<(String, f64)> {
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
