//! How strictly a question is judged: tolerance, margin, weights.

use super::{InputReader, QuestionFault, QuestionRequest, question::answer::Working};
use crate::{
    label::cells,
    matching::{Criterion, Weights},
    measure::{GristTolerance, Ratio},
    record::Pattern,
};

/// Tolerance on grist where none is stated, %. A rule of common practice allows
/// 5.6 to 8.5 % either way on a worsted yarn (no source).
const USUAL_TOLERANCE: u8 = 8;

/// Margin where none is stated, %: patterns commonly carry about as much
/// (common practice, no source).
pub(super) const USUAL_MARGIN: u8 = 10;

/// The tolerance that is asked for, else the pattern's, else the usual one.
pub(super) fn tolerance(
    reader: &mut InputReader,
    request: &QuestionRequest,
    pattern: Option<&Pattern>,
    working: &mut Vec<Working>,
) -> GristTolerance {
    let stated = reader.optional("tolerance", request.tolerance.as_deref(), cells::tolerance);
    let of_pattern = pattern.and_then(|pattern| pattern.tolerance.as_ref());
    match (stated, of_pattern) {
        (Some(stated), _) => stated,
        (None, Some(printed)) => {
            working.push(Working::ToleranceOfPattern(printed.text.clone()));
            printed.value
        }
        (None, None) => {
            let usual = Ratio::whole_percent(USUAL_TOLERANCE);
            working.push(Working::UsualTolerance(usual));
            GristTolerance::Share(usual)
        }
    }
}

/// The margin that is asked for, else what the pattern's needs leave to add.
pub(super) fn margin(
    reader: &mut InputReader,
    stated: Option<&str>,
    pattern: Option<&Pattern>,
    working: &mut Vec<Working>,
) -> Ratio {
    if let Some(stated) = reader.optional("margin", stated, cells::percent) {
        return stated;
    }
    let usual = Ratio::whole_percent(USUAL_MARGIN);
    let (margin, why) = match pattern.and_then(|pattern| pattern.margin_included) {
        Some(true) => (Ratio::whole_percent(0), Working::MarginIncluded),
        Some(false) => (usual, Working::MarginNotIncluded(usual)),
        None => (usual, Working::MarginNotStated(usual)),
    };
    working.push(why);
    margin
}

/// The usual weights, but for those that are asked for.
pub(super) fn weights(reader: &mut InputReader, request: &QuestionRequest) -> Weights {
    let mut weights = Weights::default();
    for text in &request.weights {
        let weighed = weight(text).and_then(|(criterion, weight)| weights.with(criterion, weight));
        match weighed {
            Some(weighed) => weights = weighed,
            None => reader.fault(
                "weight",
                QuestionFault::Weight {
                    given: text.clone(),
                    criteria: Criterion::ALL.map(Criterion::name).into(),
                },
            ),
        }
    }
    weights
}

fn weight(text: &str) -> Option<(Criterion, f64)> {
    let (name, weight) = text.split_once('=')?;
    let criterion = Criterion::ALL
        .into_iter()
        .find(|criterion| criterion.name() == crate::words::fold(name))?;
    Some((criterion, weight.trim().parse().ok()?))
}
