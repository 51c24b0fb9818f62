//! What is understood of a text.

use crate::{label::band::read_band, report::ReadReport};

/// Reads a ball band, a materials line or any sentence about yarn.
pub fn read(text: &str) -> ReadReport {
    ReadReport::of(text, &read_band(text))
}
