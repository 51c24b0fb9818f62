//! How differently two blends behave.
//!
//! Four properties, each with a scale of its own. The scales are the program's
//! own, set so that swaps which the trade warns of (wool for cotton, viscose or
//! linen) lie beyond the tolerance and those it accepts (wool for acrylic or
//! silk, cotton for linen) within: common practice, no source.

use super::{
    Candidate, Criterion, Departure, Evidence, FibreProperty, Measured, Missing,
    PropertyComparison, PropertyValues, Requirement, Side, Tolerance,
    prediction::{ENOUGH, density},
    terms::Outcome,
};
use crate::{
    record::{Blend, FibreName},
    trade::{Basis, Fibre, Figure},
};

/// Points of recovery from 5 % strain that make one tolerance.
const RECOVERY_POINTS: f64 = 20.0;
/// Points of moisture regain that make one tolerance.
const REGAIN_POINTS: f64 = 12.0;
/// Ratio of breaking extensions that makes one tolerance.
const EXTENSION_RATIO: f64 = 2.0;
/// Ratio of diameters at equal grist that makes one tolerance.
const DIAMETER_RATIO: f64 = 1.05;

/// A property of a fibre.
type Value = fn(&Fibre) -> Option<Figure>;

/// One of the four parts.
#[derive(Debug, Clone, Copy)]
struct Property {
    of: FibreProperty,
    value: Value,
    of_blend: fn(&Blend, Value) -> Option<f64>,
    departure: fn(f64, f64) -> f64,
}

/// Recovery: |c - r| / 20 points. Stretch: |ln(c / r)| / ln 2. Thickness at equal
/// grist: |ln(rho_c / rho_r)| / (2 ln 1.05), since diameter goes with
/// 1 / sqrt(rho). Moisture: |c - r| / 12 points. Recovery, extension and regain
/// of a blend are means by mass share.
const PROPERTIES: [Property; 4] = [
    Property {
        of: FibreProperty::Recovery,
        value: |fibre| fibre.recovery,
        of_blend: mean,
        departure: |c, r| (c - r).abs() / RECOVERY_POINTS,
    },
    Property {
        of: FibreProperty::Extension,
        value: |fibre| fibre.extension,
        of_blend: mean,
        departure: |c, r| (c / r).ln().abs() / EXTENSION_RATIO.ln(),
    },
    Property {
        of: FibreProperty::Density,
        value: |fibre| Some(fibre.density),
        of_blend: |blend, _| density(blend),
        departure: |c, r| (c / r).ln().abs() / (2.0 * DIAMETER_RATIO.ln()),
    },
    Property {
        of: FibreProperty::Regain,
        value: |fibre| fibre.regain,
        of_blend: mean,
        departure: |c, r| (c - r).abs() / REGAIN_POINTS,
    },
];

fn mean(blend: &Blend, value: Value) -> Option<f64> {
    let (mean, share) = blend.mean(|fibre| value(fibre).map(|figure| figure.value));
    mean.filter(|_| share >= ENOUGH - 1e-9)
}

/// What comparing two blends gives.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FibreDeparture {
    /// In tolerances.
    pub(super) departure: f64,
    /// The parts, the farthest first, and what was left out.
    pub(super) parts: Vec<PropertyComparison>,
}

/// Root mean square of those of the four parts for which three quarters of
/// either blend have a value. Blends of the same fibres and shares: 0. `None`
/// where no part can be compared.
pub(super) fn fibre_departure(candidate: &Blend, reference: &Blend) -> Option<FibreDeparture> {
    if candidate == reference {
        return Some(FibreDeparture {
            departure: 0.0,
            parts: Vec::new(),
        });
    }
    let mut parts = PROPERTIES.map(|property| part(property, candidate, reference));
    let off = |part: &PropertyComparison| part.values.map(|values| values.departure);
    parts.sort_by(|a, b| off(b).unwrap_or(-1.0).total_cmp(&off(a).unwrap_or(-1.0)));
    let departures: Vec<f64> = parts.iter().filter_map(off).collect();
    let count = u32::try_from(departures.len()).ok().filter(|n| *n > 0)?;
    let squares: f64 = departures.iter().map(|departure| departure.powi(2)).sum();
    Some(FibreDeparture {
        departure: (squares / f64::from(count)).sqrt(),
        parts: parts.into(),
    })
}

