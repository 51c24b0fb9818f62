//! Everything that reads human text: numbers, quantities, gauges, needles,
//! fibres, amounts, cells, whole bands and materials lines. Files leave their
//! texts to this room; what is read leaves it as records and measures.

pub mod band;
pub mod cells;
pub mod grammar;
pub(crate) mod plain;
pub mod reading;
