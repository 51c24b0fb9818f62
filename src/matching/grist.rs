//! Length per mass of the candidate against that of the pattern's yarn.

use super::{
    Candidate, Criterion, Departure, Evidence, HeldGrist, Measured, Missing, Requirement, Settings,
    Side, Tolerance,
    criterion::{Outcome, in_tolerances, is_within},
    prediction::densities,
};
use crate::{
    label::measured::measured_range,
    measure::{Grist, Interval},
    record::YarnFacts,
    trade::Construction,
};

/// Grist of `strands` ends of a yarn held together: g / n.
pub(super) fn effective(facts: &YarnFacts, strands: u8) -> Option<Grist> {
    facts.grist()?.times(strands)
}

fn held(facts: &YarnFacts, strands: u8) -> Option<HeldGrist> {
    let one = facts.grist()?;
    let together = one.times(strands)?;
    Some(HeldGrist {
        strands,
        one,
        together,
        as_thick_as: None,
    })
}

/// Ratio of densities from which thickness is looked at beside length per mass.
pub(super) const DENSER: f64 = 1.02;

/// Length per mass, m/g, of the pattern's fibres that would be as thick:
/// g_c rho_c / rho_r, packing taken as equal, rho the densities of candidate and
/// reference; none where these are not known or differ by 2 % or less. Metres per
/// gram compare thickness only among fibres that are equally dense.
#[inline]
pub(super) fn as_thick_as(grist: f64, densities: Option<(f64, f64)>) -> Option<f64> {
    let (candidate, reference) = densities?;
    let ratio = candidate / reference;
    (ratio.max(1.0 / ratio) > DENSER + 1e-9).then_some(grist * ratio)
}

/// Departure: the smaller of |g_c - g_r| and the same at equal thickness
/// ([`as_thick_as`]) / tolerance, all m/g, strands held together.
#[inline]
pub(super) fn grist_departure(
    (candidate, reference): (f64, f64),
    densities: Option<(f64, f64)>,
    tolerance: f64,
) -> f64 {
    let plain = in_tolerances(candidate - reference, tolerance);
    let thick = as_thick_as(candidate, densities);
    thick.map_or(plain, |thick| {
        plain.min(in_tolerances(thick - reference, tolerance))
    })
}

/// The tolerance is a share of g_r or a length per mass. See [`grist_departure`].
pub(super) fn grist(wanted: &Requirement, offered: &Candidate, settings: &Settings) -> Outcome {
    let Some(reference) = held(&wanted.facts, wanted.strands) else {
        return Outcome::NotJudged(Missing::Grist(Side::Reference));
    };
    let Some(mut candidate) = held(&offered.facts, offered.strands) else {
        return Outcome::NotJudged(Missing::Grist(Side::Candidate));
    };
    if !are_comparable(&wanted.facts, &offered.facts) {
        return Outcome::NotJudged(Missing::ComparableGrist {
            candidate: (candidate, stated(&offered.facts)),
            reference: (reference, stated(&wanted.facts)),
        });
    }
    let tolerance = settings.tolerance.around(reference.together);
    let densities = densities(&wanted.facts, &offered.facts);
    let grists = (
        candidate.together.as_metres_per_gram(),
        reference.together.as_metres_per_gram(),
    );
    candidate.as_thick_as =
        as_thick_as(grists.0, densities).and_then(|thick| Grist::metres_per_gram(thick).ok());
    Outcome::Judged(Departure {
        criterion: Criterion::Grist,
        departure: grist_departure(grists, densities, tolerance),
        wanted: Measured::Grist(reference),
        offered: Measured::Grist(candidate),
        tolerance: Tolerance::Grist {
            stated: settings.tolerance,
            metres_per_gram: tolerance,
        },
        evidence: at_equal_thickness(&candidate, &reference)
            .into_iter()
            .chain(evidence(&wanted.facts, &offered.facts))
            .collect(),
    })
}

/// Whether length per mass says the same of both; a construction that is not
/// known counts as plied, which most yarns are, and so does a strand of several yarns
/// that smooth ones carry (common practice, no source).
pub(super) fn are_comparable(wanted: &YarnFacts, offered: &YarnFacts) -> bool {
    built_as_compared(wanted).comparable_by_grist(built_as_compared(offered))
}

/// How a yarn is built as far as its length per mass goes.
pub(super) fn built_as_compared(facts: &YarnFacts) -> Construction {
    let is_carried = facts.together.is_some_and(|held| held.smooth.is_enough());
    let stated = stated(facts).filter(|_| !is_carried);
    stated.unwrap_or(Construction::Plied)
}

