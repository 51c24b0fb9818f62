//! How well a yarn can do at best, told from little of it: what lets a search
//! through many yarns pass over those that have no place among the best.
//!
//! Every bound rests on the same departures as [`super::judge()`], so that what is
//! passed over would not have been listed had it been judged.

use super::{
    Candidate, Criterion, Requirement, Settings, Verdict,
    construction::construction,
    fibre::fibre,
    grist::{are_comparable, effective},
    terms::{Outcome, SEVERAL_STRANDS, in_tolerances, is_within},
    verdict::is_soft,
    weight_class::weight_class,
};
use crate::{
    record::{Printed, YarnFacts},
    trade::Construction,
};

/// A verdict and an overall departure that a candidate does not beat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtBest {
    /// No better than this.
    pub verdict: Verdict,
    /// No less than this, in tolerances.
    pub least: f64,
}

/// What yarns of one class, blend and construction share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KindBound {
    squares: f64,
    weights: f64,
    has_class: bool,
    /// Something lies outside its tolerance.
    is_outside: bool,
    /// Something lies so far outside that nothing but strands could mend it.
    is_far: bool,
    /// Whether their length per mass says something beside what is wanted.
    pub is_comparable: bool,
}

impl KindBound {
    /// What two parts of a kind make together; whether their length per mass says
    /// something is told by the first.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self {
            squares: self.squares + other.squares,
            weights: self.weights + other.weights,
            has_class: self.has_class || other.has_class,
            is_outside: self.is_outside || other.is_outside,
            is_far: self.is_far || other.is_far,
            is_comparable: self.is_comparable,
        }
    }
}

/// Bounds for candidates of one strand.
#[derive(Debug)]
pub struct Bounds<'a> {
    wanted: &'a Requirement,
    settings: &'a Settings,
    /// Length per mass that is wanted and its tolerance, m/g.
    reference: Option<(f64, f64)>,
    knows_gauge: bool,
    /// Weight of what a look does not tell: gauge and care.
    unseen: f64,
}

/// How much wider than reckoned a band is taken, so that rounding leaves none out.
const WIDER: f64 = 1e-6;

impl<'a> Bounds<'a> {
    /// For what is wanted.
    pub fn new(wanted: &'a Requirement, settings: &'a Settings) -> Self {
        let reference = effective(&wanted.facts, wanted.strands)
            .map(|grist| (grist.as_metres_per_gram(), settings.tolerance.around(grist)));
        let knows_gauge = wanted.gauge.is_some() || wanted.facts.gauge.is_some();
        let may_judge = [
            (Criterion::Gauge, knows_gauge),
            (Criterion::Care, wanted.care.is_some()),
        ];
        let unseen = may_judge
            .iter()
            .filter(|(_, may)| *may)
            .map(|(criterion, _)| settings.weights.of(*criterion))
            .sum();
        Self {
            wanted,
            settings,
            reference,
            knows_gauge,
            unseen,
        }
    }

    /// What a class, a blend and a construction make of every yarn of them; the
    /// rest of `facts` is not looked at.
    pub fn of_kind(&self, facts: YarnFacts) -> KindBound {
        let offered = Candidate {
            facts,
            swatches: Vec::new(),
            measured: None,
            strands: 1,
        };
        let mut kind = KindBound {
            squares: 0.0,
            weights: 0.0,
            has_class: false,
            is_outside: false,
            is_far: false,
            is_comparable: are_comparable(&self.wanted.facts, &offered.facts),
        };
        for outcome in [
            weight_class(self.wanted, &offered),
            fibre(self.wanted, &offered),
            construction(self.wanted, &offered),
        ] {
            if let Outcome::Judged(found) = outcome {
                let weight = self.settings.weights.of(found.criterion);
                kind.squares += weight * found.departure.powi(2);
                kind.weights += weight;
                kind.has_class |= found.criterion == Criterion::WeightClass;
                kind.is_outside |= !is_within(found.departure);
                kind.is_far |= !is_soft(found.departure);
            }
        }
        kind
    }

