//! From departures and remedies to the answer.

use super::{
    Criterion, Severity, Verdict,
    assess::Assessment,
    terms::{is_judged_enough, is_within},
};

/// The departure up to which a soft criterion may lie outside and the yarn could
/// still work.
const SOFT_UP_TO: f64 = 2.0;

/// Whether a departure on a soft criterion lies no farther than that.
pub(super) fn is_soft(departure: f64) -> bool {
    departure <= SOFT_UP_TO + 1e-9
}

/// One way of using the candidate: as offered or in other strands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plan<'a> {
    pub(super) assessed: &'a Assessment,
    /// Whether something mends its gauge, where that lies outside.
    pub(super) mends_gauge: bool,
}

impl Plan<'_> {
    /// Whether everything outside its tolerance is mended, or soft (fibre, care,
    /// class, construction) and at most 2.
    fn could_work(&self) -> bool {
        self.assessed
            .departures
            .iter()
            .filter(|departure| !is_within(departure.departure))
            .all(|departure| match departure.criterion {
                Criterion::Grist => false,
                Criterion::Gauge => self.mends_gauge,
                Criterion::WeightClass
                | Criterion::Fibre
                | Criterion::Construction
                | Criterion::Care => is_soft(departure.departure),
            })
    }
}

/// The verdict. A hazard forbids whatever the departures, and one that cannot be
/// ruled out holds a good verdict back.
pub(super) fn verdict(severity: Severity, as_offered: Plan, others: &[Plan]) -> Verdict {
    let by_departures = by_departures(as_offered, others);
    match severity {
        Severity::Forbids => Verdict::WillNotWork,
        Severity::Withholds => by_departures.max(Verdict::CannotSay),
        Severity::Beside => by_departures,
    }
}

/// Without grist and gauge nothing can be said; within on everything judged, with
/// grist and one of gauge and class judged, it should work; within, but on too
/// little, it could; outside, it could where one of the plans mends it.
fn by_departures(as_offered: Plan, others: &[Plan]) -> Verdict {
    let now = as_offered.assessed;
    let has = |criterion| now.departure(criterion).is_some();
    let within = now
        .departures
        .iter()
        .all(|found| is_within(found.departure));
    if !has(Criterion::Grist) && !has(Criterion::Gauge) {
        Verdict::CannotSay
    } else if within && is_judged_enough(&now.departures) {
        Verdict::ShouldWork
    } else if as_offered.could_work() || others.iter().any(Plan::could_work) {
        Verdict::CouldWork
    } else {
        Verdict::WillNotWork
    }
}
