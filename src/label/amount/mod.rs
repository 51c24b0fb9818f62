//! How much: `6 (7, 8, 9) skeins`, `10 x 50 g`, `1 full + ~60g`, `half a hank`.

mod forms;
mod sizes;

use super::{
    length_mass::{DualMeasure, Magnitude, dual},
    reading::{Note, ReadResult, Reading, Refusal},
    token::{
        Number, ParseResult, Token, Tokens, Words, require, sign_or_word, skip, symbol, text_of,
        word, words,
    },
};
use crate::{
    measure::{
        Interval, Length, Mass, MeasureError,
        units::{Dimension, Habit, Unit},
    },
    words::number,
};
pub use sizes::{CountedUnit, SizedNumber, SizedNumbers, sized_numbers};

pub(in crate::label) use forms::colour_key;
use forms::{Draft, about, draft, of_key};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{alt, not, opt, preceded, terminated},
};

/// What is allowed, with examples.
pub const AMOUNT_ALLOWED: &str = "`3.5 skeins`, `2 + 60 g`, `340 g` or `6 (7, 8) skeins`";

/// What anybody knits takes some length between these, m: common practice, no source.
const PLAUSIBLE_NEED_M: (f64, f64) = (10.0, 10_000.0);
/// The same as a mass, g.
const PLAUSIBLE_NEED_G: (f64, f64) = (5.0, 5_000.0);

/// Words that say that an amount follows.
const LEADS: Words = words! {
    needs, need, needed, requires, require, required, takes, take, total, totals, totalling,
    quantity, qty, uses, used, have, got, left, remaining, amount, altogether, benotigt,
    verbrauch, materialverbrauch, quantite, cantidad, garnatgang, garnforbrug,
};
/// Words behind a quantity that make it an amount.
const TRAILS: Words = words! {
    total, altogether, needed, required, left, remaining, insgesamt, gesamt, used, leftover,
    leftovers,
};

/// An amount, for one size or for several in the order of the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// The bytes it was read from, as text.
    pub text: String,
    /// One part a size; never empty.
    pub parts: Vec<AmountPart>,
    /// Loose grams beside counted skeins: `1 full + 60 g`.
    pub plus: Option<Mass>,
    /// Said to be about so much.
    pub about: bool,
    /// Colours or keys that the amount is for each: `1 ball each in A, B`.
    pub each_of: Vec<String>,
}

/// The amount of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct AmountPart {
    /// The size, where named.
    pub size: Option<String>,
    /// How much.
    pub quantity: Quantity,
}

/// Skeins, a length or a mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// So many skeins.
    Skeins(Interval<f64>),
    /// So much length.
    Length(Interval<Length>),
    /// So much mass.
    Mass(Interval<Mass>),
}

/// An amount, and the skein it counts where that is said with it.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedAmount {
    /// How much.
    pub amount: Amount,
    /// What one skein holds.
    pub each: Option<Magnitude>,
}

/// An amount that needs no word beside it to be one.
pub fn amount(input: &mut Tokens<'_>) -> ParseResult<ReadResult<StatedAmount>> {
    read(input, false)
}

/// An amount where only one may stand: also a lone `340 g`, `2`, `900-1100 m`.
pub fn amount_alone(input: &mut Tokens<'_>) -> ParseResult<ReadResult<StatedAmount>> {
    read(input, true)
}

/// What a pattern takes: as [`amount_alone`], and where a mark before three digits
/// may part thousands or decimals, that which anybody knits.
pub fn need_alone(input: &mut Tokens<'_>) -> ParseResult<ReadResult<StatedAmount>> {
    let draft = |input: &mut Tokens<'_>| marked_draft(input, true);
    let ((mut draft, tokens), span) = draft.with_taken().with_span().parse_next(input)?;
    let note = settle(&mut draft.numbers).map(|what| Note::new(&span, what));
    let stated = resolve(draft, &span, tokens);
    Ok(stated.map(|stated| Reading::new(stated.value, note.into_iter().chain(stated.notes))))
}

