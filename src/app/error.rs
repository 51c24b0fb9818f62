//! Why something asked was refused or failed.

use super::{BadRows, Fault, NeedsError, fields::FieldFaults};
use crate::{
    files::FileError,
    label::reading::ReadError,
    measure::MeasureError,
    quantity::QuantityError,
    record::RecordError,
    store::StoreError,
    trade::GtinError,
    words::{and_list, or_list},
};

/// Why something asked was refused or failed.
#[derive(Debug, thiserror::Error)]
pub enum AppError {
    /// A typed value that is not read.
    #[error("{what}: {source}")]
    Reading {
        /// Which argument or field.
        what: String,
        /// What is wrong with it.
        source: ReadError,
    },
    /// Everything that is wrong with a request. What a field is called depends on
    /// where it is shown: `report` says these.
    #[error("{}", named(.0))]
    Faults(Vec<Fault>),
    /// Arguments that lack something or do not go together.
    #[error("{0}")]
    Usage(String),
    /// A name that is not known.
    #[error("there is no {what} `{name}`{}", hint(near, all))]
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
    /// Rows that keep a whole file out.
    #[error("{0}")]
    BadRows(BadRows),
    /// Fields of a form that are not read.
    #[error("{0}")]
    Fields(FieldFaults),
    /// An article number that cannot be one.
    #[error(transparent)]
    Gtin(#[from] GtinError),
    /// Something that is not done unless it is confirmed.
    #[error("{0}")]
    Refused(String),
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
    /// A quantity that is not possible.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}

fn named(faults: &[Fault]) -> String {
    let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
    and_list(&fields)
}

/// What to do about a name that is not known.
fn hint(near: &[String], all: &[String]) -> String {
    match (near, all) {
        ([], []) => ": list what is kept to see the names".to_owned(),
        ([], all) => format!(": there are {}", and_list(all)),
        (near, _) => format!("; did you mean {}?", or_list(near)),
    }
}

impl AppError {
    /// Whether someone else changed the record after it was read.
    pub fn is_clash(&self) -> bool {
        matches!(self, Self::Store(StoreError::ChangedMeanwhile { .. }))
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
            Self::Reading { .. }
                | Self::Faults(_)
                | Self::Usage(_)
                | Self::Fields(_)
                | Self::Gtin(_)
                | Self::Record(
                    RecordError::NothingCounted
                        | RecordError::OverNoLength { .. }
                        | RecordError::WashedOtherwise { .. }
                        | RecordError::StatedAfterOnly
                )
        )
    }
}
