//! Published tables of the trade, one file each, every one with its source.
//! Knows no user's record.

mod class_names;
mod construction;
mod fibre_words;
mod fibres;
mod gtin;
mod needles;
mod weight_class;

pub use class_names::{CLASS_NAMES, PLY_NAMES, class_of_name, class_of_ply};
pub use construction::Construction;
pub use fibre_words::{FIBRE_CODES, FIBRE_WORDS, SHARED_CODES, fibre_of_code, fibre_of_word};
pub use fibres::{Basis, FIBRES, Family, Fibre, Figure, fibre};
pub use gtin::{Gtin, GtinError};
pub use needles::{
    HOOK_LETTERS, NEEDLES, NeedleRow, NeedleSystem, hook_size, is_needle_size, needle_sizes,
};
pub use weight_class::WeightClass;
