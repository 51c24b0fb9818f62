//! What a label says beside the yarn's facts: article number, shade, lot; and
//! numbers that nobody can place.

use super::scan::{Item, Part};
use crate::{
    label::{
        fibre::blend,
        length_mass::{is_yarn_unit, unit_word},
        reading::{Reading, Refusal},
        token::{
            ParseResult, Token, TokenKind, Tokens, Words, exact, one_of, require, says_nothing,
            sign_or_word, skip, symbol, text_of, word, words,
        },
    },
    trade::{Gtin, GtinError, class_of_name},
};
use winnow::{
    Parser,
    combinator::{alt, delimited, not, opt, preceded, repeat},
};

const LOT: Words = words! {
    lot, lots, dyelot, dyelots, dl, bain, partie, farbpartie, partij, verfbad, bano, bagno, lotto,
    parti, indfarvning, batch, partia, партия, sarze, ロット,
};
const SHADE: Words = words! {
    colour, color, col, colourway, colorway, shade, farbe, farb, fb, coloris, couleur, coul, colore,
    kleur, farve, farge, farg, vari, teinte, sh, clr, tono, kolor, barva, цвет, renk, 色番,
};
/// Words that deny a dye lot.
const WITHOUT: Words =
    words! { no, without, ohne, sans, sin, senza, zonder, uden, uten, utan, bez };
/// Words between `shade` and its name.
const NUMBER: Words = words! { no, nr, number, name, num, code };
const ARTICLE: Words = words! { gtin, ean, upc, barcode };
/// Words that say what a bare number counts.
const PLACED_BY: Words = words! {
    super, mm, us, uk, needle, needles, ndl, ndls, knitting, hook, old, canadian, circular
};

/// An article number under a barcode; the error of one whose digits are wrong.
pub fn gtin(input: &mut Tokens<'_>) -> ParseResult<Result<Gtin, GtinError>> {
    let name = (word(ARTICLE), skip(0..2, symbol(":.#-")));
    let named = opt(name).parse_next(input)?.is_some();
    let digits = digits(input)?;
    let read = Gtin::read(&digits);
    let likely = !digits.contains(' ') && digits.len() >= 12;
    match &read {
        Err(GtinError::CheckDigit { .. }) => require(named || likely)?,
        Err(_) => require(named)?,
        Ok(_) => {}
    }
    Ok(read)
}

/// Groups of digits that come to the length of an article number.
fn digits(input: &mut Tokens<'_>) -> ParseResult<String> {
    let count = |text: &str| text.chars().filter(char::is_ascii_digit).count();
    let mut all = one_of(Token::is_digits)(input)?.text.to_owned();
    for _ in 0..6 {
        if count(&all) >= 12 {
            break;
        }
        let Some(more) = opt(one_of(Token::is_digits)).parse_next(input)? else {
            break;
        };
        all = format!("{all} {}", more.text);
    }
    not(unit_word).parse_next(input)?;
    require(matches!(count(&all), 8 | 12 | 13 | 14))?;
    Ok(all)
}

/// A dye lot; `None` inside where the label says that there is none.
pub fn lot(input: &mut Tokens<'_>) -> ParseResult<Option<String>> {
    let named = (opt(word(words! { dye })), word(LOT));
    let denied = (word(WITHOUT), opt(word(words! { dye })), word(LOT));
    alt((denied.value(None), preceded(named, value))).parse_next(input)
}

/// A shade; `None` inside where the label says that there is none.
pub fn shade(input: &mut Tokens<'_>) -> ParseResult<Option<String>> {
    preceded(word(SHADE), value).parse_next(input)
}

fn value(input: &mut Tokens<'_>) -> ParseResult<Option<String>> {
    let sign = alt((sign_or_word(":.#=", NUMBER), numero));
    let some = preceded(
        skip(0..4, sign),
        alt((none.value(None), quoted.map(Some), name.map(Some))),
    );
    preceded(opt(symbol(":=")), alt((none.value(None), some))).parse_next(input)
}

/// `n°`.
fn numero(input: &mut Tokens<'_>) -> ParseResult<()> {
    (word(words! { n }), symbol("°")).void().parse_next(input)
}

fn none(input: &mut Tokens<'_>) -> ParseResult<()> {
    let n_a = (word(words! { n }), opt(symbol("/")), word(words! { a })).void();
    alt((
        n_a,
        sign_or_word("-?", words! { na, none, unknown, without, ohne }),
    ))
    .parse_next(input)
}

/// `"low tide"`.
fn quoted(input: &mut Tokens<'_>) -> ParseResult<String> {
    let words = skip(
        1..=4,
        one_of(|token| !matches!(token.kind, TokenKind::Symbol(_))),
    );
    delimited(symbol("\""), words.take().map(text_of), symbol("\"")).parse_next(input)
}

