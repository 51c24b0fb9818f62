//! What every criterion shares: its outcome, and how a difference is told in
//! tolerances.

use super::{Criterion, Departure, NotJudged};

/// What one criterion gives.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Outcome {
    /// A departure.
    Judged(Departure),
    /// Not judged, and what would settle it.
    NotJudged(NotJudged),
    /// Nobody asked for it.
    NotAsked,
}

impl Outcome {
    /// Not judged.
    pub(super) fn missing(
        criterion: Criterion,
        why: impl Into<String>,
        measure: impl Into<String>,
    ) -> Self {
        Self::NotJudged(NotJudged {
            criterion,
            why: why.into(),
            measure: measure.into(),
        })
    }

    /// The departure, where judged.
    #[cfg(test)]
    pub(super) fn departure(&self) -> Option<f64> {
        match self {
            Self::Judged(departure) => Some(departure.departure),
            Self::NotJudged(_) | Self::NotAsked => None,
        }
    }
}

/// Numbers of strands, beside one, that are thought of as held together.
pub(super) const SEVERAL_STRANDS: std::ops::RangeInclusive<u8> = 2..=4;

/// The most that a departure is reckoned as, so that a tolerance of zero gives
/// a number that can still be ordered and printed.
const MOST: f64 = 1000.0;

/// Relative slack at a boundary, for rounding of binary fractions only.
const SLACK: f64 = 1e-9;

/// A difference in tolerances: |difference| / tolerance, at most 1000.
pub(super) fn in_tolerances(difference: f64, tolerance: f64) -> f64 {
    let difference = difference.abs();
    match difference <= SLACK * tolerance.max(SLACK) {
        true => 0.0,
        false => (difference / tolerance).min(MOST),
    }
}

/// Whether a departure lies within its tolerance.
pub(super) fn is_within(departure: f64) -> bool {
    departure <= 1.0 + SLACK
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tolerance_of_nothing_lets_only_the_same_pass() {
        assert_eq!(in_tolerances(0.0, 0.0), 0.0);
        assert_eq!(in_tolerances(0.1, 0.0), MOST);
        assert_eq!(in_tolerances(-4.0, 2.0), 2.0);
    }

    #[test]
    fn the_edge_itself_is_within() {
        assert!(is_within(in_tolerances(0.3 - 0.1, 0.2)));
        assert!(!is_within(1.000_001));
    }
}
