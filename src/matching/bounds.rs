//! How well a yarn can do at best, told from little of it: what lets a search
//! through many yarns pass over those that have no place among the best.
//!
//! Of one yarn the index tells all that is judged, so that only its verdict is
//! guessed; of a range of yarns it tells their length per mass or their gauge.
//! Every bound rests on the same departures as [`super::judge()`], so that what is
//! passed over would not have been listed had it been judged. A new criterion takes
//! a [`Glimpse`] in [`KindBound`] and a line in [`Bounds::glimpses`]; one that
//! depends on grist or gauge is bounded for a range where these are.

use super::{
    Candidate, Criterion, Requirement, Settings, Severity, Verdict,
    care::care,
    construction::construction,
    expected_gauge::{label_reference, nearer_ends},
    fibre::fibre,
    gauge::tolerance as gauge_tolerance,
    grist::{are_comparable, effective},
    hazard::cautions,
    judgement::overall,
    known_gauge::{KnownGauge, of_label_gauge, of_pattern, of_reference_label},
    prediction::{density, gauge_ratio, is_predictable},
    terms::{Outcome, SEVERAL_STRANDS, in_tolerances, is_within},
    verdict::is_soft,
    weight_class::weight_class,
};
use crate::{
    measure::Interval,
    record::{Blend, Care, Classes, Printed, StatedGauge, YarnFacts},
    trade::Construction,
};
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

/// What is told of one criterion.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Glimpse {
    /// It departs so far, in tolerances.
    Departs(f64),
    /// It is not judged.
    NotJudged,
    /// It may be judged, and may depart by nothing.
    NotTold,
}

impl Glimpse {
    fn new(outcome: &Outcome) -> Self {
        match outcome {
            Outcome::Judged(found) => Self::Departs(found.departure),
            Outcome::NotJudged(_) | Outcome::NotAsked => Self::NotJudged,
        }
    }

    fn departure(self) -> Option<f64> {
        match self {
            Self::Departs(departure) => Some(departure),
            Self::NotJudged | Self::NotTold => None,
        }
    }

    fn or(self, other: Self) -> Self {
        if self == Self::NotJudged { other } else { self }
    }

    fn is_beyond(self) -> bool {
        self.departure().is_some_and(|found| !is_within(found))
    }
}

/// What yarns of one class, blend, construction and way of washing share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KindBound {
    class: Glimpse,
    fibre: Glimpse,
    construction: Glimpse,
    care: Glimpse,
    /// g/cm3, where known.
    density: Option<f64>,
    severity: Severity,
    /// Whether their length per mass says something beside what is wanted.
    pub is_comparable: bool,
}

impl KindBound {
    const UNKNOWN: Self = Self {
        class: Glimpse::NotJudged,
        fibre: Glimpse::NotJudged,
        construction: Glimpse::NotJudged,
        care: Glimpse::NotJudged,
        density: None,
        severity: Severity::Beside,
        is_comparable: true,
    };

    /// What two parts of a kind make together.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self {
            class: self.class.or(other.class),
            fibre: self.fibre.or(other.fibre),
            construction: self.construction.or(other.construction),
            care: self.care.or(other.care),
            density: self.density.or(other.density),
            severity: self.severity.max(other.severity),
            is_comparable: self.is_comparable && other.is_comparable,
        }
    }
}

/// Yarns from one length per mass, m/g, or gauge, stitches over 10 cm, to another,
/// which is not among them.
pub type Range = (f64, f64);

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
    /// Whether the label tells the gauge that counts.
    gauge_is_on_label: bool,
}

/// How much wider than computed a band is taken, so that rounding leaves none out.
const WIDER: f64 = 1e-6;

/// How many times farther each further range reaches.
const FARTHER: f64 = 1.5;

