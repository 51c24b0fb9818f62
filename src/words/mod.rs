//! Words for people: plurals, lists, numbers, names with typing errors, safe text.
//! Knows nothing about yarn.

mod did_you_mean;
mod first_letter;
mod fold;
mod phrase;
mod safe;

pub use did_you_mean::{TYPING_ERROR_LIKENESS, did_you_mean, likeness, names_hint};
pub use first_letter::{capitalized, uncapitalized};
pub use fold::{fold, lower_name};
pub use phrase::{
    and_list, count_of, count_of_items, joined, number, or_list, plural, signed, unmistakable,
};
pub use safe::{moves_terminal, safe};
