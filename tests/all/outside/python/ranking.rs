//! Departures and the order of candidates, worked out a second time in Python.

use super::{super::spread, answers};
use proptest::{collection::btree_map, option, prelude::*, sample::select};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use understudy::{
    matching::{
        Candidate, FibreLimits, Judgement, Requirement, Settings, Verdict, Weights, judge, rank,
    },
    measure::{Gauge, GristTolerance, Interval, Length, Mass, Over, Ratio},
    record::{Blend, BlendPart, Classes, FibreName, Fit, Printed, StatedGauge, YarnFacts},
    trade::{Construction, FIBRES, WeightClass, fibre},
};

/// What is known of one yarn, in numbers and names.
#[derive(Debug, Clone)]
struct Case {
    metres: f64,
    grams: f64,
    strands: u8,
    stitches: Option<[f64; 2]>,
    blend: Option<BTreeMap<&'static str, u32>>,
    classes: Vec<u8>,
    construction: Option<Construction>,
}

fn blends() -> impl Strategy<Value = BTreeMap<&'static str, u32>> {
    let names: Vec<&'static str> = FIBRES.iter().map(|fibre| fibre.name).collect();
    btree_map(select(names), 1_u32..20, 1..4).prop_map(|shares| {
        // shares in percent that make exactly 100
        let (sum, count) = (shares.values().sum::<u32>(), shares.len());
        let mut percents: Vec<u32> = shares.values().map(|share| share * 100 / sum).collect();
        percents[count - 1] += 100 - percents.iter().sum::<u32>();
        shares
            .into_keys()
            .zip(percents)
            .filter(|(_, percent)| *percent > 0)
            .collect()
    })
}

fn stitches() -> impl Strategy<Value = [f64; 2]> {
    (20_u32..80, 0_u32..6)
        .prop_map(|(half, more)| [f64::from(half) / 2.0, f64::from(half + more) / 2.0])
}

fn yarns(built: &'static [Construction], label: f64) -> impl Strategy<Value = Case> {
    let put_up = (
        500_u32..9000,
        prop_oneof![Just(50.0), Just(100.0), Just(113.4)],
    );
    let classes = prop_oneof![1 => Just(Vec::new()), 4 => (0_u8..8).prop_map(|n| vec![n]), 1 => (0_u8..7).prop_map(|n| vec![n, n + 1])];
    (
        put_up,
        1_u8..3,
        option::weighted(label, stitches()),
        option::weighted(0.9, blends()),
        classes,
        option::weighted(0.8, select(built)),
    )
        .prop_map(
            |((metres, grams), strands, stitches, blend, classes, construction)| Case {
                metres: f64::from(metres) / 10.0 * grams / 100.0,
                grams,
                strands,
                stitches,
                blend,
                classes,
                construction,
            },
        )
}

fn gauge([low, high]: [f64; 2]) -> StatedGauge {
    let over = Over::centimetres(10.0).ok();
    StatedGauge::bare(Gauge::new(Interval::between(low, high).unwrap(), None, over).unwrap())
}

fn blend(shares: &BTreeMap<&'static str, u32>) -> Blend {
    let part = |(name, percent): (&&str, &u32)| BlendPart {
        fibre: FibreName::Known(fibre(name).unwrap()),
        percent: f64::from(*percent),
    };
    Blend::new(shares.iter().map(part).collect()).unwrap()
}

impl Case {
    /// The same with length per mass and gauge near to those that are wanted, and
    /// with the class and, where it `shares` it, the blend.
    fn brought_near(self, wanted: &Self, (metres, stitches, shares): (f64, f64, bool)) -> Self {
        let label = wanted.stitches.filter(|_| self.stitches.is_some());
        Self {
            metres: wanted.metres * metres,
            grams: wanted.grams,
            strands: wanted.strands,
            stitches: label.map(|ends| ends.map(|end| end * stitches)),
            classes: wanted.classes.clone(),
            blend: if shares {
                wanted.blend.clone()
            } else {
                self.blend
            },
            ..self
        }
    }

