//! How well a yarn can do at best, told from little of it: what lets a search
//! through many yarns pass over those that have no place among the best.
//!
//! Of one yarn the index tells all that is judged, so that only its verdict is
//! guessed; of a range of yarns it tells their length per mass or their gauge.
//! Every bound rests on the same departures as [`super::judge()`], so that what is
//! passed over would not have been listed had it been judged. A new criterion takes
//! a `Glimpse` in [`KindBound`] (`kind`) and a line in `Bounds::glimpses` (`entry`); one
//! that depends on grist or gauge is bounded for a range where these are.

mod entry;
mod kind;
mod ranges;
mod strand;
mod strand_kinds;

pub use kind::KindBound;
pub use ranges::{Range, Thickness};
pub use strand::{BlendsAtBest, StrandBlend, StrandFinish, StrandPart};

use super::{
    Requirement, Settings, Verdict,
    criterion::{SEVERAL_STRANDS, in_tolerances},
    expected_gauge::nearer_ends,
    fibre::{MOST_PARTS, PartSums, sums},
    gauge::tolerance_on,
    grist::effective,
    known_gauge::{KnownGauge, of_pattern, of_reference_label},
    prediction::density,
};
use crate::measure::Interval;
use ordered_float::OrderedFloat;

/// A verdict and an overall departure that a candidate does not beat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtBest {
    /// No better than this.
    pub verdict: Verdict,
    /// No less than this, in tolerances.
    pub least: f64,
}

impl AtBest {
    /// Better ones first.
    pub fn order(self) -> (Verdict, OrderedFloat<f64>) {
        (self.verdict, OrderedFloat(self.least))
    }
}

/// Bounds for candidates of one strand.
#[derive(Debug)]
pub struct Bounds<'a> {
    wanted: &'a Requirement,
    settings: &'a Settings,
    /// Length per mass that is wanted and its tolerance, m/g.
    grist: Option<(f64, f64)>,
    /// The pattern's gauge and the label gauge of its yarn.
    pattern: Option<KnownGauge>,
    label: Option<KnownGauge>,
    density: Option<f64>,
    /// Of the blend that is wanted.
    fibres: [PartSums; MOST_PARTS],
    /// Whether the label tells the gauge that counts.
    gauge_is_on_label: bool,
}

/// How much wider than computed a band is made, so that rounding leaves none out.
const WIDER: f64 = 1e-6;

impl<'a> Bounds<'a> {
    /// For what is wanted. Where a gauge was measured just now, that counts and the
    /// label's does not.
    pub fn new(wanted: &'a Requirement, settings: &'a Settings, is_measured: bool) -> Self {
        let grist = effective(&wanted.facts, wanted.strands)
            .map(|grist| (grist.as_metres_per_gram(), settings.tolerance.around(grist)));
        let blend = wanted.facts.blend.as_ref();
        Self {
            wanted,
            settings,
            grist,
            pattern: of_pattern(wanted),
            label: of_reference_label(wanted),
            density: blend.and_then(|blend| density(&blend.value)),
            fibres: blend.map_or_else(Default::default, |blend| sums(&blend.value, wanted.purpose)),
            gauge_is_on_label: !is_measured,
        }
    }

    fn gauge_departure(&self, ratio: f64, is_predicted: bool) -> f64 {
        in_tolerances(ratio - 1.0, tolerance_on(self.wanted.fit, is_predicted))
    }

    /// Whether the gauge of a label says anything.
    pub fn look_at_gauge(&self) -> bool {
        self.knows_gauge() && self.gauge_is_on_label
    }

    fn knows_gauge(&self) -> bool {
        self.pattern.is_some() || self.label.is_some()
    }

    fn strands_meet(&self, range: Range) -> bool {
        let met = |wanted| {
            SEVERAL_STRANDS
                .into_iter()
                .any(|n| meets(range, band(wanted, n)))
        };
        self.grist.is_some_and(met)
    }
}

/// Where so many strands come within the tolerance: n (g - t) to n (g + t).
fn band((wanted, tolerance): (f64, f64), strands: u8) -> Range {
    let reach = tolerance * (1.0 + WIDER) + wanted * WIDER;
    let strands = f64::from(strands);
    ((wanted - reach) * strands, (wanted + reach) * strands)
}

fn meets((low, high): Range, band: Range) -> bool {
    low <= band.1 && high >= band.0
}

/// gauge_c / gauge_r by the nearer ends of both.
fn ratio(candidate: Interval<f64>, reference: Interval<f64>) -> f64 {
    let (c, r) = nearer_ends(candidate, reference);
    c / r
}

