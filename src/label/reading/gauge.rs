//! Stitches and rows over a length: `22 sts & 30 rows = 10 cm`.
//!
//! A short word such as `m` or `r` counts stitches or rows only where the rest
//! makes a gauge of it; a metre of yarn has the same letter.

use super::gauge_length::{OVER, over, over_after};
use super::{Kind, NumberRange, Parsed, Tokens, counted_range, span_of, stream, unit_word};
use crate::measure::Over;
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
};

/// Words that say a gauge follows.
pub const LEADS: &[&str] = &[
    "gauge",
    "tension",
    "maschenprobe",
    "echantillon",
    "muestra",
    "campione",
    "amostra",
    "stekenverhouding",
    "strikkefasthet",
    "strikkefasthed",
    "masktathet",
    "neuletiheys",
    "tiheys",
];

const STITCHES: &[&str] = &[
    "st",
    "sts",
    "stitch",
    "stitches",
    "maschen",
    "masche",
    "maille",
    "mailles",
    "punto",
    "puntos",
    "punti",
    "maglia",
    "maglie",
    "malha",
    "malhas",
    "ponto",
    "pontos",
    "steek",
    "steken",
    "maske",
    "masker",
    "maskor",
    "silmukka",
    "silmukkaa",
];
const SHORT_STITCHES: &[&str] = &["m", "s", "p", "pts"];
const CROCHET: &[&str] = &["sc", "dc", "hdc", "htr", "tr", "crochet", "crochets"];
const ROUNDS: &[&str] = &[
    "rnd", "rnds", "round", "rounds", "runden", "omgange", "omganger",
];
const ROWS: &[&str] = &[
    "row",
    "rows",
    "reihe",
    "reihen",
    "rang",
    "rangs",
    "rgs",
    "rg",
    "tours",
    "vuelta",
    "vueltas",
    "hilera",
    "hileras",
    "pasadas",
    "carreras",
    "filas",
    "ferro",
    "ferri",
    "righe",
    "giri",
    "carreira",
    "carreiras",
    "voltas",
    "naald",
    "naalden",
    "nld",
    "rijen",
    "toer",
    "toeren",
    "pind",
    "pinde",
    "pinder",
    "pinne",
    "pinner",
    "omg",
    "varv",
    "kerros",
    "kerrosta",
    "krs",
    "r",
    "p",
    "f",
    "v",
    "n",
    "c",
    "rh",
    "rd",
];
const AND: &[&str] = &[
    "and", "und", "et", "y", "e", "en", "og", "och", "ja", "by", "x",
];
/// A gauge as counted, before it is settled.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    /// Stitches.
    pub stitches: NumberRange,
    /// Rows or rounds.
    pub rows: Option<NumberRange>,
    /// Whether the rows were called rounds.
    pub rounds: bool,
    /// The length counted over, where stated.
    pub over: Option<Over>,
    /// Whether it counts crochet stitches.
    pub crochet: bool,
    /// Whether only two numbers stand there, such as `22/28`.
    pub guessed: bool,
    /// Bytes of it.
    pub span: Range<usize>,
}

#[derive(Clone, Copy, PartialEq)]
enum Named {
    Stitches,
    Short,
    Crochet,
    Not,
}

/// Whether the folded word counts stitches, rows or rounds and nothing else.
pub fn is_gauge_word(word: &str) -> bool {
    let longer = word.len() > 2 && ROWS.contains(&word);
    longer
        || [STITCHES, CROCHET, ROUNDS]
            .iter()
            .any(|words| words.contains(&word))
}

/// A gauge.
pub fn counted(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let (mut found, pieces) = stream::with_pieces(|input| {
        let lead = opt(lead).parse_next(input)?.is_some();
        let first = opt((over, opt(stream::symbol(":=,")))).parse_next(input)?;
        let found = counts(lead, first.map(|(over, _)| over), input)?;
        opt(stream::symbol(")")).parse_next(input)?;
        Ok(found)
    })
    .parse_next(input)?;
    found.span = span_of(pieces);
    Ok(found)
}

