//! Length per mass of the candidate against that of the pattern's yarn.

use super::{
    Candidate, Criterion, Departure, Requirement, Scale, Settings,
    terms::{Outcome, in_tolerances},
};
use crate::{
    measure::{Grist, GristTolerance},
    record::YarnFacts,
    trade::Construction,
    words::number,
};

const WEIGH_IT: &str = "weigh the whole ball, then measure off 10 m of it and weigh those: 10 m over their grams is the length per gram";

/// Grist of `strands` ends of a yarn held together: g / n.
pub(super) fn effective(facts: &YarnFacts, strands: u8) -> Option<Grist> {
    facts.grist()?.times(strands)
}

/// Departure: |g_c - g_r| / tolerance, both with their strands held together, in
/// m/g. The tolerance is a share of g_r or a length per mass.
pub(super) fn grist(wanted: &Requirement, offered: &Candidate, settings: &Settings) -> Outcome {
    let reference = effective(&wanted.facts, wanted.strands);
    let candidate = effective(&offered.facts, offered.strands);
    let (Some(reference), Some(candidate)) = (reference, candidate) else {
        let whose = match reference {
            None => "the pattern's yarn",
            Some(_) => "this yarn",
        };
        let why = format!("the length per mass of {whose} is not known");
        let measure = match reference {
            None => {
                "give length and mass of one ball of the pattern's yarn, from its label or the pattern"
            }
            Some(_) => WEIGH_IT,
        };
        return Outcome::missing(Criterion::Grist, why, measure);
    };
    if !are_comparable(&wanted.facts, &offered.facts) {
        return not_comparable(wanted, offered, reference, candidate);
    }
    Outcome::Judged(departure(wanted, offered, settings, (reference, candidate)))
}

fn departure(
    wanted: &Requirement,
    offered: &Candidate,
    settings: &Settings,
    (reference, candidate): (Grist, Grist),
) -> Departure {
    let tolerance = settings.tolerance.around(reference);
    let difference = candidate.as_metres_per_gram() - reference.as_metres_per_gram();
    Departure {
        criterion: Criterion::Grist,
        departure: in_tolerances(difference, tolerance),
        wanted: told(reference, &wanted.facts, wanted.strands),
        offered: told(candidate, &offered.facts, offered.strands),
        tolerance: tolerance_told(settings.tolerance, tolerance),
        scale: Some(Scale {
            wanted: reference.as_metres_per_100_g(),
            offered: candidate.as_metres_per_100_g(),
            tolerance: tolerance * 100.0,
            unit: "m/100 g",
        }),
        notes: notes(&wanted.facts, &offered.facts),
    }
}

/// Whether length per mass says the same of both; a construction that is not
/// known counts as plied, which most yarns are (common practice, no source).
pub(super) fn are_comparable(wanted: &YarnFacts, offered: &YarnFacts) -> bool {
    built(wanted).comparable_by_grist(built(offered))
}

fn built(facts: &YarnFacts) -> Construction {
    let construction = facts.construction.as_ref();
    construction.map_or(Construction::Plied, |printed| printed.value)
}

/// Whether both grists are known but say nothing of each other.
pub(super) fn is_known_but_not_comparable(wanted: &Requirement, offered: &Candidate) -> bool {
    let known = wanted.facts.grist().is_some() && offered.facts.grist().is_some();
    known && !are_comparable(&wanted.facts, &offered.facts)
}

fn not_comparable(
    wanted: &Requirement,
    offered: &Candidate,
    reference: Grist,
    candidate: Grist,
) -> Outcome {
    let why = format!(
        "{} ({}) cannot be compared with {} wanted ({}): air, halo or loops make up for mass",
        told(candidate, &offered.facts, offered.strands),
        construction_told(&offered.facts),
        told(reference, &wanted.facts, wanted.strands),
        construction_told(&wanted.facts),
    );
    Outcome::missing(
        Criterion::Grist,
        why,
        "knit a swatch of it and go by its gauge and its feel",
    )
}

fn construction_told(facts: &YarnFacts) -> &'static str {
    let construction = facts.construction.as_ref();
    construction.map_or("construction not stated, taken as plied", |printed| {
        printed.value.name()
    })
}

/// `225 m/100 g`.
pub(super) fn per_100_g(grist: Grist) -> String {
    format!("{} m/100 g", number(grist.as_metres_per_100_g(), 1))
}

fn told(together: Grist, facts: &YarnFacts, strands: u8) -> String {
    match (strands, facts.grist()) {
        (2.., Some(one)) => format!(
            "{} ({strands} strands of {})",
            per_100_g(together),
            per_100_g(one)
        ),
        _ => per_100_g(together),
    }
}

fn tolerance_told(tolerance: GristTolerance, around: f64) -> String {
    let length = format!("{} m/100 g", number(around * 100.0, 1));
    match tolerance {
        GristTolerance::Share(share) => format!("{} %", number(share.as_percent(), 2)),
        GristTolerance::Absolute(_) => length,
    }
}

