//! How much is needed of yarn that was measured for want of a label: nobody sells skeins of
//! it, so the need is a length and a weight.

use super::{
    Style,
    candidate::skeins,
    per_size::{counts_from_to, sizes_as_patterns_write_them},
};
use crate::{app::CandidateAnswer, label::measured::measured_range, words::number};

/// Whether it is such yarn.
pub(super) fn is_measured(found: &CandidateAnswer) -> bool {
    measured_range(&found.candidate.facts).is_some()
}

/// What measured yarn must have, the spare counted in: `1290 m (800 g)`, of several sizes
/// `1180 (1290, 1410) m`.
pub(super) fn measured_need(found: &CandidateAnswer, style: &Style) -> String {
    let length = measured_length(found, style);
    let metres = measured_metres(found);
    match (metres.as_slice(), found.candidate.facts.grist()) {
        ([one], Some(grist)) => {
            let grams = number(one / grist.as_metres_per_gram(), 0);
            format!("{length} ({grams} g)")
        }
        _ => length,
    }
}

fn measured_length(found: &CandidateAnswer, style: &Style) -> String {
    let [unit, _] = style.ordered("m", "yd");
    let lengths = measured_metres(found).into_iter();
    let lengths = lengths.map(|metres| number(metres * style.per_metre(), 0));
    format!("{} {unit}", sizes_as_patterns_write_them(lengths))
}

fn measured_metres(found: &CandidateAnswer) -> Vec<f64> {
    let metres = found.skeins.iter().map(|one| {
        let need = one.purchase.need.buy_for.as_metres();
        need * (1.0 + one.purchase.margin.as_fraction())
    });
    metres.collect()
}

/// What is needed, in a column of skeins: `6`, `9 to 16`, of measured yarn `1290 m`.
pub(super) fn skeins_in_short(found: &CandidateAnswer, style: &Style) -> Option<String> {
    match is_measured(found) && !found.skeins.is_empty() {
        true => Some(measured_length(found, style)),
        false => counts_from_to(&skeins(found)),
    }
}