/// More than any length per mass or gauge.
const END: f64 = 1e9;

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
            gauge_is_on_label: !is_measured,
        }
    }

    /// What a class makes of every yarn of it.
    pub fn of_class(&self, class: Option<Classes>) -> KindBound {
        let class = class.map(unprinted);
        let offered = one_strand(YarnFacts {
            class,
            ..YarnFacts::default()
        });
        KindBound {
            class: Glimpse::new(&weight_class(self.wanted, &offered)),
            ..KindBound::UNKNOWN
        }
    }

    /// What a construction makes of every yarn of it.
    pub fn of_construction(&self, built: Option<Construction>) -> KindBound {
        let offered = one_strand(YarnFacts {
            construction: built.map(unprinted),
            ..YarnFacts::default()
        });
        KindBound {
            construction: Glimpse::new(&construction(self.wanted, &offered)),
            is_comparable: self.grist.is_some()
                && are_comparable(&self.wanted.facts, &offered.facts),
            ..KindBound::UNKNOWN
        }
    }

    /// What a blend and a way of washing make of every yarn of both.
    pub fn of_fibre(&self, blend: Option<Blend>, washing: Option<Care>) -> KindBound {
        let density = blend.as_ref().and_then(density);
        let offered = one_strand(YarnFacts {
            blend: blend.map(unprinted),
            care: washing.map(unprinted),
            ..YarnFacts::default()
        });
        let cautions = cautions(self.wanted, &offered);
        let severity = cautions.iter().map(|caution| caution.severity).max();
        KindBound {
            fibre: Glimpse::new(&fibre(self.wanted, &offered)),
            care: Glimpse::new(&care(self.wanted, &offered)),
            density,
            severity: severity.unwrap_or(Severity::Beside),
            ..KindBound::UNKNOWN
        }
    }

    /// What a yarn of this kind, length per mass, m/g, and label gauge does at best,
    /// of which there is no swatch.
    pub fn at_best(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> AtBest {
        let grist = grist.filter(|_| kind.is_comparable);
        let glimpses = self.glimpses(kind, grist, gauge);
        AtBest {
            verdict: self.verdict(kind, &glimpses, grist),
            least: self.overall(&glimpses),
        }
    }

    /// In the order of [`Criterion::ALL`].
    fn glimpses(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> [Glimpse; 6] {
        let by_grist = self.grist.zip(grist);
        let by_grist = by_grist.map(|((g, tolerance), grist)| in_tolerances(grist - g, tolerance));
        [
            by_grist.map_or(Glimpse::NotJudged, Glimpse::Departs),
            self.by_gauge(kind, grist, gauge),
            kind.class,
            kind.fibre,
            kind.construction,
            kind.care,
        ]
    }

    fn by_gauge(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> Glimpse {
        if !self.knows_gauge() {
            return Glimpse::NotJudged;
        }
        if !self.gauge_is_on_label {
            return Glimpse::NotTold;
        }
        let ratio = gauge.and_then(|gauge| {
            let own = of_label_gauge(gauge, 1);
            let reference = label_reference(&own, self.pattern.as_ref(), self.label.as_ref())?;
            Some(ratio(own.found.per_10_cm, reference.found.per_10_cm))
        });
        let ratio = ratio.or_else(|| {
            let grists = (grist?, self.grist?.0);
            let densities = kind.density.zip(self.density).unwrap_or((1.0, 1.0));
            is_predictable(grists).then(|| gauge_ratio(grists, densities))
        });
        ratio.map_or(Glimpse::NotJudged, |ratio| {
            Glimpse::Departs(self.gauge_departure(ratio))
        })
    }

    fn gauge_departure(&self, ratio: f64) -> f64 {
        in_tolerances(ratio - 1.0, gauge_tolerance(self.wanted.fit))
    }

    fn overall(&self, glimpses: &[Glimpse; 6]) -> f64 {
        let weights = &self.settings.weights;
        let each = || Criterion::ALL.into_iter().zip(glimpses);
        let not_told = each().filter(|(_, glimpse)| **glimpse == Glimpse::NotTold);
        let departures = each().filter_map(|(criterion, glimpse)| {
            let departure = glimpse.departure()?;
            Some((criterion, departure))
        });
        let unseen = not_told.map(|(criterion, _)| weights.of(criterion)).sum();
        overall(departures, weights, unseen).unwrap_or(f64::INFINITY)
    }

    fn verdict(&self, kind: &KindBound, glimpses: &[Glimpse; 6], grist: Option<f64>) -> Verdict {
        let [by_grist, gauge, class, soft @ ..] = *glimpses;
        let mut others = soft.into_iter().chain([class]);
        let is_far = others
            .clone()
            .filter_map(Glimpse::departure)
            .any(|departure| !is_soft(departure));
        let is_outside = others.any(Glimpse::is_beyond) || gauge.is_beyond();
        let says_nothing = gauge == Glimpse::NotJudged;
        let is_enough = !says_nothing || class != Glimpse::NotJudged;
        let verdict = match by_grist.departure() {
            None if says_nothing || is_far => Verdict::CannotSay,
            None => Verdict::CouldWork,
            Some(departure) if is_within(departure) && !is_far => {
                if is_outside || !is_enough {
                    Verdict::CouldWork
                } else {
                    Verdict::ShouldWork
                }
            }
            Some(_) if grist.is_some_and(|g| self.strands_meet((g, g))) => Verdict::CouldWork,
            Some(_) => Verdict::WillNotWork,
        };
        match kind.severity {
            Severity::Beside => verdict,
            Severity::Withholds => verdict.max(Verdict::CannotSay),
            Severity::Forbids => Verdict::WillNotWork,
        }
    }

    fn knows_gauge(&self) -> bool {
        self.pattern.is_some() || self.label.is_some()
    }

    fn may_judge(&self, criterion: Criterion) -> bool {
        let facts = &self.wanted.facts;
        match criterion {
            Criterion::Grist => self.grist.is_some(),
            Criterion::Gauge => self.knows_gauge(),
            Criterion::WeightClass => facts.class.is_some(),
            Criterion::Fibre => facts.blend.is_some(),
            Criterion::Construction => facts.construction.is_some(),
            Criterion::Care => self.wanted.care.is_some(),
        }
    }

    /// D >= a sqrt(w / sum of w), a the departure on one criterion, w over all
    /// criteria that what is wanted allows to judge.
    fn by_one(&self, criterion: Criterion, departure: f64) -> f64 {
        let others = Criterion::ALL.into_iter();
        let others = others.filter(|other| *other != criterion && self.may_judge(*other));
        let unseen = others.map(|other| self.settings.weights.of(other)).sum();
        let one = [(criterion, departure)].into_iter();
        overall(one, &self.settings.weights, unseen).unwrap_or(0.0)
    }

    /// Ranges of length per mass that hold all yarns, and what those that can be
    /// compared do in each at best; none where no length per mass is wanted.
    pub fn grist_ranges(&self) -> Vec<(AtBest, Range)> {
        let Some((wanted, tolerance)) = self.grist else {
            return Vec::new();
        };
        let width = (tolerance / 64.0).max(wanted * 1e-4);
        let mut cuts = cuts_around((wanted, wanted), width);
        let strands = std::iter::once(1).chain(SEVERAL_STRANDS);
        cuts.extend(strands.flat_map(|strands| {
            let (low, high) = band((wanted, tolerance), strands);
            [low, high]
        }));
        let bounded = ranges(cuts).into_iter();
        bounded.map(|range| (self.at_grist(range), range)).collect()
    }

    fn at_grist(&self, (low, high): Range) -> AtBest {
        let (wanted, tolerance) = self.grist.unwrap_or((0.0, f64::INFINITY));
        let distance = (low - wanted).max(wanted - high).max(0.0);
        let has_class = self.wanted.facts.class.is_some();
        let verdict = if meets((low, high), band((wanted, tolerance), 1)) {
            if self.knows_gauge() || has_class {
                Verdict::ShouldWork
            } else {
                Verdict::CouldWork
            }
        } else if self.strands_meet((low, high)) {
            Verdict::CouldWork
        } else {
            Verdict::WillNotWork
        };
        let least = self.by_one(Criterion::Grist, in_tolerances(distance, tolerance));
        AtBest { verdict, least }
    }

    fn strands_meet(&self, range: Range) -> bool {
        let met = |wanted| {
            SEVERAL_STRANDS
                .into_iter()
                .any(|n| meets(range, band(wanted, n)))
        };
        self.grist.is_some_and(met)
    }

    /// Ranges of the lower end of a label gauge, whose higher end is at most `widest`
    /// times as much, that hold all yarns, and what those whose length per mass is
    /// not judged do in each at best; none where the label's gauge says nothing.
    pub fn gauge_ranges(&self, widest: f64) -> Vec<(AtBest, Range)> {
        if !self.knows_gauge() || !self.gauge_is_on_label {
            return Vec::new();
        }
        let tolerance = gauge_tolerance(self.wanted.fit);
        let references = self.references();
        let cuts = references.flat_map(|wanted| {
            let width = wanted.low() * tolerance / 4.0;
            cuts_around((wanted.low() / widest, wanted.high()), width)
        });
        let bounded = ranges(cuts.collect()).into_iter();
        let bounded = bounded.map(|(low, high)| {
            let to = if widest.is_finite() {
                high * widest
            } else {
                END
            };
            (self.at_gauge((low, to)), (low, high))
        });
        bounded.collect()
    }

    fn references(&self) -> impl Iterator<Item = Interval<f64>> {
        let known = [&self.pattern, &self.label].into_iter().flatten();
        known.map(|known| known.found.per_10_cm)
    }

    fn at_gauge(&self, (low, high): Range) -> AtBest {
        let of = |wanted: Interval<f64>| {
            let range = Interval::between(low * (1.0 - WIDER), high * (1.0 + WIDER));
            range.map_or(0.0, |range| self.gauge_departure(ratio(range, wanted)))
        };
        let departure = self.references().map(of).fold(f64::INFINITY, f64::min);
        AtBest {
            verdict: Verdict::CouldWork,
            least: self.by_one(Criterion::Gauge, departure),
        }
    }

    /// What a yarn without a length per mass does at best.
    pub fn without_grist(&self) -> AtBest {
        let verdict = if self.knows_gauge() {
            Verdict::CouldWork
        } else {
            Verdict::CannotSay
        };
        AtBest {
            verdict,
            least: 0.0,
        }
    }

    /// What a yarn without a label gauge, whose length per mass is not judged, does
    /// at best; any such yarn where the label's gauge does not count.
    pub fn with_neither(&self) -> AtBest {
        if !self.gauge_is_on_label {
            return self.without_grist();
        }
        AtBest {
            verdict: Verdict::CannotSay,
            least: 0.0,
        }
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

/// Both ends, and ever farther from them on both sides, first by `width`.
fn cuts_around((low, high): (f64, f64), width: f64) -> Vec<f64> {
    // So that what is exactly the higher end comes with what is wanted.
    let high = high * (1.0 + 1e-12);
    let steps = std::iter::successors(Some(width), |width| Some(width * FARTHER));
    let steps = steps.take_while(|width| *width < END);
    let around = steps.flat_map(|width| [low - width, high + width]);
    around.chain([low, high]).collect()
}

/// From 0 to the end, cut so.
fn ranges(mut cuts: Vec<f64>) -> Vec<Range> {
    cuts.retain(|cut| (0.0..END).contains(cut));
    cuts.extend([0.0, END]);
    cuts.sort_by(f64::total_cmp);
    let pairs = cuts.iter().zip(cuts.iter().skip(1));
    let pairs = pairs.filter(|(from, to)| from < to);
    pairs.map(|(from, to)| (*from, *to)).collect()
}

fn one_strand(facts: YarnFacts) -> Candidate {
    Candidate {
        facts,
        swatches: Vec::new(),
        measured: None,
        strands: 1,
    }
}

/// A value whose printed text is not looked at.
fn unprinted<T>(value: T) -> Printed<T> {
    Printed::new("", value)
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
            let bounds = Bounds::new(&wanted, &settings, false);
            let holds_in = |(_, (low, high)): &(AtBest, Range), value| (*low..*high).contains(&value);
            if kind(&bounds, &yarn.facts).is_comparable {
                let grist = yarn.facts.grist().unwrap().as_metres_per_gram();
                let ranges = bounds.grist_ranges();
                let mut around = ranges.iter().filter(|range| holds_in(range, grist));
                prop_assert!(around.all(|(at_best, _)| holds(*at_best, &judged)));
            } else if let (true, Some(label)) = (gauge, &yarn.facts.gauge) {
                let stitches = of_label_gauge(&label.value, 1).found.per_10_cm.low();
                for ranges in [1.0, 1.1, f64::INFINITY].map(|widest| bounds.gauge_ranges(widest)) {
                    let mut around = ranges.iter().filter(|range| holds_in(range, stitches));
                    prop_assert!(around.all(|(at_best, _)| holds(*at_best, &judged)));
                }
            } else {
                prop_assert!(holds(bounds.with_neither(), &judged));
            }
        }

        #[test]
        fn prop_a_look_tells_the_departure_itself(yarn in any_offered(), gauge in any::<bool>()) {
            let wanted = if gauge { dk_wanted().label_gauge(22.0) } else { dk_wanted() };
            let judged = judge(&wanted, &yarn, &settings());
            prop_assert_eq!(bound(&wanted, &yarn).least, judged.overall.unwrap_or(f64::INFINITY));
        }

        #[test]
        fn prop_ranges_hold_every_yarn_once(grist in 0.0..1000.0_f64, tolerance in 0.0..400.0_f64) {
            let mut settings = settings();
            settings.tolerance = crate::measure::GristTolerance::Share(
                crate::measure::Ratio::percent(tolerance.min(100.0)).unwrap(),
            );
            let wanted = dk_wanted().label_gauge(22.0);
            let bounds = Bounds::new(&wanted, &settings, false);
            for ranges in [bounds.grist_ranges(), bounds.gauge_ranges(1.25)] {
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
        assert_eq!(bound(&known, &tube).verdict, Verdict::CannotSay);
        let labelled = tube.label_gauge(30.0);
        assert_eq!(bound(&known, &labelled).verdict, Verdict::CouldWork);
        let far = labelled.class(&[7]);
        assert_eq!(bound(&known, &far).verdict, Verdict::CannotSay);
    }

    fn best(wanted: &Requirement) -> Verdict {
        let settings = settings();
        let ranges = Bounds::new(wanted, &settings, false).grist_ranges();
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

    /// By hand: 225 m/100 g within 8 %, so 2.07 to 2.43 m/g, and in two, three and
    /// four strands so many times as much.
    #[test]
    fn ranges_turn_where_one_to_four_strands_come_within() {
        let (wanted, settings) = (dk_wanted(), settings());
        let bounds = Bounds::new(&wanted, &settings, false);
        let verdict = |grist: f64| bounds.at_grist((grist, grist)).verdict;
        assert_eq!(verdict(2.0699), Verdict::WillNotWork);
        assert_eq!(verdict(2.07), Verdict::ShouldWork);
        assert_eq!(verdict(2.43), Verdict::ShouldWork);
        assert_eq!(verdict(2.4301), Verdict::WillNotWork);
        for strands in [2.0, 3.0, 4.0] {
            assert_eq!(verdict(2.07 * strands), Verdict::CouldWork);
            assert_eq!(verdict(2.43 * strands), Verdict::CouldWork);
            assert_eq!(verdict(2.4301 * strands), Verdict::WillNotWork);
        }
        let bare = super::super::samples::wanted();
        assert!(
            Bounds::new(&bare, &settings, false)
                .grist_ranges()
                .is_empty()
        );
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

    #[test]
    fn a_measured_gauge_is_not_told_by_the_label() {
        let (wanted, settings) = (dk_wanted().label_gauge(22.0), settings());
        let bounds = Bounds::new(&wanted, &settings, true);
        let far = yarn(225.0).label_gauge(11.0);
        let label = &far.facts.gauge.as_ref().unwrap().value;
        let bound = bounds.at_best(&kind(&bounds, &far.facts), Some(2.25), Some(label));
        assert_eq!((bound.verdict, bound.least), (Verdict::ShouldWork, 0.0));
        assert!(bounds.gauge_ranges(1.0).is_empty());
        assert_eq!(bounds.with_neither().verdict, Verdict::CouldWork);
    }
}
