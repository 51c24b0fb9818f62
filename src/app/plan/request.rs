//! What `plan` is asked.

use crate::app::{
    FibresRequest, PatternRequest, ProjectWishesRequest, QuestionRequest, StashRequest,
    TermsRequest, WishesRequest, question::STRICTNESS,
};
use clap::{Args, builder::PossibleValue};

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
    /// Fibres to avoid or to keep to.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub fibres: FibresRequest,
    /// How it will be washed
    ///
    /// One of: machine wash, hand wash, dry clean. If empty: as each pattern says.
    #[arg(long, value_name = "CARE", help_heading = STRICTNESS)]
    pub care: Option<String>,
    /// What else is wished for.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub wishes: ProjectWishesRequest,
    /// How far it may differ, and how much to spare.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub terms: TermsRequest,
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
            terms: self.terms.clone(),
            ..own
        };
        asked
            .fibres
            .without
            .extend(self.fibres.without.iter().cloned());
        if !self.fibres.only.is_empty() {
            asked.fibres.only.clone_from(&self.fibres.only);
        }
        asked.care = self.care.clone().or(asked.care);
        asked.wishes = of_both(self.wishes.as_wishes(), asked.wishes);
        asked
    }

    /// The same asked of one pattern in one size.
    pub(super) fn of_pattern(&self, pattern: &str, size: Option<&str>) -> QuestionRequest {
        QuestionRequest {
            of: PatternRequest {
                pattern: Some(pattern.to_owned()),
                size: size.map(str::to_owned),
                ..PatternRequest::default()
            },
            fibres: self.fibres.clone(),
            care: self.care.clone(),
            wishes: self.wishes.as_wishes(),
            terms: self.terms.clone(),
            ..QuestionRequest::default()
        }
    }
}

/// What is asked of all, beside what a project wishes for: of two texts the first.
fn of_both(all: WishesRequest, own: WishesRequest) -> WishesRequest {
    WishesRequest {
        max_cost: all.max_cost.or(own.max_cost),
        enough: all.enough || own.enough,
        one_lot: all.one_lot || own.one_lot,
        stash: StashRequest {
            shade: all.stash.shade.or(own.stash.shade),
            place: all.stash.place.or(own.stash.place),
        },
    }
}
