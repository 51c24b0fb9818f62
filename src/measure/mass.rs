//! Masses of yarn.

use super::{Grist, Length, MeasureError, quantity::quantity, units};

quantity!(
    /// A mass in grams, not negative.
    Mass, "mass", "g", grams, as_grams, 0.0, 1e9
);

impl Mass {
    /// The mass in ounces avoirdupois (16 oz = 453.59237 g exactly).
    pub fn as_ounces(self) -> f64 {
        self.as_grams() / units::OUNCE_G
    }

    /// The length of this mass of a yarn: mass x grist.
    pub fn length_at(self, grist: Grist) -> Result<Length, MeasureError> {
        Length::metres(self.as_grams() * grist.as_metres_per_gram())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// International avoirdupois ounce: 28.349523125 g exactly.
    #[test]
    fn a_hundred_grams_are_three_and_a_half_ounces() {
        let ounces = Mass::grams(100.0).unwrap().as_ounces();
        assert!((ounces - 3.527_396).abs() < 5e-7);
    }
}
