//! How much: `6 (7, 8, 9) skeins`, `10 x 50 g`, `1 full + ~60g`, `half a hank`.

use super::numbers::{Entry, Of};
use super::{
    amount_forms::{
        Draft, about, and_a_part, fraction_of_one, listed, packed, part_of_one, plus, times,
    },
    amount_keys::{colour_key, of_key},
};
use crate::{
    label::band::{Amount, AmountPart, Quantity},
    label::reading::{
        Dual, Note, Outcome, Parsed, Reading, Refusal, Settled, Token, Tokens, dual, span_of,
        symbol, with_pieces, word,
    },
    measure::{
        Interval, Length, Mass,
        units::{Dimension, Unit},
    },
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
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
        let keyed = !draft.each_of.is_empty();
        let trail = opt(trail).parse_next(input)?.is_some();
        let needs_mark = matches!(draft.counted.of, Of::Unit(_))
            && draft.counted.entries.len() == 1
            && draft.counted.is_one();
        let put_up = !draft.counted.is_one() && mass_follows(input);
        match needs_mark && !(alone || marked || trail || keyed) || put_up {
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
            "leftover",
            "leftovers",
        ])
        .void(),
    ))
    .parse_next(input)?;
    opt(symbol(")")).parse_next(input)?;
    Ok(())
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
