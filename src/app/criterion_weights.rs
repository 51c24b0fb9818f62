//! How much each criterion counts: the default weights, but for those that are asked for.

use super::{InputReader, QuestionFault, QuestionRequest};
use crate::matching::{Criterion, Weights};

/// The default weights, but for those that are asked for.
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
