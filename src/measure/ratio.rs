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
}
