//! What can be wrong with a number.

use crate::words::number;

/// A number that no quantity of this kind can have.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeasureError {
    /// Not a finite number, or outside what the quantity allows.
    #[error("{what} {given} {unit} is not possible: give a number from {} to {} {unit}", number(*low, 6), number(*high, 6))]
    OutOfRange {
        /// The quantity, as people call it.
        what: &'static str,
        /// The number that was given.
        given: f64,
        /// The least that is allowed.
        low: f64,
        /// The most that is allowed.
        high: f64,
        /// The unit of the three numbers.
        unit: &'static str,
    },
    /// A range whose ends are the wrong way round, or not comparable.
    #[error("a range runs from the smaller to the larger number: {low} to {high} does not")]
    RangeReversed {
        /// The first end, as given.
        low: String,
        /// The second end, as given.
        high: String,
    },
}
