//! How much: skeins for a need, cost, cover from lots, finished size, and what
//! another gauge does to the need. Pure.

mod ceiling;
mod cost;
mod cover;
mod estimate;
mod finished_size;
mod gauge_change;
mod purchase;

pub use cost::cost;
pub use cover::{Cover, Shelf, cover};
pub use estimate::{Estimate, estimates};
pub use finished_size::{FinishedSize, finished_size};
pub use gauge_change::Keep;
pub use purchase::{Purchase, QuantityError, purchase, strand_need};
