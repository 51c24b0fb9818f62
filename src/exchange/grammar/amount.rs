//! How much: `6 (7, 8, 9) skeins`, `10 x 50 g`, `1 full + ~60g`, `half a hank`.

use super::{
    numbers::{Counted, Entry, Of, counted},
    words::number_word,
};
use crate::{
    exchange::band::{Amount, AmountPart, Quantity},
    measure::{
        Interval, Length, Mass,
        reading::{
            Dual, Note, NumberRange, Outcome, Parsed, Reading, Refusal, Settled, Token, Tokens,
            any_word, dual, exact, fraction, is_skein_word, number_range, span_of, symbol,
            with_pieces, word,
        },
        units::{Dimension, Unit},
    },
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, preceded, repeat},
    error::EmptyError,
    token::any,
};

/// What is allowed, with examples.
pub const AMOUNT_ALLOWED: &str = "`3.5 skeins`, `2 + 60 g`, `340 g` or `6 (7, 8) skeins`";

/// An amount, and the skein it counts where that is said with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// How much.
    pub amount: Amount,
    /// What one skein holds.
    pub each: Option<Settled>,
}

/// What was recognised, before it is settled.
struct Draft {
    counted: Counted,
    each: Option<Dual>,
    plus: Option<Dual>,
    about: bool,
    each_of: Vec<String>,
}

/// An amount that needs no word beside it to be one.
pub fn amount(input: &mut Tokens<'_>) -> Parsed<Outcome<Wanted>> {
    drafted(input, false)
}

/// An amount where only one may stand: also a lone `340 g`, `2`, `900-1100 m`.
pub fn amount_alone(input: &mut Tokens<'_>) -> Parsed<Outcome<Wanted>> {
    drafted(input, true)
}

fn drafted(input: &mut Tokens<'_>, alone: bool) -> Parsed<Outcome<Wanted>> {
    let (draft, pieces) = with_pieces(|input| {
        let marked = opt(lead).parse_next(input)?.is_some();
        let about = opt(about).parse_next(input)?.is_some();
        let key_before = opt((colour_key, opt(symbol(":=")))).parse_next(input)?;
        let mut draft = alt((
            and_a_part,
            fraction_of_one,
            plus,
            times,
            packed,
            |input: &mut Tokens<'_>| listed(input, alone || marked),
            part_of_one,
        ))
        .parse_next(input)?;
        draft.about |= about;
        if draft.each_of.is_empty() {
            let key = match key_before {
                Some((key, _)) => Some(key),
                None => opt(of_key).parse_next(input)?,
            };
            draft.each_of.extend(key);
        }
        let trail = opt(trail).parse_next(input)?.is_some();
        let needs_mark = matches!(draft.counted.of, Of::Unit(_))
            && draft.counted.entries.len() == 1
            && draft.counted.is_one();
        let put_up = !draft.counted.is_one() && mass_follows(input);
        match needs_mark && !(alone || marked || trail) || put_up {
            true => Err(EmptyError),
            false => Ok(draft),
        }
    })
    .parse_next(input)?;
    Ok(settle(draft, span_of(pieces), pieces))
}

/// Whether `/100 g` or `per 50 g` follows: a range of lengths before it is a
/// put-up's, not an amount.
fn mass_follows(input: &Tokens<'_>) -> bool {
    let per = alt((symbol("/=~").void(), word(&["per", "pro", "je"]).void()));
    (per, dual).parse_next(&mut input.clone()).is_ok()
}

/// Words that say that an amount follows.
fn lead(input: &mut Tokens<'_>) -> Parsed<()> {
    word(&[
        "needs",
        "need",
        "needed",
        "requires",
        "require",
        "required",
        "takes",
        "take",
        "total",
        "totals",
        "totalling",
        "quantity",
        "qty",
        "uses",
        "used",
        "have",
        "got",
        "left",
        "remaining",
        "amount",
        "altogether",
        "benotigt",
        "verbrauch",
        "materialverbrauch",
        "quantite",
        "cantidad",
        "garnatgang",
        "garnforbrug",
    ])
    .parse_next(input)?;
    repeat(
        0..3,
        alt((
            symbol(":=").void(),
            word(&["of", "is", "only", "yarn", "length", "yardage", "in", "all"]).void(),
        )),
    )
    .parse_next(input)
}

/// Words after a quantity that make it an amount.
fn trail(input: &mut Tokens<'_>) -> Parsed<()> {
    opt(symbol(",(")).parse_next(input)?;
    alt((
        (word(&["in"]), word(&["total", "all"])).void(),
        word(&[
            "total",
            "altogether",
            "needed",
            "required",
            "left",
            "remaining",
            "insgesamt",
            "gesamt",
            "used",
        ])
        .void(),
    ))
    .parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok(())
}

