//! The shape that every scalar quantity shares, what can be wrong with its
//! number, and the quantities that are little more than that: lengths, masses, shares and
//! needle sizes. Millimetres are the only stored key of a needle: numbers and letters of
//! the markets are aliases and live in `trade`.

use super::{Grist, units};
use crate::words::number;

/// Declares a quantity: a finite `f64` in `$low..=$high` of the canonical unit,
/// ordered and hashable, made only through `$new`, read through `$get`.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $unit:literal, $new:ident, $get:ident, $low:expr, $high:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(ordered_float::NotNan<f64>);

        impl $name {
            #[doc = concat!("From a number of ", $unit, "; refused when not finite or out of range.")]
            pub fn $new(value: f64) -> Result<Self, $crate::measure::MeasureError> {
                let refused = || $crate::measure::MeasureError::OutOfRange {
                    what: $what, given: value, low: $low, high: $high, unit: $unit,
                };
                if ($low..=$high).contains(&value) {
                    ordered_float::NotNan::new(value).map(Self).map_err(|_| refused())
                } else {
                    Err(refused())
                }
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub fn $get(self) -> f64 {
                self.0.into_inner()
            }
        }
    };
}

pub(crate) use quantity;

/// A number that no quantity of this kind can have.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeasureError {
    /// Not a finite number, or outside what the quantity allows.
    #[error("{what} {given} {unit} is out of range: write a number from {} to {} {unit}", number(*low, 6), number(*high, 6))]
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

quantity!(
    /// A share of a whole, kept as a fraction: 10 % is 0.1.
    Ratio, "share", "(1 = 100 %)", fraction, as_fraction, 0.0, 100.0
);

impl Ratio {
    /// From a whole percentage.
    pub fn whole_percent(percent: u8) -> Self {
        let whole = |number: u8| ordered_float::NotNan::from(number);
        Self(whole(percent) / whole(100))
    }

    /// From a percentage.
    pub fn percent(value: f64) -> Result<Self, super::MeasureError> {
        Self::fraction(value / 100.0)
    }

    /// As a percentage.
    pub fn as_percent(self) -> f64 {
        self.as_fraction() * 100.0
    }
}

quantity!(
    /// The diameter of a needle or hook in millimetres.
    NeedleSize, "needle", "mm", millimetres, as_millimetres, 0.5, 60.0
);

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

    #[test]
    fn ten_percent_are_a_tenth() {
        let ten = Ratio::percent(10.0).unwrap();
        assert!((ten.as_fraction() - 0.1).abs() < 1e-12);
        assert!((ten.as_percent() - 10.0).abs() < 1e-12);
        assert!(Ratio::percent(-0.1).is_err() && Ratio::percent(10_001.0).is_err());
        assert!(Ratio::fraction(f64::NAN).is_err());
    }

    /// International yard and inch: 0.9144 m and 0.0254 m exactly.
    #[test]
    fn a_metre_has_its_yards_and_inches() {
        let metre = Length::metres(1.0).unwrap();
        assert!((metre.as_yards() - 1.093_613_298).abs() < 5e-10);
        assert!((metre.as_inches() - 39.370_078_740).abs() < 5e-10);
    }

    /// International avoirdupois ounce: 28.349523125 g exactly.
    #[test]
    fn a_hundred_grams_are_three_and_a_half_ounces() {
        let ounces = Mass::grams(100.0).unwrap().as_ounces();
        assert!((ounces - 3.527_396).abs() < 5e-7);
    }
}
