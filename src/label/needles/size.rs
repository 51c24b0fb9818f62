//! One needle size as written: millimetres, or a number of a market.

use crate::{
    label::{
        gauge::is_gauge_word,
        length_mass::unit_word,
        range::{NumberRange, counted_range, single_number},
        token::{
            ParseResult, Token, TokenKind, Tokens, Words, any_word, here, lex, number,
            sign_or_word, skip, symbol, word, words,
        },
    },
    trade::NeedleSystem,
    words::number as shown,
};
use winnow::{
    Parser,
    combinator::{alt, delimited, not, opt, peek, preceded, terminated},
};

/// One statement of a size.
#[derive(Debug, Clone)]
pub enum NeedleStatement {
    Millimetres(NumberRange),
    /// Two sizes with `and` between them: two pairs of needles, not a range.
    Pair(NumberRange),
    Numbered(NeedleSystem, String, Option<String>),
    /// A number whose system is not named, and its value.
    Unnamed(String, f64),
}

impl NeedleStatement {
    /// The sizes in millimetres, where they are written so.
    pub fn in_millimetres(&self) -> Option<&NumberRange> {
        match self {
            Self::Millimetres(range) | Self::Pair(range) => Some(range),
            _ => None,
        }
    }
}

/// Words for needles that say nothing of their size.
pub const NEEDLE_WORDS: Words = words! {
    needle, needles, ndl, ndls, circular, circulars, dpn, dpns, straight, 棒針, 輪針, 針,
};
/// Needle words of countries that count needles in millimetres.
pub const METRIC_WORDS: Words = words! {
    nadel, nadeln, nadelstarke, nadelst, nadelspiel, rundnadel, rundnadeln, nd, nds, ns,
    stricknadeln, stricknadel, aiguille, aiguilles, aig, aguja, agujas, agulha, agulhas, naald,
    naalden, breinaalden, pinde, pind, strikkepinde, strikkepind, nal, pinner, pinne, sticka,
    stickor, puikot, puikoille, puikoilla, rundpind, rundpinde, rundpinne, strikkepinner,
    rundsticka, puikko, ø, ferri, ferro, drut, druty, drutach, drutami, спицы, спицах, спицами,
    спиц, sis, sisler, jehlice, jehlicich, jehlic,
};
/// Words that say only that a number is a size.
pub const SIZE_WORDS: Words = words! { size, sz, no, nr, number, num, numero, nro };
const MILLIMETRES: Words = words! {
    mm, millimetre, millimetres, millimeter, millimeters, мм
};
const AMERICAN: Words = words! { us, usa, american };
const BRITISH: Words = words! { uk, canadian, canada, english, imperial, british, cdn };
const OLD: Words = words! { old };
const PAIR: Words = words! { and, und, et, y, og, och };
const OR: Words = words! { or, oder, ou, o };

/// Another statement of the same size: `(old 8)`, `/US 6`, `, UK 8`.
pub fn next_statement(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    let join = alt((
        sign_or_word("(/,=~;-[", words! { or }),
        word(NEEDLE_WORDS).void(),
    ));
    let statement = alt((millimetres, numbered, unnamed));
    delimited(skip(0..4, join), statement, opt(symbol(")]"))).parse_next(input)
}

/// One statement of a size.
pub fn statement(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    alt((doubted, millimetres, numbered, unnamed, in_metric_words)).parse_next(input)
}

/// `#2 (2.75 or 3.0?)`: a number, and two sizes that it may be.
fn doubted(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    let mm = || opt(word(words! { mm }));
    let or = sign_or_word("/-", OR);
    let sizes = (number, preceded((mm(), or), number))
        .map(|(low, high)| (low.clone(), Some(high.clone())))
        .with_span()
        .map(NumberRange::from);
    let start = (opt(alt((numbered, unnamed))), symbol("("));
    delimited(start, sizes, (mm(), opt(symbol("?")), symbol(")")))
        .map(NeedleStatement::Millimetres)
        .parse_next(input)
}

fn millimetres(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    let named = opt(alt((word(METRIC_WORDS), word(words! { p }))));
    let lead = (opt(word(SIZE_WORDS)), named);
    let unit = (opt(symbol("-")), word(MILLIMETRES));
    let either = (number, preceded(word(OR), number)).with_span();
    let either = either.map(|((low, high), span)| NumberRange {
        low: low.clone(),
        high: Some(high.clone()),
        span,
    });
    let sizes = alt((either, counted_range));
    let mut range = delimited(lead, sizes, unit).parse_next(input)?;
    let join = alt((
        sign_or_word("-", words! { or, to }).value(false),
        sign_or_word("&", PAIR).value(true),
    ));
    let second = opt((join, terminated(counted_range, word(words! { mm })))).parse_next(input)?;
    let Some((pair, high)) = second.filter(|_| range.high.is_none()) else {
        return Ok(NeedleStatement::Millimetres(range));
    };
    range.high = Some(high.low);
    Ok(if pair {
        NeedleStatement::Pair(range)
    } else {
        NeedleStatement::Millimetres(range)
    })
}

