//! How strictly a question is judged: tolerance, margin, weights.

use super::{AppError, Question, heard::Heard, skeins::USUAL_MARGIN};
use crate::{
    label::cells,
    matching::{Criterion, Weights},
    measure::{GristTolerance, Ratio},
    record::Pattern,
    words::or_list,
};

/// Tolerance on grist where none is stated, %. A rule of common practice allows
/// 5.6 to 8.5 % either way on a worsted yarn (no source).
const USUAL_TOLERANCE: &str = "8 %";

pub(super) fn tolerance(
    question: &Question,
    pattern: Option<&Pattern>,
    heard: &mut Heard,
    working: &mut Vec<String>,
) -> Result<GristTolerance, AppError> {
    let stated = heard.maybe(
        "--tolerance",
        question.tolerance.as_deref(),
        cells::tolerance,
    )?;
    let of_pattern = pattern.and_then(|pattern| pattern.tolerance.as_ref());
    match (stated, of_pattern) {
        (Some(stated), _) => Ok(stated),
        (None, Some(printed)) => {
            working.push(format!(
                "Tolerance on length per mass {}, as the pattern states.",
                printed.text
            ));
            Ok(printed.value)
        }
        (None, None) => {
            working.push(format!("Tolerance on length per mass {USUAL_TOLERANCE} either way, since none is stated (common practice; published ones run up to 20 %): set your own with --tolerance."));
            heard.value("--tolerance", cells::tolerance(USUAL_TOLERANCE))
        }
    }
}

pub(super) fn margin(
    question: &Question,
    pattern: Option<&Pattern>,
    heard: &mut Heard,
    working: &mut Vec<String>,
) -> Result<Ratio, AppError> {
    if let Some(text) = question.margin.as_deref() {
        return heard.value("--margin", cells::percent(text));
    }
    let (text, why) = match pattern.and_then(|pattern| pattern.margin_included) {
        Some(true) => (
            "0 %",
            "No margin is added: the pattern says that its needs hold one.",
        ),
        Some(false) => (
            USUAL_MARGIN,
            "A margin of 10 % is added: the pattern says that its needs hold none.",
        ),
        None => (
            USUAL_MARGIN,
            "A margin of 10 % is added: whether the needs hold one already is not stated. Set your own with --margin.",
        ),
    };
    working.push(why.to_owned());
    heard.value("--margin", cells::percent(text))
}

pub(super) fn weights(question: &Question) -> Result<Weights, AppError> {
    question.weights.iter().try_fold(Weights::default(), |weights, text| {
        let (criterion, weight) = weight(text).ok_or_else(|| {
            let names: Vec<&str> = Criterion::ALL.iter().map(|criterion| criterion.name()).collect();
            AppError::Usage(format!("weight `{text}` is not read: write a criterion and a number, as in `fibre=3`; criteria are {}", or_list(&names)))
        })?;
        Ok(weights.with(criterion, weight)?)
    })
}

fn weight(text: &str) -> Option<(Criterion, f64)> {
    let (name, weight) = text.split_once('=')?;
    let criterion = Criterion::ALL
        .into_iter()
        .find(|criterion| criterion.name() == crate::words::fold(name))?;
    Some((criterion, weight.trim().parse().ok()?))
}
