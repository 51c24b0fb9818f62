//! How strictly a question judges, and what is bought beyond the need: as asked, as the
//! pattern says, or the default.

use super::answer::Working;
use crate::{
    app::{InputReader, QuestionFault, QuestionRequest},
    label::cells,
    matching::{Criterion, DEFAULT_TOLERANCE, FibreLimits, Weights},
    measure::{GristTolerance, Ratio},
    quantity::DEFAULT_MARGIN,
    record::Pattern,
    trade::FibreGroup,
};

/// The tolerance that is asked for, else the pattern's, else the default.
pub(in crate::app) fn tolerance(
    reader: &mut InputReader,
    request: &QuestionRequest,
    pattern: Option<&Pattern>,
    working: &mut Vec<Working>,
) -> GristTolerance {
    let stated = reader.optional("tolerance", &request.terms.tolerance, cells::tolerance);
    let of_pattern = pattern.and_then(|pattern| pattern.tolerance.as_ref());
    match (stated, of_pattern) {
        (Some(stated), _) => stated,
        (None, Some(printed)) => {
            working.push(Working::ToleranceOfPattern(printed.text.clone()));
            printed.value
        }
        (None, None) => {
            let usual = Ratio::whole_percent(DEFAULT_TOLERANCE);
            working.push(Working::UsualTolerance(usual));
            GristTolerance::Share(usual)
        }
    }
}

/// The margin that is asked for, else what the pattern's needs leave to add.
pub(in crate::app) fn margin(
    reader: &mut InputReader,
    stated: Option<&str>,
    pattern: Option<&Pattern>,
    working: &mut Vec<Working>,
) -> Ratio {
    if let Some(stated) = reader.optional("margin", stated, cells::percent) {
        return stated;
    }
    let usual = Ratio::whole_percent(DEFAULT_MARGIN);
    let (margin, why) = match pattern.and_then(|pattern| pattern.margin_included) {
        Some(true) => (Ratio::whole_percent(0), Working::MarginIncluded),
        Some(false) => (usual, Working::MarginNotIncluded(usual)),
        None => (usual, Working::MarginNotStated(usual)),
    };
    working.push(why);
    margin
}

/// The default weights, but for those that are asked for.
pub(in crate::app) fn weights(reader: &mut InputReader, request: &QuestionRequest) -> Weights {
    let mut weights = Weights::default();
    for text in reader.several("weight", &request.weights) {
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

/// The limits that are asked for, with those that the text of the wish denies.
pub(in crate::app) fn fibre_limits(
    reader: &mut InputReader,
    request: &QuestionRequest,
    denied: &[FibreGroup],
    working: &mut Vec<Working>,
) -> FibreLimits {
    let mut read = |field, texts: &[String]| -> Vec<FibreGroup> {
        let texts = reader.several(field, texts).iter();
        let filled = texts.filter(|text| !text.trim().is_empty());
        let groups = filled.filter_map(|text| reader.read(field, cells::fibre_groups(text)));
        groups.flatten().collect()
    };
    let mut limits = FibreLimits {
        without: read("without", &request.fibres.without),
        only: read("only", &request.fibres.only),
    };
    for group in denied {
        if !limits.without.contains(group) {
            limits.without.push(*group);
        }
    }
    if !limits.is_empty() {
        working.push(Working::FibreLimits(limits.clone()));
    }
    limits
}