/// A number or name of up to four words, as printed.
fn name(input: &mut Tokens<'_>) -> ParseResult<String> {
    let mut words = 1;
    let next = |token: &Token<'_>| match &token.kind {
        TokenKind::Symbol(sign) => token.glued && "-/.".contains(*sign),
        TokenKind::Number(_) => token.glued,
        TokenKind::Word(word) => !ends_name(word) && (token.glued || token.is_capitalised()),
    };
    let more = |input: &mut Tokens<'_>| {
        let token = one_of(next).parse_next(input)?;
        words += usize::from(!token.glued);
        require(words <= 4)
    };
    let first = one_of(|token| match token.kind {
        TokenKind::Symbol(_) => false,
        _ => token.is_capitalised() || !says_nothing(token),
    });
    let more = repeat::<_, _, (), _, _>(0.., more);
    let tokens = (first, more).take().parse_next(input)?;
    not(sign_or_word("%", words! { percent, ply })).parse_next(input)?;
    if tokens.last().is_some_and(Token::is_digits) {
        not(unit_word.verify(is_yarn_unit)).parse_next(input)?;
    }
    Ok(text_of(tokens).trim_end_matches(['.', '/', '-']).to_owned())
}

/// The most words behind the number of a shade that are its name.
const MOST_OF_SHADE: usize = 3;

/// The parts, where words that say nothing else stand behind a shade and belong to it:
/// `shade 14 ferry`.
pub fn with_names_of_shades(parts: Vec<Part>, tokens: &[Token<'_>]) -> Vec<Part> {
    let mut whole: Vec<Part> = Vec::with_capacity(parts.len());
    let mut more = 0;
    for part in parts {
        let named = whole
            .last_mut()
            .and_then(|last| name_of_shade(last, &part, tokens));
        match named.filter(|_| more < MOST_OF_SHADE) {
            Some((name, word, end)) => {
                *name = format!("{name} {word}");
                *end = part.span().end;
                more += 1;
            }
            None => {
                more = 0;
                whole.push(part);
            }
        }
    }
    whole
}

/// The name of a shade, a word right behind it, and where the shade ends.
fn name_of_shade<'p>(
    shade: &'p mut Part,
    word: &Part,
    tokens: &[Token<'_>],
) -> Option<(&'p mut String, String, &'p mut usize)> {
    let (Part::Found(found, of_shade), Part::Unknown(of_word, _)) = (shade, word) else {
        return None;
    };
    let Ok(Reading {
        value: Item::Shade(Some(name)),
        ..
    }) = found.as_mut()
    else {
        return None;
    };
    let at = tokens.partition_point(|token| token.span.end <= of_shade.end);
    let next = tokens
        .get(at)
        .filter(|next| next.span == *of_word && next.word().is_some())?;
    Some((name, next.text.to_owned(), &mut of_shade.end))
}

/// Whether a capitalised word says something new, and is no part of a name.
fn ends_name(word: &str) -> bool {
    LOT.contains(word)
        || SHADE.contains(word)
        || class_of_name(word).is_some()
        || matches!(word, "dye" | "ean" | "gtin" | "upc")
}

/// `No. 7`, `#4`: needle, class or shade, nobody knows.
pub fn unplaced(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let sign = alt((sign_or_word("#", words! { no, nr, number, nro }), numero));
    let (found, span) = preceded((sign, opt(symbol("#"))), exact)
        .with_span()
        .parse_next(input)?;
    let places = |token: &Token<'_>| {
        let class = token
            .word()
            .is_some_and(|word| class_of_name(word).is_some());
        class || token.is('(') || token.is_word(PLACED_BY)
    };
    not(one_of(places)).parse_next(input)?;
    Ok(Refusal::new(
        span,
        format!("number {found} may be a needle, a weight class or a shade"),
        format!("`US {found}`, `class {found}` or `shade {found}`"),
    ))
}

/// `28/2`, `2/28 cashmere`: a yarn count whose system is not named.
pub fn bare_count(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let (_, span) = (exact, symbol("/"), exact).with_span().parse_next(input)?;
    if blend(&mut input.clone()).is_ok() {
        return Ok(Refusal::new(
            span,
            "it may be a yarn count, whose system is not named, or a share",
            "`2/28 Nm` or `28/2 Ne`, or a share such as `75 %`",
        ));
    }
    let counts_more = |token: &Token<'_>| match &token.kind {
        TokenKind::Symbol(sign) => "/%(".contains(*sign),
        TokenKind::Word(word) => word != "and",
        TokenKind::Number(_) => true,
    };
    not(one_of(counts_more)).parse_next(input)?;
    Ok(Refusal::new(
        span,
        "it may be a yarn count, whose system is not named",
        "`2/28 Nm` or `28/2 Ne`, or `sts` and `rows` beside a gauge",
    ))
}

/// `baby` alone: two classes and a purpose.
pub fn lone_baby(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let (_, span) = word(words! { baby }).with_span().parse_next(input)?;
    Ok(Refusal::new(
        span,
        "`baby` may be weight class 1 or 2, or say whom it is for",
        "`baby weight` or `for a baby`",
    ))
}

/// `-5 m` where no range is: a number below zero.
pub fn negative(input: &mut Tokens<'_>) -> ParseResult<Refusal> {
    let number = one_of(|token| token.glued && token.number().is_some());
    let (_, span) = (symbol("-"), number, opt(unit_word))
        .with_span()
        .parse_next(input)?;
    Ok(Refusal::new(
        span,
        "it is below zero",
        "a number above zero",
    ))
}