fn notes(wanted: &YarnFacts, offered: &YarnFacts) -> Vec<String> {
    let by_count = |facts: &YarnFacts, whose: &str| {
        let put_up = facts.length.is_some() && facts.mass.is_some();
        let count = facts.count.as_ref().filter(|_| !put_up)?;
        Some(format!(
            "length per mass of {whose} comes from its yarn count {}; twist take-up is not taken off",
            count.text
        ))
    };
    let unstated = |facts: &YarnFacts, whose: &str| {
        let unknown = facts.construction.is_none();
        unknown.then(|| format!("the construction of {whose} is not stated and taken as smooth"))
    };
    [
        by_count(wanted, "the pattern's yarn"),
        by_count(offered, "this yarn"),
        unstated(wanted, "the pattern's yarn"),
        unstated(offered, "this yarn"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, settings, wanted};
    use super::*;

    fn judged(wanted: &Requirement, offered: &Candidate) -> Departure {
        match grist(wanted, offered, &settings()) {
            Outcome::Judged(departure) => departure,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn the_edge_of_the_tolerance_is_one() {
        let wanted = wanted().put_up(100.0, 50.0);
        let off = judged(&wanted, &offered().put_up(108.0, 50.0));
        assert!((off.departure - 1.0).abs() < 1e-9);
        assert_eq!(off.wanted, "200 m/100 g");
        assert_eq!(off.offered, "216 m/100 g");
        assert_eq!(off.tolerance, "8 %");
        let scale = off.scale.unwrap();
        assert_eq!((scale.wanted, scale.offered), (200.0, 216.0));
        assert!((scale.tolerance - 16.0).abs() < 1e-9);
    }

    /// Common practice, worked example: 600 m/100 g held double is 300 m/100 g.
    #[test]
    fn strands_held_together_are_one_thicker_yarn() {
        let wanted = wanted().put_up(300.0, 100.0);
        let double = Candidate {
            strands: 2,
            ..offered().put_up(600.0, 100.0)
        };
        let off = judged(&wanted, &double);
        assert_eq!(off.departure, 0.0);
        assert_eq!(off.offered, "300 m/100 g (2 strands of 600 m/100 g)");
    }

    fn weighed_length() -> Option<crate::record::Printed<crate::measure::Length>> {
        offered().put_up(700.0, 100.0).facts.length
    }

    #[test]
    fn what_is_taken_for_granted_is_told() {
        use crate::{
            measure::{YarnCount, units::CountSystem},
            record::Printed,
        };
        let count = YarnCount::new(14.0, 2, CountSystem::Metric).unwrap();
        let mut cone = offered().built(Construction::Plied);
        cone.facts.count = Some(Printed::new("2/14 Nm", count));
        let wanted = wanted().put_up(350.0, 50.0).built(Construction::Plied);
        let told = judged(&wanted, &cone).notes;
        assert_eq!(
            told,
            [
                "length per mass of this yarn comes from its yarn count 2/14 Nm; twist take-up is not taken off"
            ]
        );
        let mut no_mass = cone.clone();
        no_mass.facts.length = weighed_length();
        assert_eq!(judged(&wanted, &no_mass).notes, told);
        let weighed = cone.put_up(700.0, 100.0);
        assert_eq!(judged(&wanted, &weighed).notes, Vec::<String>::new());
        let unstated = judged(&wanted, &offered().put_up(700.0, 100.0)).notes;
        assert_eq!(
            unstated,
            ["the construction of this yarn is not stated and taken as smooth"]
        );
    }

    #[test]
    fn a_tolerance_may_be_a_length_per_mass() {
        let settings = Settings {
            tolerance: GristTolerance::Absolute(Grist::metres_per_gram(0.15).unwrap()),
            ..settings()
        };
        let outcome = grist(
            &wanted().put_up(200.0, 100.0),
            &offered().put_up(230.0, 100.0),
            &settings,
        );
        let Outcome::Judged(off) = outcome else {
            panic!("not judged")
        };
        assert!((off.departure - 2.0).abs() < 1e-9);
        assert_eq!(off.tolerance, "15 m/100 g");
    }

    #[test]
    fn a_tube_is_shown_but_not_compared_with_a_plied_yarn() {
        let wanted = wanted().put_up(200.0, 100.0);
        let tube = offered()
            .put_up(330.0, 100.0)
            .built(Construction::Chainette);
        let Outcome::NotJudged(missing) = grist(&wanted, &tube, &settings()) else {
            panic!("judged")
        };
        assert!(missing.why.contains("330 m/100 g (chainette)"));
        assert!(missing.why.contains("200 m/100 g wanted"));
        assert!(is_known_but_not_comparable(&wanted, &tube));
        let plied = offered().put_up(330.0, 100.0);
        assert!(!is_known_but_not_comparable(&wanted, &plied));
        let bare = offered().built(Construction::Chainette);
        assert!(!is_known_but_not_comparable(&wanted, &bare));
        assert!(!is_known_but_not_comparable(
            &super::super::samples::wanted(),
            &tube
        ));
    }

    #[test]
    fn what_is_not_known_is_told_with_how_to_measure_it() {
        let wanted = wanted().put_up(200.0, 100.0);
        let Outcome::NotJudged(missing) = grist(&wanted, &offered(), &settings()) else {
            panic!("judged")
        };
        assert_eq!(missing.why, "the length per mass of this yarn is not known");
        assert!(missing.measure.contains("10 m"));
    }
}
