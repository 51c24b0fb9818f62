//! A judgement in words: its fields for programs, and every sentence about it.
//! One function for each kind of reason, note, thing to measure and remedy.

mod conditions;
mod evidence;
mod hand;
mod missing;
mod reasons;
mod remedies;
mod rows;
mod values;
mod verdict;

pub(in crate::report) use conditions::{condition_sentences, conditions_in_short, conditions_of};
pub(in crate::report) use reasons::group_words;
pub use remedies::{RemedyLine, RemedySkeins, ReworkLine, remedy_text};
pub(in crate::report) use rows::{differences, reason_rows};

use super::Style;
use crate::{
    matching::{Caution, Condition, Departure, Judgement, Missing, Reason},
    trade::Basis,
};
use missing::{measure, why};
use schemars::JsonSchema;
use serde::Serialize;
pub(in crate::report) use values::{criterion_in_full, criterion_words, fit_words};
use values::{measured_words, numbers, tolerance_words};
pub use verdict::verdict_words;
pub(in crate::report) use verdict::{
    VERDICTS, all_against, caution_in_short, cautions_for, cautions_of_list, each_once, news,
    said_of, verdict_in_short, verdict_sentence,
};

/// One departure.
#[derive(Debug, Clone, Serialize, JsonSchema)]
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
    /// Length per mass of the pattern's fibres that would be as thick, where that
    /// counts; in `unit`.
    pub as_thick_as_number: Option<f64>,
    /// See `wanted_number`.
    pub tolerance_number: Option<f64>,
    /// Unit of the three numbers.
    pub unit: Option<&'static str>,
    /// Where values come from, what was assumed.
    pub notes: Vec<String>,
}

impl DepartureLine {
    /// The departure of one role.
    pub fn new(key: &str, departure: &Departure, style: &Style) -> Self {
        let numbers = numbers(departure);
        Self {
            yarn: key.to_owned(),
            criterion: departure.criterion.name(),
            departure: departure.departure,
            wanted: measured_words(&departure.wanted, style),
            offered: measured_words(&departure.offered, style),
            tolerance: tolerance_words(departure, style),
            wanted_number: numbers.map(|found| found.wanted),
            offered_number: numbers.map(|found| found.offered),
            as_thick_as_number: numbers.and_then(|found| found.as_thick_as),
            tolerance_number: numbers.map(|found| found.tolerance),
            unit: numbers.map(|found| found.unit),
            notes: departure
                .evidence
                .iter()
                .map(|evidence| evidence::sentence(evidence, style))
                .collect(),
        }
    }
}

/// One criterion that could not be judged.
#[derive(Debug, Clone, Serialize, JsonSchema)]
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

impl NotJudgedLine {
    /// What is missing for one role.
    pub fn new(key: &str, missing: &Missing, style: &Style) -> Self {
        Self {
            yarn: key.to_owned(),
            criterion: missing.criterion().name(),
            why: why(missing, style),
            measure: measure(missing).to_owned(),
        }
    }
}

/// Why, a sentence each, the weightiest first.
pub fn reason_sentences(judgement: &Judgement, style: &Style) -> Vec<String> {
    let reasons = judgement.reasons();
    let sentence = |reason| reasons::sentence(reason, style);
    reasons.into_iter().map(sentence).collect()
}

/// The same without those that the conditions say already.
pub fn reasons_beside_conditions(judgement: &Judgement, style: &Style) -> Vec<String> {
    let is_met = |reason: &Reason<'_>| {
        judgement
            .conditions
            .iter()
            .any(|condition| match (condition, reason) {
                (Condition::Missing(met), Reason::Missing(missing)) => met == *missing,
                _ => false,
            })
    };
    let reasons = judgement.reasons().into_iter();
    let beside = reasons.filter(|reason| !is_met(reason));
    beside
        .map(|reason| reasons::sentence(reason, style))
        .collect()
}

/// `gauge 1.3 (24 sts per 10 cm; wanted 22 sts per 10 cm)`.
pub fn departure_in_short(departure: &Departure, style: &Style) -> String {
    format!(
        "{} {} ({}; wanted {})",
        departure.criterion.name(),
        crate::words::number(departure.departure, 2),
        measured_words(&departure.offered, style),
        measured_words(&departure.wanted, style)
    )
}

/// A caution and what it rests on.
pub fn caution_text(caution: &Caution) -> String {
    match caution.hazard.basis {
        Basis::Published(source) => format!("{} (source: {source})", caution.hazard.text),
        other => format!("{} ({other})", caution.hazard.text),
    }
}