    /// What a yarn of this kind and length per mass, m/g, does at best.
    pub fn at_best(&self, kind: &KindBound, grist: Option<f64>) -> AtBest {
        let grist = grist.filter(|_| kind.is_comparable);
        let judged = self
            .reference
            .zip(grist)
            .map(|((wanted, tolerance), grist)| in_tolerances(grist - wanted, tolerance));
        let (squares, weights) = self.with_grist(kind, judged);
        let verdict = match judged {
            None => self.without_grist(kind.is_far),
            Some(departure) if is_within(departure) && !kind.is_far => self.within(kind),
            Some(_) if grist.is_some_and(|grist| self.strands_bring_within(grist)) => {
                Verdict::CouldWork
            }
            Some(_) => Verdict::WillNotWork,
        };
        let least = least(squares, weights + self.unseen);
        AtBest { verdict, least }
    }

    fn within(&self, kind: &KindBound) -> Verdict {
        match !kind.is_outside && (self.knows_gauge || kind.has_class) {
            true => Verdict::ShouldWork,
            false => Verdict::CouldWork,
        }
    }

    /// The best verdict of a yarn whose length per mass is not judged.
    fn without_grist(&self, is_far: bool) -> Verdict {
        match self.knows_gauge && !is_far {
            true => Verdict::CouldWork,
            false => Verdict::CannotSay,
        }
    }

    /// The best verdict that any yarn can have.
    pub fn best_verdict(&self) -> Verdict {
        match self.knows_gauge || self.wanted.facts.class.is_some() {
            true => Verdict::ShouldWork,
            false => Verdict::CouldWork,
        }
    }

    fn with_grist(&self, kind: &KindBound, departure: Option<f64>) -> (f64, f64) {
        let weight = self.settings.weights.of(Criterion::Grist);
        departure.map_or((kind.squares, kind.weights), |departure| {
            (
                kind.squares + weight * departure.powi(2),
                kind.weights + weight,
            )
        })
    }

    fn may_judge(&self, criterion: Criterion) -> bool {
        let facts = &self.wanted.facts;
        match criterion {
            Criterion::Grist => self.reference.is_some(),
            Criterion::Gauge => self.knows_gauge,
            Criterion::WeightClass => facts.class.is_some(),
            Criterion::Fibre => facts.blend.is_some(),
            Criterion::Construction => facts.construction.is_some(),
            Criterion::Care => self.wanted.care.is_some(),
        }
    }

    fn strands_bring_within(&self, grist: f64) -> bool {
        self.reference.is_some_and(|(wanted, tolerance)| {
            SEVERAL_STRANDS.into_iter().any(|strands| {
                let held = grist / f64::from(strands);
                is_within(in_tolerances(held - wanted, tolerance * (1.0 + WIDER)))
            })
        })
    }

    /// What any yarn of comparable length per mass at least `distance` m/g away
    /// from what is wanted does at best, where its verdict is at best `verdict`:
    /// D >= a sqrt(w_grist / sum of w), a the distance in tolerances, w over all
    /// criteria that what is wanted allows to judge.
    pub fn at_distance(&self, verdict: Verdict, distance: f64) -> AtBest {
        let weights = Criterion::ALL.map(|criterion| match self.may_judge(criterion) {
            true => self.settings.weights.of(criterion),
            false => 0.0,
        });
        let grist = self.settings.weights.of(Criterion::Grist);
        let tolerance = self.reference.map_or(f64::INFINITY, |(_, t)| t);
        let squares = grist * in_tolerances(distance, tolerance).powi(2);
        let least = least(squares, weights.iter().sum());
        AtBest { verdict, least }
    }

    /// Length per mass that is wanted and its tolerance, m/g, where known.
    pub fn reference(&self) -> Option<(f64, f64)> {
        self.reference
    }

    /// What a yarn whose length per mass says nothing, and which departs by at
    /// least `least` on the rest, does at best. A gauge may or may not be known.
    pub fn at_best_without_grist(&self, least: f64) -> AtBest {
        let verdict = self.without_grist(false);
        AtBest { verdict, least }
    }