fn lead(input: &mut Tokens<'_>) -> Parsed<()> {
    stream::word(LEADS).parse_next(input)?;
    repeat(
        0..3,
        alt((
            stream::symbol(":=-.(").void(),
            stream::word(&["square", "is", "of", "in"]).void(),
        )),
    )
    .parse_next(input)
}

fn counts(lead: bool, first: Option<Over>, input: &mut Tokens<'_>) -> Parsed<Counted> {
    let stitches = counted_range(input)?;
    let named = stitch_name(input)?;
    let rows = opt(rows).parse_next(input)?;
    let over = match first {
        Some(over) => Some(over),
        None => opt(over_after).parse_next(input)?,
    };
    let (numbers, called) = rows.map_or((None, None), |(n, c)| (Some(n), c));
    let found = Counted {
        crochet: named == Named::Crochet,
        guessed: named == Named::Not && over.is_none() && !lead,
        rounds: called == Some(true),
        rows: numbers,
        stitches,
        over,
        span: 0..0,
    };
    match found.stands(named, called.is_some(), lead) && (!found.guessed || may_end(input)) {
        true => Ok(found),
        false => Err(EmptyError),
    }
}

/// Whether two bare numbers may end here as a gauge: no word that they count
/// and no further number follows.
fn may_end(input: &Tokens<'_>) -> bool {
    stream::ahead(input).is_none_or(|token| match &token.kind {
        Kind::Word(word) => OVER.contains(&word.as_str()),
        Kind::Symbol(sign) => ",;.)=~".contains(*sign),
        Kind::Number(_) => false,
    })
}

impl Counted {
    /// Whether enough was said to call it a gauge.
    fn stands(&self, named: Named, rows_named: bool, lead: bool) -> bool {
        match named {
            Named::Stitches | Named::Crochet => true,
            Named::Short => lead || rows_named || self.over.is_some(),
            Named::Not => {
                lead || self.rows.is_some()
                    && (rows_named || self.over.is_some() || self.plausible())
            }
        }
    }

    /// Whether two bare numbers look like stitches and rows: 6 to 45 stitches
    /// and 1 to 1.7 times as many rows (plain knitting; common practice), at
    /// both ends of a range.
    fn plausible(&self) -> bool {
        let whole = |range: &NumberRange| match range.readings(None).as_slice() {
            [(low, high)] if low.fract() == 0.0 && high.fract() == 0.0 => Some((*low, *high)),
            _ => None,
        };
        let both = whole(&self.stitches).zip(self.rows.as_ref().and_then(whole));
        both.is_some_and(|((fewest, most), (fewest_rows, most_rows))| {
            fewest >= 6.0 && most <= 45.0 && fewest_rows >= most && most_rows <= 1.7 * fewest
        })
    }
}

fn stitch_name(input: &mut Tokens<'_>) -> Parsed<Named> {
    if stream::word(&["spi"])
        .parse_next(&mut input.clone())
        .is_ok()
    {
        return Ok(Named::Stitches);
    }
    let named = opt(alt((
        (
            stream::word(&["single", "double", "treble", "half"]),
            stream::word(CROCHET),
        )
            .value(Named::Crochet),
        stream::word(CROCHET).value(Named::Crochet),
        stream::word(STITCHES).value(Named::Stitches),
        stream::word(SHORT_STITCHES).value(Named::Short),
    )))
    .parse_next(input)?;
    Ok(named.unwrap_or(Named::Not))
}

/// Rows, and whether they were called rounds where they were called anything.
/// `28 to 10 cm`: rows, and the length that they are counted over; no range.
fn before_length(input: &mut Tokens<'_>) -> Parsed<NumberRange> {
    let (low, pieces) = stream::with_pieces(stream::number).parse_next(input)?;
    over_after(&mut input.clone())?;
    Ok(NumberRange {
        low: low.clone(),
        high: None,
        span: span_of(pieces),
    })
}

