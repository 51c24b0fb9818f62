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
