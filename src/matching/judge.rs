//! The one way in: judging a candidate.

use super::{
    Bar, Candidate, Condition, Criterion, Doubt, Judgement, Remedy, Requirement, Settings,
    Severity, Verdict, Weights,
    assess::{Assessment, assess},
    condition::{caps, conditions},
    grist::is_known_but_not_comparable,
    hazard::cautions,
    judgement::{counted_missing, overall},
    purpose_rules::rules,
    remedies::{StrandsPlan, for_gauge, strands_plans},
};

/// Judges what is offered against what is wanted.
pub fn judge(wanted: &Requirement, offered: &Candidate, settings: &Settings) -> Judgement {
    let assessed = assess(wanted, offered, settings);
    let cautions = cautions(wanted, offered);
    let rules = rules(wanted, offered, &settings.limits);
    let severities = cautions.iter().map(|caution| caution.severity);
    let severity = severities.chain(rules.bar.iter().map(Bar::severity)).max();
    let way =
        way(wanted, offered, settings, &assessed).held_back(caps(offered, &assessed, rules.caps));
    let verdict = with_severity(way.verdict, severity.unwrap_or(Severity::Beside));
    let has_way = verdict == Verdict::CouldWork;
    let departures = assessed.departures.iter();
    let departures = departures.map(|found| (found.criterion, found.departure));
    Judgement {
        verdict,
        overall: overall(departures, &settings.weights),
        for_ranking: for_ranking(&assessed, &settings.weights),
        bar: rules.bar,
        conditions: way.conditions.into_iter().filter(|_| has_way).collect(),
        remedies: way.remedies.into_iter().filter(|_| has_way).collect(),
        cautions,
        gauge_ratio: way
            .gauge_ratio
            .or(assessed.gauge.map(|expected| expected.ratio)),
        grist_not_comparable: is_known_but_not_comparable(wanted, offered),
        departures: assessed.departures,
        not_judged: assessed.not_judged,
        doubts: offered.doubts.clone(),
    }
}

/// Over all that was asked, in the order of criteria.
fn for_ranking(assessed: &Assessment, weights: &Weights) -> f64 {
    let asked = Criterion::ALL.into_iter().filter_map(|criterion| {
        let mut missing = assessed.not_judged.iter();
        let missing = missing.find(|missing| missing.criterion() == criterion);
        let departure = assessed.departure(criterion);
        let counted = departure.or_else(|| missing.map(counted_missing))?;
        Some((criterion, counted))
    });
    overall(asked, weights).unwrap_or(0.0)
}

/// A way of using the candidate, and what it comes to.
struct Way {
    verdict: Verdict,
    conditions: Vec<Condition>,
    remedies: Vec<Remedy>,
    /// gauge_c / gauge_r in the strands of this way, where they are not as offered.
    gauge_ratio: Option<f64>,
}

impl Way {
    fn without_remedies(verdict: Verdict) -> Self {
        Self {
            verdict,
            conditions: Vec::new(),
            remedies: Vec::new(),
            gauge_ratio: None,
        }
    }

    /// The same under conditions that hold a good verdict back.
    fn held_back(mut self, caps: impl Iterator<Item = Condition>) -> Self {
        self.conditions.extend(caps);
        self.conditions
            .sort_by_key(|condition| !is_about_the_label(condition));
        if self.verdict == Verdict::ShouldWork && !self.conditions.is_empty() {
            self.verdict = Verdict::CouldWork;
        }
        self
    }
}

/// Whether a condition says that the label contradicts itself: that goes first, since
/// all numbers hang on it.
fn is_about_the_label(condition: &Condition) -> bool {
    matches!(condition, Condition::Doubt(Doubt::Contradiction(_)))
}

/// Without grist and gauge nothing can be said. Where every reason against it is met
/// as offered, it should or could work; else it could in strands in which it is met.
fn way(
    wanted: &Requirement,
    offered: &Candidate,
    settings: &Settings,
    assessed: &Assessment,
) -> Way {
    let has = |criterion| assessed.departure(criterion).is_some();
    if !has(Criterion::Grist) && !has(Criterion::Gauge) {
        return Way::without_remedies(Verdict::CannotSay);
    }
    let remedies = for_gauge(wanted, offered, assessed);
    match conditions(assessed, &remedies) {
        Some(none) if none.is_empty() => Way::without_remedies(Verdict::ShouldWork),
        Some(conditions) => Way {
            verdict: Verdict::CouldWork,
            conditions,
            remedies,
            gauge_ratio: None,
        },
        None => in_strands(strands_plans(wanted, offered, settings, assessed)),
    }
}

