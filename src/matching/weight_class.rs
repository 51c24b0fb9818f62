//! Steps between weight classes.

use super::{
    Candidate, Criterion, Departure, Evidence, Measured, Missing, Requirement, Side, Tolerance,
    criterion::Outcome,
};
use crate::{
    record::{Classes, Printed},
    trade::WeightClass,
};

/// Departure: class steps between the nearest of the classes that the two names
/// may mean; tolerance 1 step. Not judged where one of the two is held in
/// another number of strands, since the class of a label is that of one.
pub(super) fn weight_class(wanted: &Requirement, offered: &Candidate) -> Outcome {
    if wanted.strands != offered.strands {
        return Outcome::NotJudged(Missing::ClassOfStrands);
    }
    let (reference, candidate) = match (&wanted.facts.class, &offered.facts.class) {
        (Some(reference), Some(candidate)) => (reference, candidate),
        (None, _) => return Outcome::NotJudged(Missing::WeightClass(Side::Reference)),
        (_, None) => return Outcome::NotJudged(Missing::WeightClass(Side::Candidate)),
    };
    match WeightClass::nearest(reference.value.as_slice(), candidate.value.as_slice()) {
        Some(nearest) => Outcome::Judged(departure(reference, candidate, nearest)),
        None => Outcome::NotAsked,
    }
}

fn departure(
    reference: &Printed<Classes>,
    candidate: &Printed<Classes>,
    (nearest_r, nearest_c, steps): (WeightClass, WeightClass, u8),
) -> Departure {
    let measured = |printed: &Printed<Classes>, compared| Measured::WeightClass {
        classes: printed.value.clone(),
        compared,
    };
    let several = [reference, candidate]
        .into_iter()
        .filter(|p| p.value.as_slice().len() > 1 && !p.text.is_empty());
    Departure {
        criterion: Criterion::WeightClass,
        departure: f64::from(steps),
        wanted: measured(reference, nearest_r),
        offered: measured(candidate, nearest_c),
        tolerance: Tolerance::One,
        evidence: several
            .map(|p| Evidence::SeveralClasses(p.text.clone(), p.value.clone()))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, wanted};
    use super::*;

    fn steps(wanted: &[u8], offered_classes: &[u8]) -> f64 {
        let wanted = super::super::samples::wanted().class(wanted);
        weight_class(&wanted, &offered().class(offered_classes))
            .judged()
            .departure
    }

    #[test]
    fn steps_count_between_the_nearest_possible_classes() {
        assert_eq!(steps(&[3], &[3]), 0.0);
        assert_eq!(steps(&[3], &[5]), 2.0);
        assert_eq!(steps(&[1, 2], &[3]), 1.0);
        assert_eq!(steps(&[1, 2], &[2, 3]), 0.0);
    }

    #[test]
    fn a_name_of_several_classes_is_noted_and_one_of_one_class_is_not() {
        let notes = |wanted: &[u8], other: &[u8]| {
            let wanted = super::super::samples::wanted().class(wanted);
            weight_class(&wanted, &offered().class(other))
                .judged()
                .evidence
        };
        assert_eq!(notes(&[3], &[4]), []);
        let noted = notes(&[1, 2], &[2]);
        let [Evidence::SeveralClasses(text, classes)] = noted.as_slice() else {
            panic!("{noted:?}")
        };
        assert_eq!((text.as_str(), classes.as_slice().len()), ("k", 2));
    }

    #[test]
    fn a_class_says_nothing_of_several_strands_unless_both_have_as_many() {
        let double = |n| Candidate {
            strands: n,
            ..offered().class(&[1])
        };
        assert!(matches!(
            weight_class(&wanted().class(&[4]), &double(2)),
            Outcome::NotJudged(_)
        ));
        let both = Requirement {
            strands: 2,
            ..wanted().class(&[1])
        };
        assert_eq!(weight_class(&both, &double(2)).judged().departure, 0.0);
    }
}
