//! The fields of the parts of a check, documented for programs.

use crate::{
    matching::Verdict,
    measure::Length,
    report::{metres_and_yards, verdict::verdict_words},
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
    #[serde(serialize_with = "verdict_words")]
    pub verdict: Verdict,
    /// Overall departure, in tolerances.
    pub overall: Option<f64>,
    /// Why, the weightiest first.
    pub reasons: Vec<String>,
}

/// One departure.
#[derive(Debug, Clone, Serialize)]
pub struct DepartureLine {
    /// Key of the role.
    pub yarn: String,
    /// On what.
    pub criterion: &'static str,
    /// In tolerances: 0 the same, 1 at the edge.
    pub departure: f64,
    /// What is wanted, with its unit.
    pub wanted: String,
    /// What is offered, with its unit.
    pub offered: String,
    /// The tolerance used, with its unit.
    pub tolerance: String,
    /// The same as numbers of `unit`, where they are numbers.
    pub wanted_number: Option<f64>,
    /// See `wanted_number`.
    pub offered_number: Option<f64>,
    /// See `wanted_number`.
    pub tolerance_number: Option<f64>,
    /// Unit of the three numbers.
    pub unit: Option<&'static str>,
    /// Where values come from, what was assumed.
    pub notes: Vec<String>,
}

/// One criterion that could not be judged.
#[derive(Debug, Clone, Serialize)]
pub struct NotJudgedLine {
    /// Key of the role.
    pub yarn: String,
    /// Which.
    pub criterion: &'static str,
    /// Why not.
    pub why: String,
    /// What to measure or ask, and how.
    pub measure: String,
}

/// One remedy with the skeins that result.
#[derive(Debug, Clone, Serialize)]
pub struct RemedyLine {
    /// Key of the role.
    pub yarn: String,
    /// `hold strands`, `change needle`, `rework stitches` or `another size`.
    pub kind: &'static str,
    /// What to do, with numbers.
    pub text: String,
    /// Strands to hold, where that is the remedy.
    pub strands: Option<u8>,
    /// What the need is multiplied by.
    pub need_factor: f64,
    /// Stitch counts of each size, where they are reworked.
    pub counts: Vec<ReworkLine>,
    /// Skeins that result, for each size.
    pub skeins: Vec<RemedySkeins>,
}

/// Stitches of one size, before and after.
#[derive(Debug, Clone, Serialize)]
pub struct ReworkLine {
    /// The size.
    pub size: String,
    /// Cast-on of the pattern.
    pub from_stitches: u32,
    /// Cast-on that keeps the width.
    pub to_stitches: u32,
}

/// Skeins of one size after a remedy.
#[derive(Debug, Clone, Serialize)]
pub struct RemedySkeins {
    /// The size.
    pub size: String,
    /// How many.
    pub skeins: u32,
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
