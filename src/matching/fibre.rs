//! How differently two blends behave in the hand.
//!
//! Three properties, each with a scale of its own and a weight by fit; the one that
//! departs most decides. The scales are the program's own, set so that swaps which
//! the trade warns of (wool for cotton, viscose or linen) lie beyond the tolerance
//! and those it accepts (wool for acrylic or silk, cotton for linen) within: common
//! practice, no source. A dishcloth asks only how much of it soaks up no water, and
//! what is felted or handled hot follows rules of its own ([`super::purpose_rules`]).

use super::{
    Candidate, Criterion, Departure, Evidence, FibreProperty, Measured, Missing,
    PropertyComparison, PropertyValues, Requirement, Side, Tolerance, criterion::Outcome,
    prediction::ENOUGH,
};
use crate::{
    record::{Blend, FibreName, Fit, Purpose},
    trade::{Basis, Family, Fibre, Figure},
};

/// Points of recovery from 5 % strain that make one tolerance.
const RECOVERY_POINTS: f64 = 15.0;
/// Points of moisture regain that make one tolerance.
const REGAIN_POINTS: f64 = 12.0;
/// Ratio of breaking extensions that makes one tolerance.
const EXTENSION_RATIO: f64 = 2.0;
/// Points of synthetic share that make one tolerance of what has to soak up water.
const SYNTHETIC_POINTS: f64 = 25.0;
/// Extension at break, %, from which a fibre is elastic: common practice, no source.
const ELASTIC_FROM: f64 = 100.0;

/// A property of a fibre, and what it rests on where it is a measured one.
type Value = fn(&Fibre) -> Option<(f64, Option<Basis>)>;

/// One of the parts.
#[derive(Debug, Clone, Copy)]
struct Property {
    of: FibreProperty,
    value: Value,
    departure: fn(f64, f64) -> f64,
    /// What it counts in a thing that is fitted, relaxed, unfitted.
    weights: [f64; 3],
}

/// Recovery: |c - r| / 15 points. Stretch: |ln(c / r)| / ln 2. Moisture: |c - r| / 12
/// points. All of a blend are means by mass share, and each is multiplied by its
/// weight: the closer a thing sits, the more spring and give count.
const PROPERTIES: [Property; 3] = [
    Property {
        of: FibreProperty::Recovery,
        value: |fibre| measured(fibre.recovery.filter(|_| !is_elastic(fibre))),
        departure: |c, r| (c - r).abs() / RECOVERY_POINTS,
        weights: [1.0, 0.7, 0.3],
    },
    Property {
        of: FibreProperty::Extension,
        value: |fibre| measured(fibre.extension.filter(|_| !is_elastic(fibre))),
        departure: |c, r| (c / r).ln().abs() / EXTENSION_RATIO.ln(),
        weights: [1.0, 0.7, 0.3],
    },
    Property {
        of: FibreProperty::Regain,
        value: |fibre| measured(fibre.regain),
        departure: |c, r| (c - r).abs() / REGAIN_POINTS,
        weights: [0.5, 0.5, 0.3],
    },
];

/// |c - r| / 25 points, of the shares that are synthetic.
const SYNTHETIC: Property = Property {
    of: FibreProperty::SyntheticShare,
    value: |fibre| {
        let is_synthetic = fibre.family == Family::Synthetic;
        Some((if is_synthetic { 100.0 } else { 0.0 }, None))
    },
    departure: |c, r| (c - r).abs() / SYNTHETIC_POINTS,
    weights: [1.0; 3],
};

fn measured(figure: Option<Figure>) -> Option<(f64, Option<Basis>)> {
    figure.map(|figure| (figure.value, Some(figure.basis)))
}

/// Whether a fibre stretches like rubber; such fibres, a few percent of a yarn, would
/// drown the averages of the others.
fn is_elastic(fibre: &Fibre) -> bool {
    let extension = fibre.extension.map(|figure| figure.value);
    extension.is_some_and(|extension| extension > ELASTIC_FROM)
}

impl Property {
    /// The mean of a blend; none where over a quarter of it has no value.
    fn of_blend(&self, blend: &Blend) -> Option<f64> {
        let (mean, share) = blend.mean(|fibre| (self.value)(fibre).map(|(value, _)| value));
        mean.filter(|_| share >= ENOUGH - 1e-9)
    }

    fn weight(&self, fit: Fit) -> f64 {
        let [fitted, relaxed, unfitted] = self.weights;
        match fit {
            Fit::Fitted => fitted,
            Fit::Relaxed => relaxed,
            Fit::Unfitted => unfitted,
        }
    }
}

