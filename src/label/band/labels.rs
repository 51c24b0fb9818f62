//! What a label says beside the yarn's facts: article number, shade, lot; and
//! numbers that nobody can place.

use crate::{
    label::grammar::fibres::fibres,
    label::reading::{
        Kind, Outcome, Parsed, Reading, Refusal, Token, Tokens, ahead, exact, piece, plain,
        span_of, symbol, unit_word, with_pieces, word,
    },
    trade::{Gtin, GtinError},
};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
    token::any,
};

const LOT: &[&str] = &[
    "lot",
    "dyelot",
    "dl",
    "bain",
    "partie",
    "farbpartie",
    "partij",
    "verfbad",
    "bano",
    "bagno",
    "lotto",
    "parti",
    "indfarvning",
    "batch",
];
const SHADE: &[&str] = &[
    "colour",
    "color",
    "col",
    "colourway",
    "colorway",
    "shade",
    "farbe",
    "farb",
    "coloris",
    "couleur",
    "coul",
    "colore",
    "kleur",
    "farve",
    "farge",
    "farg",
    "vari",
    "teinte",
    "sh",
    "clr",
    "tono",
];

/// An article number under a barcode; the error of one whose digits are wrong.
pub fn gtin(input: &mut Tokens<'_>) -> Parsed<Result<Gtin, GtinError>> {
    let named = opt((
        word(&["gtin", "ean", "upc", "barcode"]),
        repeat::<_, _, (), _, _>(0..2, symbol(":.#-")),
    ))
    .parse_next(input)?
    .is_some();
    let digits = digits(input)?;
    let spaced = digits.contains(' ');
    match Gtin::read(&digits) {
        Ok(gtin) => Ok(Ok(gtin)),
        Err(error @ GtinError::CheckDigit { .. }) if named || (!spaced && digits.len() >= 12) => {
            Ok(Err(error))
        }
        Err(error) if named => Ok(Err(error)),
        Err(_) => Err(EmptyError),
    }
}

/// Groups of digits that come to the length of an article number.
fn digits(input: &mut Tokens<'_>) -> Parsed<String> {
    let group = |input: &mut Tokens<'_>| {
        let token = any
            .verify(|token: &&Token<'_>| token.text.chars().all(|c| c.is_ascii_digit()))
            .parse_next(input)?;
        Ok(token.text.to_owned())
    };
    let mut all = group(input)?;
    for _ in 0..6 {
        if all.chars().filter(char::is_ascii_digit).count() >= 12 {
            break;
        }
        match opt(group).parse_next(input)? {
            Some(more) => all = format!("{all} {more}"),
            None => break,
        }
    }
    let count = all.chars().filter(char::is_ascii_digit).count();
    let measured = unit_word(&mut input.clone()).is_ok();
    match matches!(count, 8 | 12 | 13 | 14) && !measured {
        true => Ok(all),
        false => Err(EmptyError),
    }
}

/// A dye lot; `None` inside where the label says that there is none.
pub fn lot(input: &mut Tokens<'_>) -> Parsed<Option<String>> {
    opt(word(&["dye"])).parse_next(input)?;
    word(LOT).parse_next(input)?;
    value(input)
}

/// A shade; `None` inside where the label says that there is none.
pub fn shade(input: &mut Tokens<'_>) -> Parsed<Option<String>> {
    word(SHADE).parse_next(input)?;
    value(input)
}

fn value<'t>(input: &mut Tokens<'t>) -> Parsed<Option<String>> {
    opt(symbol(":=")).parse_next(input)?;
    if opt(none).parse_next(input)?.is_some() {
        return Ok(None);
    }
    repeat::<_, _, (), _, _>(
        0..4,
        alt((
            symbol(":.#=").void(),
            word(&["no", "nr", "number", "name", "num", "code"]).void(),
            (word(&["n"]), symbol("°")).void(),
        )),
    )
    .parse_next(input)?;
    if opt(none).parse_next(input)?.is_some() {
        return Ok(None);
    }
    let first = piece
        .verify(|token: &&Token<'_>| !matches!(token.kind, Kind::Symbol(_)))
        .parse_next(input)?;
    let mut text = first.text.to_owned();
    let mut words = 1;
    loop {
        let room = words < 4;
        let next = |input: &mut Tokens<'t>| next_of_value(input, room);
        let Some(more) = opt(next).parse_next(input)? else {
            break;
        };
        if !more.glued {
            text.push(' ');
            words += 1;
        }
        text.push_str(more.text);
    }
    Ok(Some(text.trim_end_matches('.').to_owned()))
}

fn none(input: &mut Tokens<'_>) -> Parsed<()> {
    alt((
        (word(&["n"]), opt(symbol("/")), word(&["a"])).void(),
        word(&["na", "none", "unknown", "without", "ohne"]).void(),
        symbol("-?").void(),
    ))
    .parse_next(input)
}

/// What is glued on, or a further capitalised word of a name.
fn next_of_value<'t>(input: &mut Tokens<'t>, more_words: bool) -> Parsed<&'t Token<'t>> {
    any.verify(|token: &&Token<'_>| match &token.kind {
        Kind::Symbol(sign) => token.glued && "-/.".contains(*sign),
        Kind::Number(_) => token.glued,
        Kind::Word(word) => {
            token.glued
                || more_words
                    && token.text.chars().next().is_some_and(char::is_uppercase)
                    && !LOT.contains(&word.as_str())
                    && !SHADE.contains(&word.as_str())
                    && crate::trade::class_of_name(word).is_none()
                    && !matches!(word.as_str(), "dye" | "ean" | "gtin" | "upc")
        }
    })
    .parse_next(input)
}

