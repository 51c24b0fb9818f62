//! Every criterion for one candidate held in one number of strands.

use super::{
    Candidate, Criterion, Departure, Missing, Requirement, Settings,
    care::care,
    construction::construction,
    criterion::{Outcome, is_within},
    expected_gauge::{ExpectedGauge, expected_gauge},
    fibre::fibre,
    gauge::gauge,
    grist::grist,
    weight_class::weight_class,
};

/// What was judged and what was not, in the order of [`Criterion::ALL`], and the
/// gauge to expect.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Assessment {
    pub(super) departures: Vec<Departure>,
    pub(super) not_judged: Vec<Missing>,
    pub(super) gauge: Option<ExpectedGauge>,
}

/// Judges by every criterion.
pub(super) fn assess(wanted: &Requirement, offered: &Candidate, settings: &Settings) -> Assessment {
    let expected = expected_gauge(wanted, offered);
    let (mut departures, mut not_judged) = (Vec::new(), Vec::new());
    for outcome in [
        grist(wanted, offered, settings),
        gauge(wanted, &expected),
        weight_class(wanted, offered),
        fibre(wanted, offered),
        construction(wanted, offered),
        care(wanted, offered),
    ] {
        match outcome {
            Outcome::Judged(departure) => departures.push(departure),
            Outcome::NotJudged(missing) => not_judged.push(missing),
            Outcome::NotAsked => {}
        }
    }
    Assessment {
        departures,
        not_judged,
        gauge: expected.ok(),
    }
}

impl Assessment {
    /// The departure on one criterion, where judged.
    pub(super) fn departure(&self, criterion: Criterion) -> Option<f64> {
        let mut departures = self.departures.iter();
        let found = departures.find(|departure| departure.criterion == criterion);
        found.map(|departure| departure.departure)
    }

    /// Whether a criterion was judged and lies outside its tolerance.
    pub(super) fn is_beyond(&self, criterion: Criterion) -> bool {
        self.departure(criterion).is_some_and(|d| !is_within(d))
    }
}
