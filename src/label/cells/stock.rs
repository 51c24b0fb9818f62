//! What is on the shelf: amounts, and the weighed skein of a lot.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::reading::{Dual, Note, Outcome, Parsed, Reading, Refusal, Tokens, dual, skip_fillers},
    label::{
        band::Quantity,
        grammar::amount::{Wanted, amount_alone},
    },
    measure::{Length, Mass, units::Dimension},
    record::StockAmount,
};
use winnow::{Parser, combinator::opt};

const AMOUNT: Asked = Asked {
    what: "an amount of stock",
    allowed: "`3.5 skeins`, `2 + 60 g` or `340 g`",
};
const WEIGHED: Asked = Asked {
    what: "a weighed skein",
    allowed: "`48.5 g` or `48 g = 121 m`",
};

/// `3.5 skeins`, `2 + 60 g`, `340 g`.
pub fn stock_amount(text: &str) -> Cell<StockAmount> {
    whole(text, AMOUNT, |input| {
        let found = amount_alone(input)?;
        Ok(found.and_then(|wanted| held(wanted, 0..text.len())))
    })
}

fn held(wanted: Reading<Wanted>, span: std::ops::Range<usize>) -> Outcome<StockAmount> {
    let refuse = |why: String| Refusal::new(span.clone(), why, AMOUNT.allowed);
    let amount = wanted.value.amount;
    let mut notes = wanted.notes;
    let [part] = amount.parts.as_slice() else {
        return Err(refuse(
            "a shelf holds one amount, and this lists several".to_owned(),
        ));
    };
    let (skeins, grams) = match part.quantity {
        Quantity::Skeins(skeins) if skeins.is_one() => (skeins.low(), amount.plus),
        Quantity::Mass(mass) if mass.is_one() => (0.0, Some(mass.low())),
        Quantity::Length(_) => {
            return Err(refuse(
                "stock is kept in skeins and grams; weigh it".to_owned(),
            ));
        }
        _ => {
            return Err(refuse(
                "one number is asked for, and this is a range".to_owned(),
            ));
        }
    };
    if amount.about {
        notes.push(Note {
            span: span.clone(),
            message: "said to be about so much: weigh it to be sure".to_owned(),
        });
    }
    if let Some(each) = wanted.value.each {
        let message =
            "what one skein holds is kept with the yarn or as the weighed skein, not here"
                .to_owned();
        notes.push(Note {
            span: each.span,
            message,
        });
    }
    StockAmount::new(skeins, grams)
        .map(|value| Reading { value, notes })
        .map_err(|error| refuse(error.to_string()))
}

/// A lot's own full skein: `48.5 g`, `48 g = 121 m`.
pub fn weighed(text: &str) -> Cell<(Mass, Option<Length>)> {
    whole(text, WEIGHED, put_up)
}

fn put_up(input: &mut Tokens<'_>) -> Parsed<Outcome<(Mass, Option<Length>)>> {
    let first = dual(input)?;
    let second = opt(|input: &mut Tokens<'_>| {
        skip_fillers(input)?;
        dual.verify(|second: &Dual| second.dimension() != first.dimension())
            .parse_next(input)
    })
    .parse_next(input)?;
    let (mass, length) = match first.dimension() {
        Dimension::Mass => (Some(first), second),
        Dimension::Length => (second, Some(first)),
    };
    let mass = mass.ok_or(winnow::error::EmptyError)?;
    Ok(weighed_of(&mass, length.as_ref()))
}

fn weighed_of(mass: &Dual, length: Option<&Dual>) -> Outcome<(Mass, Option<Length>)> {
    let refuse = |error: crate::measure::MeasureError| {
        Refusal::new(mass.span.clone(), error.to_string(), WEIGHED.allowed)
    };
    let weighed = mass.settle()?;
    let mut notes = weighed.notes;
    let grams = Mass::grams(weighed.value.one()?).map_err(refuse)?;
    let length = match length {
        Some(length) => {
            let settled = length.settle()?;
            notes.extend(settled.notes);
            Some(Length::metres(settled.value.one()?).map_err(refuse)?)
        }
        None => None,
    };
    Ok(Reading {
        value: (grams, length),
        notes,
    })
}
