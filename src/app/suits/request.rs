//! What is asked the other way round: of a yarn, about all patterns.

use crate::app::{QuestionRequest, WishesRequest};
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
    /// Fibres to avoid
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre is left out too.
    #[arg(long, value_name = "FIBRES")]
    pub without: Vec<String>,
    /// Only these fibres
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES")]
    pub only: Vec<String>,
    /// What else is wished for.
    #[command(flatten)]
    pub wishes: WishesRequest,
    /// How strictly, and how much to spare.
    #[command(flatten)]
    pub terms: TermsRequest,
}

/// How strictly, and how much to spare, the same for every pattern.
#[derive(Debug, Clone, Default, Args)]
pub struct TermsRequest {
    /// How far metres per 100 g may differ
    ///
    /// As in: 8%, or 15 m/100 g. If empty: the limit of each pattern, or 8 %.
    #[arg(long, value_name = "TOLERANCE")]
    pub tolerance: Option<String>,
    /// Spare yarn
    ///
    /// As in: 10%. If empty: 10 %, or none if a pattern includes some.
    #[arg(long, value_name = "SHARE")]
    pub margin: Option<String>,
    /// Count reserved yarn too
    #[arg(long)]
    pub with_reserved: bool,
}

impl TermsRequest {
    /// The question about one pattern.
    pub(super) fn question(&self) -> QuestionRequest {
        QuestionRequest {
            tolerance: self.tolerance.clone(),
            margin: self.margin.clone(),
            with_reserved: self.with_reserved,
            ..QuestionRequest::default()
        }
    }
}