fn about(input: &mut Tokens<'_>) -> Parsed<()> {
    repeat::<_, _, (), _, _>(
        1..3,
        alt((
            symbol("~").void(),
            word(&[
                "about",
                "approx",
                "approximately",
                "ca",
                "circa",
                "roughly",
                "around",
                "nearly",
                "almost",
                "etwa",
                "environ",
                "aprox",
                "noin",
                "c",
            ])
            .void(),
        )),
    )
    .parse_next(input)
}

pub(super) fn skein_word(input: &mut Tokens<'_>) -> Parsed<()> {
    any_word
        .verify(|word: &str| is_skein_word(word))
        .void()
        .parse_next(input)
}

/// `2 + 60 g`, `1 full + ~60g`, `3 skeins and 40 g`.
fn plus(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (range, pieces) = with_pieces(exact).parse_next(input)?;
    let full = opt(word(&["full", "whole", "unopened", "new"])).parse_next(input)?;
    let skeins = opt(skein_word).parse_next(input)?;
    alt((
        symbol("+&").void(),
        word(&["plus"]).void(),
        word(&["and"])
            .verify(|_: &str| full.is_some() || skeins.is_some())
            .void(),
    ))
    .parse_next(input)?;
    let about = opt(about).parse_next(input)?.is_some();
    let grams = dual
        .verify(|dual: &Dual| dual.dimension() == Dimension::Mass)
        .parse_next(input)?;
    Ok(Draft {
        plus: Some(grams),
        about,
        ..Draft::of(NumberRange::one(range, span_of(pieces)), Of::Skeins)
    })
}

/// `10 x 50 g`, `9 (10, 11) x 200 yd`, `6 x 100 g balls`.
fn times(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let counted = alt((
        counted.verify(|counted: &Counted| counted.of == Of::Nothing),
        number_range.map(|range| Counted::one(range, Of::Nothing)),
    ))
    .parse_next(input)?;
    opt(skein_word).parse_next(input)?;
    symbol("×").parse_next(input)?;
    let each = dual.verify(yarn_unit).parse_next(input)?;
    opt(skein_word).parse_next(input)?;
    Ok(Draft {
        counted: Counted {
            of: Of::Skeins,
            ..counted
        },
        each: Some(each),
        plus: None,
        about: false,
        each_of: opt(each_of).parse_next(input)?.unwrap_or_default(),
    })
}

/// `5 100 g balls`, `four 100-gram skeins`.
fn packed(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (number, pieces) =
        with_pieces(|input| alt((exact, number_word)).parse_next(input)).parse_next(input)?;
    let each = dual.verify(yarn_unit).parse_next(input)?;
    opt(symbol("-")).parse_next(input)?;
    skein_word(input)?;
    Ok(Draft {
        each: Some(each),
        ..Draft::of(NumberRange::one(number, span_of(pieces)), Of::Skeins)
    })
}

/// Millimetres and inches measure no yarn.
fn yarn_unit(dual: &Dual) -> bool {
    is_yarn_unit(dual.first.unit)
}

/// Whether yarn is measured in this unit.
pub fn is_yarn_unit(unit: &Unit) -> bool {
    !matches!(unit.symbol, "mm" | "cm" | "in")
}

/// A number or a list of sizes with its unit; alone a bare number too.
fn listed(input: &mut Tokens<'_>, alone: bool) -> Parsed<Draft> {
    let counted = alt((
        counted,
        number_range.map(|range| Counted::one(range, Of::Nothing)),
        word_count,
    ))
    .parse_next(input)?;
    let kept = match counted.of {
        Of::Skeins => true,
        Of::Unit(unit) => is_yarn_unit(unit),
        Of::Nothing => alone,
    };
    if !kept {
        return Err(EmptyError);
    }
    let each = opt(of_each).parse_next(input)?;
    let each_of = opt(each_of).parse_next(input)?;
    Ok(Draft {
        counted,
        each,
        plus: None,
        about: false,
        each_of: each_of.unwrap_or_default(),
    })
}

fn word_count(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let (number, pieces) = with_pieces(number_word).parse_next(input)?;
    skein_word(input)?;
    Ok(Counted::one(
        NumberRange::one(number, span_of(pieces)),
        Of::Skeins,
    ))
}

