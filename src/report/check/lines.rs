//! The fields of the parts of a check, documented for programs.

use crate::{
    matching::Verdict,
    measure::Length,
    report::{judgement::serialize_verdict, metres_and_yards},
};
use serde::Serialize;

/// What one role asks and gets.
#[derive(Debug, Clone, Serialize)]
pub struct RoleHead {
    /// Key of the role.
    pub yarn: String,
    /// Strands of the candidate held together in the skeins below.
    pub strands: u8,
    /// What the pattern says of its yarn.
    pub wanted: String,
    /// What is offered.
    pub offered: String,
    /// The verdict, in its words.
    #[serde(serialize_with = "serialize_verdict")]
    pub verdict: Verdict,
    /// Overall departure, in tolerances.
    pub overall: Option<f64>,
    /// Why, the weightiest first.
    pub reasons: Vec<String>,
}

/// What a need stated as a mass alone may be, by one reading of its class.
#[derive(Debug, Clone, Serialize)]
pub struct EstimateLine {
    /// Key of the role.
    pub yarn: String,
    /// The size.
    pub size: String,
    /// What it rests on.
    pub basis: String,
    /// The least, m; `null` where the table leaves it open.
    pub at_least_m: Option<f64>,
    /// The most, m; `null` where the table leaves it open.
    pub at_most_m: Option<f64>,
    /// Skeins for the least, margin included.
    pub fewest_skeins: Option<u32>,
    /// Skeins for the most, margin included.
    pub most_skeins: Option<u32>,
}

impl EstimateLine {
    /// The same as a sentence.
    pub fn sentence(&self) -> String {
        let metres = |end: Option<f64>| {
            end.and_then(|m| Length::metres(m).ok())
                .map_or("an open end".to_owned(), metres_and_yards)
        };
        let skeins = |end: Option<u32>| end.map_or("no limit".to_owned(), |n| n.to_string());
        format!(
            "Size {}, {}: from {} to {}; {} to {} skeins.",
            self.size,
            self.basis,
            metres(self.at_least_m),
            metres(self.at_most_m),
            skeins(self.fewest_skeins),
            skeins(self.most_skeins)
        )
    }
}

/// What the lots of one shade do for one size and role.
#[derive(Debug, Clone, Serialize)]
pub struct CoverLine {
    /// Key of the role.
    pub yarn: String,
    /// The size.
    pub size: String,
    /// The shade.
    pub shade: String,
    /// Whether what is free covers need and margin.
    pub covers: bool,
    /// Lots to use.
    pub lots: Vec<String>,
    /// Left over, m.
    pub left_over_m: Option<f64>,
    /// Missing, m.
    pub missing_m: Option<f64>,
    /// Skeins that would fill the gap.
    pub missing_skeins: Option<u32>,
    /// The same as a sentence.
    pub text: String,
}
