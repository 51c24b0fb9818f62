//! Every criterion for one candidate held in one number of strands.

use super::{
    Candidate, Criterion, Departure, NotJudged, Requirement, Settings,
    care::care,
    construction::construction,
    expected_gauge::{ExpectedGauge, NoGauge, expected_gauge},
    fibre::fibre,
    gauge::gauge,
    grist::grist,
    terms::{Outcome, is_within},
    weight_class::weight_class,
};

/// The outcomes, in the order of [`Criterion::ALL`], and the gauge to expect.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Assessed {
    outcomes: [Outcome; 6],
    pub(super) gauge: Result<ExpectedGauge, NoGauge>,
}

/// Judges by every criterion.
pub(super) fn assess(wanted: &Requirement, offered: &Candidate, settings: &Settings) -> Assessed {
    let expected = expected_gauge(wanted, offered);
    Assessed {
        outcomes: [
            grist(wanted, offered, settings),
            gauge(wanted, &expected),
            weight_class(wanted, offered),
            fibre(wanted, offered),
            construction(wanted, offered),
            care(wanted, offered),
        ],
        gauge: expected,
    }
}

impl Assessed {
    /// What was judged.
    pub(super) fn departures(&self) -> impl Iterator<Item = &Departure> {
        self.outcomes.iter().filter_map(|outcome| match outcome {
            Outcome::Judged(departure) => Some(departure),
            Outcome::NotJudged(_) | Outcome::NotAsked => None,
        })
    }

    /// What was not.
    pub(super) fn not_judged(&self) -> impl Iterator<Item = &NotJudged> {
        self.outcomes.iter().filter_map(|outcome| match outcome {
            Outcome::NotJudged(missing) => Some(missing),
            Outcome::Judged(_) | Outcome::NotAsked => None,
        })
    }

    /// The departure on one criterion, where judged.
    pub(super) fn departure(&self, criterion: Criterion) -> Option<f64> {
        let mut departures = self.departures();
        let found = departures.find(|departure| departure.criterion == criterion);
        found.map(|departure| departure.departure)
    }

    /// Whether a criterion was judged.
    pub(super) fn has(&self, criterion: Criterion) -> bool {
        self.departure(criterion).is_some()
    }

    /// Whether a criterion was judged and lies outside its tolerance.
    pub(super) fn is_beyond(&self, criterion: Criterion) -> bool {
        self.departure(criterion).is_some_and(|d| !is_within(d))
    }
}