fn numbered(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    alt((system_first, number_first, japanese)).parse_next(input)
}

/// `5号`, `5〜6号`, `5号棒針`.
fn japanese(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    let sign = || any_word.verify(|word: &str| word.starts_with('号'));
    let high = preceded((opt(sign()), symbol("-~")), needle_label);
    (numbered_piece, opt(high), sign())
        .map(|((token, value), high, _)| {
            let (low, high) = (label_of(token, value), high.map(|(high, _)| high));
            NeedleStatement::Numbered(NeedleSystem::Japanese, low, high)
        })
        .parse_next(input)
}

fn system(input: &mut Tokens<'_>) -> ParseResult<NeedleSystem> {
    let british = (opt(word(OLD)), word(BRITISH));
    alt((
        word(AMERICAN).value(NeedleSystem::Us),
        british.value(NeedleSystem::OldUk),
        word(OLD).value(NeedleSystem::OldUk),
    ))
    .parse_next(input)
}

/// Whether the number of a needle may stand in a text. Where none does, no number
/// can name another needle than the millimetres beside it.
pub fn numbers_a_needle(text: &str) -> bool {
    lex(text).iter().any(|token| match &token.kind {
        TokenKind::Symbol(sign) => *sign == '#',
        TokenKind::Word(word) => {
            let tables = [AMERICAN, BRITISH, OLD, SIZE_WORDS];
            word.starts_with('号') || tables.iter().any(|words| words.contains(word))
        }
        TokenKind::Number(_) => false,
    })
}

/// `US 6`, `US size 6`, `old UK no. 8`, `US 6-8`.
fn system_first(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    let system = preceded(opt(word(words! { size })), system);
    let sign = alt((sign_or_word("#:", SIZE_WORDS), word(NEEDLE_WORDS).void()));
    let low = preceded(skip(0..3, sign), needle_label);
    let high = preceded(symbol("-"), terminated(needle_label, not(counts_more)));
    (system, low, opt(high))
        .map(|(system, (low, _), high)| {
            NeedleStatement::Numbered(system, low, high.map(|(high, _)| high))
        })
        .parse_next(input)
}

/// A word behind a number that makes it no needle: `US 6 - 50 g`, `US 4 - 22 sts`.
fn counts_more(input: &mut Tokens<'_>) -> ParseResult<()> {
    let stitches = any_word.verify(|word: &str| is_gauge_word(word));
    alt((unit_word.void(), stitches.void())).parse_next(input)
}

/// `6 US`, `size 8 UK`.
fn number_first(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    (
        skip(0..3, sign_or_word("#", SIZE_WORDS)),
        numbered_piece,
        system,
    )
        .map(|((), (token, value), system)| {
            NeedleStatement::Numbered(system, label_of(token, value), None)
        })
        .parse_next(input)
}

/// `size 8`, `#8`: no system named. Elsewhere a bare number is none.
fn unnamed(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    preceded(skip(1..3, sign_or_word("#", SIZE_WORDS)), needle_label)
        .map(|(number, value)| NeedleStatement::Unnamed(number, value))
        .parse_next(input)
}

/// `Ø 5`, `aiguilles 4-4,5`, `p. nr. 4`.
fn in_metric_words(input: &mut Tokens<'_>) -> ParseResult<NeedleStatement> {
    let pinde = (word(words! { p }), peek(word(words! { nr }))).void();
    let sign = alt((
        sign_or_word(":.°", SIZE_WORDS),
        word(words! { n, c }).void(),
    ));
    let lead = (alt((word(METRIC_WORDS).void(), pinde)), skip(0..3, sign));
    let range = alt((counted_range.verify(is_one_pair), single_number));
    delimited(lead, range, opt(word(words! { mm })))
        .map(NeedleStatement::Millimetres)
        .parse_next(input)
}

/// Whether both ends may be needles for one yarn: in `4,5 – 20 mailles` the
/// dash only parts. Common practice, no source.
fn is_one_pair(range: &NumberRange) -> bool {
    let mut readings = range.readings(None).into_iter();
    readings.all(|(low, high)| high <= 2.0 * low)
}

/// A needle number as the table writes it: `8`, `10.5`, `00`; and its value.
pub fn needle_label(input: &mut Tokens<'_>) -> ParseResult<(String, f64)> {
    numbered_piece
        .map(|(token, value)| (label_of(token, value), value))
        .parse_next(input)
}

/// The same before it is written out, which costs, and most numbers are no needles.
fn numbered_piece<'t>(input: &mut Tokens<'t>) -> ParseResult<(&'t Token<'t>, f64)> {
    here.verify_map(|token: &'t Token<'t>| Some((token, token.number()?.one()?)))
        .parse_next(input)
}

fn label_of(token: &Token<'_>, value: f64) -> String {
    match token.text.chars().all(|c| c == '0') {
        true => token.text.to_owned(),
        false => shown(value, 2),
    }
}
