//! Why something asked was refused or failed.

use super::{BadRows, Fault, NeedsError};
use crate::{
    files::{FileError, layout::Question},
    measure::MeasureError,
    planning::PlanError,
    quantity::QuantityError,
    record::{Name, RecordError},
    store::{KeptChange, StoreError},
    trade::GtinError,
    words::{and_list, names_hint, or_list, shortened},
};
use std::{io, path::PathBuf};

/// So many characters of a name that is not known are shown.
const SHOWN: usize = 100;

/// Why something asked was refused or failed.
#[derive(Debug, thiserror::Error)]
pub enum AppError {
    /// Everything that is wrong with a request. What a field is called depends on
    /// where it is shown: `report` says these.
    #[error("{}", named(.0))]
    Faults(Vec<Fault>),
    /// There are no records to look in.
    #[error("there are no records yet: import yarns first")]
    NoRecords,
    /// Nothing says where the records are.
    #[error("your home folder is not known")]
    NoHome,
    /// The file that keeps the passcode fails.
    #[error("the passcode in {} cannot be {doing}: {source}; check the permissions of its folder", path.display())]
    Passcode {
        /// The file.
        path: PathBuf,
        /// What is done with it: `read` or `written`.
        doing: &'static str,
        /// What is wrong.
        source: io::Error,
    },
    /// The file that keeps the passcode holds something else.
    #[error("the passcode in {} is damaged, so nobody can log in: set it again with `understudy serve --set-passcode`", .0.display())]
    PasscodeDamaged(PathBuf),
    /// Other machines are to come in, and nothing says with what.
    #[error(
        "other machines need a passcode, and none is set for these records: run `understudy serve --set-passcode` first"
    )]
    NoPasscode,
    /// A pattern file that differs from the pattern of its name.
    #[error("you already have a pattern {0}, and it differs from the file")]
    PatternDiffers(Name),
    /// A table of others that does not say all: `report` says what to answer.
    #[error("this table leaves open what must be said before it is imported")]
    TableAsks(Vec<Question>),
    /// A name that is not known.
    #[error(
        "there is no {what} `{}`{}",
        shortened(name, SHOWN),
        names_hint(near, all)
    )]
    Unknown {
        /// What was looked for.
        what: &'static str,
        /// The name that was given.
        name: String,
        /// Names that are nearly the same.
        near: Vec<String>,
        /// All names, where there are few enough to list.
        all: Vec<String>,
    },
    /// A name that several records share.
    #[error("{what} `{name}` may be {}: write more of the name", or_list(which))]
    Several {
        /// What was looked for.
        what: &'static str,
        /// The name that was given.
        name: String,
        /// Which it may be.
        which: Vec<String>,
    },
    /// A plan that is no longer the one that was seen.
    #[error(
        "your stash or your projects changed since this plan was made, so nothing was reserved: look at the new plan and reserve that"
    )]
    PlanChanged,
    /// A lot of which less is left than a plan takes; its title.
    #[error("someone used or reserved some of {0} meanwhile, so nothing was reserved: plan again")]
    LotTaken(String),
    /// A yarn that was to be merged with itself; its title.
    #[error("both names mean {0}: name two yarns")]
    SameYarn(String),
    /// Two yarns that are to be one have a lot of the same shade, dye lot and place.
    #[error(
        "lots {} and {} would both be {title} in the same place, so nothing was merged: change the place or the dye lot of one first, with `understudy stock edit {} --place PLACE`",
        numbers[0], numbers[1], numbers[0]
    )]
    LotInBoth {
        /// What people call the lot.
        title: String,
        /// Both lots.
        numbers: [i64; 2],
    },
    /// A yarn of which there is no such lot.
    #[error("there is no such lot of {0} in your stash: add it with `stock buy`")]
    NoSuchLot(String),
    /// A yarn of which there are several lots.
    #[error(
        "there are several lots of {yarn}: give the number of the one you mean, or --shade, --lot or --place: {}",
        or_list(lots)
    )]
    WhichLot {
        /// The yarn.
        yarn: String,
        /// Its lots.
        lots: Vec<String>,
    },
    /// Nothing is reserved for this.
    #[error("nothing is reserved for `{0}`")]
    NothingReserved(String),
    /// No amount in a line of a count.
    #[error("`{0}` is no amount: write as in `6`, `2 balls` or `2 + 60 g`")]
    NotCounted(String),
    /// No change can be taken back.
    #[error("there is nothing to undo")]
    NothingToUndo,
    /// Later changes depend on one that was to be taken back: `report` names them.
    #[error("a later change depends on this one")]
    UndoFirst(Vec<KeptChange>),
    /// Rows that keep a whole file out.
    #[error("{}: {} rows with faults", .0.file(), .0.rows())]
    BadRows(BadRows),
    /// An article number that cannot be one.
    #[error(transparent)]
    Gtin(#[from] GtinError),
    /// The records cannot be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A file cannot be read or written.
    #[error(transparent)]
    Exchange(#[from] FileError),
    /// An answer that is not possible.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// A record that is not valid.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// Samples and pieces that give no needs.
    #[error(transparent)]
    Needs(#[from] NeedsError),
    /// A plan that was not found.
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// A quantity that is not possible.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}

fn named(faults: &[Fault]) -> String {
    let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
    and_list(&fields)
}

impl AppError {
    /// Whether someone else changed the record after it was read.
    pub fn is_clash(&self) -> bool {
        matches!(
            self,
            Self::UndoFirst(_)
                | Self::PlanChanged
                | Self::LotTaken(_)
                | Self::Store(StoreError::ChangedMeanwhile { .. } | StoreError::UndoneBefore(_))
        )
    }

    /// The text that names no yarn, or more than one.
    pub fn yarn_in_doubt(&self) -> Option<&str> {
        let (Self::Unknown { what, name, .. } | Self::Several { what, name, .. }) = self else {
            return None;
        };
        (*what == "yarn").then_some(name)
    }

    /// Whether the record that was asked for is not there.
    pub fn is_gone(&self) -> bool {
        matches!(self, Self::Store(StoreError::Gone { .. }))
    }

    /// Whether another program held the records too long.
    pub fn is_busy(&self) -> bool {
        matches!(self, Self::Store(StoreError::Locked { .. }))
    }

    /// Whether the machine failed rather than what was asked.
    pub fn is_failure(&self) -> bool {
        matches!(
            self,
            Self::Store(
                StoreError::ReadOnly { .. }
                    | StoreError::Corrupt { .. }
                    | StoreError::Damaged { .. }
                    | StoreError::Full { .. }
                    | StoreError::File { .. }
                    | StoreError::Sqlite { .. }
            )
        )
    }

    /// Why something typed makes no valid record, where that is what was refused.
    pub fn of_record(&self) -> Option<&RecordError> {
        match self {
            Self::Record(error) | Self::Store(StoreError::Record(error)) => Some(error),
            _ => None,
        }
    }

    /// Whether what was typed is at fault, rather than what was found.
    pub fn is_usage(&self) -> bool {
        matches!(
            self,
            Self::Faults(_)
                | Self::NoRecords
                | Self::NoHome
                | Self::NoPasscode
                | Self::Gtin(_)
                | Self::Record(
                    RecordError::NothingCounted
                        | RecordError::OverNoLength { .. }
                        | RecordError::WashedOtherwise { .. }
                        | RecordError::StatedAfterOnly
                        | RecordError::TooManyHeld { .. }
                        | RecordError::StrandsOtherwise { .. }
                )
        )
    }
}
