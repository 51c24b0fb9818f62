//! How much: skeins for a need, cost, cover from lots, finished size, what
//! another gauge does to size, counts and need, and where the figures of a
//! pattern contradict each other. Pure.

mod ceiling;
mod cost;
mod cover;
mod estimate;
mod finished_size;
mod gauge_change;
mod gauge_ratio;
mod own_tendency;
mod pattern_misfit;
mod purchase;
mod resized;
mod wash_growth;

pub use cost::cost;
pub use cover::{Cover, Shelf, cover};
pub use estimate::{Estimate, estimates};
pub use finished_size::{FinishedSize, finished_size};
pub use gauge_change::Keep;
pub use gauge_ratio::GaugeRatio;
pub use own_tendency::{OwnTendency, SPREAD, own_tendency};
pub use pattern_misfit::{Misfit, falls_short, misfits};
pub use purchase::{Purchase, QuantityError, purchase, strand_need};
pub use resized::{Counts, Wanted, nearest_width};
pub use wash_growth::WashGrowth;