    /// How far, m/g, from what is wanted a yarn within the tolerance may lie.
    pub fn reach(&self) -> f64 {
        self.reference.map_or(0.0, |(wanted, tolerance)| {
            tolerance * (1.0 + WIDER) + wanted * WIDER
        })
    }

    /// From where to where, m/g, a yarn may lie of which one strand, then two and
    /// so on, come within the tolerance; empty where nothing is wanted by grist.
    pub fn bands(&self) -> Vec<(f64, f64)> {
        let reach = self.reach();
        let strands = std::iter::once(1).chain(SEVERAL_STRANDS);
        let band = |strands: u8| {
            let (wanted, _) = self.reference?;
            let times = f64::from(strands);
            Some(((wanted - reach) * times, (wanted + reach) * times))
        };
        strands.filter_map(band).collect()
    }

    /// Constructions whose length per mass says nothing beside what is wanted,
    /// and whether one that is not stated is among them.
    pub fn not_comparable(&self) -> (Vec<Construction>, bool) {
        let with = |construction: Option<Construction>| {
            let facts = YarnFacts {
                construction: construction.map(|value| Printed::new(value.name(), value)),
                ..YarnFacts::default()
            };
            are_comparable(&self.wanted.facts, &facts)
        };
        let constructions = Construction::ALL
            .into_iter()
            .filter(|construction| !with(Some(*construction)));
        (constructions.collect(), !with(None))
    }
}