#[cfg(test)]
mod tests {
    use super::super::{
        Candidate, Judgement, judge,
        known_gauge::of_label_gauge,
        samples::{Build, offered, settings, wanted},
    };
    use super::*;
    use crate::{
        record::YarnFacts,
        trade::{Construction, FIBRES},
    };
    use proptest::prelude::*;

    fn dk_wanted() -> Requirement {
        wanted()
            .put_up(112.5, 50.0)
            .class(&[3])
            .of(&[("wool", 100.0)])
            .built(Construction::Plied)
    }

    fn any_offered() -> impl Strategy<Value = Candidate> {
        let (fibre, built) = (0..FIBRES.len(), 0..Construction::ALL.len());
        let label = prop::option::of(8_u8..45);
        (20_u16..1200, label, fibre, built, 0_u8..=7).prop_map(
            |(metres, label, fibre, built, class)| {
                let yarn = offered()
                    .put_up(f64::from(metres), 100.0)
                    .of(&[(FIBRES[fibre].name, 100.0)])
                    .built(Construction::ALL[built])
                    .class(&[class]);
                match label {
                    Some(stitches) => yarn.label_gauge(f64::from(stitches)),
                    None => yarn,
                }
            },
        )
    }

    fn kind(bounds: &Bounds<'_>, facts: &YarnFacts) -> KindBound {
        let blend = facts.blend.as_ref().map(|blend| blend.value.clone());
        let class = facts.class.as_ref().map(|class| class.value.clone());
        bounds
            .of_class(class)
            .with(&bounds.of_construction(facts.construction.as_ref().map(|built| built.value)))
            .with(&bounds.of_fibre(blend, facts.care.as_ref().map(|care| care.value)))
    }

    fn bound(wanted: &Requirement, yarn: &Candidate) -> AtBest {
        let settings = settings();
        let bounds = Bounds::new(wanted, &settings, false);
        let facts = &yarn.facts;
        let grist = facts.grist().map(|grist| grist.as_metres_per_gram());
        let gauge = facts.gauge.as_ref().map(|gauge| &gauge.value);
        bounds.at_best(&kind(&bounds, facts), grist, gauge)
    }

    fn holds(bound: AtBest, judged: &Judgement) -> bool {
        bound.verdict <= judged.verdict && bound.least <= judged.for_ranking + 1e-9
    }

    proptest! {
        #[test]
        fn prop_no_yarn_does_better_than_its_bounds(yarn in any_offered(), gauge in any::<bool>()) {
            let wanted = if gauge { dk_wanted().label_gauge(22.0) } else { dk_wanted() };
            let judged = judge(&wanted, &yarn, &settings());
            prop_assert!(holds(bound(&wanted, &yarn), &judged));
            let settings = settings();
            let bounds = Bounds::new(&wanted, &settings, false);
            let holds_in = |(_, (low, high)): &(AtBest, Range), value| (*low..*high).contains(&value);
            let kind = kind(&bounds, &yarn.facts);
            let fibre = kind.fibre_departure();
            if kind.is_comparable {
                let grist = yarn.facts.grist().unwrap().as_metres_per_gram();
                let thickness = Thickness::of(&kind, &bounds);
                for (least, thickness) in [(0.0, bounds.any_thickness()), (fibre, thickness)] {
                    let ranges = bounds.grist_ranges(least, thickness);
                    let mut around = ranges.iter().filter(|range| holds_in(range, grist));
                    prop_assert!(around.all(|(at_best, _)| holds(*at_best, &judged)));
                }
            } else if let (true, Some(label)) = (gauge, &yarn.facts.gauge) {
                let stitches = of_label_gauge(&label.value, 1).found.per_10_cm.low();
                for ranges in [1.0, 1.1, f64::INFINITY].map(|widest| bounds.gauge_ranges(widest, fibre)) {
                    let mut around = ranges.iter().filter(|range| holds_in(range, stitches));
                    prop_assert!(around.all(|(at_best, _)| holds(*at_best, &judged)));
                }
                let itself = AtBest { verdict: judged.verdict, least: judged.for_ranking };
                let reach = bounds.least_reach(itself, fibre);
                prop_assert!(reach.is_none_or(|least| least <= stitches));
            } else {
                prop_assert!(holds(bounds.with_neither(fibre), &judged));
            }
        }

        #[test]
        fn prop_a_look_tells_the_departure_itself(yarn in any_offered(), gauge in any::<bool>()) {
            let wanted = if gauge { dk_wanted().label_gauge(22.0) } else { dk_wanted() };
            let judged = judge(&wanted, &yarn, &settings());
            prop_assert_eq!(bound(&wanted, &yarn).least, judged.for_ranking);
        }

        #[test]
        fn prop_ranges_hold_every_yarn_once(grist in 0.0..1000.0_f64, tolerance in 0.0..400.0_f64) {
            let mut settings = settings();
            settings.tolerance = crate::measure::GristTolerance::Share(
                crate::measure::Ratio::percent(tolerance.min(100.0)).unwrap(),
            );
            let wanted = dk_wanted().label_gauge(22.0);
            let bounds = Bounds::new(&wanted, &settings, false);
            for ranges in [bounds.grist_ranges(0.0, Thickness::EQUAL), bounds.gauge_ranges(1.25, 0.0)] {
                let around = ranges.iter().filter(|(_, (low, high))| (*low..*high).contains(&grist));
                prop_assert_eq!(around.count(), 1);
            }
        }
    }

