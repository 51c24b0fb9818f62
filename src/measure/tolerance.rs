//! How far a candidate's grist may lie from the reference.

use super::{Grist, Ratio};

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

    #[test]
    fn a_share_grows_with_the_reference_and_an_absolute_one_does_not() {
        let grist = |m_per_g: f64| Grist::metres_per_gram(m_per_g).unwrap();
        let share = GristTolerance::Share(Ratio::percent(8.0).unwrap());
        assert!((share.around(grist(2.5)) - 0.2).abs() < 1e-12);
        let absolute = GristTolerance::Absolute(grist(0.15));
        assert_eq!(absolute.around(grist(2.5)), 0.15);
    }
}
