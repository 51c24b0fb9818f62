//! Yarn counts and length per mass.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::grammar::grist::{GRIST_ALLOWED, per_mass, per_unit},
    label::reading::{
        self, COUNT_ALLOWED, Outcome, Parsed, Reading, Refusal, Tokens, exact, symbol, word,
    },
    measure::{Grist, GristTolerance, Ratio, YarnCount},
};
use winnow::{Parser, combinator::alt};

const TOLERANCE: Asked = Asked {
    what: "a tolerance",
    allowed: "`8 %` or `15 m/100 g`",
};

/// `2/14 Nm`, `tex 120/2`, `20/2 Ne`.
pub fn count(text: &str) -> Cell<YarnCount> {
    let asked = Asked {
        what: "a yarn count with its system",
        allowed: COUNT_ALLOWED,
    };
    whole(text, asked, reading::count)
}

/// `230 m/100 g`, `1150 yd/lb`, `125 m per 50 g`, or a yarn count.
pub fn grist(text: &str) -> Cell<Grist> {
    let asked = Asked {
        what: "a length per mass",
        allowed: GRIST_ALLOWED,
    };
    whole(text, asked, any_grist)
}

fn any_grist(input: &mut Tokens<'_>) -> Parsed<Outcome<Grist>> {
    let counted = |input: &mut Tokens<'_>| {
        let outcome = reading::count(input)?;
        Ok(outcome.map(|count| Reading {
            value: count.value.grist(),
            notes: count.notes,
        }))
    };
    alt((per_mass, per_unit, counted)).parse_next(input)
}

/// `8 %`, `8%`.
pub fn percent(text: &str) -> Cell<Ratio> {
    whole(
        text,
        Asked {
            what: "a percentage",
            allowed: "`8 %`",
        },
        ratio,
    )
}

fn ratio(input: &mut Tokens<'_>) -> Parsed<Outcome<Ratio>> {
    let value = exact(input)?;
    alt((symbol("%").void(), word(&["percent", "pct"]).void())).parse_next(input)?;
    Ok(Ratio::percent(value)
        .map(|value| Reading {
            value,
            notes: Vec::new(),
        })
        .map_err(|error| Refusal::new(0..0, error.to_string(), "`8 %`")))
}

/// `8 %` or `15 m/100 g`.
pub fn tolerance(text: &str) -> Cell<GristTolerance> {
    whole(text, TOLERANCE, |input| {
        let share = |input: &mut Tokens<'_>| {
            Ok(ratio(input)?.map(|ratio| Reading {
                value: GristTolerance::Share(ratio.value),
                notes: ratio.notes,
            }))
        };
        let absolute = |input: &mut Tokens<'_>| {
            Ok(any_grist(input)?.map(|grist| Reading {
                value: GristTolerance::Absolute(grist.value),
                notes: grist.notes,
            }))
        };
        alt((share, absolute)).parse_next(input)
    })
}
