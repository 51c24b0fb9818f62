//! Length per mass of a yarn.

use super::{Length, Mass, MeasureError, Ratio, quantity::quantity, units};

quantity!(
    /// Length per mass in metres per gram (numerically the metric count, Nm).
    Grist, "metres per gram", "m/g", metres_per_gram, as_metres_per_gram, 1e-4, 1e4
);

impl Grist {
    /// Grist of a put-up: length / mass. A mass of zero is refused.
    pub fn of(length: Length, mass: Mass) -> Result<Self, MeasureError> {
        Self::metres_per_gram(length.as_metres() / mass.as_grams())
    }

    /// Metres in 100 g.
    pub fn as_metres_per_100_g(self) -> f64 {
        self.as_metres_per_gram() * 100.0
    }

    /// Yards in a pound.
    pub fn as_yards_per_pound(self) -> f64 {
        self.as_metres_per_gram() * units::POUND_G / units::YARD_M
    }

    /// Linear density in tex, grams in 1000 m: tex = 1000 / (m/g) (ISO 1144).
    pub fn as_tex(self) -> f64 {
        1000.0 / self.as_metres_per_gram()
    }

    /// Grist of several ends held together: g = 1 / sum(1 / g_i), exact since
    /// mass adds over the same length. `None` for no ends.
    ///
    /// ```
    /// use understudy::measure::Grist;
    ///
    /// // Two ends of 3 m/g and one of 6 m/g: 2/3 + 1/6 g in a metre.
    /// let [thick, thin] = [3.0, 6.0].map(|grist| Grist::metres_per_gram(grist).unwrap());
    /// let held = Grist::held_together(&[thick, thick, thin]).unwrap();
    /// assert!((held.as_metres_per_100_g() - 120.0).abs() < 1e-9);
    /// ```
    pub fn held_together(ends: &[Grist]) -> Option<Grist> {
        let grams_per_metre: f64 = ends.iter().map(|g| 1.0 / g.as_metres_per_gram()).sum();
        Self::metres_per_gram(1.0 / grams_per_metre).ok()
    }

    /// Grist of `strands` ends of this yarn held together: g / n.
    pub fn times(self, strands: u8) -> Option<Grist> {
        Self::metres_per_gram(self.as_metres_per_gram() / f64::from(strands)).ok()
    }
}

/// A tolerance on length per mass, either way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GristTolerance {
    /// A share of the reference grist, such as 8 %.
    Share(Ratio),
    /// A length per mass, such as 15 m/100 g.
    Absolute(Grist),
}

impl GristTolerance {
    /// The tolerance in m/g around `reference`.
    pub fn around(self, reference: Grist) -> f64 {
        match self {
            Self::Share(share) => share.as_fraction() * reference.as_metres_per_gram(),
            Self::Absolute(grist) => grist.as_metres_per_gram(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn prop_a_length_over_its_grist_is_the_mass_and_back(metres in 0.1..1e5_f64, grams in 0.1..1e4_f64) {
            let (length, mass) = (Length::metres(metres).unwrap(), Mass::grams(grams).unwrap());
            let Ok(grist) = Grist::of(length, mass) else { return Ok(()) };
            let mass_again = length.mass_at(grist).unwrap().as_grams();
            let length_again = mass.length_at(grist).unwrap().as_metres();
            prop_assert!((mass_again / grams - 1.0).abs() < 1e-12);
            prop_assert!((length_again / metres - 1.0).abs() < 1e-12);
        }

        #[test]
        fn prop_ends_held_together_are_thicker_than_any_of_them(ends in prop::collection::vec(0.1..50.0_f64, 2..6)) {
            let grists: Vec<Grist> = ends.iter().map(|g| Grist::metres_per_gram(*g).unwrap()).collect();
            let together = Grist::held_together(&grists).unwrap();
            prop_assert!(grists.iter().all(|one| together < *one));
        }
    }

    /// By definition: tex is grams in 1000 m (ISO 1144); a pound is 453.59237 g, a
    /// yard 0.9144 m.
    #[test]
    fn one_grist_in_every_unit() {
        let grist = Grist::metres_per_gram(2.5).unwrap();
        assert!((grist.as_metres_per_100_g() - 250.0).abs() < 1e-9);
        assert!((grist.as_tex() - 400.0).abs() < 1e-9);
        assert!((grist.as_yards_per_pound() - 1_240.136_6).abs() < 5e-5);
    }

    #[test]
    fn a_put_up_without_mass_has_no_grist() {
        let length = Length::metres(100.0).unwrap();
        assert!(Grist::of(length, Mass::grams(0.0).unwrap()).is_err());
    }

    /// Plying adds mass over the same length: 1/N = sum of 1/N_i.
    /// Common practice; recomputed by hand: 1/(1/8 + 1/12) = 4.8.
    #[test]
    fn ends_held_together_add_their_mass() {
        let g = |x| Grist::metres_per_gram(x).unwrap();
        let both = Grist::held_together(&[g(8.0), g(12.0)]).unwrap();
        assert!((both.as_metres_per_gram() - 4.8).abs() < 1e-12);
        assert_eq!(g(6.0).times(2), Some(g(3.0)));
        assert_eq!(Grist::held_together(&[]), None);
        assert_eq!(g(6.0).times(0), None);
    }

    #[test]
    fn a_share_grows_with_the_reference_and_an_absolute_one_does_not() {
        let grist = |m_per_g: f64| Grist::metres_per_gram(m_per_g).unwrap();
        let share = GristTolerance::Share(Ratio::percent(8.0).unwrap());
        assert!((share.around(grist(2.5)) - 0.2).abs() < 1e-12);
        let absolute = GristTolerance::Absolute(grist(0.15));
        assert_eq!(absolute.around(grist(2.5)), 0.15);
    }
}
