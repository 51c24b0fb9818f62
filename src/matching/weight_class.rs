//! Steps between weight classes.

use super::{Candidate, Criterion, Departure, Requirement, Scale, terms::Outcome};
use crate::{
    record::{Classes, Printed},
    trade::WeightClass,
    words::{count_of, or_list},
};

/// Departure: class steps between the nearest of the classes that the two names
/// may mean; tolerance 1 step. Not judged where one of the two is held in
/// another number of strands, since the class of a label is that of one.
pub(super) fn weight_class(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let (reference, candidate) = (&wanted.facts.class, &offered.facts.class);
    if wanted.strands != offered.strands {
        return Outcome::missing(
            Criterion::WeightClass,
            "the class on a label is that of one strand and says nothing of several",
            "go by length per mass and by gauge",
        );
    }
    let (Some(reference), Some(candidate)) = (reference, candidate) else {
        let whose = match reference {
            None => "the pattern's yarn",
            Some(_) => "this yarn",
        };
        return Outcome::missing(
            Criterion::WeightClass,
            format!("the weight class of {whose} is not stated"),
            "look for the number in the skein symbol of the band; length per mass and gauge say more",
        );
    };
    let nearest = WeightClass::nearest(reference.value.as_slice(), candidate.value.as_slice());
    match nearest {
        Some(pair) => Outcome::Judged(departure(reference, candidate, pair)),
        None => Outcome::NotAsked,
    }
}

fn departure(
    reference: &Printed<Classes>,
    candidate: &Printed<Classes>,
    (nearest_r, nearest_c, steps): (WeightClass, WeightClass, u8),
) -> Departure {
    let number = |class: WeightClass| f64::from(class.number());
    Departure {
        criterion: Criterion::WeightClass,
        departure: f64::from(steps),
        wanted: told(&reference.value),
        offered: told(&candidate.value),
        tolerance: count_of(1.0, "step"),
        scale: Some(Scale {
            wanted: number(nearest_r),
            offered: number(nearest_c),
            tolerance: 1.0,
            unit: "class",
        }),
        notes: [several(reference), several(candidate)]
            .into_iter()
            .flatten()
            .collect(),
    }
}

fn told(classes: &Classes) -> String {
    let names: Vec<String> = classes.as_slice().iter().map(ToString::to_string).collect();
    or_list(&names)
}

fn several(printed: &Printed<Classes>) -> Option<String> {
    let many = printed.value.as_slice().len() > 1;
    many.then(|| {
        format!(
            "`{}` means {} by market: the nearest is taken",
            printed.text,
            told(&printed.value)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, wanted};
    use super::*;

    fn steps(wanted: &[u8], offered_classes: &[u8]) -> f64 {
        let wanted = super::super::samples::wanted().class(wanted);
        weight_class(&wanted, &offered().class(offered_classes))
            .departure()
            .unwrap()
    }

    #[test]
    fn steps_count_between_the_nearest_possible_classes() {
        assert_eq!(steps(&[3], &[3]), 0.0);
        assert_eq!(steps(&[3], &[5]), 2.0);
        assert_eq!(steps(&[1, 2], &[3]), 1.0);
        assert_eq!(steps(&[1, 2], &[2, 3]), 0.0);
    }

    #[test]
    fn a_name_of_several_classes_is_told_and_one_of_one_class_is_not() {
        let notes = |wanted: &[u8], other: &[u8]| {
            let wanted = super::super::samples::wanted().class(wanted);
            match weight_class(&wanted, &offered().class(other)) {
                Outcome::Judged(found) => found.notes,
                other => panic!("{other:?}"),
            }
        };
        assert_eq!(notes(&[3], &[4]), Vec::<String>::new());
        assert_eq!(
            notes(&[1, 2], &[2]),
            ["`k` means 1 super fine or 2 fine by market: the nearest is taken"]
        );
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
        assert_eq!(weight_class(&both, &double(2)).departure(), Some(0.0));
    }
}
