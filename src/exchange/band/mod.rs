//! Everything that a ball band or a materials line says, in any order.

mod reading;

pub use reading::{Amount, AmountPart, BandReading, Quantity, read_band};