/// The best number of strands, and the others behind it; then what mends the gauge
/// of the best.
fn in_strands(plans: Vec<StrandsPlan>) -> Way {
    let met = plans.iter().find_map(|plan| {
        let Remedy::HoldStrands { strands, .. } = plan.remedy else {
            return None;
        };
        let conditions = conditions(&plan.assessed, &plan.for_gauge)?;
        let ratio = plan.assessed.gauge.as_ref().map(|gauge| gauge.ratio);
        Some((strands, conditions, (plan.for_gauge.clone(), ratio)))
    });
    let Some((strands, conditions, (for_gauge, gauge_ratio))) = met else {
        return Way::without_remedies(Verdict::WillNotWork);
    };
    let held = plans.into_iter().map(|plan| plan.remedy);
    Way {
        verdict: Verdict::CouldWork,
        conditions: std::iter::once(Condition::Strands(strands))
            .chain(conditions)
            .collect(),
        remedies: held.chain(for_gauge).collect(),
        gauge_ratio,
    }
}

/// A hazard forbids whatever the departures, and one that cannot be ruled out holds
/// a good verdict back.
pub(super) fn with_severity(verdict: Verdict, severity: Severity) -> Verdict {
    match severity {
        Severity::Forbids => Verdict::WillNotWork,
        Severity::Withholds => verdict.max(Verdict::CannotSay),
        Severity::Beside => verdict,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Evidence, FibreProperty, Missing, NoPrediction, Reason, Side, Turn,
        samples::{Build, offered, settings, size, wanted},
    };
    use super::*;
    use crate::{
        measure::{GristTolerance, Ratio},
        record::{Care, Contradiction, Fit, Purpose, StatedGauge, Stitch},
        trade::{Construction, FIBRES, hazards::MELTS},
    };
    use proptest::prelude::*;

    fn dk_wanted() -> Requirement {
        wanted()
            .put_up(112.5, 50.0)
            .label_gauge(22.0)
            .class(&[3])
            .of(&[("wool", 100.0)])
            .built(Construction::Plied)
    }

    fn dk_offered() -> Candidate {
        offered()
            .put_up(112.5, 50.0)
            .label_gauge(22.0)
            .class(&[3])
            .of(&[("wool", 100.0)])
            .built(Construction::Plied)
    }

    fn with_tolerance(percent: f64) -> Settings {
        Settings {
            tolerance: GristTolerance::Share(Ratio::percent(percent).unwrap()),
            ..settings()
        }
    }

    #[test]
    fn the_same_yarn_should_work_and_departs_by_nothing() {
        let judgement = judge(&dk_wanted(), &dk_offered(), &settings());
        assert_eq!(judgement.verdict, Verdict::ShouldWork);
        assert_eq!(judgement.overall, Some(0.0));
        assert_eq!(judgement.gauge_ratio, Some(1.0));
        assert_eq!(judgement.departures.len(), 5);
        assert!(judgement.not_judged.is_empty() && judgement.remedies.is_empty());
    }

    fn first_is(judgement: &Judgement, criterion: Criterion) -> bool {
        matches!(judgement.reasons()[0], Reason::Departure(found) if found.criterion == criterion)
    }

    #[test]
    fn the_reason_that_lies_farthest_comes_first() {
        let thicker = dk_offered().put_up(102.5, 50.0);
        let judgement = judge(&dk_wanted(), &thicker, &settings());
        assert_eq!(judgement.verdict, Verdict::CouldWork);
        assert!(first_is(&judgement, Criterion::Grist));
        assert!(judgement.remedies.is_empty());
    }

    #[test]
    fn what_is_only_to_know_is_no_reason() {
        let wanted = Requirement {
            purpose: Some(Purpose::Garment),
            ..dk_wanted().of(&[("cotton", 100.0)])
        };
        let longer = dk_offered().put_up(125.0, 50.0).of(&[("cotton", 100.0)]);
        let judgement = judge(&wanted, &longer, &settings());
        assert!(first_is(&judgement, Criterion::Grist));
        assert_eq!(judgement.cautions.len(), 1);
        let reasons = judgement.reasons();
        assert!(!reasons.iter().any(|r| matches!(r, Reason::Caution(_))));
    }

    #[test]
    fn what_is_judged_enough_does_not_ask_for_more() {
        let unlabelled = offered()
            .put_up(112.5, 50.0)
            .class(&[3])
            .of(&[("wool", 100.0)])
            .built(Construction::Plied);
        let far = unlabelled.of(&[("cotton", 100.0)]);
        let wanted = Requirement {
            gauge: Some(StatedGauge {
                stitch: Some(Stitch::named("cables")),
                ..super::super::samples::ten_cm(26.0)
            }),
            ..dk_wanted()
        };
        let judgement = judge(&wanted, &far, &settings());
        assert_eq!(judgement.verdict, Verdict::CouldWork);
        let reasons = judgement.reasons();
        assert!(!reasons.iter().any(|r| matches!(r, Reason::Missing(_))));
    }

    #[test]
    fn the_farthest_part_of_the_fibres_comes_first() {
        let cotton = dk_offered().of(&[("cotton", 100.0)]);
        let judgement = judge(&dk_wanted(), &cotton, &settings());
        assert!(first_is(&judgement, Criterion::Fibre));
        let evidence = &judgement.departure(Criterion::Fibre).unwrap().evidence;
        assert!(matches!(
            &evidence[0],
            Evidence::FibreProperty(found) if found.property == FibreProperty::Extension
        ));
    }

    #[test]
    fn a_gauge_outside_could_work_with_a_needle_counts_or_a_size() {
        let wanted = Requirement {
            sizes: vec![size("S", 90.0, 198), size("M", 100.0, 220)],
            size: Some(0),
            fit: Fit::Relaxed,
            ..dk_wanted()
        };
        let tighter = dk_offered().label_gauge(24.0);
        let judgement = judge(&wanted, &tighter, &settings());
        assert_eq!(judgement.verdict, Verdict::CouldWork);
        let [needle, counts, other] = judgement.remedies.as_slice() else {
            panic!("{:?}", judgement.remedies)
        };
        assert!(matches!(
            needle,
            Remedy::ChangeNeedle {
                turn: Turn::Up,
                steps: 2,
                ..
            }
        ));
        assert!(matches!(counts, Remedy::ReworkStitches { counts, .. } if counts[0].to == 216));
        assert!(matches!(other, Remedy::AnotherSize { index: 1, .. }));
    }

    #[test]
    fn a_fine_yarn_could_work_in_two_strands() {
        let wanted = dk_wanted();
        let fine = dk_offered()
            .put_up(225.0, 50.0)
            .label_gauge(31.0)
            .class(&[1]);
        let judgement = judge(&wanted, &fine, &settings());
        assert_eq!(judgement.verdict, Verdict::CouldWork);
        assert!(matches!(
            judgement.remedies[0],
            Remedy::HoldStrands { strands: 2, departure, .. } if departure == 0.0
        ));
    }

    #[test]
    fn fibre_construction_class_and_care_never_rule_a_yarn_out() {
        let asked = Requirement {
            care: Some(Care::MachineWash),
            ..dk_wanted()
        };
        for (yarn, criterion) in [
            (dk_offered().of(&[("linen", 100.0)]), Criterion::Fibre),
            (
                dk_offered().built(Construction::Chenille),
                Criterion::Construction,
            ),
            (dk_offered().class(&[6]), Criterion::WeightClass),
            (dk_offered().care(Care::DryClean), Criterion::Care),
            (dk_offered(), Criterion::Care),
        ] {
            let judgement = judge(&asked, &yarn, &settings());
            assert_eq!(judgement.verdict, Verdict::CouldWork, "{criterion:?}");
            assert!(
                judgement
                    .conditions
                    .contains(&Condition::Departs(criterion))
            );
        }
    }

    /// 8 % and the 20 % that are the widest published: at the edge, a step within, a
    /// step beyond, either way.
    #[test]
    fn beyond_the_tolerance_another_cloth_could_be_liked_up_to_a_fifth() {
        use Verdict::{CouldWork, ShouldWork, WillNotWork};
        for (percent, verdict) in [
            (7.9, ShouldWork),
            (8.0, ShouldWork),
            (8.1, CouldWork),
            (19.9, CouldWork),
            (20.0, CouldWork),
            (20.1, WillNotWork),
        ] {
            for sign in [-1.0, 1.0] {
                let yarn = dk_offered().put_up(112.5 * (1.0 + sign * percent / 100.0), 50.0);
                let judgement = judge(&dk_wanted(), &yarn, &settings());
                assert_eq!(judgement.verdict, verdict, "{percent} % {sign}");
                let liked = judgement
                    .conditions
                    .iter()
                    .find_map(|condition| match condition {
                        Condition::Cloth(off) => Some(*off),
                        _ => None,
                    });
                let expected = (verdict == CouldWork).then_some(sign * percent / 100.0);
                assert_eq!(liked.is_some(), expected.is_some());
                assert!((liked.unwrap_or(0.0) - expected.unwrap_or(0.0)).abs() < 1e-9);
            }
        }
    }

    /// Length per mass a tenth off: one needle, or two, still mend the gauge; where only
    /// other counts would, it is another project.
    #[test]
    fn with_length_per_mass_beyond_only_a_needle_mends_the_gauge() {
        let verdict = |stitches: f64, metres: f64| {
            let yarn = dk_offered().put_up(metres, 50.0).label_gauge(stitches);
            judge(&dk_wanted(), &yarn, &settings()).verdict
        };
        assert_eq!(verdict(21.0, 102.0), Verdict::CouldWork);
        assert_eq!(verdict(19.0, 112.5), Verdict::CouldWork);
        assert_eq!(verdict(19.0, 102.0), Verdict::WillNotWork);
        // counts may be reworked within a factor of 1.25
        assert_eq!(verdict(17.6, 112.5), Verdict::CouldWork);
        assert_eq!(verdict(17.5, 112.5), Verdict::WillNotWork);
        assert_eq!(verdict(27.5, 112.5), Verdict::CouldWork);
        assert_eq!(verdict(27.6, 112.5), Verdict::WillNotWork);
    }

    #[test]
    fn a_predicted_gauge_never_rules_a_yarn_out() {
        let unlabelled = offered()
            .put_up(112.5, 50.0)
            .of(&[("polypropylene", 100.0)])
            .built(Construction::Plied);
        let dense = dk_wanted().of(&[("cotton", 100.0)]).label_gauge(40.0);
        let judgement = judge(&dense, &unlabelled, &settings());
        assert_eq!(judgement.verdict, Verdict::CouldWork);
    }

    fn two_lengths() -> Contradiction {
        Contradiction::PutUp {
            text: "112.5 m, 112.5 yd".to_owned(),
            used: None,
            other: None,
        }
    }

    /// It goes before all other conditions, and is a reason where there is none.
    #[test]
    fn a_label_that_contradicts_itself_is_spoken_of_first_whatever_the_verdict() {
        let doubt = Doubt::Contradiction(two_lengths());
        let doubtful = |yarn: Candidate| Candidate {
            doubts: vec![doubt.clone()],
            ..yarn
        };
        let linen = doubtful(dk_offered().of(&[("linen", 100.0)]));
        let judgement = judge(&dk_wanted(), &linen, &settings());
        assert_eq!(judgement.conditions[0], Condition::Doubt(doubt.clone()));
        assert!(judgement.conditions.len() > 1);
        let far = doubtful(dk_offered().put_up(50.0, 50.0));
        let judgement = judge(&dk_wanted(), &far, &settings());
        assert_eq!(judgement.verdict, Verdict::WillNotWork);
        assert_eq!(judgement.reasons()[0], Reason::Doubt(&doubt));
    }

    #[test]
    fn an_unknown_fibre_or_a_doubtful_label_holds_back() {
        let mut bare = dk_offered();
        bare.facts.blend = None;
        let fibre = Condition::Missing(Missing::Fibre(Side::Candidate));
        let doubt = |doubt: Doubt| Candidate {
            doubts: vec![doubt],
            ..dk_offered()
        };
        for (yarn, condition) in [
            (bare, fibre),
            (
                doubt(Doubt::Material("fun fur".into())),
                Condition::Doubt(Doubt::Material("fun fur".into())),
            ),
            (
                doubt(Doubt::Contradiction(two_lengths())),
                Condition::Doubt(Doubt::Contradiction(two_lengths())),
            ),
        ] {
            let judgement = judge(&dk_wanted(), &yarn, &settings());
            assert_eq!(judgement.verdict, Verdict::CouldWork);
            assert_eq!(judgement.conditions, [condition]);
        }
    }

    #[test]
    fn without_grist_and_gauge_nothing_is_said_but_what_to_measure() {
        let bare = offered().class(&[3]).of(&[("wool", 100.0)]);
        let judgement = judge(&dk_wanted(), &bare, &settings());
        assert_eq!(judgement.verdict, Verdict::CannotSay);
        let reasons = judgement.reasons();
        let [grist, gauge, class, fibre] = reasons.as_slice() else {
            panic!("{reasons:?}")
        };
        assert_eq!(*grist, Reason::Missing(&Missing::Grist(Side::Candidate)));
        let predicted = Missing::Gauge(NoPrediction::GristNotKnown);
        assert_eq!(*gauge, Reason::Missing(&predicted));
        for (reason, criterion) in [(class, Criterion::WeightClass), (fibre, Criterion::Fibre)] {
            assert!(matches!(reason, Reason::Departure(found) if found.criterion == criterion));
        }
    }

    #[test]
    fn grist_alone_is_too_little_for_should_work() {
        let wanted = wanted().put_up(112.5, 50.0);
        let judgement = judge(&wanted, &offered().put_up(112.5, 50.0), &settings());
        assert_eq!(judgement.verdict, Verdict::CouldWork);
        assert_eq!(
            judgement.reasons()[0],
            Reason::Missing(&Missing::PatternGauge)
        );
    }

    #[test]
    fn a_chainette_of_the_right_gauge_could_work_but_is_not_compared_by_grist() {
        let tube = dk_offered()
            .put_up(165.0, 50.0)
            .built(Construction::Chainette);
        let judgement = judge(&dk_wanted(), &tube, &settings());
        assert!(judgement.grist_not_comparable);
        assert_eq!(judgement.verdict, Verdict::CouldWork);
        assert!(
            judgement
                .departures
                .iter()
                .all(|departure| departure.criterion != Criterion::Grist)
        );
    }

    #[test]
    fn a_hazard_overrides_the_same_yarn() {
        let wanted = Requirement {
            purpose: Some(Purpose::HotPad),
            ..dk_wanted().of(&[("acrylic", 100.0)])
        };
        let same = dk_offered().of(&[("acrylic", 100.0)]);
        let judgement = judge(&wanted, &same, &settings());
        assert_eq!(judgement.overall, Some(0.0));
        assert_eq!(judgement.verdict, Verdict::WillNotWork);
        assert!(matches!(judgement.reasons()[0], Reason::Caution(c) if c.hazard == MELTS));
    }

    #[test]
    fn a_stated_tolerance_wins() {
        let off = dk_offered().put_up(125.0, 50.0);
        let verdict = |percent| judge(&dk_wanted(), &off, &with_tolerance(percent)).verdict;
        // beyond the tolerance, within 20 %: for those who like a lighter cloth
        assert_eq!(verdict(8.0), Verdict::CouldWork);
        assert_eq!(verdict(12.0), Verdict::ShouldWork);
        let far = dk_offered().put_up(145.0, 50.0);
        let verdict = |percent| judge(&dk_wanted(), &far, &with_tolerance(percent)).verdict;
        assert_eq!(verdict(12.0), Verdict::WillNotWork);
        assert_eq!(verdict(30.0), Verdict::ShouldWork);
    }

    #[test]
    fn washing_that_is_not_asked_is_not_missing_and_of_unknown_fibre_it_is() {
        let judgement = judge(&dk_wanted(), &dk_offered(), &settings());
        let care = |missing: &Missing| missing.criterion() == Criterion::Care;
        assert!(!judgement.not_judged.iter().any(care));
        let asked = Requirement {
            care: Some(Care::MachineWash),
            ..dk_wanted()
        };
        // of a fibre that is known it is judged by whether that felts
        let mut bare = dk_offered();
        bare.facts.blend = None;
        let judgement = judge(&asked, &bare, &settings());
        assert!(judgement.not_judged.iter().any(care));
    }

    fn any_offered() -> impl Strategy<Value = Candidate> {
        let fibre = 0..FIBRES.len();
        let built = 0..Construction::ALL.len();
        let label = prop::option::of(8_u8..45);
        (20_u16..900, label, fibre, built, 0_u8..=7, 1_u8..=3).prop_map(
            |(metres, label, fibre, built, class, strands)| {
                let yarn = offered()
                    .put_up(f64::from(metres), 100.0)
                    .of(&[(FIBRES[fibre].name, 100.0)])
                    .built(Construction::ALL[built])
                    .class(&[class]);
                let yarn = match label {
                    Some(stitches) => yarn.label_gauge(f64::from(stitches)),
                    None => yarn,
                };
                Candidate { strands, ..yarn }
            },
        )
    }

    proptest! {
        #[test]
        fn prop_more_tolerance_never_makes_the_verdict_worse(
            yarn in any_offered(), less in 0.0_f64..60.0, more in 0.0_f64..60.0,
        ) {
            let (less, more) = (less.min(more), less.max(more));
            let strict = judge(&dk_wanted(), &yarn, &with_tolerance(less));
            let lenient = judge(&dk_wanted(), &yarn, &with_tolerance(more));
            prop_assert!(lenient.verdict <= strict.verdict, "{:?} {:?}", strict, lenient);
        }

        #[test]
        fn prop_a_looser_fit_never_makes_the_verdict_worse(yarn in any_offered()) {
            let verdict = |fit| judge(&Requirement { fit, ..dk_wanted() }, &yarn, &settings()).verdict;
            prop_assert!(verdict(Fit::Relaxed) <= verdict(Fit::Fitted));
            prop_assert!(verdict(Fit::Unfitted) <= verdict(Fit::Relaxed));
        }

        #[test]
        fn prop_identical_facts_should_work(yarn in any_offered()) {
            let yarn = Candidate { strands: 1, ..yarn };
            let wanted = Requirement { facts: yarn.facts.clone(), ..wanted() };
            let judgement = judge(&wanted, &yarn, &settings());
            prop_assert_eq!(judgement.verdict, Verdict::ShouldWork);
            prop_assert_eq!(judgement.overall, Some(0.0));
        }

        #[test]
        fn prop_could_work_always_comes_with_conditions_and_no_other_verdict_does(
            yarn in any_offered(), purpose in prop::option::of(0..Purpose::ALL.len()), wash in any::<bool>(),
        ) {
            let wanted = Requirement {
                purpose: purpose.map(|place| Purpose::ALL[place]),
                care: wash.then_some(Care::MachineWash),
                ..dk_wanted()
            };
            let judgement = judge(&wanted, &yarn, &settings());
            let could = judgement.verdict == Verdict::CouldWork;
            prop_assert_eq!(could, !judgement.conditions.is_empty(), "{:?}", judgement);
        }

        #[test]
        fn prop_every_criterion_asked_is_judged_or_named_as_missing(yarn in any_offered()) {
            let wanted = Requirement { care: Some(Care::MachineWash), ..dk_wanted() };
            let judgement = judge(&wanted, &yarn, &settings());
            let judged = judgement.departures.iter().map(|d| d.criterion);
            let missing = judgement.not_judged.iter().map(Missing::criterion);
            let mut all: Vec<_> = judged.chain(missing).collect();
            all.sort();
            prop_assert_eq!(all, Criterion::ALL.to_vec());
        }

        #[test]
        fn prop_different_numbers_depart(metres in 101_u16..140, stitches in 21_u8..28) {
            let wanted = wanted().put_up(100.0, 50.0).label_gauge(20.0);
            let yarn = offered().put_up(f64::from(metres), 50.0).label_gauge(f64::from(stitches));
            let judgement = judge(&wanted, &yarn, &settings());
            prop_assert!(judgement.departures.iter().all(|found| found.departure > 0.0));
        }
    }
}