    fn facts(&self) -> YarnFacts {
        let classes = self
            .classes
            .iter()
            .filter_map(|n| WeightClass::new(*n))
            .collect();
        YarnFacts {
            length: Some(Printed::new("l", Length::metres(self.metres).unwrap())),
            mass: Some(Printed::new("m", Mass::grams(self.grams).unwrap())),
            class: Classes::new(classes).map(|classes| Printed::new("k", classes)),
            blend: self
                .blend
                .as_ref()
                .map(|shares| Printed::new("b", blend(shares))),
            construction: self.construction.map(|built| Printed::new("c", built)),
            gauge: self
                .stitches
                .map(|stitches| Printed::new("g", gauge(stitches))),
            ..YarnFacts::default()
        }
    }

    fn json(&self) -> Map<String, Value> {
        let json = json!({
            "metres": self.metres,
            "grams": self.grams,
            "strands": self.strands,
            "stitches": self.stitches,
            "blend": self.blend,
            "classes": self.classes,
            "construction": self.construction.map(Construction::name),
        });
        json.as_object().unwrap().clone()
    }
}

/// The table of fibres as the program has it: the values are checked elsewhere.
fn fibres() -> Value {
    let of = |fibre: &understudy::trade::Fibre| {
        json!({
            "density": fibre.density.value,
            "extension": fibre.extension.map(|figure| figure.value),
            "recovery": fibre.recovery.map(|figure| figure.value),
            "regain": fibre.regain.map(|figure| figure.value),
        })
    };
    FIBRES
        .iter()
        .map(|fibre| (fibre.name.to_owned(), of(fibre)))
        .collect::<Map<_, _>>()
        .into()
}

/// One pattern's yarn and the candidates for it.
#[derive(Debug, Clone)]
struct Round {
    wanted: Case,
    gauge_of_pattern: bool,
    fit: Fit,
    percent: f64,
    candidates: Vec<Case>,
}

fn rounds() -> impl Strategy<Value = Round> {
    const SMOOTH: &[Construction] = &[
        Construction::Plied,
        Construction::Cabled,
        Construction::Single,
    ];
    let fit = select(vec![Fit::Fitted, Fit::Relaxed, Fit::Unfitted]);
    let near = option::of((0.85..1.15_f64, 0.93..1.07_f64, any::<bool>()));
    let candidates = proptest::collection::vec((yarns(&Construction::ALL, 0.7), near), 40);
    (
        yarns(SMOOTH, 0.95),
        any::<bool>(),
        fit,
        3_u32..20,
        candidates,
    )
        .prop_map(
            |(wanted, gauge_of_pattern, fit, percent, candidates)| Round {
                candidates: candidates
                    .into_iter()
                    .map(|(yarn, near)| match near {
                        Some(near) => yarn.brought_near(&wanted, near),
                        None => yarn,
                    })
                    .collect(),
                wanted,
                gauge_of_pattern,
                fit,
                percent: f64::from(percent),
            },
        )
}

impl Round {
    fn wanted(&self) -> Requirement {
        let mut facts = self.wanted.facts();
        let stated = facts.gauge.take().map(|printed| printed.value);
        let (of_pattern, of_label) = match self.gauge_of_pattern {
            true => (stated, None),
            false => (None, stated),
        };
        facts.gauge = of_label.map(|stated| Printed::new("g", stated));
        Requirement {
            facts,
            strands: self.wanted.strands,
            gauge: of_pattern,
            fit: self.fit,
            purpose: None,
            care: None,
            multiple: None,
            sizes: Vec::new(),
            size: None,
        }
    }

    fn judged(&self) -> Vec<Judgement> {
        let settings = Settings {
            tolerance: GristTolerance::Share(Ratio::percent(self.percent).unwrap()),
            weights: Weights::default(),
            limits: FibreLimits::default(),
        };
        let offered = |case: &Case| Candidate {
            facts: case.facts(),
            swatches: Vec::new(),
            measured: None,
            strands: case.strands,
            doubts: Vec::new(),
        };
        let wanted = self.wanted();
        self.candidates
            .iter()
            .map(|case| judge(&wanted, &offered(case), &settings))
            .collect()
    }

