//! Quantities: one type per dimension, canonical inside, exact factors.
//!
//! A quantity is finite and in its stated range by construction. What is not
//! known is `Option`, never zero. Text is read by `label` with the one unit
//! table in [`units`]. Fibre names, classes and needle numbers are tables of
//! the trade and live in `trade`.

mod count;
mod gauge;
mod grist;
mod interval;
mod quantity;

pub mod units;

pub use count::YarnCount;
pub use gauge::{Gauge, Over};
pub use grist::Grist;
pub use grist::GristTolerance;
pub use interval::Interval;
pub use quantity::{Length, Mass, MeasureError, NeedleSize, Ratio};
pub use units::Money;
