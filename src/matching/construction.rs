//! How differently two yarns are built.

use super::{
    Candidate, Criterion, Departure, Evidence, Measured, Missing, Requirement, Side, Tolerance,
    criterion::Outcome,
};
use crate::{
    record::YarnFacts,
    trade::{Construction, Group},
};

/// Departure: same group 0; plied or cabled against single 0.5; across groups
/// 1.25. Tolerance 1. Common practice, no source.
pub(super) fn construction_departure(a: Construction, b: Construction) -> f64 {
    match (a.group(), b.group()) {
        (a, b) if a == b => 0.0,
        (Group::Spun, Group::Single) | (Group::Single, Group::Spun) => 0.5,
        _ => 1.25,
    }
}

/// Departure of the constructions. What the pattern does not state counts as plied,
/// which most yarns are (common practice, no source).
pub(super) fn construction(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let of = |facts: &YarnFacts| facts.construction.as_ref().map(|printed| printed.value);
    let Some(candidate) = of(&offered.facts) else {
        return Outcome::NotJudged(Missing::Construction(Side::Candidate));
    };
    let reference = of(&wanted.facts);
    let assumed = Evidence::ConstructionNotStated(Side::Reference);
    let evidence = reference.is_none().then_some(assumed);
    let reference = reference.unwrap_or(Construction::Plied);
    Outcome::Judged(Departure {
        criterion: Criterion::Construction,
        departure: construction_departure(candidate, reference),
        wanted: Measured::Construction(reference),
        offered: Measured::Construction(candidate),
        tolerance: Tolerance::One,
        evidence: evidence.into_iter().collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_set_the_departure_both_ways() {
        use Construction::{
            Blown, Boucle, Brushed, Cabled, Chainette, Chenille, Eyelash, Plied, Ribbon, Roving,
            Single, Slub, Tape,
        };
        for (a, b, departure) in [
            (Plied, Cabled, 0.0),
            (Chainette, Blown, 0.0),
            (Boucle, Slub, 0.0),
            (Tape, Ribbon, 0.0),
            (Tape, Chainette, 0.0),
            (Chenille, Eyelash, 0.0),
            (Single, Roving, 0.0),
            (Plied, Roving, 0.5),
            (Plied, Single, 0.5),
            (Single, Cabled, 0.5),
            (Plied, Chainette, 1.25),
            (Brushed, Boucle, 1.25),
            (Tape, Single, 1.25),
            (Chenille, Plied, 1.25),
            (Eyelash, Brushed, 1.25),
        ] {
            assert_eq!(construction_departure(a, b), departure);
            assert_eq!(construction_departure(b, a), departure);
        }
    }
}
