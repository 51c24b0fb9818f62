//! Needs: one a size, in order.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::reading::{Note, Outcome, Reading, Refusal, Settled},
    label::{
        band::{AmountPart, Quantity},
        grammar::amount::{Wanted, amount_alone},
    },
    measure::{Length, Mass, MeasureError, units::Dimension},
    record::{Need, YarnFacts},
};
use std::ops::Range;

const NEEDS: Asked = Asked {
    what: "a need for each size",
    allowed: "`9 (10, 11) skeins`, `9 x 200 yd`, `900-1100 m` or `650 (700) g`",
};

/// Needs, one a size in order, with the size's name where given:
/// `9 (10, 11) skeins`, `9 x 200 yd`, `900-1100 m`, `650 (700) g`, `12 oz`.
/// Skeins without a put-up of their own are those of `reference`.
pub fn needs(text: &str, reference: &YarnFacts) -> Cell<Vec<(Option<String>, Need)>> {
    whole(text, NEEDS, |input| {
        let found = amount_alone(input)?;
        Ok(found.and_then(|wanted| of(wanted, reference, 0..text.len())))
    })
}

fn of(
    wanted: Reading<Wanted>,
    reference: &YarnFacts,
    span: Range<usize>,
) -> Outcome<Vec<(Option<String>, Need)>> {
    let refuse = |why: &str| Refusal::new(span.clone(), why, NEEDS.allowed);
    let Wanted { amount, each } = wanted.value;
    if amount.plus.is_some() {
        return Err(refuse(
            "skeins and loose grams are an amount of stock, not a need",
        ));
    }
    let unclear = |error: MeasureError| refuse(&error.to_string());
    let skein = skein_length(each.as_ref(), reference).map_err(unclear)?;
    let mut notes = wanted.notes;
    if amount.about {
        let message = "said to be about so much: it is taken as stated".to_owned();
        notes.push(Note {
            span: span.clone(),
            message,
        });
    }
    let mut needs = Vec::with_capacity(amount.parts.len());
    for part in amount.parts {
        let need = need(&part, skein)
            .ok_or_else(|| refuse("the length of one skein is not known; state its put-up"))?;
        notes.extend(note(&part, &span));
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
    each: Option<&Settled>,
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

fn note(part: &AmountPart, span: &Range<usize>) -> Option<Note> {
    match part.quantity {
        Quantity::Skeins(count) if !count.is_one() => Some(Note {
            span: span.clone(),
            message: "of a range of skeins the larger number counts".to_owned(),
        }),
        _ => None,
    }
}
