//! What is asked: what the pattern wants, how close it sits where nobody says, what is
//! offered, and how strictly.

use super::{FibreLimits, Weights};
use crate::{
    measure::{Grist, GristTolerance, Interval},
    record::{Care, Contradiction, Fit, Multiple, Purpose, Size, StatedGauge, Swatch, YarnFacts},
};

/// What one yarn role of a pattern wants.
#[derive(Debug, Clone, PartialEq)]
pub struct Requirement {
    /// What is known of the reference yarn.
    pub facts: YarnFacts,
    /// Strands of the reference held together.
    pub strands: u8,
    /// The pattern's gauge.
    pub gauge: Option<StatedGauge>,
    /// How close the thing sits; sets the gauge tolerance.
    pub fit: Fit,
    /// What it is for.
    pub purpose: Option<Purpose>,
    /// The washing that the pattern asks for.
    pub care: Option<Care>,
    /// Stitch multiple of the pattern.
    pub multiple: Option<Multiple>,
    /// Sizes of the pattern, in order; empty where not known.
    pub sizes: Vec<Size>,
    /// Which of `sizes` is to be knitted, where one was chosen.
    pub size: Option<usize>,
}

/// A candidate yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// What is known of it.
    pub facts: YarnFacts,
    /// The user's own swatches of it.
    pub swatches: Vec<Swatch>,
    /// A gauge that the user measured of it just now, trusted before all others.
    pub measured: Option<StatedGauge>,
    /// Strands of it to be held together.
    pub strands: u8,
    /// What of its label leaves its facts in doubt.
    pub doubts: Vec<Doubt>,
}

/// What of a label leaves the facts of a yarn in doubt.
#[derive(Debug, Clone, PartialEq)]
pub enum Doubt {
    /// A word that names a fibre or a build and was not understood.
    Material(String),
    /// Two of its values disagree.
    Contradiction(Contradiction),
    /// Its length per mass was measured, and may lie beyond the tolerance.
    Measured(Interval<Grist>),
}

/// How strictly to judge.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Tolerance on grist, either way.
    pub tolerance: GristTolerance,
    /// What each criterion counts in the overall departure.
    pub weights: Weights,
    /// Fibres that must not be in it, or that alone may be.
    pub limits: FibreLimits,
}

/// Clothes and socks have ease; shawls, things for the home and for babies are not
/// fitted; what is for nothing in particular counts as clothes. Common practice, no
/// source.
pub fn usual_fit(purpose: Option<Purpose>) -> Fit {
    match purpose {
        None
        | Some(Purpose::Garment | Purpose::Child | Purpose::ChildNightwear | Purpose::Socks) => {
            Fit::Relaxed
        }
        Some(
            Purpose::Accessory
            | Purpose::Home
            | Purpose::Dishcloth
            | Purpose::HotPad
            | Purpose::Felted
            | Purpose::Toy
            | Purpose::Baby,
        ) => Fit::Unfitted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clothes_and_socks_have_ease_and_all_else_is_not_fitted() {
        let relaxed = Purpose::ALL
            .into_iter()
            .filter(|purpose| usual_fit(Some(*purpose)) == Fit::Relaxed);
        assert_eq!(
            relaxed.collect::<Vec<_>>(),
            [
                Purpose::Garment,
                Purpose::Socks,
                Purpose::Child,
                Purpose::ChildNightwear
            ]
        );
        assert_eq!(usual_fit(None), Fit::Relaxed);
    }
}
