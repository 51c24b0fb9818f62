//! One grammar for each kind of thing that is said about a yarn.
//!
//! Each recognises its kind at the place where the stream stands and settles
//! it; cells ask for the whole text to be one, a band takes them as they come.

pub mod amount;
pub mod amount_forms;
mod amount_keys;
pub mod class;
mod fibre_doubt;
pub mod fibre_phrase;
mod fibre_qualities;
pub mod fibres;
pub mod gauge;
mod gauge_words;
pub mod grist;
mod needle_meanings;
mod needle_sizes;
pub mod needles;
pub mod numbers;
pub mod price;
mod size_names;
mod sized;
pub mod unit_first;
pub mod words;