    fn yarn(metres: f64) -> Candidate {
        offered()
            .put_up(metres, 100.0)
            .class(&[3])
            .of(&[("wool", 100.0)])
            .built(Construction::Plied)
    }

    #[test]
    fn a_verdict_is_bounded_by_grist_strands_and_kind() {
        let verdict = |yarn: Candidate| bound(&dk_wanted(), &yarn).verdict;
        assert_eq!(verdict(yarn(225.0)), Verdict::ShouldWork);
        assert_eq!(verdict(yarn(243.0)), Verdict::ShouldWork);
        // beyond the tolerance, and beyond the widest that is published
        assert_eq!(verdict(yarn(245.0)), Verdict::CouldWork);
        assert_eq!(verdict(yarn(271.0)), Verdict::WillNotWork);
        assert_eq!(verdict(yarn(450.0)), Verdict::CouldWork);
        assert_eq!(verdict(yarn(330.0)), Verdict::WillNotWork);
        assert_eq!(verdict(yarn(675.0)), Verdict::CouldWork);
        assert_eq!(verdict(yarn(1300.0)), Verdict::WillNotWork);
        // class never rules out by itself
        assert_eq!(verdict(yarn(225.0).class(&[6])), Verdict::CouldWork);
        let cotton = yarn(225.0).of(&[("cotton", 100.0)]);
        assert_eq!(verdict(cotton), Verdict::CouldWork);
        let tube = yarn(225.0).built(Construction::Chainette);
        assert_eq!(verdict(tube.clone()), Verdict::CannotSay);
        let known = dk_wanted().label_gauge(22.0);
        assert_eq!(bound(&known, &tube).verdict, Verdict::CannotSay);
        let labelled = tube.label_gauge(30.0);
        assert_eq!(bound(&known, &labelled).verdict, Verdict::CouldWork);
        let far = labelled.class(&[7]);
        assert_eq!(bound(&known, &far).verdict, Verdict::CouldWork);
    }

    fn best(wanted: &Requirement) -> Verdict {
        let settings = settings();
        let ranges = Bounds::new(wanted, &settings, false).grist_ranges(0.0, Thickness::EQUAL);
        let verdicts = ranges.iter().map(|(at_best, _)| at_best.verdict);
        verdicts.min().unwrap()
    }

    #[test]
    fn without_class_and_gauge_no_yarn_should_work() {
        let bare = wanted().put_up(112.5, 50.0);
        assert_eq!(best(&bare), Verdict::CouldWork);
        assert_eq!(bound(&bare, &yarn(225.0)).verdict, Verdict::CouldWork);
        let gauge = bare.label_gauge(22.0);
        assert_eq!(best(&gauge), Verdict::ShouldWork);
        let labelled = yarn(225.0).label_gauge(22.0);
        assert_eq!(bound(&gauge, &labelled).verdict, Verdict::ShouldWork);
    }

