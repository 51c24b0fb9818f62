//! Shares and margins.

use super::quantity::quantity;

quantity!(
    /// A share of a whole, kept as a fraction: 10 % is 0.1.
    Ratio, "share", "(1 = 100 %)", fraction, as_fraction, 0.0, 100.0
);

impl Ratio {
    /// From a percentage.
    pub fn percent(value: f64) -> Result<Self, super::MeasureError> {
        Self::fraction(value / 100.0)
    }

    /// As a percentage.
    pub fn as_percent(self) -> f64 {
        self.as_fraction() * 100.0
    }
}