fn part(property: Property, candidate: &Blend, reference: &Blend) -> PropertyComparison {
    let of = |blend| (property.of_blend)(blend, property.value);
    let values = of(candidate).zip(of(reference));
    PropertyComparison {
        property: property.of,
        values: values.map(|(candidate, reference)| PropertyValues {
            candidate,
            reference,
            departure: (property.departure)(candidate, reference),
        }),
        unpublished: unpublished(property, [candidate, reference]),
    }
}

/// The fibres whose value is not a published one.
fn unpublished(property: Property, blends: [&Blend; 2]) -> Vec<(&'static str, Basis)> {
    let mut found = Vec::new();
    for part in blends.iter().flat_map(|blend| blend.parts()) {
        let FibreName::Known(fibre) = part.fibre else {
            continue;
        };
        let basis = (property.value)(fibre).map(|figure| (fibre.name, figure.basis));
        if let Some(basis) = basis.filter(|basis| !is_published(basis.1) && !found.contains(basis))
        {
            found.push(basis);
        }
    }
    found
}

fn is_published(basis: Basis) -> bool {
    matches!(basis, Basis::Published(_))
}

/// Departure of the fibres; tolerance 1.
pub(super) fn fibre(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let (reference, candidate) = match (&wanted.facts.blend, &offered.facts.blend) {
        (Some(reference), Some(candidate)) => (&reference.value, &candidate.value),
        (None, _) => return Outcome::NotJudged(Missing::Fibre(Side::Reference)),
        (_, None) => return Outcome::NotJudged(Missing::Fibre(Side::Candidate)),
    };
    let Some(found) = fibre_departure(candidate, reference) else {
        let names = nameless(candidate, reference);
        return Outcome::NotJudged(Missing::FibreValues(names));
    };
    Outcome::Judged(Departure {
        criterion: Criterion::Fibre,
        departure: found.departure,
        wanted: Measured::Fibre(reference.clone()),
        offered: Measured::Fibre(candidate.clone()),
        tolerance: Tolerance::One,
        evidence: found
            .parts
            .into_iter()
            .map(Evidence::FibreProperty)
            .collect(),
    })
}

/// The fibres of both of which nothing is known.
fn nameless(candidate: &Blend, reference: &Blend) -> Vec<String> {
    let parts = candidate.parts().iter().chain(reference.parts());
    let mut names: Vec<String> = parts
        .filter(|part| matches!(part.fibre, FibreName::Other(_)))
        .map(|part| part.fibre.to_string())
        .collect();
    names.sort();
    names.dedup();
    names
}

#[cfg(test)]
mod tests {
    use super::super::samples::blend;
    use super::*;
    use crate::trade::FIBRES;
    use proptest::prelude::*;

    fn pure(a: &str, b: &str) -> f64 {
        let departure = fibre_departure(&blend(&[(a, 100.0)]), &blend(&[(b, 100.0)]));
        departure.unwrap().departure
    }

    /// Computed from the fibre table; which pairs lie beyond 1 is common
    /// practice, no source.
    #[test]
    fn pairs_the_trade_warns_of_lie_beyond_the_tolerance_and_accepted_ones_within() {
        for (a, b, expected) in [
            ("wool", "cotton", 1.60),
            ("wool", "viscose", 1.36),
            ("wool", "linen", 2.10),
            ("wool", "acrylic", 0.99),
            ("wool", "silk", 0.66),
            ("cotton", "linen", 0.69),
            ("cotton", "acrylic", 1.57),
        ] {
            let found = pure(a, b);
            assert!((found - expected).abs() <= 0.005, "{a}, {b}: {found}");
        }
    }

