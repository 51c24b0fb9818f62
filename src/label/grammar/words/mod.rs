//! Words that mean one thing: washing, construction, purpose, fit, strands.

mod care;
mod construction;
mod numbers;
mod purpose;
mod strands;

pub use care::care;
pub use construction::construction;
pub use numbers::{number_word, small_number};
pub use purpose::{fit, purpose, purpose_alone};
pub use strands::{strands_held, wraps};
