//! One cell, field or argument at a time: the whole text must be one value.
//!
//! CSV columns, pattern files, command-line arguments and forms all read here.
//! Printing any of these values and reading it back gives the same value.

mod count;
mod day;
mod length;
mod making;
mod mass;
mod needs;
mod pattern;
mod price;
mod put_up;
mod stock;
mod tools;
mod whole;
pub mod written;
mod yarn;

pub use count::{count, grist, percent, tolerance};
pub use day::day;
pub use length::length;
pub use making::{Step, degrees, plain_number, row_counts, step, times};
pub use mass::mass;
pub use needs::needs;
pub use pattern::{fit, multiple, purpose, yes_no};
pub use price::price;
pub use put_up::put_up;
pub use stock::{stock_amount, weighed};
pub use tools::{gauge, needle, needles};
pub use whole::Cell;
pub use yarn::{blend, care, class, construction};
