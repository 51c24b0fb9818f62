//! From criteria to departures, a verdict with its reasons, and remedies.
//!
//! Pure: knows records and published tables; how many skeins a remedy takes is
//! the business of `quantity`.

mod assess;
mod bounds;
mod care;
mod condition;
mod construction;
mod criterion;
mod evidence;
mod expected_gauge;
mod fibre;
mod fibre_limits;
mod gauge;
mod grist;
mod hazard;
mod judge;
mod judgement;
mod known_gauge;
mod prediction;
mod purpose_rules;
mod rank;
mod remedies;
mod requirement;
#[cfg(test)]
pub(crate) mod samples;
mod settings;
mod weight_class;

pub use bounds::{
    AtBest, BlendsAtBest, Bounds, KindBound, Range, StrandBlend, StrandFinish, StrandPart,
    Thickness,
};
pub use condition::Condition;
pub use criterion::Criterion;
pub use evidence::{
    Evidence, FibreProperty, FoundGauge, GaugeSource, HeldGrist, Missing, NoPrediction,
    PropertyComparison, PropertyValues, Side,
};
pub use fibre_limits::{Exclusion, FibreLimits};
pub use judge::judge;
pub use judgement::{
    Caution, Departure, Judgement, Measured, Reason, Severity, Tolerance, Verdict,
};
pub use purpose_rules::{Bar, Cap};
pub use rank::{Best, rank};
pub use remedies::{Remedy, Rework, Turn};
pub use requirement::{Candidate, Doubt, Requirement, Settings, usual_fit};
pub use settings::{DEFAULT_TOLERANCE, Weights};