    #[test]
    fn a_part_without_data_for_over_a_quarter_is_left_out_and_named() {
        let candidate = blend(&[("acetate", 30.0), ("wool", 70.0)]);
        let found = fibre_departure(&candidate, &blend(&[("wool", 100.0)])).unwrap();
        let left_out = |found: &FibreDeparture| {
            found
                .parts
                .iter()
                .filter(|part| part.values.is_none())
                .count()
        };
        assert_eq!(left_out(&found), 1);
        let quarter = blend(&[("acetate", 25.0), ("wool", 75.0)]);
        let found = fibre_departure(&quarter, &blend(&[("wool", 100.0)])).unwrap();
        assert_eq!(left_out(&found), 0);
    }

    #[test]
    fn a_value_that_no_text_confirmed_is_named_as_such() {
        let found = fibre_departure(&blend(&[("alpaca", 100.0)]), &blend(&[("wool", 100.0)]));
        let parts = found.unwrap().parts;
        let named = |basis| {
            parts
                .iter()
                .any(|p| p.unpublished.contains(&("alpaca", basis)))
        };
        assert!(
            named(Basis::Practice) && named(Basis::Proxy("wool")),
            "{parts:?}"
        );
    }

    #[test]
    fn an_unknown_fibre_is_the_same_as_itself_and_beyond_comparing_with_others() {
        let moss = blend(&[("moss", 100.0)]);
        assert_eq!(fibre_departure(&moss, &moss).unwrap().departure, 0.0);
        assert_eq!(fibre_departure(&moss, &blend(&[("wool", 100.0)])), None);
    }

    #[test]
    fn fibres_of_which_nothing_is_known_are_named() {
        let moss = blend(&[("moss", 60.0), ("wool", 40.0)]);
        let reed = blend(&[("reed", 100.0)]);
        assert_eq!(nameless(&reed, &moss), ["moss", "reed"]);
        assert_eq!(nameless(&moss, &moss), ["moss"]);
        let wool = blend(&[("wool", 100.0)]);
        assert!(nameless(&wool, &wool).is_empty());
    }

    fn any_blend() -> impl Strategy<Value = Blend> {
        let fibre = || 0..FIBRES.len();
        (fibre(), fibre(), 1_u8..=99).prop_map(|(a, b, share)| {
            let share = f64::from(share);
            blend(&[(FIBRES[a].name, share), (FIBRES[b].name, 100.0 - share)])
        })
    }

    proptest! {
        #[test]
        fn prop_the_departure_of_fibres_goes_both_ways(a in any_blend(), b in any_blend()) {
            let there = fibre_departure(&a, &b).map(|found| found.departure);
            let back = fibre_departure(&b, &a).map(|found| found.departure);
            match (there, back) {
                (Some(there), Some(back)) => prop_assert!((there - back).abs() < 1e-9),
                _ => prop_assert_eq!(there, back),
            }
        }

        #[test]
        fn prop_the_same_blend_does_not_depart(a in any_blend()) {
            prop_assert_eq!(fibre_departure(&a, &a).unwrap().departure, 0.0);
        }
    }

    #[test]
    fn different_fibres_of_the_table_depart_unless_their_known_values_agree() {
        for a in FIBRES {
            for b in FIBRES {
                let values = |f: &Fibre| PROPERTIES.map(|p| (p.value)(f).map(|v| v.value));
                if values(a) != values(b) {
                    let departure =
                        fibre_departure(&blend(&[(a.name, 100.0)]), &blend(&[(b.name, 100.0)]));
                    let all_known = values(a).iter().chain(&values(b)).all(Option::is_some);
                    assert!(!all_known || departure.unwrap().departure > 0.0);
                }
            }
        }
    }
}
