//! Lengths of yarn, fabric and pieces.

use super::{Grist, Mass, quantity::quantity, units};

quantity!(
    /// A length in metres, not negative.
    Length, "length", "m", metres, as_metres, 0.0, 1e9
);

impl Length {
    /// The length in yards (1 yd = 0.9144 m exactly).
    pub fn as_yards(self) -> f64 {
        self.as_metres() / units::YARD_M
    }

    /// The length in inches (1 in = 0.0254 m exactly).
    pub fn as_inches(self) -> f64 {
        self.as_metres() / units::INCH_M
    }

    /// The mass of this length of a yarn: length / grist.
    pub fn mass_at(self, grist: Grist) -> Result<Mass, super::MeasureError> {
        Mass::grams(self.as_metres() / grist.as_metres_per_gram())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// International yard and inch: 0.9144 m and 0.0254 m exactly.
    #[test]
    fn a_metre_has_its_yards_and_inches() {
        let metre = Length::metres(1.0).unwrap();
        assert!((metre.as_yards() - 1.093_613_298).abs() < 5e-10);
        assert!((metre.as_inches() - 39.370_078_740).abs() < 5e-10);
    }
}
