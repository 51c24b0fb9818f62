//! Quantities: one type per dimension, canonical inside, exact factors.
//!
//! A quantity is finite and in its stated range by construction. What is not
//! known is `Option`, never zero. Text is read by `label` with the one unit
//! table in [`units`]. Fibre names, classes and needle numbers are tables of
//! the trade and live in `trade`.

mod count;
mod currency;
mod gauge;
mod grist;
mod interval;
mod length;
mod mass;
mod quantity;

pub mod units;

pub use count::YarnCount;
pub use currency::Money;
pub use gauge::{Gauge, Over};
pub use grist::Grist;
pub use grist::GristTolerance;
pub use interval::Interval;
pub use length::Length;
pub use mass::Mass;
pub use quantity::MeasureError;
pub use quantity::NeedleSize;
pub use quantity::Ratio;
