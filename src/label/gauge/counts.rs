//! Stitches and rows over a length: `22 sts & 30 rows = 10 cm`.
//!
//! A short word such as `m` or `r` counts stitches or rows only where the rest
//! makes a gauge of it; a metre of yarn has the same letter.

use crate::{
    label::{
        length_mass::unit_word,
        range::{NumberRange, counted_range, single_number},
        token::{
            ParseResult, Token, TokenKind, Tokens, Words, any_word, exact, number, one_of, require,
            sign_or_word, skip, symbol, upcoming, word, words,
        },
    },
    measure::{Over, units::Unit},
};
use winnow::{
    Parser,
    combinator::{alt, not, opt, peek, preceded, repeat, terminated},
    error::EmptyError,
};

/// The most stitches that are counted over one length; common practice, no source.
const MOST_STITCHES: f64 = 60.0;

/// Words that say that a gauge follows.
const LEADS: Words = words! {
    gauge, tension, maschenprobe, echantillon, muestra, campione, amostra, stekenverhouding,
    strikkefasthet, strikkefasthed, masktathet, neuletiheys, tiheys, probka, плотность, ケーシ,
    標準ケーシ, メリヤス編み,
};
const STITCHES: Words = words! {
    目, oczek, oczka, oka, ocek, петель, петли, ilmek, ilmik,
    st, sts, stitch, stitches, maschen, masche, maille, mailles, punto, puntos, punti, maglia,
    maglie, malha, malhas, ponto, pontos, steek, steken, maske, masker, maskor, silmukka,
    silmukkaa,
};
const SHORT_STITCHES: Words = words! { m, s, p, pts, п, o, ok };
const CROCHET: Words = words! { sc, dc, hdc, htr, tr, crochet, crochets };
const ROUNDS: Words = words! { rnd, rnds, round, rounds, runden, omgange, omganger };
const ROWS: Words = words! {
    row, rows, reihe, reihen, rang, rangs, rgs, rg, tours, vuelta, vueltas, hilera, hileras,
    pasadas, carreras, filas, ferro, ferri, righe, giri, carreira, carreiras, voltas, naald,
    naalden, nld, rijen, toer, toeren, pind, pinde, pinder, pinne, pinner, omg, varv, kerros,
    kerrosta, krs, r, p, f, v, n, c, rh, rd, h, 段, rzedow, rzedy, rz, рядов, ряда, ряд, р, sıra,
    rad, rady, radku,
};
const AND: Words = words! { and, und, et, y, e, en, og, och, ja, by, x, i, и, ve, a };
/// Words before the length.
const OVER: Words = words! {
    to, over, per, on, in, is, equals, measure, sur, auf, su, en, op, pa, por, pour, par, pro,
    sobre, em, for, make, makes, uber, the, a, each, gives, na, в, на,
};

/// A gauge as counted, each number with all that it may mean.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeCounts {
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
}

/// What the word behind the first number counts.
#[derive(Clone, Copy, PartialEq)]
enum StitchWord {
    Knitted,
    Short,
    Crochet,
    None,
}

/// Whether the folded word counts stitches, rows or rounds and nothing else.
pub fn is_gauge_word(word: &str) -> bool {
    let longer = word.len() > 2 && ROWS.contains(word);
    longer
        || [STITCHES, CROCHET, ROUNDS]
            .iter()
            .any(|words| words.contains(word))
}

