//! Quantities: one type per dimension, canonical inside, exact factors.
//!
//! A quantity is finite and in its stated range by construction. What is not
//! known is `Option`, never zero. Text is read by [`reading`] with the one unit
//! table in [`units`]. Fibre names, classes and needle numbers are tables of
//! the trade and live in `trade`.

mod count;
mod currency;
mod error;
mod gauge;
mod grist;
mod interval;
mod length;
mod mass;
mod needle;
mod quantity;
mod ratio;
mod tolerance;

pub mod units;

pub use count::YarnCount;
pub use currency::Money;
pub use error::MeasureError;
pub use gauge::{Gauge, Over};
pub use grist::Grist;
pub use interval::Interval;
pub use length::Length;
pub use mass::Mass;
pub use needle::NeedleSize;
pub use ratio::Ratio;
pub use tolerance::GristTolerance;
