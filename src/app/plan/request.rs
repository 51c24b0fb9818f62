//! What `plan` is asked.

use crate::app::QuestionRequest;
use clap::{Args, builder::PossibleValue};

/// The part of the form for what only few need.
const STRICTNESS: &str = "How strictly, and other settings";

/// What can you make from your stash, and what is there to buy?
#[derive(Debug, Clone, Default, Args)]
pub struct PlanRequest {
    /// Patterns, the one that matters most first
    ///
    /// Each with its size, as in: Skerrablet:M. Without any: your projects.
    #[arg(value_name = "PATTERN[:SIZE]")]
    pub projects: Vec<String>,
    /// Where the yarn comes from
    #[arg(long, value_parser = sources(), default_value = "stash", help_heading = None::<&str>)]
    pub from: Option<String>,
    /// Fibres to avoid
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre is left out too.
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub without: Vec<String>,
    /// Only these fibres
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub only: Vec<String>,
    /// How far metres per 100 g may differ
    ///
    /// As in: 8%, or 15 m/100 g. If empty: the pattern's limit, or 8 %.
    #[arg(long, value_name = "TOLERANCE", help_heading = STRICTNESS)]
    pub tolerance: Option<String>,
    /// Spare yarn
    ///
    /// As in: 10%. If empty: 10 %, or none if the pattern includes some.
    #[arg(long, value_name = "SHARE", help_heading = STRICTNESS)]
    pub margin: Option<String>,
    /// Count reserved yarn too
    #[arg(long, help_heading = STRICTNESS)]
    pub with_reserved: bool,
}

fn sources() -> [PossibleValue; 2] {
    [
        PossibleValue::new("stash").help("Your stash first"),
        PossibleValue::new("catalogue").help("A shop: everything is bought"),
    ]
}

impl PlanRequest {
    /// What a kept project asks, with what is asked of all.
    pub(super) fn beside(&self, own: QuestionRequest) -> QuestionRequest {
        let mut asked = QuestionRequest {
            tolerance: self.tolerance.clone(),
            margin: self.margin.clone(),
            with_reserved: self.with_reserved,
            ..own
        };
        asked.without.extend(self.without.iter().cloned());
        if !self.only.is_empty() {
            asked.only.clone_from(&self.only);
        }
        asked
    }

    /// The same asked of one pattern in one size.
    pub(super) fn of_pattern(&self, pattern: &str, size: Option<&str>) -> QuestionRequest {
        QuestionRequest {
            pattern: Some(pattern.to_owned()),
            size: size.map(str::to_owned),
            without: self.without.clone(),
            only: self.only.clone(),
            tolerance: self.tolerance.clone(),
            margin: self.margin.clone(),
            with_reserved: self.with_reserved,
            ..QuestionRequest::default()
        }
    }
}
