//! Why something is no valid record.

use super::StockAmount;
use crate::measure::MeasureError;

/// Why something is no valid record.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RecordError {
    /// A name without a visible character, or longer than is kept.
    #[error("{what} has {given} characters: write 1 to {most}")]
    NameLength {
        /// What is named.
        what: &'static str,
        /// How many characters were given.
        given: usize,
        /// How many there are.
        most: usize,
    },
    /// Shares of a blend that do not make a whole.
    #[error(
        "the shares of the fibres add up to {0} %: correct them so that they add up to 100 %, give or take 3"
    )]
    Shares(String),
    /// A blend without a fibre, or a share that is not above 0 %.
    #[error("name at least one fibre, each with a share above 0 %")]
    EmptyBlend,
    /// A pattern whose needs do not follow its sizes.
    #[error(
        "yarn {key} has {} for {}: write one amount for each size, in the same order",
        crate::words::count_of_items(*.given, "amount"),
        crate::words::count_of_items(*.sizes, "size")
    )]
    NeedsPerSize {
        /// Key of the pattern yarn.
        key: String,
        /// Number of needs given.
        given: usize,
        /// Number of sizes of the pattern.
        sizes: usize,
    },
    /// A yarn of a pattern that is held together with one that is not before it.
    #[error(
        "yarn {key} is held together with {with}, which is no yarn before it: name one that is{}",
        .first.as_ref().map_or_else(String::new, |first| format!(", such as {first}"))
    )]
    HeldWith {
        /// Key of the pattern yarn.
        key: String,
        /// What it names.
        with: String,
        /// Key of a yarn that it could name.
        first: Option<String>,
    },
    /// Two things of one list share a name.
    #[error("{what} `{name}` is there twice: give each its own name")]
    Twice {
        /// What is named.
        what: &'static str,
        /// The shared name.
        name: String,
    },
    /// Something that needs at least one part has none.
    #[error("{whole} has no {part}: give at least one")]
    Without {
        /// What was to be made.
        whole: &'static str,
        /// What it lacks.
        part: &'static str,
    },
    /// More taken from a lot than it holds.
    #[error(
        "{asked} is more than you have in this lot ({held}): weigh what is left and record that"
    )]
    MoreThanHeld {
        /// What was to be taken.
        asked: String,
        /// What the ledger says is there.
        held: String,
    },
    /// More reserved of a lot than is left of it and not reserved yet.
    #[error(
        "{asked} is more than you can still reserve ({free} free, {reserved} reserved already): reserve less, or release some first"
    )]
    MoreThanFree {
        /// What was to be reserved.
        asked: StockAmount,
        /// What is left and not reserved.
        free: StockAmount,
        /// What is reserved.
        reserved: StockAmount,
    },
    /// More used of a lot than is left and not reserved.
    #[error(
        "{asked} is more than is free to use ({free} free, {reserved} reserved): release what you want to use first, then record it as used"
    )]
    UsesReserved {
        /// What was to be used.
        asked: StockAmount,
        /// What is left and not reserved.
        free: StockAmount,
        /// What is reserved.
        reserved: StockAmount,
    },
    /// More released of a lot than is reserved.
    #[error("{asked} is more than is reserved ({reserved}): release at most that")]
    MoreThanReserved {
        /// What was to be released.
        asked: StockAmount,
        /// What is reserved.
        reserved: StockAmount,
    },
    /// Skeins and grams that cannot be compared.
    #[error(
        "balls and grams of this lot cannot be compared: the weight of one ball is not known; weigh a full one first"
    )]
    NoSkeinMass,
    /// A swatch of which nothing was counted.
    #[error("a swatch needs the gauge before washing, after it, or both")]
    NothingCounted,
    /// A swatch whose counts could be over any length.
    #[error("the gauge {when} washing does not say over what length: add `/ 10 cm` or `/ 4 in`")]
    OverNoLength {
        /// `before` or `after`.
        when: &'static str,
    },
    /// A gauge in the place of the other one.
    #[error(
        "the gauge {when} washing says that it was counted {other} washing: write it as the other one"
    )]
    WashedOtherwise {
        /// `before` or `after`.
        when: &'static str,
        /// The other of them.
        other: &'static str,
    },
    /// Stitch, flat or round, or strands that only the washed counts state.
    #[error(
        "stitch, flat or round, and strands count for both gauges: write them with the gauge before washing"
    )]
    StatedAfterOnly,
    /// A swatch of more yarns than are held together.
    #[error("{given} yarns are held together: write at most {most}")]
    TooManyHeld {
        /// How many strands were given.
        given: usize,
        /// How many may be.
        most: usize,
    },
    /// A swatch of several yarns whose gauge says another number of strands.
    #[error(
        "the gauge says {stated} strands, and {yarns} yarns are held together: name a yarn once for each of its strands, or leave out the strands"
    )]
    StrandsOtherwise {
        /// What the gauge says.
        stated: u8,
        /// How many yarns were named.
        yarns: usize,
    },
    /// An amount of stock that is no amount.
    #[error("{0} is out of range: write at most 1000000 skeins or 1000 kg, and nothing below 0")]
    Amount(String),
    /// A quantity that is not possible.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}
