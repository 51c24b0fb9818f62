//! Gauge and needles.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::grammar::{
        gauge::{self as stated, GAUGE_ALLOWED},
        needles::{NEEDLES_ALLOWED, Tool, hook_letter, needle_number, tool},
    },
    label::reading::{Outcome, Parsed, ReadError, Reading, Refusal, Tokens, span_of, with_pieces},
    measure::NeedleSize,
    record::{Needles, StatedGauge},
};
use winnow::{Parser, combinator::alt};

/// `22 sts x 30 rows / 10 cm`, with stitch, flat or round, washed, strands where stated.
pub fn gauge(text: &str) -> Cell<StatedGauge> {
    whole(
        text,
        Asked {
            what: "a gauge",
            allowed: GAUGE_ALLOWED,
        },
        stated::gauge,
    )
}

/// `4 mm`, `3.25-3.75 mm`, `US 6`, `old UK 8`.
pub fn needles(text: &str) -> Cell<Needles> {
    whole(
        text,
        Asked {
            what: "a needle size",
            allowed: NEEDLES_ALLOWED,
        },
        only_needles,
    )
}

fn only_needles(input: &mut Tokens<'_>) -> Parsed<Outcome<Needles>> {
    let lettered = |input: &mut Tokens<'_>| {
        hook_letter(input)?;
        Ok(Ok(Reading {
            value: Tool::Hook,
            notes: Vec::new(),
        }))
    };
    let (found, pieces) =
        with_pieces(|input| alt((lettered, tool, needle_number)).parse_next(input))
            .parse_next(input)?;
    Ok(found.and_then(|reading| match reading.value {
        Tool::Needles(needles) => Ok(Reading {
            value: needles,
            notes: reading.notes,
        }),
        Tool::Hook => Err(Refusal::new(
            span_of(pieces),
            "it is a crochet hook, not a needle",
            NEEDLES_ALLOWED,
        )),
    }))
}

/// One needle.
pub fn needle(text: &str) -> Cell<NeedleSize> {
    let found = needles(text)?;
    match found.value.is_one() {
        true => Ok(Reading {
            value: found.value.low(),
            notes: found.notes,
        }),
        false => {
            let refusal = Refusal::new(
                0..text.len(),
                "one needle is asked for, and this is a range",
                "`4 mm` or `US 6`",
            );
            Err::<_, ReadError>(refusal.error(text))
        }
    }
}
