//! Whether the candidate takes the washing that the pattern asks for.

use super::{
    Candidate, Criterion, Departure, Evidence, Measured, Missing, Requirement, Tolerance,
    terms::Outcome,
};
use crate::record::Care;

/// What not taking the machine wash that is asked for counts.
const NOT_TAKEN: f64 = 1.25;

/// Departure: 1.25 where the pattern asks for machine wash and the yarn does not
/// take it, else 0; tolerance 1. Where the pattern asks nothing it is not asked.
pub(super) fn care(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let Some(asked) = wanted.care else {
        return Outcome::NotAsked;
    };
    let Some(care) = offered.facts.care.as_ref().map(|care| care.value) else {
        return Outcome::NotJudged(Missing::Care(asked));
    };
    let taken = asked != Care::MachineWash || care == Care::MachineWash;
    let dry_only = asked == Care::HandWash && care == Care::DryClean;
    Outcome::Judged(Departure {
        criterion: Criterion::Care,
        departure: if taken { 0.0 } else { NOT_TAKEN },
        wanted: Measured::Care(asked),
        offered: Measured::Care(care),
        tolerance: Tolerance::One,
        evidence: dry_only
            .then_some(Evidence::DryCleanOnly)
            .into_iter()
            .collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, wanted};
    use super::*;

    fn asked(care: Care) -> Requirement {
        Requirement {
            care: Some(care),
            ..wanted()
        }
    }

    #[test]
    fn only_a_machine_wash_that_the_yarn_does_not_take_departs() {
        let found = |asked_for, care_of| {
            let outcome = care(&asked(asked_for), &offered().care(care_of));
            outcome.judged().departure
        };
        assert_eq!(found(Care::MachineWash, Care::HandWash), 1.25);
        assert_eq!(found(Care::MachineWash, Care::DryClean), 1.25);
        assert_eq!(found(Care::MachineWash, Care::MachineWash), 0.0);
        assert_eq!(found(Care::HandWash, Care::MachineWash), 0.0);
    }

    #[test]
    fn dry_cleaning_only_is_noted_where_washing_by_hand_is_asked() {
        let notes = |asked_for, care_of| {
            let outcome = care(&asked(asked_for), &offered().care(care_of));
            outcome.judged().evidence
        };
        assert_eq!(
            notes(Care::HandWash, Care::DryClean),
            [Evidence::DryCleanOnly]
        );
        for (asked_for, care_of) in [
            (Care::HandWash, Care::HandWash),
            (Care::HandWash, Care::MachineWash),
            (Care::DryClean, Care::DryClean),
            (Care::MachineWash, Care::DryClean),
        ] {
            assert_eq!(notes(asked_for, care_of), []);
        }
    }

    #[test]
    fn what_is_not_asked_is_not_missing_and_what_is_unknown_is() {
        assert_eq!(care(&wanted(), &offered()), Outcome::NotAsked);
        let outcome = care(&asked(Care::MachineWash), &offered());
        let missing = Missing::Care(Care::MachineWash);
        assert_eq!(outcome, Outcome::NotJudged(missing));
    }
}