fn rows(input: &mut Tokens<'_>) -> Parsed<(NumberRange, Option<bool>)> {
    let joins: Vec<bool> = repeat(
        0..3,
        alt((
            stream::symbol("&×/").value(true),
            stream::symbol(",+-(").value(false),
            stream::word(AND).value(false),
        )),
    )
    .parse_next(input)?;
    let range = alt((before_length, counted_range)).parse_next(input)?;
    let called = opt(alt((
        stream::word(ROUNDS).value(true),
        stream::word(ROWS).value(false),
    )))
    .parse_next(input)?;
    let unit_follows = called.is_none() && unit_word(&mut input.clone()).is_ok();
    match (called.is_none() && !joins.contains(&true)) || unit_follows {
        true => Err(EmptyError),
        false => Ok((range, called)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::reading::lex;

    /// Ends of stitches and of rows.
    type Ends = ((f64, f64), Option<(f64, f64)>);

    fn read(text: &str) -> Option<Ends> {
        let tokens = lex(text);
        let mut input = Tokens::new(&tokens);
        let found = counted(&mut input).ok()?;
        let one = |range: &NumberRange| range.readings(None)[0];
        (input.is_empty()).then(|| (one(&found.stitches), found.rows.as_ref().map(one)))
    }

    #[test]
    fn words_of_two_letters_are_too_short_to_count_rows_by_themselves() {
        for word in ["sts", "rows", "rgs", "rounds", "rnd", "hdc", "sc"] {
            assert!(is_gauge_word(word), "{word}");
        }
        for word in ["r", "rh", "rd", "wool"] {
            assert!(!is_gauge_word(word), "{word}");
        }
    }

    #[test]
    fn a_letter_counts_stitches_where_one_thing_more_says_so() {
        let alone = Some(((22.0, 22.0), None));
        let rows = Some(((22.0, 22.0), Some((30.0, 30.0))));
        for (text, found) in [
            ("22 m x 30 rows", rows),
            ("gauge 22 m", alone),
            ("22 m / 10 cm", alone),
            ("22 m", None),
            ("22 m x 30", None),
        ] {
            assert_eq!(read(text), found, "{text}");
        }
    }

    #[test]
    fn bare_numbers_are_a_gauge_where_they_look_like_one() {
        let found = |stitches, rows| Some((stitches, Some(rows)));
        for (text, found) in [
            ("22 x 30 rows", found((22.0, 22.0), (30.0, 30.0))),
            ("22 x 30 / 10 cm", found((22.0, 22.0), (30.0, 30.0))),
            ("22 x 60 rows", found((22.0, 22.0), (60.0, 60.0))),
            ("22 x 60 / 10 cm", found((22.0, 22.0), (60.0, 60.0))),
            ("22 x 60", None),
            ("22 x 30", found((22.0, 22.0), (30.0, 30.0))),
            ("22-24 x 30-32", found((22.0, 24.0), (30.0, 32.0))),
            ("22-24 x 30", found((22.0, 24.0), (30.0, 30.0))),
            ("10 x 17", found((10.0, 10.0), (17.0, 17.0))),
            ("6 x 6", found((6.0, 6.0), (6.0, 6.0))),
            ("45 x 60", found((45.0, 45.0), (60.0, 60.0))),
            ("22.5 x 30", None),
            ("22-22.5 x 30", None),
            ("22 x 30-30.5", None),
            ("22 x 30.5", None),
            ("10 x 18", None),
            ("20-24 x 23-30", None),
            ("20-24 x 30-35", None),
            ("5 x 8", None),
            ("46 x 60", None),
            ("30 x 22", None),
        ] {
            assert_eq!(read(text), found, "{text}");
        }
    }
}