/// `No. 7`, `#4`: needle, class or shade, nobody knows.
pub fn unplaced<T>(input: &mut Tokens<'_>) -> Parsed<Outcome<T>> {
    let (found, pieces) = with_pieces(|input| {
        alt((
            word(&["no", "nr", "number", "nro"]).void(),
            (word(&["n"]), symbol("°")).void(),
            symbol("#").void(),
        ))
        .parse_next(input)?;
        opt(symbol("#")).parse_next(input)?;
        exact(input)
    })
    .parse_next(input)?;
    let more = ahead(input).is_some_and(|token| {
        token.is('(')
            || token.word().is_some_and(|word| {
                crate::trade::class_of_name(word).is_some()
                    || word == "super"
                    || matches!(
                        word,
                        "mm" | "us"
                            | "uk"
                            | "needle"
                            | "needles"
                            | "ndl"
                            | "ndls"
                            | "knitting"
                            | "hook"
                            | "old"
                            | "canadian"
                            | "circular"
                    )
            })
    });
    match more {
        true => Err(EmptyError),
        false => Ok(Err(Refusal::new(
            span_of(pieces),
            format!("number {found} may be a needle, a weight class or a shade"),
            format!("`US {found}`, `class {found}` or `shade {found}`"),
        ))),
    }
}

/// `28/2`, `2/28 cashmere`: a yarn count whose system is not named.
pub fn bare_count<T>(input: &mut Tokens<'_>) -> Parsed<Outcome<T>> {
    let (_, pieces) =
        with_pieces(|input| (exact, symbol("/"), exact).parse_next(input)).parse_next(input)?;
    let of_fibre = fibres(&mut input.clone()).is_ok();
    let joined = ahead(input).is_some_and(|token| {
        token.is('/')
            || token.is('%')
            || token.is('(')
            || token.number().is_some()
            || token.word().is_some_and(|word| word != "and")
    });
    let refused = |why, allowed| Ok(Err(Refusal::new(span_of(pieces), why, allowed)));
    match (of_fibre, joined) {
        (true, _) => refused(
            "it may be a yarn count, whose system is not named, or a share",
            "`2/28 Nm` or `28/2 Ne`, or a share such as `75 %`",
        ),
        (false, false) => refused(
            "it may be a yarn count, whose system is not named",
            "`2/28 Nm` or `28/2 Ne`, or `sts` and `rows` beside a gauge",
        ),
        (false, true) => Err(EmptyError),
    }
}

/// `baby` alone: two classes and a purpose.
pub fn lone_baby<T>(input: &mut Tokens<'_>) -> Parsed<Outcome<T>> {
    let (_, pieces) = with_pieces(word(&["baby"])).parse_next(input)?;
    Ok(Err(Refusal::new(
        span_of(pieces),
        "`baby` may be weight class 1 or 2, or say whom it is for",
        "`baby weight` or `for a baby`",
    )))
}

/// `-5 m` where no range is: a number below zero.
pub fn negative<T>(input: &mut Tokens<'_>) -> Parsed<Outcome<T>> {
    let (_, pieces) = with_pieces(|input| {
        symbol("-").parse_next(input)?;
        any.verify(|token: &&Token<'_>| token.glued && token.number().is_some())
            .parse_next(input)?;
        opt(unit_word).parse_next(input)
    })
    .parse_next(input)?;
    Ok(Err(Refusal::new(
        span_of(pieces),
        "a number below zero is not possible",
        "a number above zero",
    )))
}

/// A value without notes, for grammars that cannot fail once recognised.
pub fn sure<T, U>(
    mut grammar: impl FnMut(&mut Tokens<'_>) -> Parsed<T>,
    item: impl Fn(T) -> U,
) -> impl FnMut(&mut Tokens<'_>) -> Parsed<Outcome<U>> {
    move |input: &mut Tokens<'_>| grammar(input).map(|value| plain(item(value)))
}

/// The same reading of another value.
pub fn mapped<T, U>(outcome: Outcome<T>, item: impl Fn(T) -> U) -> Outcome<U> {
    outcome.map(|reading| Reading {
        value: item(reading.value),
        notes: reading.notes,
    })
}
