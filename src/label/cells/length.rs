//! A length.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::reading::{Dual, Outcome, Parsed, Reading, Refusal, Tokens, dual},
    measure::{Length, MeasureError, units::Dimension},
};
use winnow::Parser;

const ASKED: Asked = Asked {
    what: "a length",
    allowed: "`125 m`, `137 yd` or `1 1/2 yd`",
};

/// `125 m`, `137 yd`, `1 1/2 yd`.
pub fn length(text: &str) -> Cell<Length> {
    whole(text, ASKED, |input| {
        of(input, Dimension::Length, ASKED.allowed, Length::metres)
    })
}

/// One value of `dimension`, made by `make`.
pub(super) fn of<T>(
    input: &mut Tokens<'_>,
    dimension: Dimension,
    allowed: &'static str,
    make: impl Fn(f64) -> Result<T, MeasureError>,
) -> Parsed<Outcome<T>> {
    let dual = dual
        .verify(|dual: &Dual| dual.dimension() == dimension)
        .parse_next(input)?;
    Ok(dual.settle().and_then(|settled| {
        let value = make(settled.value.one()?).map_err(|error| {
            Refusal::new(settled.value.span.clone(), error.to_string(), allowed)
        })?;
        Ok(Reading {
            value,
            notes: settled.notes,
        })
    }))
}