    /// By hand: 225 m/100 g within 8 %, so 2.07 to 2.43 m/g, within 20 %, so 1.8 to 2.7,
    /// and in two, three and four strands so many times as much as 8 %.
    #[test]
    fn ranges_turn_where_one_to_four_strands_come_within() {
        let (wanted, settings) = (dk_wanted(), settings());
        let bounds = Bounds::new(&wanted, &settings, false);
        let verdict = |grist: f64| {
            bounds
                .at_grist((grist, grist), Thickness::EQUAL, 0.0)
                .verdict
        };
        assert_eq!(verdict(1.7999), Verdict::WillNotWork);
        assert_eq!(verdict(1.8), Verdict::CouldWork);
        assert_eq!(verdict(2.0699), Verdict::CouldWork);
        assert_eq!(verdict(2.07), Verdict::ShouldWork);
        assert_eq!(verdict(2.43), Verdict::ShouldWork);
        assert_eq!(verdict(2.4301), Verdict::CouldWork);
        assert_eq!(verdict(2.7), Verdict::CouldWork);
        assert_eq!(verdict(2.7001), Verdict::WillNotWork);
        for strands in [2.0, 3.0, 4.0] {
            assert_eq!(verdict(2.07 * strands), Verdict::CouldWork);
            assert_eq!(verdict(2.43 * strands), Verdict::CouldWork);
            assert_eq!(verdict(2.4301 * strands), Verdict::WillNotWork);
        }
        let bare = super::super::samples::wanted();
        assert!(
            Bounds::new(&bare, &settings, false)
                .grist_ranges(0.0, Thickness::EQUAL)
                .is_empty()
        );
    }

    /// By hand: cotton of 1.52 g/cm3 beside wool of 1.31 is as thick at 225 m/100 g as
    /// wool of 261, at 194 as wool of 225; between them, at 209, it is 0.9 off by
    /// length and 0.97 by thickness, of 18 m/100 g.
    #[test]
    fn between_the_plain_length_per_mass_and_that_as_thick_a_yarn_is_off_by_both() {
        let (wanted, settings) = (dk_wanted(), settings());
        let bounds = Bounds::new(&wanted, &settings, false);
        let cotton = yarn(225.0).of(&[("cotton", 100.0)]).facts;
        let thickness = Thickness::of(&kind(&bounds, &cotton), &bounds);
        let least = |low, high| bounds.at_grist((low, high), thickness, 0.0).least;
        let exact = least(2.25, 2.25);
        assert_eq!(least(1.93, 1.95), exact);
        let between = least(2.08, 2.09);
        let plain = bounds.at_grist((2.08, 2.09), Thickness::EQUAL, 0.0);
        assert_eq!(between, plain.least);
        assert!(between > exact + 0.1, "{between} beside {exact}");
        assert_eq!(Thickness::EQUAL.step(), 0);
        assert_eq!(thickness.step(), 7);
    }

    #[test]
    fn what_is_not_comparable_by_grist_is_what_is_built_otherwise() {
        let settings = settings();
        let compares = |wanted: &Requirement, built| {
            let bounds = Bounds::new(wanted, &settings, false);
            bounds.of_construction(built).is_comparable
        };
        let smooth = dk_wanted();
        assert!(!compares(&smooth, Some(Construction::Chainette)));
        assert!(compares(&smooth, Some(Construction::Plied)) && compares(&smooth, None));
        let tube = dk_wanted().built(Construction::Chainette);
        assert!(compares(&tube, Some(Construction::Chainette)));
        assert!(!compares(&tube, Some(Construction::Plied)) && !compares(&tube, None));
    }

    /// A tube is not judged by length per mass; at 22 stitches it does as
    /// well as a tube can, so that none of fewer has a place, but for rounding.
    #[test]
    fn only_a_gauge_that_reaches_far_enough_has_a_place() {
        let (mut wanted, settings) = (dk_wanted().label_gauge(22.0), settings());
        wanted.facts.construction = None;
        let bounds = Bounds::new(&wanted, &settings, false);
        let reach = |stitches: f64| {
            let tube = yarn(225.0)
                .label_gauge(stitches)
                .built(Construction::Chainette);
            bounds.least_reach(bound(&wanted, &tube), 0.0).unwrap()
        };
        assert!((15.0..22.0).contains(&reach(22.0)), "{}", reach(22.0));
        assert!(reach(21.0) < reach(22.0) && reach(21.0) <= 21.0);
        let verdict = Verdict::CannotSay;
        assert_eq!(
            bounds.least_reach(
                AtBest {
                    verdict,
                    least: 0.0
                },
                0.0
            ),
            None
        );
    }

    #[test]
    fn a_measured_gauge_is_not_told_by_the_label() {
        let (wanted, settings) = (dk_wanted().label_gauge(22.0), settings());
        let bounds = Bounds::new(&wanted, &settings, true);
        let far = yarn(225.0).label_gauge(11.0);
        let label = &far.facts.gauge.as_ref().unwrap().value;
        let bound = bounds.at_best(&kind(&bounds, &far.facts), Some(2.25), Some(label));
        assert_eq!((bound.verdict, bound.least), (Verdict::ShouldWork, 0.0));
        assert!(bounds.gauge_ranges(1.0, 0.0).is_empty());
        assert_eq!(bounds.with_neither(0.0).verdict, Verdict::CouldWork);
    }
}
