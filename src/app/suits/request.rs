//! What is asked the other way round: of a yarn, about all patterns.

use crate::app::{FibresRequest, TermsRequest, WishesRequest};
use clap::Args;

/// Which of your patterns, and which sizes, would this yarn work for?
#[derive(Debug, Clone, Default, Args)]
pub struct SuitsRequest {
    /// The yarn
    ///
    /// Its name, the digits under its barcode, or what its label says
    #[arg(value_name = "YARN", allow_hyphen_values = true, required = true)]
    pub yarn: Option<String>,
    /// How strictly, and how much to spare.
    #[command(flatten)]
    pub terms: TermsRequest,
}

/// What could replace this yarn in every pattern that calls for it?
#[derive(Debug, Clone, Default, Args)]
pub struct ReplaceRequest {
    /// The yarn
    ///
    /// Its name, as your yarns or your patterns have it
    #[arg(value_name = "YARN", required = true)]
    pub yarn: Option<String>,
    /// How many of the best to show for each pattern
    ///
    /// From your stash, and as many more of your yarns. If empty: 3
    #[arg(long, value_name = "N", default_value = "3")]
    pub top: Option<String>,
    /// Fibres to avoid or to keep to.
    #[command(flatten)]
    pub fibres: FibresRequest,
    /// What else is wished for.
    #[command(flatten)]
    pub wishes: WishesRequest,
    /// How strictly, and how much to spare.
    #[command(flatten)]
    pub terms: TermsRequest,
}