/// The parts that count for a purpose; none where the blend is judged by rules.
fn properties(purpose: Option<Purpose>) -> &'static [Property] {
    match purpose {
        Some(Purpose::HotPad | Purpose::Felted) => &[],
        Some(Purpose::Dishcloth) => &[SYNTHETIC],
        _ => &PROPERTIES,
    }
}

/// Whether blends are compared for a purpose.
pub(super) fn is_asked(purpose: Option<Purpose>) -> bool {
    !properties(purpose).is_empty()
}

/// What comparing two blends gives.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FibreDeparture {
    /// In tolerances.
    pub(super) departure: f64,
    /// The parts, the farthest first, and what was left out.
    pub(super) parts: Vec<PropertyComparison>,
}

/// The largest of those of the parts for which three quarters of either blend have
/// a value. Blends of the same fibres and shares: 0. `None` where no part can be
/// compared.
fn fibre_departure(
    candidate: &Blend,
    reference: &Blend,
    (properties, fit): (&[Property], Fit),
) -> Option<FibreDeparture> {
    if candidate == reference {
        return Some(FibreDeparture {
            departure: 0.0,
            parts: Vec::new(),
        });
    }
    let parts = properties.iter();
    let mut parts: Vec<_> = parts
        .map(|property| part(*property, fit, [candidate, reference]))
        .collect();
    let off = |part: &PropertyComparison| part.values.map(|values| values.departure);
    parts.sort_by(|a, b| off(b).unwrap_or(-1.0).total_cmp(&off(a).unwrap_or(-1.0)));
    let departure = parts.first().and_then(off)?;
    Some(FibreDeparture { departure, parts })
}

