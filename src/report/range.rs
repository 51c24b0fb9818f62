//! A figure with the interval that holds it.

use crate::{quantity::Estimate, words::number};
use serde_json::{Value, json};

/// A figure and the interval that holds it 95 times in 100.
pub(super) fn range_fields(estimate: Estimate) -> Value {
    json!({ "value": estimate.value, "low": estimate.low, "high": estimate.high })
}

/// `12.4 (11 to 13.8)`.
pub(super) fn range_words(estimate: Estimate, places: usize) -> String {
    let Estimate { value, low, high } = estimate;
    let [value, low, high] = [value, low, high].map(|figure| number(figure, places));
    format!("{value} ({low} to {high})")
}
