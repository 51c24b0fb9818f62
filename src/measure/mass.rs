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
