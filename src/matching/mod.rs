//! From criteria to departures, a verdict with its reasons, and remedies.
//!
//! Pure: knows records and published tables; how many skeins a remedy takes is
//! the business of `quantity`.

mod assess;
mod bounds;
mod care;
mod construction;
mod criterion;
mod evidence;
mod expected_gauge;
mod fibre;
mod gauge;
mod grist;
mod hazard;
mod judge;
mod judgement;
mod known_gauge;
mod prediction;
mod rank;
mod remedies;
mod remedy;
mod requirement;
#[cfg(test)]
pub(crate) mod samples;
mod terms;
mod verdict;
mod weight_class;

pub use bounds::{AtBest, Bounds, KindBound, Range};
pub use criterion::Criterion;
pub use evidence::{
    Evidence, FibreProperty, FoundGauge, GaugeSource, HeldGrist, Missing, NoPrediction,
    PropertyComparison, PropertyValues, Side,
};
pub use judge::judge;
pub use judgement::{
    Caution, Departure, Judgement, Measured, Reason, Severity, Tolerance, Verdict,
};
pub use rank::{Best, rank};
pub use remedy::{Remedy, Rework, Turn};
pub use requirement::{Candidate, Requirement, Settings, Weights};
