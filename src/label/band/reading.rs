//! What reading a band gives.

use crate::{
    label::reading::{NotRead, Note},
    measure::{Interval, Length, Mass},
    record::{Fit, Purpose, YarnFacts},
    trade::Gtin,
};

/// What a ball band, a materials line or a typed sentence says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BandReading {
    /// What it says of the yarn; each value beside the words it was read from.
    pub facts: YarnFacts,
    /// How much of it there is, or is needed.
    pub amount: Option<Amount>,
    /// Wraps per inch, where stated; a weak clue to the class.
    pub wraps_per_inch: Option<Interval<f64>>,
    /// Strands to hold together, where stated.
    pub strands_held: Option<u8>,
    /// Article number.
    pub gtin: Option<Gtin>,
    /// Shade, as printed.
    pub shade: Option<String>,
    /// Dye lot, as printed.
    pub lot: Option<String>,
    /// What the thing is for, where stated.
    pub purpose: Option<Purpose>,
    /// How close it sits, where stated.
    pub fit: Option<Fit>,
    /// What to know about what was read, in the order of the text.
    pub warnings: Vec<Note>,
    /// What to know of a length that is all that is said of a skein: it may be what
    /// a pattern takes.
    pub lone_length: Option<Note>,
    /// What was not understood or not taken, in the order of the text.
    pub not_read: Vec<NotRead>,
}

/// An amount, for one size or for several in the order of the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// The bytes it was read from, as text.
    pub text: String,
    /// One part a size; never empty.
    pub parts: Vec<AmountPart>,
    /// Loose grams beside counted skeins: `1 full + 60 g`.
    pub plus: Option<Mass>,
    /// Said to be about so much.
    pub about: bool,
    /// Colours or keys that the amount is for each: `1 ball each in A, B`.
    pub each_of: Vec<String>,
}

/// The amount of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct AmountPart {
    /// The size, where named.
    pub size: Option<String>,
    /// How much.
    pub quantity: Quantity,
}

/// Skeins, a length or a mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// So many skeins.
    Skeins(Interval<f64>),
    /// So much length.
    Length(Interval<Length>),
    /// So much mass.
    Mass(Interval<Mass>),
}
