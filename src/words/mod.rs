//! Words for people: plurals, lists, numbers, near names, safe text.
//! Knows nothing about yarn.

mod near;
mod phrase;
mod safe;

pub use near::{WORTH_ASKING, did_you_mean, fold, likeness, names_hint};
pub use phrase::{
    and_list, count_of, count_of_items, number, or_list, plural, signed, unmistakable,
};
pub use safe::{moves_terminal, safe};