fn stated(facts: &YarnFacts) -> Option<Construction> {
    facts.construction.as_ref().map(|printed| printed.value)
}

/// How far a judged length per mass lies above (or below) what is wanted, as a share
/// of that, by what counts.
pub(super) fn off(found: &Departure) -> Option<f64> {
    match (&found.wanted, &found.offered) {
        (Measured::Grist(wanted), Measured::Grist(offered)) => Some(offered.off(wanted)),
        _ => None,
    }
}

/// Whether both grists are known but say nothing of each other.
pub(super) fn is_known_but_not_comparable(wanted: &Requirement, offered: &Candidate) -> bool {
    let known = wanted.facts.grist().is_some() && offered.facts.grist().is_some();
    known && !are_comparable(&wanted.facts, &offered.facts)
}

/// Whether a measured length per mass may lie beyond the tolerance, by its range, where
/// the value in the middle lies within.
pub(super) fn may_lie_beyond(found: &Departure, range: Interval<Grist>) -> bool {
    let (
        Measured::Grist(wanted),
        Measured::Grist(offered),
        Tolerance::Grist {
            metres_per_gram, ..
        },
    ) = (&found.wanted, &found.offered, &found.tolerance)
    else {
        return false;
    };
    let together = offered.together.as_metres_per_gram();
    let densities = offered
        .as_thick_as
        .map(|thick| (thick.as_metres_per_gram() / together, 1.0));
    let is_beyond = |end: Grist| {
        let end = end.as_metres_per_gram() / f64::from(offered.strands);
        let grists = (end, wanted.together.as_metres_per_gram());
        !is_within(grist_departure(grists, densities, *metres_per_gram))
    };
    is_within(found.departure) && [range.low(), range.high()].into_iter().any(is_beyond)
}

fn at_equal_thickness(candidate: &HeldGrist, reference: &HeldGrist) -> Option<Evidence> {
    let as_thick_as = candidate.as_thick_as?;
    let by =
        |grist: Grist| grist.as_metres_per_gram() / reference.together.as_metres_per_gram() - 1.0;
    Some(Evidence::EqualThickness {
        by_length: by(candidate.together),
        by_thickness: by(as_thick_as),
        as_thick_as,
    })
}

