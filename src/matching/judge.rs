//! The one way in: judging a candidate.

use super::{
    Candidate, Judgement, Remedy, Requirement, Settings, Severity, Verdict,
    assess::assess,
    grist::is_known_but_not_comparable,
    hazard::cautions,
    judgement::overall,
    remedies::{StrandsPlan, for_gauge, strands_plans},
    verdict::{Plan, verdict},
};

/// Judges what is offered against what is wanted.
pub fn judge(wanted: &Requirement, offered: &Candidate, settings: &Settings) -> Judgement {
    let assessed = assess(wanted, offered, settings);
    let cautions = cautions(wanted, offered);
    let for_gauge = for_gauge(wanted, offered, &assessed);
    let strands = strands_plans(wanted, offered, settings, &assessed);
    let as_offered = Plan {
        assessed: &assessed,
        mends_gauge: !for_gauge.is_empty(),
    };
    let severity = cautions.iter().map(|caution| caution.severity).max();
    let severity = severity.unwrap_or(Severity::Beside);
    let verdict = verdict(severity, as_offered, &plans(&strands));
    let departures = assessed.departures.iter();
    let departures = departures.map(|found| (found.criterion, found.departure));
    Judgement {
        verdict,
        overall: overall(departures, &settings.weights, 0.0),
        remedies: remedies(verdict, strands, for_gauge),
        cautions,
        gauge_ratio: assessed.gauge.map(|expected| expected.ratio),
        grist_not_comparable: is_known_but_not_comparable(wanted, offered),
        departures: assessed.departures,
        not_judged: assessed.not_judged,
    }
}

/// Strands are planned only where their gauge is within or can be mended.
fn plans(strands: &[StrandsPlan]) -> Vec<Plan<'_>> {
    let plan = |held| Plan {
        assessed: held,
        mends_gauge: true,
    };
    strands.iter().map(|held| plan(&held.assessed)).collect()
}

/// Strands first, then needle, counts, size; nothing for a yarn that will not do.
fn remedies(verdict: Verdict, strands: Vec<StrandsPlan>, for_gauge: Vec<Remedy>) -> Vec<Remedy> {
    if verdict == Verdict::WillNotWork {
        return Vec::new();
    }
    let strands = strands.into_iter().map(|plan| plan.remedy);
    strands.chain(for_gauge).collect()
}

#[cfg(test)]
mod tests {
    use super::super::{
        Criterion, Evidence, FibreProperty, Missing, NoPrediction, Reason, Side, Turn,
        samples::{Build, offered, settings, size, wanted},
    };
    use super::*;
    use crate::{
        measure::{GristTolerance, Ratio},
        record::{Care, Fit, Purpose, StatedGauge, Stitch},
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
        assert_eq!(judgement.verdict, Verdict::WillNotWork);
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
    fn a_soft_criterion_may_lie_outside_up_to_twice_its_tolerance() {
        let cotton = dk_offered().of(&[("cotton", 100.0)]);
        assert_eq!(
            judge(&dk_wanted(), &cotton, &settings()).verdict,
            Verdict::CouldWork
        );
        let linen = dk_offered().of(&[("linen", 100.0)]);
        assert_eq!(
            judge(&dk_wanted(), &linen, &settings()).verdict,
            Verdict::WillNotWork
        );
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
        assert_eq!(verdict(8.0), Verdict::WillNotWork);
        assert_eq!(verdict(12.0), Verdict::ShouldWork);
    }

    #[test]
    fn washing_that_is_not_asked_is_not_missing() {
        let judgement = judge(&dk_wanted(), &dk_offered(), &settings());
        let care = |missing: &Missing| missing.criterion() == Criterion::Care;
        assert!(!judgement.not_judged.iter().any(care));
        let asked = Requirement {
            care: Some(Care::MachineWash),
            ..dk_wanted()
        };
        let judgement = judge(&asked, &dk_offered(), &settings());
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