/// Gives unclear numbers the one meaning that is a need; what that is.
fn settle(numbers: &mut SizedNumbers) -> Option<String> {
    let CountedUnit::Unit(unit) = numbers.unit else {
        return None;
    };
    let (low, high) = match unit.dimension {
        Dimension::Length => PLAUSIBLE_NEED_M,
        Dimension::Mass => PLAUSIBLE_NEED_G,
    };
    let is_need = |value: f64| (low..=high).contains(&(value * unit.factor));
    let entries = numbers.entries.iter_mut();
    let all = entries.flat_map(|entry| [Some(&mut entry.range.low), entry.range.high.as_mut()]);
    let mut unclear: Vec<&mut Number> = all
        .flatten()
        .filter(|number| matches!(number, Number::Either { mark, .. } if *mark != ',' || unit.habit == Habit::Metric))
        .collect();
    let both = |number: &&mut Number| match **number {
        Number::Either {
            decimal, thousands, ..
        } => Some((decimal, thousands)),
        _ => None,
    };
    let meanings: Vec<(f64, f64)> = unclear.iter().filter_map(both).collect();
    let decimals = meanings.iter().all(|(decimal, _)| is_need(*decimal));
    let thousands = meanings.iter().all(|(_, thousands)| is_need(*thousands));
    if meanings.is_empty() || decimals == thousands {
        return None;
    }
    let meant: Vec<f64> = meanings
        .iter()
        .map(|(decimal, large)| if thousands { *large } else { *decimal })
        .collect();
    for (number, value) in unclear.iter_mut().zip(&meant) {
        **number = Number::One(*value);
    }
    let told: Vec<String> = meant.iter().map(|value| number(*value, 3)).collect();
    Some(format!("read as {} {}", told.join(", "), unit.symbol))
}

fn read(input: &mut Tokens<'_>, alone: bool) -> ParseResult<ReadResult<StatedAmount>> {
    let draft = |input: &mut Tokens<'_>| marked_draft(input, alone);
    let ((draft, tokens), span) = draft.with_taken().with_span().parse_next(input)?;
    Ok(resolve(draft, &span, tokens))
}

/// An amount with the words around it that make it one.
fn marked_draft(input: &mut Tokens<'_>, alone: bool) -> ParseResult<Draft> {
    let marked = opt(lead).parse_next(input)?.is_some() || alone;
    let key = || opt(terminated(colour_key, opt(symbol(":="))));
    let key_first = key().parse_next(input)?;
    let about = opt(about).parse_next(input)?.is_some();
    let key_before = key()
        .map(|key| key_first.clone().or(key))
        .parse_next(input)?;
    let mut draft = draft(input, marked)?;
    draft.about |= about;
    if draft.each_of.is_empty() {
        let key = match key_before {
            Some(key) => Some(key),
            None => opt(of_key).parse_next(input)?,
        };
        draft.each_of.extend(key);
    }
    let trailed = opt(trail).parse_next(input)?.is_some();
    let numbers = &draft.numbers;
    let measured = matches!(numbers.unit, CountedUnit::Unit(_)) && numbers.entries.len() == 1;
    if !numbers.is_exact() {
        not(per_mass).parse_next(input)?;
    } else if measured {
        require(marked || trailed || !draft.each_of.is_empty())?;
    }
    Ok(draft)
}

/// `/100 g`, `per 50 g`: a range of lengths before it is a put-up's, not an amount.
fn per_mass(input: &mut Tokens<'_>) -> ParseResult<()> {
    (sign_or_word("/=~", words! { per, pro, je }), dual)
        .void()
        .parse_next(input)
}

fn lead(input: &mut Tokens<'_>) -> ParseResult<()> {
    const MORE: Words = words! { of, is, only, yarn, length, yardage, in, all };
    preceded(word(LEADS), skip(0..3, sign_or_word(":=", MORE))).parse_next(input)
}

fn trail(input: &mut Tokens<'_>) -> ParseResult<()> {
    let in_total = (word(words! { in }), word(words! { total, all })).void();
    (
        opt(symbol(",(")),
        alt((in_total, word(TRAILS).void())),
        opt(symbol(")")),
    )
        .void()
        .parse_next(input)
}

