//! Words for people: plurals, lists, numbers, near names, safe text.
//! Knows nothing about yarn.

mod list;
mod near;
mod number;
mod plural;
mod safe;

pub use list::{and_list, or_list};
pub use near::{WORTH_ASKING, did_you_mean, fold, likeness};
pub use number::{number, signed, unmistakable};
pub use plural::{count_of, plural};
pub use safe::{moves_terminal, safe};