/// `1/2 skein`, `3/4 hank`; `3/4 balls` may be two sizes.
fn fraction_of_one(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let ((value, plural), pieces) = with_pieces(|input| {
        let value = fraction(input)?;
        repeat::<_, _, (), _, _>(0..3, word(&["a", "of", "full"])).parse_next(input)?;
        let word = any_word
            .verify(|word: &str| is_skein_word(word))
            .parse_next(input)?;
        Ok((value, word.ends_with('s')))
    })
    .parse_next(input)?;
    let mut draft = Draft::of(NumberRange::one(value, span_of(pieces)), Of::Skeins);
    draft.counted.unclear = (plural && value > 0.5)
        .then(|| "two numbers with a stroke may be a fraction, two sizes or a range".to_owned());
    Ok(draft)
}

/// `half a hank`, `1/2 skein`, `a quarter of a ball`, `a ball`.
fn part_of_one(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (value, pieces) = with_pieces(|input| {
        opt(word(&["a", "one"])).parse_next(input)?;
        let value = alt((
            word(&[
                "half", "halbes", "halber", "demi", "media", "mezzo", "mezza",
            ])
            .value(0.5),
            word(&["third"]).value(1.0 / 3.0),
            word(&["quarter"]).value(0.25),
        ))
        .parse_next(input)?;
        repeat::<_, _, (), _, _>(0..4, word(&["a", "of", "an", "one", "the"])).parse_next(input)?;
        skein_word(input)?;
        Ok(value)
    })
    .parse_next(input)?;
    Ok(Draft::of(
        NumberRange::one(value, span_of(pieces)),
        Of::Skeins,
    ))
}

/// `two and a half skeins`, `2 and 1/2 balls`.
fn and_a_part(input: &mut Tokens<'_>) -> Parsed<Draft> {
    let (value, pieces) = with_pieces(|input| {
        let whole = alt((exact, number_word)).parse_next(input)?;
        alt((word(&["and"]).void(), symbol("&+").void())).parse_next(input)?;
        opt(word(&["a", "one"])).parse_next(input)?;
        let part = alt((
            word(&["half"]).value(0.5),
            word(&["quarter"]).value(0.25),
            word(&["third"]).value(1.0 / 3.0),
            fraction,
        ))
        .parse_next(input)?;
        opt((word(&["of"]), opt(word(&["a"])))).parse_next(input)?;
        skein_word(input)?;
        Ok(whole + part)
    })
    .parse_next(input)?;
    Ok(Draft::of(
        NumberRange::one(value, span_of(pieces)),
        Of::Skeins,
    ))
}

/// `2 balls MC`, `3 skeins in A`.
fn of_key(input: &mut Tokens<'_>) -> Parsed<String> {
    opt(word(&["in", "of", "for"])).parse_next(input)?;
    opt(word(&["colour", "color", "yarn"])).parse_next(input)?;
    colour_key(input)
}

/// A key that patterns give to a yarn: `MC`, `CC2`, `A` to `H`.
fn colour_key(input: &mut Tokens<'_>) -> Parsed<String> {
    key.verify(|key: &str| {
        let letters = key.trim_end_matches(|c: char| c.is_ascii_digit());
        matches!(
            letters,
            "MC" | "CC" | "A" | "B" | "C" | "D" | "E" | "F" | "G" | "H"
        )
    })
    .parse_next(input)
}

/// `of 182 m`, `, 100 g each`, `à 50 g`, `(50 g each)`.
fn of_each(input: &mut Tokens<'_>) -> Parsed<Dual> {
    let sure = opt(alt((
        word(&["of", "a", "at", "je", "de", "da", "von", "each"]).void(),
        symbol("@").void(),
    )))
    .parse_next(input)?;
    if sure.is_none() {
        opt(symbol(",(")).parse_next(input)?;
    }
    let about = opt(alt((about, word(&["each"]).void()))).parse_next(input)?;
    let each = dual.verify(yarn_unit).parse_next(input)?;
    let after = opt(word(&["each", "per", "je", "ea"])).parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    match sure.is_some() || about.is_some() || after.is_some() {
        true => Ok(each),
        false => Err(EmptyError),
    }
}

/// `each in A, B, C and MC`: keys of colours, in capitals.
fn each_of(input: &mut Tokens<'_>) -> Parsed<Vec<String>> {
    opt(symbol(",")).parse_next(input)?;
    word(&["each", "ea"]).parse_next(input)?;
    opt(word(&["in", "of", "for"])).parse_next(input)?;
    opt(word(&[
        "colours", "colors", "colour", "color", "shades", "yarn", "yarns",
    ]))
    .parse_next(input)?;
    let first = key(input)?;
    let more: Vec<String> = repeat(
        0..40,
        preceded(
            repeat::<_, _, (), _, _>(1..3, alt((symbol(",&+/").void(), word(&["and"]).void()))),
            key,
        ),
    )
    .parse_next(input)?;
    Ok(std::iter::once(first).chain(more).collect())
}