fn resolve(draft: Draft, span: &Range<usize>, tokens: &[Token<'_>]) -> ReadResult<StatedAmount> {
    let numbers = draft.numbers;
    if let Some(why) = numbers.unclear {
        return Err(Refusal::new(span.clone(), why, AMOUNT_ALLOWED));
    }
    let sized = numbers.entries.len() > 1;
    let parts = numbers
        .entries
        .into_iter()
        .map(|entry| part(entry, numbers.unit, sized));
    let parts: Result<Vec<AmountPart>, Refusal> = parts.collect();
    let mut notes: Vec<Note> = Vec::new();
    let each = draft
        .each
        .map(|each| above_zero(&each, &mut notes))
        .transpose()?;
    let plus = draft
        .plus
        .map(|plus| above_zero(&plus, &mut notes))
        .transpose()?;
    if numbers.unit == CountedUnit::Unstated {
        notes.push(Note::new(span, "a number without a unit counts skeins"));
    }
    let plus = plus.map(|plus| {
        let refuse = |error| Refusal::new(plus.span.clone(), error, AMOUNT_ALLOWED);
        Mass::grams(plus.one()?).map_err(refuse)
    });
    let amount = Amount {
        text: text_of(tokens),
        plus: plus.transpose()?,
        parts: parts?,
        about: draft.about,
        each_of: draft.each_of,
    };
    Ok(Reading::new(StatedAmount { amount, each }, notes))
}

fn above_zero(dual: &DualMeasure, notes: &mut Vec<Note>) -> Result<Magnitude, Refusal> {
    let magnitude = dual.magnitude()?.note_in(notes);
    magnitude.one()?;
    Ok(magnitude)
}

fn part(entry: SizedNumber, of: CountedUnit, sized: bool) -> Result<AmountPart, Refusal> {
    let unit = match of {
        CountedUnit::Unit(unit) => Some(unit),
        CountedUnit::Skeins | CountedUnit::Unstated => None,
    };
    let symbol = unit.map_or(String::new(), |unit| format!(" {}", unit.symbol));
    let (low, high) = entry.range.ends(unit.map(|unit| unit.habit), &symbol)?;
    let refuse = |why: String| Refusal::new(entry.range.span.clone(), why, AMOUNT_ALLOWED);
    if high <= 0.0 && !sized && of != CountedUnit::Skeins {
        return Err(refuse("an empty lot is `0 balls`".to_owned()));
    }
    let quantity = quantity(low, high, unit).map_err(|error| refuse(error.to_string()))?;
    Ok(AmountPart {
        size: entry.size,
        quantity,
    })
}

fn quantity(low: f64, high: f64, unit: Option<&Unit>) -> Result<Quantity, MeasureError> {
    let Some(unit) = unit else {
        return Interval::between(low, high).map(Quantity::Skeins);
    };
    let (low, high) = (low * unit.factor, high * unit.factor);
    match unit.dimension {
        Dimension::Length => {
            Interval::between(Length::metres(low)?, Length::metres(high)?).map(Quantity::Length)
        }
        Dimension::Mass => {
            Interval::between(Mass::grams(low)?, Mass::grams(high)?).map(Quantity::Mass)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

    /// The parts, as short as they can be told; whether a word beside it is needed.
    fn read(text: &str) -> Option<(String, bool)> {
        let tokens = lex(text);
        let mut input = Tokens::new(&tokens);
        let marked = amount(&mut input.clone()).is_err();
        let amount = amount_alone(&mut input).ok()?.ok()?.value.amount;
        let part = |part: &AmountPart| {
            let size = part
                .size
                .as_ref()
                .map_or(String::new(), |size| format!("{size}:"));
            let (low, high, unit) = match part.quantity {
                Quantity::Skeins(of) => (of.low(), of.high(), "sk"),
                Quantity::Length(of) => (of.low().as_metres(), of.high().as_metres(), "m"),
                Quantity::Mass(of) => (of.low().as_grams(), of.high().as_grams(), "g"),
            };
            let range = if low < high {
                format!("{low}-{high}")
            } else {
                low.to_string()
            };
            format!("{size}{range} {unit}")
        };
        let parts: Vec<String> = amount.parts.iter().map(part).collect();
        let plus = amount
            .plus
            .map_or(String::new(), |plus| format!(" + {} g", plus.as_grams()));
        input.is_empty().then(|| (parts.join(", ") + &plus, marked))
    }

    #[test]
    fn every_form_of_an_amount_is_read() {
        for (text, parts, marked) in [
            ("3.5 skeins", "3.5 sk", false),
            ("2", "2 sk", true),
            ("340 g", "340 g", true),
            ("340 g in total", "340 g", false),
            ("needs 340 g", "340 g", false),
            ("900-1100 m", "900-1100 m", false),
            ("6 (7, 8) skeins", "6 sk, 7 sk, 8 sk", false),
            ("6-7-8 balls", "6 sk, 7 sk, 8 sk", false),
            ("XS/S 7 M 8 balls", "XS/S:7 sk, M:8 sk", false),
            ("34 (36): 7 (8) balls", "34:7 sk, 36:8 sk", false),
            ("10 x 50 g", "10 sk", false),
            ("5 50 g balls", "5 sk", false),
            ("four 100-gram skeins", "4 sk", false),
            ("4 balls of 50 g", "4 sk", false),
            ("2 + 60 g", "2 sk + 60 g", false),
            ("1 full + ~60g", "1 sk + 60 g", false),
            ("half a hank", "0.5 sk", false),
            ("90% of a skein", "0.9 sk", false),
            ("two and a half skeins", "2.5 sk", false),
            ("1 ball each in A, B", "1 sk", false),
        ] {
            assert_eq!(read(text), Some((parts.to_owned(), marked)), "{text}");
        }
        for text in ["3/4 balls", "900-1100 m/100 g", "5 mm", "6,7 (8,9) skeins"] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
