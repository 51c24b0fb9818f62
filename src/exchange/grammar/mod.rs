//! One grammar for each kind of thing that is said about a yarn.
//!
//! Each recognises its kind at the place where the stream stands and settles
//! it; cells ask for the whole text to be one, a band takes them as they come.

pub mod amount;
pub mod class;
pub mod fibre_phrase;
pub mod fibres;
pub mod gauge;
pub mod grist;
pub mod needles;
pub mod numbers;
pub mod price;
pub mod words;