fn key(input: &mut Tokens<'_>) -> Parsed<String> {
    let word = any
        .verify(|token: &&Token<'_>| {
            token.word().is_some()
                && token.text.chars().count() <= 3
                && token.text.chars().all(char::is_uppercase)
        })
        .parse_next(input)?;
    let digit = opt(any.verify(|token: &&Token<'_>| token.glued && token.number().is_some()))
        .parse_next(input)?;
    Ok(format!(
        "{}{}",
        word.text,
        digit.map_or("", |token| token.text)
    ))
}

impl Draft {
    fn of(range: NumberRange, of: Of) -> Self {
        Self {
            counted: Counted::one(range, of),
            each: None,
            plus: None,
            about: false,
            each_of: Vec::new(),
        }
    }
}

fn settle(draft: Draft, span: Range<usize>, pieces: &[Token<'_>]) -> Outcome<Wanted> {
    if let Some(why) = draft.counted.unclear {
        return Err(Refusal::new(span, why, AMOUNT_ALLOWED));
    }
    let mut notes: Vec<Note> = Vec::new();
    let sized = draft.counted.entries.len() > 1;
    let of = draft.counted.of;
    let parts: Result<Vec<AmountPart>, Refusal> = draft
        .counted
        .entries
        .iter()
        .map(|entry| part(entry, of, sized))
        .collect();
    let each = kept(draft.each, &mut notes)?;
    let plus = kept(draft.plus, &mut notes)?;
    if of == Of::Nothing {
        notes.push(Note {
            span: span.clone(),
            message: "a number without a unit counts skeins".to_owned(),
        });
    }
    let plus = plus.map(|plus| mass(plus.one()?, &plus.span)).transpose()?;
    let amount = Amount {
        text: text_of(pieces),
        parts: parts?,
        plus,
        about: draft.about,
        each_of: draft.each_of,
    };
    Ok(Reading {
        value: Wanted { amount, each },
        notes,
    })
}

fn kept(dual: Option<Dual>, notes: &mut Vec<Note>) -> Result<Option<Settled>, Refusal> {
    let Some(dual) = dual else { return Ok(None) };
    let settled = dual.settle()?;
    notes.extend(settled.notes);
    settled.value.one()?;
    Ok(Some(settled.value))
}

fn mass(grams: f64, span: &Range<usize>) -> Result<Mass, Refusal> {
    Mass::grams(grams)
        .map_err(|error| Refusal::new(span.clone(), error.to_string(), AMOUNT_ALLOWED))
}

/// The pieces as text, one space where there was any.
pub fn text_of(pieces: &[Token<'_>]) -> String {
    let mut text = String::new();
    for piece in pieces {
        if !text.is_empty() && !piece.glued {
            text.push(' ');
        }
        text.push_str(piece.text);
    }
    text
}

fn part(entry: &Entry, of: Of, sized: bool) -> Result<AmountPart, Refusal> {
    let refuse = |why: String| Refusal::new(entry.range.span.clone(), why, AMOUNT_ALLOWED);
    let unit = match of {
        Of::Unit(unit) => Some(unit),
        Of::Skeins | Of::Nothing => None,
    };
    let habit = unit.map(|unit| unit.habit);
    let (low, high) = match entry.range.readings(habit).as_slice() {
        [one] => *one,
        _ => {
            return Err(entry.range.refusal(
                habit,
                &unit.map_or(String::new(), |unit| format!(" {}", unit.symbol)),
            ));
        }
    };
    if high <= 0.0 && !sized && of != Of::Skeins {
        return Err(refuse("an amount of 0 is none".to_owned()));
    }
    let quantity = quantity(low, high, unit).map_err(|error| refuse(error.to_string()))?;
    Ok(AmountPart {
        size: entry.size.clone(),
        quantity,
    })
}

fn quantity(
    low: f64,
    high: f64,
    unit: Option<&Unit>,
) -> Result<Quantity, crate::measure::MeasureError> {
    let scale = unit.map_or(1.0, |unit| unit.factor);
    match unit.map(|unit| unit.dimension) {
        None => Interval::between(low, high).map(Quantity::Skeins),
        Some(Dimension::Length) => {
            Interval::between(Length::metres(low * scale)?, Length::metres(high * scale)?)
                .map(Quantity::Length)
        }
        Some(Dimension::Mass) => {
            Interval::between(Mass::grams(low * scale)?, Mass::grams(high * scale)?)
                .map(Quantity::Mass)
        }
    }
}