/// Stitches, and rows and the length they are counted over where stated.
pub fn gauge_counts(input: &mut Tokens<'_>) -> ParseResult<GaugeCounts> {
    let lead = opt(lead).parse_next(input)?.is_some();
    let first = opt(terminated(over, opt(symbol(":=,/")))).parse_next(input)?;
    let found = counts(lead, first, input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok(found)
}

fn lead(input: &mut Tokens<'_>) -> ParseResult<()> {
    let more = skip(0..3, sign_or_word(":=-.(", words! { square, is, of, in }));
    (word(LEADS), more).void().parse_next(input)
}

fn counts(lead: bool, first: Option<Over>, input: &mut Tokens<'_>) -> ParseResult<GaugeCounts> {
    let stitches = counted_range(input)?;
    let named = stitch_word(input)?;
    let (rows, called) = opt(rows).parse_next(input)?.unzip();
    let called = called.flatten();
    let over = match first {
        Some(over) => Some(over),
        None => opt(over_after).parse_next(input)?,
    };
    let (rows, called) = match (rows, over) {
        (None, Some(over)) => opt(rows_over(over)).parse_next(input)?.unzip(),
        (rows, _) => (rows, called),
    };
    let found = GaugeCounts {
        crochet: named == StitchWord::Crochet,
        guessed: named == StitchWord::None && over.is_none() && !lead,
        rounds: called == Some(true),
        rows,
        stitches,
        over,
    };
    require(found.stands(named, called.is_some(), lead) && (!found.guessed || may_end(input)))?;
    Ok(found)
}

/// Whether two bare numbers may end here as a gauge: no word that they count
/// and no further number follows.
fn may_end(input: &Tokens<'_>) -> bool {
    let in_millimetres = || upcoming(input, 1).is_some_and(|token| token.is_word(words! { mm }));
    upcoming(input, 0).is_none_or(|token| match &token.kind {
        TokenKind::Word(word) => OVER.contains(word),
        TokenKind::Symbol(sign) => ",;.)=~".contains(*sign),
        TokenKind::Number(_) => in_millimetres(),
    })
}

impl GaugeCounts {
    /// Whether enough was said to call it a gauge.
    fn stands(&self, named: StitchWord, rows_named: bool, lead: bool) -> bool {
        match named {
            StitchWord::Knitted | StitchWord::Crochet => true,
            StitchWord::Short => {
                lead || self.may_be_stitches() && (rows_named || self.over.is_some())
            }
            StitchWord::None => {
                lead || self.rows.is_some()
                    && (rows_named || self.over.is_some() || self.plausible())
            }
        }
    }

    /// Whether so many may be stitches, and not metres: `142 m, 10 cm`.
    fn may_be_stitches(&self) -> bool {
        let readings = self.stitches.readings(None);
        readings.iter().any(|(_, most)| *most <= MOST_STITCHES)
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

fn stitch_word(input: &mut Tokens<'_>) -> ParseResult<StitchWord> {
    let crochet = preceded(
        opt(word(words! { single, double, treble, half })),
        word(CROCHET),
    );
    let named = opt(alt((
        peek(word(words! { spi })).value(StitchWord::Knitted),
        crochet.value(StitchWord::Crochet),
        word(STITCHES).value(StitchWord::Knitted),
        word(SHORT_STITCHES).value(StitchWord::Short),
    )))
    .parse_next(input)?;
    Ok(named.unwrap_or(StitchWord::None))
}

/// `, 26 rows = 10 cm`, `, 10 cm = 26 rows` behind the stitches over that length.
fn rows_over(length: Over) -> impl FnMut(&mut Tokens<'_>) -> ParseResult<(NumberRange, bool)> {
    move |input| {
        skip(0..3, sign_or_word(",;&+/(", AND)).parse_next(input)?;
        let before = opt(terminated(over, symbol(":="))).parse_next(input)?;
        let (range, rounds) = (counted_range, row_word).parse_next(input)?;
        let after = opt(over_after).parse_next(input)?;
        require(before.or(after).is_none_or(|over| over == length))?;
        Ok((range, rounds))
    }
}

/// Whether the word counts rounds.
fn row_word(input: &mut Tokens<'_>) -> ParseResult<bool> {
    alt((word(ROUNDS).value(true), word(ROWS).value(false))).parse_next(input)
}

/// `36 r`, `30 rows` without stitches.
pub fn lone_rows(input: &mut Tokens<'_>) -> ParseResult<()> {
    let rows = any_word.verify(|word: &str| {
        word == "r" || word.len() > 1 && ROWS.contains(word) || ROUNDS.contains(word)
    });
    let per = opt(over_after);
    (counted_range, rows, per).void().parse_next(input)
}

/// Rows, and whether they were called rounds where they were called anything.
fn rows(input: &mut Tokens<'_>) -> ParseResult<(NumberRange, Option<bool>)> {
    let joins: Vec<bool> = repeat(
        0..3,
        alt((
            symbol("&×/").value(true),
            sign_or_word(",+-(", AND).value(false),
        )),
    )
    .parse_next(input)?;
    let range = alt((before_length, counted_range)).parse_next(input)?;
    let called = opt(row_word).parse_next(input)?;
    if called.is_none() {
        require(joins.contains(&true))?;
        not(unit_word).parse_next(input)?;
    }
    Ok((range, called))
}

/// `28 to 10 cm`: rows, and the length that they are counted over; no range.
fn before_length(input: &mut Tokens<'_>) -> ParseResult<NumberRange> {
    terminated(single_number, peek(over_after)).parse_next(input)
}

/// The length behind the counts: `= 10 cm`, `over 4 in`, `/in`.
fn over_after(input: &mut Tokens<'_>) -> ParseResult<Over> {
    let join = skip(0..4, sign_or_word("=/~,:-(", OVER));
    let per = alt((
        sign_or_word("/", words! { per, pro, par, por }),
        (word(words! { to }), word(words! { the, an, one })).void(),
    ));
    let length = alt((
        preceded(join, over),
        preceded(per, unit_word).verify_map(|unit| over_of(1.0, unit)),
        word(words! { spi }).verify_map(|_| Over::inches(1.0).ok()),
    ));
    terminated(length, not(other_counts)).parse_next(input)
}

/// `= 28 sts` behind a length, to which it belongs.
fn other_counts(input: &mut Tokens<'_>) -> ParseResult<()> {
    let stitches = alt((word(STITCHES), word(CROCHET), word(SHORT_STITCHES)));
    (symbol("=:/"), counted_range, stitches)
        .void()
        .parse_next(input)
}

/// The length that `=` or a word before it says is counted over.
pub fn joined_over(input: &mut Tokens<'_>) -> ParseResult<Over> {
    let joined = |token: &Token<'_>| token.is('=') || token.word().is_some();
    preceded(peek(one_of(joined)), over_after).parse_next(input)
}

/// `10 cm`, `10 x 10 cm`, `4 in`, `10 cm/4 in` (the metric one counts).
fn over(input: &mut Tokens<'_>) -> ParseResult<Over> {
    let join = skip(1..3, sign_or_word("/(=,~", words! { or }));
    let (first, second) = (side, opt(preceded(join, side))).parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    opt(word(words! { square, sq, 平方, 四方 })).parse_next(input)?;
    let metric = second.filter(|(_, unit)| unit.symbol != "in");
    let (side, unit) = metric.unwrap_or(first);
    over_of(side, unit).ok_or(EmptyError)
}

/// A length, or the sides of a square: `10 x 10 cm`.
fn side(input: &mut Tokens<'_>) -> ParseResult<(f64, &'static Unit)> {
    let (side, _, unit) = (number, opt(symbol("-")), opt(unit_word)).parse_next(input)?;
    let again = opt((symbol("×"), exact, unit_word)).parse_next(input)?;
    let unit = unit.or(again.map(|(_, _, unit)| unit)).ok_or(EmptyError)?;
    let sides = side.values().into_iter();
    let likely = sides
        .map(|side| (side, unit))
        .find(|(side, unit)| is_likely(*side, unit));
    likely.ok_or(EmptyError)
}

/// Whether people count a gauge over that much. What parts thousands in one
/// reading and decimals in the other is never likely as both.
fn is_likely(side: f64, unit: &Unit) -> bool {
    matches!(
        (unit.symbol, side),
        ("cm", 1.0..=50.8) | ("in", 1.0..=20.0) | ("mm", 25.0..=500.0)
    )
}

fn over_of(side: f64, unit: &Unit) -> Option<Over> {
    match unit.symbol {
        "cm" | "mm" | "in" => Over::of(side, unit.factor).ok(),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

    /// Ends of stitches and of rows.
    type Ends = ((f64, f64), Option<(f64, f64)>);

    fn read(text: &str) -> Option<Ends> {
        let tokens = lex(text);
        let mut input = Tokens::new(&tokens);
        let found = gauge_counts(&mut input).ok()?;
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

    fn centimetres(text: &str) -> Option<f64> {
        let tokens = lex(text);
        let over = over_after(&mut Tokens::new(&tokens)).ok()?;
        Some((over.as_metres() * 1e6).round() / 1e4)
    }

    #[test]
    fn three_decimals_are_decimals_where_thousands_would_be_no_gauge() {
        for (text, over) in [
            ("/ 3.302 cm", 3.302),
            ("= 10,500 cm", 10.5),
            ("over 2.875 in", 7.3025),
            ("= 101.600 mm", 10.16),
        ] {
            assert_eq!(centimetres(text), Some(over), "{text}");
        }
    }

    #[test]
    fn a_gauge_is_counted_over_a_likely_length_only() {
        for (text, over) in [
            ("/ 1 cm", Some(1.0)),
            ("/ 50.8 cm", Some(50.8)),
            ("/ 51 cm", None),
            ("/ 20 in", Some(50.8)),
            ("/ 21 in", None),
            ("/ 25 mm", Some(2.5)),
            ("/ 24 mm", None),
            ("/ 10 m", None),
            ("/in", Some(2.54)),
        ] {
            assert_eq!(centimetres(text), over, "{text}");
        }
    }
}