fn evidence(wanted: &YarnFacts, offered: &YarnFacts) -> Vec<Evidence> {
    let sides = [(wanted, Side::Reference), (offered, Side::Candidate)];
    let counts = sides.into_iter().filter_map(|(facts, side)| {
        let put_up = facts.length.is_some() && facts.mass.is_some();
        let count = facts.count.as_ref().filter(|_| !put_up)?;
        Some(match measured_range(facts) {
            Some(range) => Evidence::MeasuredGrist(side, range),
            None => Evidence::YarnCount(side, count.text.clone()),
        })
    });
    let unstated = sides
        .into_iter()
        .filter(|(facts, _)| facts.construction.is_none())
        .map(|(_, side)| Evidence::ConstructionNotStated(side));
    counts.chain(unstated).collect()
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, settings, wanted};
    use super::*;
    use crate::measure::GristTolerance;

    fn per_100_g(measured: &Measured) -> f64 {
        let Measured::Grist(held) = measured else {
            panic!("{measured:?}")
        };
        held.together.as_metres_per_100_g()
    }

    fn judged(wanted: &Requirement, offered: &Candidate) -> Departure {
        grist(wanted, offered, &settings()).judged()
    }

    #[test]
    fn the_edge_of_the_tolerance_is_one() {
        let wanted = wanted().put_up(100.0, 50.0);
        let off = judged(&wanted, &offered().put_up(108.0, 50.0));
        assert!((off.departure - 1.0).abs() < 1e-9);
        assert_eq!(per_100_g(&off.wanted), 200.0);
        assert_eq!(per_100_g(&off.offered), 216.0);
        let Tolerance::Grist {
            stated,
            metres_per_gram,
        } = off.tolerance
        else {
            panic!("{:?}", off.tolerance)
        };
        assert_eq!(stated, settings().tolerance);
        assert!((metres_per_gram - 0.16).abs() < 1e-9);
    }

    /// Common practice, no source: cotton of 207 m/100 g is as thick as wool of 240.
    /// Densities: Morton & Hearle 2008, table 5.1: cotton 1.52, wool 1.31, acrylic 1.19.
    #[test]
    fn the_smaller_of_length_per_mass_and_thickness_counts() {
        let wool = wanted().put_up(240.0, 100.0).of(&[("wool", 100.0)]);
        let found = |metres: f64, fibre: &str| {
            judged(
                &wool,
                &offered().put_up(metres, 100.0).of(&[(fibre, 100.0)]),
            )
        };
        let cotton = found(207.0, "cotton");
        let thick: f64 = 207.0 * 1.52 / 1.31;
        assert!((cotton.departure - (thick / 240.0 - 1.0).abs() / 0.08).abs() < 1e-9);
        assert!((off(&cotton).unwrap() - (thick / 240.0 - 1.0)).abs() < 1e-9);
        assert!(matches!(
            cotton.evidence[0],
            Evidence::EqualThickness { by_length, .. } if (by_length + 0.1375).abs() < 1e-9
        ));
        // plain length is nearer
        assert!((found(240.0, "cotton").departure).abs() < 1e-9);
        assert!(found(264.0, "acrylic").departure < 1e-2);
    }

    #[test]
    fn thickness_is_compared_from_a_density_two_percent_off() {
        for (ratio, compared) in [
            (1.02, false),
            (1.0201, true),
            (1.0 / 1.02, false),
            (0.98, true),
        ] {
            assert_eq!(
                as_thick_as(2.0, Some((ratio, 1.0))).is_some(),
                compared,
                "{ratio}"
            );
        }
        assert_eq!(as_thick_as(2.0, None), None);
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
        let Measured::Grist(held) = off.offered else {
            panic!("{:?}", off.offered)
        };
        assert_eq!((held.strands, held.one.as_metres_per_100_g()), (2, 600.0));
        assert_eq!(held.together.as_metres_per_100_g(), 300.0);
    }

    fn weighed_length() -> Option<crate::record::Printed<crate::measure::Length>> {
        offered().put_up(700.0, 100.0).facts.length
    }

    #[test]
    fn what_is_taken_for_granted_is_noted() {
        use crate::{
            measure::{YarnCount, units::CountSystem},
            record::Printed,
        };
        let count = YarnCount::new(14.0, 2, CountSystem::Metric).unwrap();
        let mut cone = offered().built(Construction::Plied);
        cone.facts.count = Some(Printed::new("2/14 Nm", count));
        let wanted = wanted().put_up(350.0, 50.0).built(Construction::Plied);
        let noted = judged(&wanted, &cone).evidence;
        let count = Evidence::YarnCount(Side::Candidate, "2/14 Nm".to_owned());
        assert_eq!(noted, [count]);
        let mut no_mass = cone.clone();
        no_mass.facts.length = weighed_length();
        assert_eq!(judged(&wanted, &no_mass).evidence, noted);
        let weighed = cone.put_up(700.0, 100.0);
        assert_eq!(judged(&wanted, &weighed).evidence, []);
        let unstated = judged(&wanted, &offered().put_up(700.0, 100.0)).evidence;
        assert_eq!(unstated, [Evidence::ConstructionNotStated(Side::Candidate)]);
    }

    #[test]
    fn a_tolerance_may_be_a_length_per_mass() {
        let stated = GristTolerance::Absolute(Grist::metres_per_gram(0.15).unwrap());
        let settings = Settings {
            tolerance: stated,
            ..settings()
        };
        let outcome = grist(
            &wanted().put_up(200.0, 100.0),
            &offered().put_up(230.0, 100.0),
            &settings,
        );
        let off = outcome.judged();
        assert!((off.departure - 2.0).abs() < 1e-9);
        assert!(matches!(off.tolerance, Tolerance::Grist { stated: kept, .. } if kept == stated));
    }

    #[test]
    fn a_tube_is_shown_but_not_compared_with_a_plied_yarn() {
        let wanted = wanted().put_up(200.0, 100.0);
        let tube = offered()
            .put_up(330.0, 100.0)
            .built(Construction::Chainette);
        let outcome = grist(&wanted, &tube, &settings());
        let Outcome::NotJudged(Missing::ComparableGrist {
            candidate,
            reference,
        }) = outcome
        else {
            panic!("{outcome:?}")
        };
        assert_eq!(candidate.1, Some(Construction::Chainette));
        assert!((candidate.0.one.as_metres_per_100_g() - 330.0).abs() < 1e-9);
        assert!((reference.0.one.as_metres_per_100_g() - 200.0).abs() < 1e-9);
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
    fn a_length_per_mass_that_is_not_known_is_missing() {
        let wanted = wanted().put_up(200.0, 100.0);
        let outcome = grist(&wanted, &offered(), &settings());
        assert_eq!(outcome, Outcome::NotJudged(Missing::Grist(Side::Candidate)));
    }
}
