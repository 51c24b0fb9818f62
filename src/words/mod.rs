//! Words for people: plurals, lists, numbers, names with typing errors, safe text.
//! Knows nothing about yarn.

mod names;
mod phrase;
mod table;

pub use names::{TYPING_ERROR_LIKENESS, did_you_mean, fold, likeness, lower_name, names_hint};
pub use phrase::{
    and_list, capitalized, count_of, count_of_items, joined, moves_terminal, number, or_list,
    plural, safe, shortened, signed, uncapitalized, unmistakable, with_units_held,
};
pub(crate) use table::{Words, by_word, firsts, sorted, words};
