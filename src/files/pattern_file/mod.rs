//! A pattern as one TOML file, in and out.
//!
//! ```toml
//! pattern = "Saltglaze"
//! purpose = "garment"
//! fit = "fitted"
//! gauge = "22 sts x 30 rows / 10 cm"
//! multiple = "4 + 2"
//!
//! [[size]]
//! name = "M"
//! width = "98 cm"
//! cast_on = 216
//!
//! [[yarn]]
//! key = "A"
//! put_up = "125 m / 50 g"
//! fibre = "100% wool"
//! needs = "10 skeins"
//! ```
//!
//! Values are text as people write it; [`crate::label::cells`] reads it.
//! `needs` holds one text a size, or one for all of them in the order of the
//! sizes, as patterns print it; a single amount counts for every size. A file
//! is read whole or refused with all that is wrong with it. What is written
//! reads back to the same pattern; comments in a file are not kept.

mod gauge;
mod needs;
mod read;
mod write;

pub use read::{PatternReading, read_pattern, read_typed_pattern};
pub use write::write_pattern;