fn least(squares: f64, weights: f64) -> f64 {
    match weights > 0.0 {
        true => (squares / weights).sqrt(),
        false => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Judgement, judge,
        samples::{Build, offered, settings, wanted},
    };
    use super::*;
    use crate::trade::FIBRES;
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

    fn bound(wanted: &Requirement, yarn: &Candidate) -> AtBest {
        let settings = settings();
        let bounds = Bounds::new(wanted, &settings);
        let grist = yarn.facts.grist().map(|grist| grist.as_metres_per_gram());
        bounds.at_best(&bounds.of_kind(yarn.facts.clone()), grist)
    }

    fn holds(bound: AtBest, judged: &Judgement) -> bool {
        let overall = judged.overall.unwrap_or(f64::INFINITY);
        bound.verdict <= judged.verdict && bound.least <= overall + 1e-9
    }

    proptest! {
        #[test]
        fn prop_no_yarn_does_better_than_its_bounds(yarn in any_offered(), gauge in any::<bool>()) {
            let wanted = if gauge { dk_wanted().label_gauge(22.0) } else { dk_wanted() };
            let judged = judge(&wanted, &yarn, &settings());
            prop_assert!(holds(bound(&wanted, &yarn), &judged));
            let settings = settings();
            let bounds = Bounds::new(&wanted, &settings);
            if bounds.of_kind(yarn.facts.clone()).is_comparable {
                let grist = yarn.facts.grist().unwrap().as_metres_per_gram();
                let far = bounds.at_distance(bounds.best_verdict(), (grist - 2.25).abs());
                prop_assert!(holds(far, &judged));
            } else {
                prop_assert!(holds(bounds.at_best_without_grist(0.0), &judged));
            }
        }

        #[test]
        fn prop_a_kind_is_the_sum_of_its_parts(yarn in any_offered()) {
            let (wanted, settings) = (dk_wanted(), settings());
            let bounds = Bounds::new(&wanted, &settings);
            let YarnFacts { class, blend, construction, .. } = yarn.facts.clone();
            let none = YarnFacts::default();
            let built = bounds.of_kind(YarnFacts { construction, ..none.clone() });
            let class = bounds.of_kind(YarnFacts { class, ..none.clone() });
            let blend = bounds.of_kind(YarnFacts { blend, ..none });
            let (sum, whole) = (built.with(&class).with(&blend), bounds.of_kind(yarn.facts));
            prop_assert!((sum.squares - whole.squares).abs() < 1e-9);
            let rest = |kind: KindBound| KindBound { squares: 0.0, ..kind };
            prop_assert_eq!(rest(sum), rest(whole));
        }

        #[test]
        fn prop_where_a_look_tells_all_the_bound_is_the_departure(yarn in any_offered()) {
            let judged = judge(&dk_wanted(), &yarn, &settings());
            let Some(overall) = judged.overall else { return Ok(()) };
            prop_assert!((bound(&dk_wanted(), &yarn).least - overall).abs() < 1e-9);
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
        assert_eq!(verdict(yarn(245.0)), Verdict::WillNotWork);
        assert_eq!(verdict(yarn(450.0)), Verdict::CouldWork);
        assert_eq!(verdict(yarn(330.0)), Verdict::WillNotWork);
        assert_eq!(verdict(yarn(675.0)), Verdict::CouldWork);
        assert_eq!(verdict(yarn(1300.0)), Verdict::WillNotWork);
        assert_eq!(verdict(yarn(225.0).class(&[6])), Verdict::WillNotWork);
        let cotton = yarn(225.0).of(&[("cotton", 100.0)]);
        assert_eq!(verdict(cotton), Verdict::CouldWork);
        let tube = yarn(225.0).built(Construction::Chainette);
        assert_eq!(verdict(tube.clone()), Verdict::CannotSay);
        let known = dk_wanted().label_gauge(22.0);
        assert_eq!(bound(&known, &tube).verdict, Verdict::CouldWork);
        let far = tube.class(&[7]);
        assert_eq!(bound(&known, &far).verdict, Verdict::CannotSay);
    }

    #[test]
    fn without_class_and_gauge_no_yarn_should_work() {
        let settings = settings();
        let bare = wanted().put_up(112.5, 50.0);
        assert_eq!(
            Bounds::new(&bare, &settings).best_verdict(),
            Verdict::CouldWork
        );
        assert_eq!(bound(&bare, &yarn(225.0)).verdict, Verdict::CouldWork);
        let gauge = bare.label_gauge(22.0);
        assert_eq!(
            Bounds::new(&gauge, &settings).best_verdict(),
            Verdict::ShouldWork
        );
        assert_eq!(bound(&gauge, &yarn(225.0)).verdict, Verdict::ShouldWork);
    }

    /// By hand: 225 m/100 g within 8 %, so 2.07 to 2.43 m/g, and in two, three and
    /// four strands so many times as much.
    #[test]
    fn bands_lie_around_what_is_wanted_in_one_to_four_strands() {
        let (wanted, settings) = (dk_wanted(), settings());
        let bounds = Bounds::new(&wanted, &settings);
        let (reference, tolerance) = bounds.reference().unwrap();
        assert!((reference - 2.25).abs() < 1e-9 && (tolerance - 0.18).abs() < 1e-9);
        assert!((0.18..0.1801).contains(&bounds.reach()));
        let bands = bounds.bands();
        assert_eq!(bands.len(), 4);
        for ((low, high), strands) in bands.into_iter().zip([1.0, 2.0, 3.0, 4.0]) {
            assert!((low / strands - 2.07).abs() < 1e-4 && low < 2.07 * strands);
            assert!((high / strands - 2.43).abs() < 1e-4 && high > 2.43 * strands);
        }
        let bare = super::super::samples::wanted();
        assert!(Bounds::new(&bare, &settings).bands().is_empty());
    }

    #[test]
    fn what_is_not_comparable_by_grist_is_what_is_built_otherwise() {
        let (wanted, settings) = (dk_wanted(), settings());
        let (others, unstated) = Bounds::new(&wanted, &settings).not_comparable();
        assert!(others.contains(&Construction::Chainette));
        assert!(!others.contains(&Construction::Plied) && !unstated);
        let tube = dk_wanted().built(Construction::Chainette);
        let (others, unstated) = Bounds::new(&tube, &settings).not_comparable();
        assert!(!others.contains(&Construction::Chainette));
        assert!(others.contains(&Construction::Plied) && unstated);
    }

    #[test]
    fn without_any_weight_nothing_departs() {
        assert_eq!(least(3.0, 0.0), 0.0);
        assert_eq!(least(9.0, 4.0), 1.5);
    }
}
