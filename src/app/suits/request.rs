//! What is asked the other way round: of a yarn, about all patterns.

use crate::app::{FibresRequest, QuestionRequest, StashRequest, TermsRequest, WishesRequest};
use clap::Args;

/// Which of your patterns, and which sizes, would this yarn work for?
#[derive(Debug, Clone, Default, Args)]
pub struct SuitsRequest {
    /// The yarn
    ///
    /// Its name, the digits under its barcode, or what its label says
    #[arg(value_name = "YARN", allow_hyphen_values = true, required = true)]
    pub yarn: Option<String>,
    /// The most it may cost
    ///
    /// All balls for one pattern, as in: 40 EUR. Sizes that cost more are left out.
    #[arg(long, value_name = "MONEY")]
    pub max_cost: Option<String>,
    /// Only sizes that your stash has enough for
    ///
    /// Of one shade.
    #[arg(long)]
    pub enough: bool,
    /// Only sizes that one dye lot in your stash is enough for
    #[arg(long)]
    pub one_lot: bool,
    /// Which of your stash.
    #[command(flatten)]
    pub stash: StashRequest,
    /// Fibres to avoid or to keep to.
    #[command(flatten)]
    pub fibres: FibresRequest,
    /// How strictly, and how much to spare.
    #[command(flatten)]
    pub terms: TermsRequest,
}

impl SuitsRequest {
    /// What is asked about each pattern.
    pub(super) fn question(&self) -> QuestionRequest {
        QuestionRequest {
            terms: self.terms.clone(),
            fibres: self.fibres.clone(),
            wishes: WishesRequest {
                max_cost: self.max_cost.clone(),
                enough: self.enough,
                one_lot: self.one_lot,
                stash: self.stash.clone(),
            },
            ..QuestionRequest::default()
        }
    }
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