    /// Two names, so that ties fall to the number of the yarn.
    fn name(place: usize) -> &'static str {
        ["Hathrel", "Orrin"][place % 2]
    }

    fn question(&self, judged: &[Judgement]) -> Value {
        let mut wanted = self.wanted.json();
        wanted.insert("tolerance".into(), json!(self.percent / 100.0));
        wanted.insert("fit".into(), json!(self.fit.name()));
        wanted.insert(
            "gauge_of".into(),
            json!(if self.gauge_of_pattern {
                "pattern"
            } else {
                "label"
            }),
        );
        let candidates =
            self.candidates
                .iter()
                .zip(judged)
                .enumerate()
                .map(|(place, (case, judgement))| {
                    let mut candidate = case.json();
                    candidate.insert("name".into(), json!(Self::name(place)));
                    candidate.insert("verdict".into(), json!(judgement.verdict as u8));
                    Value::from(candidate)
                });
        json!({"ask": "rank", "wanted": wanted, "candidates": candidates.collect::<Vec<_>>(), "fibres": fibres()})
    }
}

/// Python, written from the criteria: departures of grist, gauge, class, fibre
/// and construction, their weighted root mean square, which yarns should work,
/// and the order by verdict, departure, name and number.
#[test]
fn departures_and_order_are_those_of_a_second_computation() {
    let rounds = spread(&rounds(), 25);
    let judged: Vec<Vec<Judgement>> = rounds.iter().map(Round::judged).collect();
    for verdict in [
        Verdict::ShouldWork,
        Verdict::CouldWork,
        Verdict::WillNotWork,
    ] {
        let all = judged.iter().flatten();
        let count = all.filter(|judgement| judgement.verdict == verdict).count();
        assert!(count >= 50, "{verdict:?}: {count}");
    }
    let questions = rounds
        .iter()
        .zip(&judged)
        .map(|(round, judged)| round.question(judged));
    let Some(theirs) = answers(&questions.collect::<Vec<_>>()) else {
        return;
    };
    for ((round, judged), theirs) in rounds.iter().zip(judged).zip(theirs) {
        for ((case, judgement), theirs) in round
            .candidates
            .iter()
            .zip(&judged)
            .zip(theirs["judged"].as_array().unwrap())
        {
            same_departures(
                judgement,
                theirs,
                &format!("{case:?} for {:?}", round.wanted),
            );
        }
        let keyed = judged.into_iter().enumerate();
        let ranked = rank(keyed, |place| (Round::name(*place), *place), usize::MAX);
        let order: Vec<usize> = ranked.iter().map(|(place, _)| *place).collect();
        assert_eq!(json!(order), theirs["order"], "{round:?}");
    }
}

fn same_departures(judgement: &Judgement, theirs: &Value, case: &str) {
    let ours: BTreeMap<&str, f64> = judgement
        .departures
        .iter()
        .map(|d| (d.criterion.name(), d.departure))
        .collect();
    let wanted: BTreeMap<&str, f64> = theirs["departures"]
        .as_object()
        .unwrap()
        .iter()
        .map(|(name, departure)| (name.as_str(), departure.as_f64().unwrap()))
        .collect();
    assert!(
        ours.keys().eq(wanted.keys()),
        "{case}: {ours:?}, Python {wanted:?}"
    );
    for (name, departure) in &ours {
        assert!(
            (departure - wanted[name]).abs() < 1e-9,
            "{name} of {case}: {departure}, Python {}",
            wanted[name]
        );
    }
    match (judgement.overall, theirs["overall"].as_f64()) {
        (Some(ours), Some(theirs)) => assert!(
            (ours - theirs).abs() < 1e-9,
            "{case}: {ours}, Python {theirs}"
        ),
        (ours, theirs) => assert_eq!(ours, theirs, "{case}"),
    }
    let should = judgement.verdict == Verdict::ShouldWork;
    assert_eq!(json!(should), theirs["should_work"], "{case}");
}
