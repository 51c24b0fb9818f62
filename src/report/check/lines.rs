//! The fields of the parts of a check, documented for programs.

use super::super::{Style, facts_words::facts_in_style, reason_sentences};
use crate::{
    app::{CheckAnswer, RoleAnswer, SizeEstimate},
    matching::Verdict,
    measure::Length,
    quantity::{ClassReading, MassEstimate},
    report::judgement::serialize_verdict,
    words::count_of,
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

impl RoleHead {
    /// What one role of a check asks and gets.
    pub fn new(answer: &CheckAnswer, role: &RoleAnswer, style: &Style) -> Self {
        let wanted = &role.wanted;
        let judgement = &role.offered.judgement;
        Self {
            yarn: role.key.clone(),
            strands: role.offered.plan.strands,
            wanted: format!(
                "{}{}",
                held(wanted.strands),
                facts_in_style(&wanted.facts, wanted.gauge.as_ref(), style)
            ),
            offered: facts_in_style(&answer.candidate.facts, answer.own_gauge.as_ref(), style),
            verdict: judgement.verdict,
            overall: judgement.overall,
            reasons: reason_sentences(judgement, style),
        }
    }
}

/// `2 strands held together, each of `; nothing for one.
fn held(strands: u8) -> String {
    match strands {
        1 => String::new(),
        n => format!(
            "{} held together, each of ",
            count_of(f64::from(n), "strand")
        ),
    }
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
    /// An estimate for one role.
    pub fn new(key: &str, estimate: &SizeEstimate) -> Self {
        Self {
            yarn: key.to_owned(),
            size: estimate.size.clone(),
            basis: basis(&estimate.estimate),
            at_least_m: estimate.estimate.at_least.map(Length::as_metres),
            at_most_m: estimate.estimate.at_most.map(Length::as_metres),
            fewest_skeins: estimate.fewest,
            most_skeins: estimate.most,
        }
    }

    /// The same as a sentence.
    pub fn sentence(&self, style: &Style) -> String {
        let metres = |end: Option<f64>| {
            end.and_then(|m| Length::metres(m).ok())
                .map_or("an open end".to_owned(), |length| style.length(length))
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

/// The class that an estimate rests on.
fn basis(estimate: &MassEstimate) -> String {
    let reading = match estimate.reading {
        ClassReading::Today => "as the name is used today",
        ClassReading::OneFiner => "one class finer, as old yarn often is (common practice)",
    };
    format!("class {}, {reading}", estimate.class)
}
