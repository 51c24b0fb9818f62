//! What is on the shelf and what is needed: amounts, the weighed skein of a lot,
//! needs of each size.

use super::{Cell, whole};
use crate::{
    label::{
        amount::{AmountPart, Quantity, StatedAmount, amount_alone, need_alone},
        length_mass::{DualMeasure, Magnitude, dual},
        reading::{Note, ReadError, ReadResult, Reading, Refusal},
        token::{ParseResult, Tokens, skip_fillers},
    },
    measure::{Length, Mass, MeasureError, units::Dimension},
    record::{Need, StockAmount, YarnFacts},
    trade::{COLOUR_NAMES, Colour},
    words::did_you_mean,
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{opt, preceded},
    error::EmptyError,
};

const STOCK_ALLOWED: &str = "`3.5 skeins`, `2 + 60 g` or `340 g`";
const HAND_ALLOWED: &str = "`430 g`, `8 balls` or `900 m`";
const COLOUR_ALLOWED: &str =
    "six digits as in `#2f6f8f`, or a name such as `navy`, `teal` or `dark sea green`";
const WEIGHED_ALLOWED: &str = "`48.5 g` or `48 g = 121 m`";
const NEEDS_ALLOWED: &str = "`9 (10, 11) skeins`, `9 x 200 yd`, `900-1100 m` or `650 (700) g`";

/// Up to so many skeins are counted without a unit, in quarters: more, or a finer
/// share, may as well be grams.
const COUNTED_WITHOUT_UNIT: f64 = 20.0;

/// An amount that is entered now: a number without a unit counts skeins where it
/// cannot well be grams, and its unit is asked for elsewhere.
pub fn new_amount(text: &str) -> Cell<StockAmount> {
    let text = text.trim();
    let counted = |count: f64| count <= COUNTED_WITHOUT_UNIT && (count * 4.0).fract() == 0.0;
    match bare_number(text) {
        Some(count) if !counted(count) => Err(ReadError {
            span: 0..text.len(),
            given: text.to_owned(),
            why: "it has no unit".to_owned(),
            allowed: format!("`{text} g` or `{text} skeins`"),
        }),
        _ => stock_amount(text),
    }
}

/// What is left of a lot, from a scale: a number without a unit is grams.
pub fn amount_on_scale(text: &str) -> Cell<StockAmount> {
    let text = text.trim();
    if bare_number(text).is_none() {
        return stock_amount(text);
    }
    let grams = stock_amount(&format!("{text} g"))?;
    let note = Note::new(&(0..text.len()), "no unit: read as grams");
    let notes: Vec<Note> = grams.notes.into_iter().chain([note]).collect();
    Ok(Reading::new(grams.value, notes))
}

/// Digits with at most one mark for the decimals.
fn bare_number(text: &str) -> Option<f64> {
    let plain = text.replace(',', ".");
    let is_plain = plain.chars().all(|c| c.is_ascii_digit() || c == '.');
    plain.parse().ok().filter(|_| is_plain)
}

/// What someone has in hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HandAmount {
    /// So much length.
    Length(Length),
    /// Balls and grams.
    Stock(StockAmount),
}

/// `430 g`, `8 balls`, `900 m`, `2 balls + 30 g`.
pub fn amount_in_hand(text: &str) -> Cell<HandAmount> {
    if let Ok(length) = super::length(text) {
        return Ok(Reading::new(HandAmount::Length(length.value), length.notes));
    }
    match new_amount(text) {
        Ok(stock) => Ok(Reading::new(HandAmount::Stock(stock.value), stock.notes)),
        Err(error) => Err(ReadError {
            allowed: HAND_ALLOWED.to_owned(),
            ..error
        }),
    }
}

/// `3.5 skeins`, `2 + 60 g`, `340 g`; a number without a unit counts skeins.
pub fn stock_amount(text: &str) -> Cell<StockAmount> {
    whole(text, "an amount", STOCK_ALLOWED, |input| {
        let stated = amount_alone(input)?;
        Ok(stated.and_then(|stated| in_stock(stated, &(0..text.len()))))
    })
}

fn in_stock(stated: Reading<StatedAmount>, span: &Range<usize>) -> ReadResult<StockAmount> {
    let refuse = |why: &str| Refusal::new(span.clone(), why, STOCK_ALLOWED);
    let mut notes = Vec::new();
    let StatedAmount { amount, each } = stated.note_in(&mut notes);
    let [part] = amount.parts.as_slice() else {
        return Err(refuse("a lot has one amount, and this lists several"));
    };
    let (skeins, grams) = match part.quantity {
        Quantity::Skeins(skeins) if skeins.is_one() => (skeins.low(), amount.plus),
        Quantity::Mass(mass) if mass.is_one() => (0.0, Some(mass.low())),
        Quantity::Length(_) => {
            return Err(refuse(
                "a lot is counted in balls and grams, not in metres; weigh it",
            ));
        }
        _ => return Err(refuse("this is a range, and one number is needed")),
    };
    let about = "this is an estimate: weigh it to be sure";
    notes.extend(amount.about.then(|| Note::new(span, about)));
    let held = "what one ball holds belongs with the yarn or under `weighed`: left out here";
    notes.extend(each.map(|each| Note::new(&each.span, held)));
    StockAmount::new(skeins, grams)
        .map(|value| Reading { value, notes })
        .map_err(|error| refuse(&error.to_string()))
}

