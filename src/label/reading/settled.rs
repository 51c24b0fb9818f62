//! A length or mass whose numbers have one meaning.

use super::Refusal;
use crate::measure::units::Dimension;
use std::ops::Range;

/// A quantity in metres or grams.
#[derive(Debug, Clone, PartialEq)]
pub struct Settled {
    /// Metres or grams.
    pub dimension: Dimension,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Bytes it was read from.
    pub span: Range<usize>,
}

impl Settled {
    /// The value where it is one and above zero.
    pub fn one(&self) -> Result<f64, Refusal> {
        let (what, unit) = match self.dimension {
            Dimension::Length => ("length", "m"),
            Dimension::Mass => ("mass", "g"),
        };
        let refuse =
            |why: String, allowed: String| Err(Refusal::new(self.span.clone(), why, allowed));
        if self.high <= 0.0 {
            return refuse(
                format!("0 {unit} is no {what}"),
                format!(
                    "a number above zero, such as `50 {unit}`, or nothing where it is not known"
                ),
            );
        }
        match self.low == self.high {
            true => Ok(self.low),
            false => refuse(
                format!("one {what} is asked for, and this is a range"),
                format!("one number, such as `50 {unit}`"),
            ),
        }
    }
}
