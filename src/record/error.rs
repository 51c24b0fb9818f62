//! Why something is no valid record.

use super::StockAmount;
use crate::measure::MeasureError;

/// Why something is no valid record.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RecordError {
    /// A name without a visible character, or longer than is kept.
    #[error("{what} has {given} characters: give 1 to {most}")]
    NameLength {
        /// What is named.
        what: &'static str,
        /// How many characters were given.
        given: usize,
        /// How many are kept.
        most: usize,
    },
    /// Shares of a blend that do not make a whole.
    #[error(
        "the shares of the blend sum to {0} %: they must sum to 100 %, or lie within 3 points of it; correct the shares"
    )]
    Shares(String),
    /// A blend without a fibre, or a share that is not above 0 %.
    #[error("a blend needs at least one fibre, each with a share above 0 %")]
    EmptyBlend,
    /// A pattern whose needs do not follow its sizes.
    #[error(
        "yarn {key} has {given} needs for {sizes} sizes: give one for each size, in the order of the sizes"
    )]
    NeedsPerSize {
        /// Key of the pattern yarn.
        key: String,
        /// Number of needs given.
        given: usize,
        /// Number of sizes of the pattern.
        sizes: usize,
    },
    /// Two things of one list share a name.
    #[error("{what} `{name}` stands twice: give each its own name")]
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
    #[error("{asked} is more than the lot holds ({held}): weigh what is left and enter that")]
    MoreThanHeld {
        /// What was to be taken.
        asked: String,
        /// What the ledger says is there.
        held: String,
    },
    /// More reserved of a lot than is left of it and not reserved yet.
    #[error(
        "{asked} is more than can still be reserved ({free} free, {reserved} reserved already): reserve less, or release some first"
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
        "{asked} is more than is free to use ({free} free, {reserved} reserved): release what you mean to use first, then enter it as used"
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
        "skeins and grams of this lot cannot be compared: its skein has no known mass; weigh one full skein first"
    )]
    NoSkeinMass,
    /// A swatch of which nothing was counted.
    #[error("a swatch needs the gauge before washing, after it, or both")]
    NothingCounted,
    /// A swatch whose counts could be over any length.
    #[error("the gauge {when} washing says no length: add `/ 10 cm` or `/ 4 in`")]
    OverNoLength {
        /// `before` or `after`.
        when: &'static str,
    },
    /// A gauge in the place of the other one.
    #[error(
        "the gauge {when} washing says that it was counted {other} it: give it as the other one"
    )]
    WashedOtherwise {
        /// `before` or `after`.
        when: &'static str,
        /// The other of them.
        other: &'static str,
    },
    /// Stitch, flat or round, or strands that only the washed counts state.
    #[error(
        "the gauge after washing states what the gauge before washing does not: state stitch, flat or round, and strands with the gauge before washing, where they hold for both"
    )]
    StatedAfterOnly,
    /// An amount of stock that is no amount.
    #[error("an amount of stock is not negative and holds at most 1000000 skeins or 1000 kg: {0}")]
    Amount(String),
    /// A quantity that is not possible.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}