/// A mass, and the length that it is of.
type Weighed = (Mass, Option<Length>);

/// A lot's own full skein: `48.5 g`, `48 g = 121 m`.
pub fn weighed(text: &str) -> Cell<Weighed> {
    whole(text, "a weighed skein", WEIGHED_ALLOWED, weighed_skein)
}

fn weighed_skein(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Weighed>> {
    let first = dual(input)?;
    let other = dual.verify(|second: &DualMeasure| second.dimension() != first.dimension());
    let second = opt(preceded(skip_fillers, other)).parse_next(input)?;
    Ok(match first.dimension() {
        Dimension::Mass => mass_and_length(&first, second.as_ref()),
        Dimension::Length => mass_and_length(&second.ok_or(EmptyError)?, Some(&first)),
    })
}

fn mass_and_length(mass: &DualMeasure, length: Option<&DualMeasure>) -> ReadResult<Weighed> {
    let mass = mass.value(WEIGHED_ALLOWED, Mass::grams)?;
    let length = length.map(|length| length.value(WEIGHED_ALLOWED, Length::metres));
    let mut notes = Vec::new();
    let mass = mass.note_in(&mut notes);
    let length = length.transpose()?.map(|length| length.note_in(&mut notes));
    Ok(Reading::new((mass, length), notes))
}

/// A colour: `#2f6f8f`, `2f6f8f`, or the name that it has on pages of the web.
pub fn colour(text: &str) -> Cell<Colour> {
    let text = text.trim();
    if let Some(colour) = Colour::read(text) {
        return Ok(Reading::plain(colour));
    }
    let near = did_you_mean(text, COLOUR_NAMES.iter().map(|(name, _)| *name));
    let near = match near.first() {
        Some(near) => format!("{COLOUR_ALLOWED}; did you mean `{near}`?"),
        None => COLOUR_ALLOWED.to_owned(),
    };
    Err(ReadError {
        span: 0..text.len(),
        given: text.to_owned(),
        why: "it is not one of the colour names of the web".to_owned(),
        allowed: near,
    })
}

/// That a shade has the name of a colour, which it need not look like.
pub fn colour_in_name(shade: &str) -> Option<Note> {
    Colour::named(shade)?;
    let why = format!(
        "`{shade}` is also the name of a colour: if the shade looks like that, give it as its colour"
    );
    Some(Note::new(&(0..shade.len()), &why))
}

/// Needs, one a size in order, with the size's name where given:
/// `9 (10, 11) skeins`, `9 x 200 yd`, `900-1100 m`, `650 (700) g`, `12 oz`.
/// Skeins without a put-up of their own are those of `reference`.
pub fn needs(text: &str, reference: &YarnFacts) -> Cell<Vec<(Option<String>, Need)>> {
    whole(text, "an amount for each size", NEEDS_ALLOWED, |input| {
        let stated = need_alone(input)?;
        Ok(stated.and_then(|stated| needs_of(stated, reference, &(0..text.len()))))
    })
}

fn needs_of(
    stated: Reading<StatedAmount>,
    reference: &YarnFacts,
    span: &Range<usize>,
) -> ReadResult<Vec<(Option<String>, Need)>> {
    let refuse = |why: &str| Refusal::new(span.clone(), why, NEEDS_ALLOWED);
    let mut notes = Vec::new();
    let StatedAmount { amount, each } = stated.note_in(&mut notes);
    if amount.plus.is_some() {
        return Err(refuse(
            "balls and loose grams say what you have, not what a pattern needs",
        ));
    }
    let skein =
        skein_length(each.as_ref(), reference).map_err(|error| refuse(&error.to_string()))?;
    let about = "this is an estimate: used as written";
    notes.extend(amount.about.then(|| Note::new(span, about)));
    let mut needs = Vec::with_capacity(amount.parts.len());
    for part in amount.parts {
        let need = need(&part, skein).ok_or_else(|| {
            let why = "it counts balls and does not say how long one is";
            Refusal::new(span.clone(), why, "`9 x 125 m`, or metres as in `900 m`")
        })?;
        let larger = "a range of balls: used the larger number";
        notes.extend(is_skein_range(&part).then(|| Note::new(span, larger)));
        needs.push((part.size, need));
    }
    Ok(Reading {
        value: needs,
        notes,
    })
}

/// Length of one skein: as stated with the need, through the reference grist
/// where a mass is stated, else the reference's.
fn skein_length(
    each: Option<&Magnitude>,
    reference: &YarnFacts,
) -> Result<Option<Length>, MeasureError> {
    match each {
        Some(each) if each.dimension == Dimension::Length => Length::metres(each.low).map(Some),
        Some(each) => {
            let mass = Mass::grams(each.low)?;
            reference
                .grist()
                .map(|grist| mass.length_at(grist))
                .transpose()
        }
        None => Ok(reference.skein_length()),
    }
}

fn need(part: &AmountPart, skein: Option<Length>) -> Option<Need> {
    match part.quantity {
        Quantity::Length(length) => Some(Need::Length(length)),
        Quantity::Mass(mass) => Some(Need::Mass(mass)),
        Quantity::Skeins(count) => skein.map(|skein| Need::Skeins {
            count: count.high(),
            skein,
        }),
    }
}

fn is_skein_range(part: &AmountPart) -> bool {
    matches!(part.quantity, Quantity::Skeins(count) if !count.is_one())
}
