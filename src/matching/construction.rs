//! How differently two yarns are built.

use super::{Candidate, Criterion, Departure, Requirement, terms::Outcome};
use crate::trade::{Construction, Group};

/// Departure: same group 0; plied or cabled against single 0.5; across groups
/// 1.25. Tolerance 1. Common practice, no source.
pub(super) fn construction_departure(a: Construction, b: Construction) -> f64 {
    match (a.group(), b.group()) {
        (a, b) if a == b => 0.0,
        (Group::Spun, Group::Single) | (Group::Single, Group::Spun) => 0.5,
        _ => 1.25,
    }
}

pub(super) fn construction(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let (reference, candidate) = (&wanted.facts.construction, &offered.facts.construction);
    let (Some(reference), Some(candidate)) = (reference, candidate) else {
        let whose = match reference {
            None => "the pattern's yarn",
            Some(_) => "this yarn",
        };
        return Outcome::missing(
            Criterion::Construction,
            format!("how {whose} is built is not known"),
            "look at a cut end and untwist it: plies, one single, a knitted tube, loops or a halo",
        );
    };
    Outcome::Judged(Departure {
        criterion: Criterion::Construction,
        departure: construction_departure(candidate.value, reference.value),
        wanted: reference.value.name().to_owned(),
        offered: candidate.value.name().to_owned(),
        tolerance: "1 (same group 0, plied against single 0.5, across groups 1.25)".to_owned(),
        scale: None,
        notes: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_set_the_departure_both_ways() {
        use Construction::{Blown, Boucle, Brushed, Cabled, Chainette, Plied, Single, Slub, Tape};
        for (a, b, departure) in [
            (Plied, Cabled, 0.0),
            (Chainette, Blown, 0.0),
            (Boucle, Slub, 0.0),
            (Plied, Single, 0.5),
            (Single, Cabled, 0.5),
            (Plied, Chainette, 1.25),
            (Brushed, Boucle, 1.25),
            (Tape, Single, 1.25),
        ] {
            assert_eq!(construction_departure(a, b), departure);
            assert_eq!(construction_departure(b, a), departure);
        }
    }
}
