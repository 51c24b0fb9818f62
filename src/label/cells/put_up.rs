//! A put-up: length, mass or both, or a count.

use super::whole::Cell;
use crate::{
    label::band::read_band,
    label::reading::{ReadError, Reading, Refusal},
    record::YarnFacts,
};

const ALLOWED: &str = "`50 g = 135 m`, `3.5 oz / 220 yd` or `2/14 Nm, 150 g`";

/// A put-up: length, mass or both, both systems allowed; fills `length`, `mass`, `count`.
pub fn put_up(text: &str) -> Cell<YarnFacts> {
    let band = read_band(text);
    let refuse = |why: &str| -> ReadError { Refusal::new(0..text.len(), why, ALLOWED).error(text) };
    if let Some(first) = band.not_read.into_iter().next() {
        return Err(Refusal::new(first.span, first.why, ALLOWED).error(text));
    }
    let only = YarnFacts {
        length: band.facts.length.clone(),
        mass: band.facts.mass.clone(),
        count: band.facts.count.clone(),
        ..YarnFacts::default()
    };
    match only {
        _ if only == YarnFacts::default() => Err(refuse("it states neither a length nor a mass")),
        _ if only != band.facts || band.amount.is_some() => {
            Err(refuse("this is more than a put-up"))
        }
        _ => Ok(Reading {
            value: only,
            notes: band.warnings,
        }),
    }
}
