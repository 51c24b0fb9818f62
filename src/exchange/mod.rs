//! In and out: text of a ball band, cells, CSV files, pattern files, atomic
//! writing. Knows records and how they are written down; no SQL.

pub mod band;
pub mod cells;
mod grammar;