fn part(property: Property, fit: Fit, [candidate, reference]: [&Blend; 2]) -> PropertyComparison {
    let values = property
        .of_blend(candidate)
        .zip(property.of_blend(reference));
    PropertyComparison {
        property: property.of,
        values: values.map(|(candidate, reference)| PropertyValues {
            candidate,
            reference,
            departure: (property.departure)(candidate, reference) * property.weight(fit),
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
        let basis = (property.value)(fibre).and_then(|(_, basis)| Some((fibre.name, basis?)));
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

/// The most parts that count for a purpose.
pub(super) const MOST_PARTS: usize = PROPERTIES.len();

/// Sum of p v and sum of p over the fibres of a blend that have a value, p of 1; over
/// several blends each times its mass.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct PartSums {
    sum: f64,
    share: f64,
}

impl PartSums {
    pub(super) fn of(blend: &Blend, value: impl Fn(&Fibre) -> Option<f64>) -> Self {
        let (mean, share) = blend.mean(value);
        let sum = mean.unwrap_or(0.0) * share;
        Self { sum, share }
    }

    /// With so much mass of another.
    #[inline]
    pub(super) fn with(self, other: Self, mass: f64) -> Self {
        Self {
            sum: self.sum + other.sum * mass,
            share: self.share + other.share * mass,
        }
    }

    /// The same of a mass of 1.
    #[inline]
    pub(super) fn over(self, mass: f64) -> Self {
        Self {
            sum: self.sum / mass,
            share: self.share / mass,
        }
    }

    /// The mean, where enough of this mass has a value.
    #[inline]
    pub(super) fn mean(self, mass: f64) -> Option<f64> {
        (self.share >= (ENOUGH - 1e-9) * mass).then(|| self.sum / self.share)
    }

    /// The mean of whatever has a value.
    pub(super) fn mean_of_known(self) -> Option<f64> {
        (self.share > 0.0).then(|| self.sum / self.share)
    }
}

/// The sums of each part that counts for a purpose; of the others nothing.
pub(super) fn sums(blend: &Blend, purpose: Option<Purpose>) -> [PartSums; MOST_PARTS] {
    let mut all = [PartSums::default(); MOST_PARTS];
    for (sum, property) in all.iter_mut().zip(properties(purpose)) {
        *sum = PartSums::of(blend, |fibre| {
            (property.value)(fibre).map(|(value, _)| value)
        });
    }
    all
}

/// How far blends depart at least from what is wanted, in whatever shares they are
/// mixed: each mean lies between those of the blends. One blend departs by exactly so
/// much where a part can be compared. A part of which one blend has too little may be
/// left out.
pub(super) fn parts_at_least(
    blends: impl Iterator<Item = [PartSums; MOST_PARTS]> + Clone,
    reference: &[PartSums; MOST_PARTS],
    wanted: &Requirement,
) -> f64 {
    let part = |(place, property): (usize, &Property)| {
        let own = reference.get(place)?.mean(1.0)?;
        let mut means = blends.clone().map(|blend| blend.get(place)?.mean(1.0));
        let (low, high) = means.try_fold((f64::INFINITY, 0.0_f64), |(low, high), mean| {
            mean.map(|mean| (low.min(mean), high.max(mean)))
        })?;
        let nearest = own.max(low).min(high);
        Some((property.departure)(nearest, own) * property.weight(wanted.fit))
    };
    let parts = properties(wanted.purpose).iter().enumerate();
    parts.filter_map(part).fold(0.0, f64::max)
}

/// Departure of the fibres; tolerance 1. Not asked where rules of the purpose judge
/// them.
pub(super) fn fibre(wanted: &Requirement, offered: &Candidate) -> Outcome {
    let properties = properties(wanted.purpose);
    if properties.is_empty() {
        return Outcome::NotAsked;
    }
    let (reference, candidate) = match (&wanted.facts.blend, &offered.facts.blend) {
        (Some(reference), Some(candidate)) => (&reference.value, &candidate.value),
        (_, None) => return Outcome::NotJudged(Missing::Fibre(Side::Candidate)),
        (None, _) => return Outcome::NotJudged(Missing::Fibre(Side::Reference)),
    };
    let Some(found) = fibre_departure(candidate, reference, (properties, wanted.fit)) else {
        let names = nameless(candidate, reference);
        return Outcome::NotJudged(Missing::FibreValues(names));
    };
    let parts = found.parts.into_iter().map(Evidence::FibreProperty);
    let elastic = [(reference, Side::Reference), (candidate, Side::Candidate)]
        .into_iter()
        .filter(|(blend, _)| blend.share_where(is_elastic) > 0.0)
        .map(|(_, side)| Evidence::Elastic(side));
    Outcome::Judged(Departure {
        criterion: Criterion::Fibre,
        departure: found.departure,
        wanted: Measured::Fibre(reference.clone()),
        offered: Measured::Fibre(candidate.clone()),
        tolerance: Tolerance::One,
        evidence: parts.chain(elastic).collect(),
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

    const fn at(fit: Fit) -> (&'static [Property], Fit) {
        (&PROPERTIES, fit)
    }

    fn relaxed(candidate: &Blend, reference: &Blend) -> Option<FibreDeparture> {
        fibre_departure(candidate, reference, at(Fit::Relaxed))
    }

    fn pure(a: &str, b: &str, fit: Fit) -> f64 {
        let [a, b] = [a, b].map(|name| blend(&[(name, 100.0)]));
        fibre_departure(&a, &b, at(fit)).unwrap().departure
    }

    /// Computed from the fibre table; which pairs lie beyond 1 is common practice, no
    /// source. These were root mean squares of four parts, density among them: a
    /// mean let three small differences hide a large one, and density now counts
    /// where thickness is compared.
    #[test]
    fn pairs_the_trade_warns_of_lie_beyond_the_tolerance_and_accepted_ones_within() {
        use Fit::{Fitted, Relaxed, Unfitted};
        for (a, b, fit, expected) in [
            ("wool", "cotton", Relaxed, 1.81),
            ("wool", "viscose", Relaxed, 1.73),
            ("wool", "linen", Relaxed, 2.68),
            ("wool", "acrylic", Relaxed, 0.89),
            ("wool", "silk", Relaxed, 0.79),
            ("cotton", "linen", Relaxed, 0.87),
            ("cotton", "acrylic", Relaxed, 1.27),
            ("wool", "silk", Fitted, 1.13),
            ("wool", "alpaca", Fitted, 1.27),
            ("wool", "alpaca", Unfitted, 0.38),
        ] {
            let found = pure(a, b, fit);
            assert!((found - expected).abs() <= 0.005, "{a}, {b}: {found}");
            assert!((found - pure(b, a, fit)).abs() < 1e-9, "{a}, {b}");
        }
    }

    /// Common practice, no source: wool 69 % recovery, cotton 52; a blend at the very
    /// edge by its share, a step within and a step beyond.
    #[test]
    fn the_edge_lies_where_the_farthest_part_makes_one() {
        let departure = |cotton: f64| {
            let candidate = blend(&[("cotton", cotton), ("wool", 100.0 - cotton)]);
            let found = fibre_departure(&candidate, &blend(&[("wool", 100.0)]), at(Fit::Fitted));
            found.unwrap().departure
        };
        // stretch is halved where 42.5 % becomes 21.25 %: (42.5 - 7.1) x = 21.25
        let edge = 21.25 / (42.5 - 7.1) * 100.0;
        assert!((departure(edge) - 1.0).abs() < 1e-9);
        assert!(departure(edge - 0.1) < 1.0 && departure(edge + 0.1) > 1.0);
    }

    fn judged(purpose: Purpose, candidate: &[(&str, f64)]) -> Outcome {
        use super::super::samples::{Build, offered, wanted};
        let wanted = Requirement {
            purpose: Some(purpose),
            ..wanted().of(&[("cotton", 100.0)])
        };
        fibre(&wanted, &offered().of(candidate))
    }

    #[test]
    fn a_dishcloth_asks_only_how_much_soaks_up_no_water() {
        for (acrylic, departure) in [(24.0, 0.96), (25.0, 1.0), (26.0, 1.04), (100.0, 4.0)] {
            let blend = [("acrylic", acrylic), ("cotton", 100.0 - acrylic)];
            let blend = if acrylic < 100.0 {
                &blend[..]
            } else {
                &blend[..1]
            };
            let found = judged(Purpose::Dishcloth, blend).judged();
            assert!((found.departure - departure).abs() < 1e-9, "{acrylic}");
        }
        let linen = judged(Purpose::Dishcloth, &[("linen", 100.0)]).judged();
        assert_eq!(linen.departure, 0.0);
    }

    #[test]
    fn what_is_felted_or_handled_hot_is_judged_by_rules() {
        for purpose in [Purpose::HotPad, Purpose::Felted] {
            assert_eq!(judged(purpose, &[("acrylic", 100.0)]), Outcome::NotAsked);
        }
    }

    #[test]
    fn elastic_fibre_stays_out_of_the_averages_and_is_told() {
        let sock = blend(&[("wool", 95.0), ("elastane", 5.0)]);
        let found = relaxed(&sock, &blend(&[("wool", 100.0)])).unwrap();
        let moisture = found.parts.first().unwrap();
        assert_eq!(moisture.property, FibreProperty::Regain);
        assert!(found.departure < 0.05, "{}", found.departure);
        let told = judged(Purpose::Garment, &[("cotton", 95.0), ("elastane", 5.0)]).judged();
        assert!(told.evidence.contains(&Evidence::Elastic(Side::Candidate)));
        assert!(!told.evidence.contains(&Evidence::Elastic(Side::Reference)));
    }

    #[test]
    fn a_part_without_data_for_over_a_quarter_is_left_out_and_named() {
        let candidate = blend(&[("acetate", 30.0), ("wool", 70.0)]);
        let found = relaxed(&candidate, &blend(&[("wool", 100.0)])).unwrap();
        let left_out = |found: &FibreDeparture| {
            found
                .parts
                .iter()
                .filter(|part| part.values.is_none())
                .count()
        };
        // acetate has no recovery in the table
        assert_eq!(left_out(&found), 1);
        let quarter = blend(&[("acetate", 25.0), ("wool", 75.0)]);
        let found = relaxed(&quarter, &blend(&[("wool", 100.0)])).unwrap();
        assert_eq!(left_out(&found), 0);
    }

    #[test]
    fn a_value_that_no_text_confirmed_is_named_as_such() {
        let found = relaxed(&blend(&[("alpaca", 100.0)]), &blend(&[("wool", 100.0)]));
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
        assert_eq!(relaxed(&moss, &moss).unwrap().departure, 0.0);
        assert_eq!(relaxed(&moss, &blend(&[("wool", 100.0)])), None);
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
            let there = relaxed(&a, &b).map(|found| found.departure);
            let back = relaxed(&b, &a).map(|found| found.departure);
            match (there, back) {
                (Some(there), Some(back)) => prop_assert!((there - back).abs() < 1e-9),
                _ => prop_assert_eq!(there, back),
            }
        }

        #[test]
        fn prop_the_same_blend_does_not_depart(a in any_blend()) {
            prop_assert_eq!(relaxed(&a, &a).unwrap().departure, 0.0);
        }
    }

    #[test]
    fn different_fibres_of_the_table_depart_unless_their_known_values_agree() {
        for a in FIBRES {
            for b in FIBRES {
                let values = |f: &Fibre| PROPERTIES.map(|p| (p.value)(f).map(|(value, _)| value));
                if values(a) != values(b) {
                    let departure = relaxed(&blend(&[(a.name, 100.0)]), &blend(&[(b.name, 100.0)]));
                    let all_known = values(a).iter().chain(&values(b)).all(Option::is_some);
                    assert!(!all_known || departure.unwrap().departure > 0.0);
                }
            }
        }
    }
}
