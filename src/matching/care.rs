//! Whether the candidate takes the washing that the pattern asks for.

use super::{Candidate, Criterion, Departure, Requirement, terms::Outcome};
use crate::record::Care;

/// What not taking the machine wash that is asked for counts.
const NOT_TAKEN: f64 = 1.25;

/// Departure: 1.25 where the pattern asks for machine wash and the yarn does not
/// take it, else 0; tolerance 1. Where the pattern asks nothing it is not asked.
pub(super) fn care(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let Some(asked) = wanted.care else {
        return Outcome::NotAsked;
    };
    let Some(care) = &offered.facts.care else {
        return Outcome::missing(
            Criterion::Care,
            format!(
                "the pattern asks for {}, and how this yarn may be washed is not known",
                asked.name()
            ),
            "read the washing symbols on its label, then wash a swatch that way",
        );
    };
    let taken = asked != Care::MachineWash || care.value == Care::MachineWash;
    Outcome::Judged(Departure {
        criterion: Criterion::Care,
        departure: if taken { 0.0 } else { NOT_TAKEN },
        wanted: asked.name().to_owned(),
        offered: care.value.name().to_owned(),
        tolerance: "1 (a machine wash that the yarn does not take counts 1.25)".to_owned(),
        scale: None,
        notes: dry_clean(asked, care.value).into_iter().collect(),
    })
}

fn dry_clean(asked: Care, care: Care) -> Option<String> {
    let only = care == Care::DryClean && asked == Care::HandWash;
    only.then(|| "its label allows dry cleaning only: wash a swatch before you trust it".to_owned())
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
        let found =
            |asked_for, care_of| care(&asked(asked_for), &offered().care(care_of)).departure();
        assert_eq!(found(Care::MachineWash, Care::HandWash), Some(1.25));
        assert_eq!(found(Care::MachineWash, Care::DryClean), Some(1.25));
        assert_eq!(found(Care::MachineWash, Care::MachineWash), Some(0.0));
        assert_eq!(found(Care::HandWash, Care::MachineWash), Some(0.0));
    }

    #[test]
    fn dry_cleaning_only_is_told_where_washing_by_hand_is_asked() {
        let notes = |asked_for, care_of| match care(&asked(asked_for), &offered().care(care_of)) {
            Outcome::Judged(found) => found.notes,
            other => panic!("{other:?}"),
        };
        let told = notes(Care::HandWash, Care::DryClean);
        assert!(told.len() == 1 && told[0].contains("dry cleaning only"));
        for (asked_for, care_of) in [
            (Care::HandWash, Care::HandWash),
            (Care::HandWash, Care::MachineWash),
            (Care::DryClean, Care::DryClean),
            (Care::MachineWash, Care::DryClean),
        ] {
            assert_eq!(notes(asked_for, care_of), Vec::<String>::new());
        }
    }

    #[test]
    fn what_is_not_asked_is_not_missing_and_what_is_unknown_is() {
        assert_eq!(care(&wanted(), &offered()), Outcome::NotAsked);
        let outcome = care(&asked(Care::MachineWash), &offered());
        assert!(matches!(outcome, Outcome::NotJudged(_)));
    }
}
