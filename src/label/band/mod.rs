//! Everything that a ball band or a materials line says, in any order.

mod assemble;
mod denied;
mod labels;
mod material;
mod pairs;
mod quantities;
mod reading;
mod scan;
mod strokes;

pub use assemble::read_band;
pub use reading::{Amount, AmountPart, BandReading, Quantity};
