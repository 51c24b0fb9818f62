//! What a ball without a label was reckoned with, in words.

use super::unlabelled::Read;
use crate::{
    report::{MethodLine, Range},
    words::number,
};

/// Two ways whose intervals lie apart.
pub(super) fn disagreement(methods: &[MethodLine]) -> Option<String> {
    let known: Vec<(&str, Range)> = methods
        .iter()
        .filter_map(|line| Some((line.method.as_str(), line.grist_m_per_100g?)))
        .collect();
    let apart = known.iter().enumerate().find_map(|(place, (name, range))| {
        let others = known.iter().skip(place + 1);
        let mut apart =
            others.filter(|(_, other)| other.low > range.high || range.low > other.high);
        apart.next().map(|(other, _)| (*name, *other))
    });
    apart.map(|(one, other)| {
        format!(
            "`{one}` and `{other}` do not agree within their intervals: measure again, with the yarn neither stretched nor slack."
        )
    })
}

/// What was counted.
pub(super) fn working(read: &Read, methods: &[MethodLine]) -> Vec<String> {
    let mut told = vec![
        format!(
            "Scale: rounds to {} g for the ball and to {} g for what was measured off.",
            number(read.scale.as_grams(), 4),
            number(read.fine.as_grams(), 4)
        ),
        format!(
            "Ruler: a measured length is taken to be good to {} % either way (common practice, no source; yarn stretches under the hand).",
            number(read.ruler.as_percent(), 2)
        ),
    ];
    let by = |name: &str| methods.iter().any(|line| line.method == name);
    if by("strand on a balance") {
        told.push(
            "Balance: inches of the strand x 100 are yards per pound (common practice, no source)."
                .to_owned(),
        );
    }
    if by("turns of a reel") {
        told.push("Turns: counted to half a turn.".to_owned());
    }
    if by("wraps") {
        told.push("Wraps: hand wraps lie at 0.31 to 0.41 times the square root of yards per pound (computed from published tables), counted to half a wrap; the middle means nothing, and wraps alone never settle a class.".to_owned());
    }
    told.push("Measured intervals hold the truth 95 times in 100 where these doubts are all there are. The mass is that of today's damp.".to_owned());
    told
}
