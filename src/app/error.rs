//! Why something asked was refused or failed.

use crate::{
    measure::{MeasureError, reading::ReadError},
    quantity::QuantityError,
    record::RecordError,
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
    /// Arguments that lack something or do not go together.
    #[error("{0}")]
    Usage(String),
    /// An answer that is not possible.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// A record that is not valid.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// A quantity that is not possible.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}

impl AppError {
    /// Whether what was typed is at fault, rather than what was found.
    pub fn is_usage(&self) -> bool {
        matches!(self, Self::Reading { .. } | Self::Usage(_))
    }
}
