//! From criteria to departures, a verdict with its reasons, and remedies.
//!
//! Pure: knows records and published tables; how many skeins a remedy takes is
//! the business of `quantity`.

mod criterion;
mod judgement;
mod question;
mod remedy;

pub use criterion::Criterion;
pub use judgement::{Caution, Departure, Judgement, NotJudged, Scale, Verdict};
pub use question::{Offered, Settings, Wanted, Weights};
pub use remedy::{Remedy, Rework, Turn};
