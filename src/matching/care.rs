//! Whether the candidate takes the washing that the pattern asks for.

use super::{
    Candidate, Criterion, Departure, Evidence, Measured, Missing, Requirement, Tolerance,
    criterion::Outcome,
    purpose_rules::{FELTS_FROM, felting_share},
};
use crate::record::Care;

/// What not taking the machine wash that is asked for counts, and what fibre that
/// felts counts where its label does not say.
const NOT_TAKEN: f64 = 1.25;

/// What other fibre counts where its label does not say: most takes it (common
/// practice, no source).
const NOT_STATED: f64 = 0.5;

/// Departure, tolerance 1: where the pattern asks for machine wash 1.25 where the yarn
/// does not take it, or where that is not stated and its fibre felts; 0.5 where it is
/// not stated and the fibre does not felt; else 0. Where the pattern asks nothing it
/// is not asked.
pub(super) fn care(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let Some(asked) = wanted.care else {
        return Outcome::NotAsked;
    };
    let Some(care) = offered.facts.care.as_ref().map(|care| care.value) else {
        return not_stated(asked, offered);
    };
    let dry_only = asked == Care::HandWash && care == Care::DryClean;
    let evidence = dry_only.then_some(Evidence::DryCleanOnly);
    let departure = departs_by(asked, care);
    Outcome::Judged(departs(asked, departure, (Some(care), evidence)))
}

/// Departure of a washing that is stated.
pub(super) fn departs_by(asked: Care, care: Care) -> f64 {
    let taken = asked != Care::MachineWash || care == Care::MachineWash;
    if taken { 0.0 } else { NOT_TAKEN }
}

fn not_stated(asked: Care, offered: &Candidate) -> Outcome {
    let (Some(blend), Care::MachineWash) = (&offered.facts.blend, asked) else {
        return Outcome::NotJudged(Missing::Care(asked));
    };
    let departure = if felting_share(&blend.value) >= FELTS_FROM - 1e-9 {
        NOT_TAKEN
    } else {
        NOT_STATED
    };
    Outcome::Judged(departs(asked, departure, (None, None)))
}

fn departs(
    asked: Care,
    departure: f64,
    (care, evidence): (Option<Care>, Option<Evidence>),
) -> Departure {
    Departure {
        criterion: Criterion::Care,
        departure,
        wanted: Measured::Care(Some(asked)),
        offered: Measured::Care(care),
        tolerance: Tolerance::One,
        evidence: evidence.into_iter().collect(),
    }
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

    /// A quarter of wool is enough to felt; silk and cotton do not. Common practice, no
    /// source.
    #[test]
    fn where_the_label_is_silent_fibre_that_felts_counts_as_not_taking_it() {
        let found = |parts: &[(&str, f64)]| {
            let outcome = care(&asked(Care::MachineWash), &offered().of(parts));
            outcome.judged().departure
        };
        assert_eq!(found(&[("wool", 100.0)]), 1.25);
        assert_eq!(found(&[("wool", 25.0), ("cotton", 75.0)]), 1.25);
        assert_eq!(found(&[("wool", 24.0), ("cotton", 76.0)]), 0.5);
        assert_eq!(found(&[("silk", 100.0)]), 0.5);
        let by_hand = care(&asked(Care::HandWash), &offered().of(&[("wool", 100.0)]));
        assert_eq!(by_hand, Outcome::NotJudged(Missing::Care(Care::HandWash)));
    }

    #[test]
    fn what_is_not_asked_is_not_missing_and_what_is_unknown_is() {
        assert_eq!(care(&wanted(), &offered()), Outcome::NotAsked);
        let outcome = care(&asked(Care::MachineWash), &offered());
        let missing = Missing::Care(Care::MachineWash);
        assert_eq!(outcome, Outcome::NotJudged(missing));
    }
}
