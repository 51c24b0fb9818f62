//! What `stripes` is asked.

use crate::app::{
    FibresRequest, PatternRequest, QuestionRequest, StashRequest, TermsRequest, WishesRequest,
    question::STRICTNESS,
};
use clap::Args;

/// Several leftovers in one piece: are they enough, and does each of them work?
#[derive(Debug, Clone, Default, Args)]
pub struct StripesRequest {
    /// Yarns of your stash
    ///
    /// Their names, with a shade if only that is meant, as in: Hathrel DK:tide. Several with ; between. If empty: all that should or could work.
    #[arg(value_name = "YARN[:SHADE]")]
    pub yarns: Vec<String>,
    /// Which pattern, and what of it.
    #[command(flatten)]
    pub of: PatternRequest,
    /// Fibres to avoid or to keep to.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub fibres: FibresRequest,
    /// Which of your stash.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub stash: StashRequest,
    /// How far it may differ, and how much to spare.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub terms: TermsRequest,
}

impl StripesRequest {
    /// What is asked of each yarn.
    pub(super) fn question(&self) -> QuestionRequest {
        QuestionRequest {
            of: self.of.clone(),
            terms: self.terms.clone(),
            fibres: self.fibres.clone(),
            wishes: WishesRequest {
                stash: self.stash.clone(),
                ..WishesRequest::default()
            },
            ..QuestionRequest::default()
        }
    }

    /// The yarns by name, each once.
    pub(super) fn names(&self) -> Vec<&str> {
        let texts = self.yarns.iter().flat_map(|text| text.split([';', '\n']));
        let mut names: Vec<&str> = Vec::new();
        for name in texts.map(str::trim).filter(|name| !name.is_empty()) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }
}
