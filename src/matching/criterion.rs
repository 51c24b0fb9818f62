//! What a candidate is judged by, and what every criterion shares: its outcome, and a
//! difference in tolerances.

use super::{Departure, Missing};

/// What a candidate is judged by, in the order in which answers list it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Criterion {
    /// Length per mass.
    Grist,
    /// Stitches over a length.
    Gauge,
    /// Weight class.
    WeightClass,
    /// Fibres.
    Fibre,
    /// How it is built.
    Construction,
    /// Washing.
    Care,
}

impl Criterion {
    /// All of them, in order.
    pub const ALL: [Self; 6] = [
        Self::Grist,
        Self::Gauge,
        Self::WeightClass,
        Self::Fibre,
        Self::Construction,
        Self::Care,
    ];

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Grist => "grist",
            Self::Gauge => "gauge",
            Self::WeightClass => "weight class",
            Self::Fibre => "fibre",
            Self::Construction => "construction",
            Self::Care => "care",
        }
    }
}

/// What one criterion gives.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Outcome {
    /// A departure.
    Judged(Departure),
    /// Not judged, and what would settle it.
    NotJudged(Missing),
    /// Nobody asked for it.
    NotAsked,
}

#[cfg(test)]
impl Outcome {
    /// What was judged.
    pub(super) fn judged(self) -> Departure {
        match self {
            Self::Judged(departure) => departure,
            other => panic!("{other:?}"),
        }
    }
}

/// Numbers of strands, beside one, that are thought of as held together.
pub(super) const SEVERAL_STRANDS: std::ops::RangeInclusive<u8> = 2..=4;

/// The most that a departure is counted as, so that a tolerance of zero gives
/// a number that can still be ordered and printed.
const MOST: f64 = 1000.0;

/// Relative slack at a boundary, for rounding of binary fractions only.
const SLACK: f64 = 1e-9;

/// A difference in tolerances: |difference| / tolerance, at most 1000.
#[inline]
pub(super) fn in_tolerances(difference: f64, tolerance: f64) -> f64 {
    let difference = difference.abs();
    if difference <= SLACK * tolerance.max(SLACK) {
        0.0
    } else {
        (difference / tolerance).min(MOST)
    }
}

/// Whether a departure lies within its tolerance.
#[inline]
pub(super) fn is_within(departure: f64) -> bool {
    departure <= 1.0 + SLACK
}

/// Whether grist and one of gauge and class were judged.
pub(super) fn is_judged_enough(departures: &[Departure]) -> bool {
    let has = |criterion| departures.iter().any(|d| d.criterion == criterion);
    has(Criterion::Grist) && (has(Criterion::Gauge) || has(Criterion::WeightClass))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn criteria_have_the_names_that_are_documented() {
        let names = Criterion::ALL.map(Criterion::name);
        assert_eq!(
            names.join(", "),
            "grist, gauge, weight class, fibre, construction, care"
        );
    }

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
