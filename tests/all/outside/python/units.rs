//! Factors of units and yarn counts against pint 0.25.

use super::{
    super::{are_close, spread},
    answers,
};
use serde_json::json;
use understudy::measure::{
    Grist, YarnCount,
    units::{CountSystem, UNITS},
};

/// Values over eight decades.
fn values(count: usize) -> Vec<f64> {
    let exponents = spread(&(-4.0..4.0_f64), count);
    exponents.into_iter().map(|x| 10_f64.powf(x)).collect()
}

/// Names in pint of the units of the table.
const NAMES: [(&str, &str); 11] = [
    ("m", "metre"),
    ("cm", "centimetre"),
    ("mm", "millimetre"),
    ("km", "kilometre"),
    ("yd", "yard"),
    ("ft", "foot"),
    ("in", "inch"),
    ("g", "gram"),
    ("kg", "kilogram"),
    ("oz", "ounce"),
    ("lb", "pound"),
];

/// Pint 0.25: metre, yard, foot, inch, gram, ounce, pound.
#[test]
fn every_unit_holds_as_many_metres_or_grams_as_pint_says() {
    assert_eq!(NAMES.len(), UNITS.len());
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    for unit in UNITS {
        let (_, name) = NAMES
            .iter()
            .find(|(symbol, _)| *symbol == unit.symbol)
            .unwrap();
        let canonical = match unit.dimension {
            understudy::measure::units::Dimension::Length => "metre",
            understudy::measure::units::Dimension::Mass => "gram",
        };
        for value in values(50) {
            questions.push(
                json!({"ask": "convert", "value": value, "source": name, "target": canonical}),
            );
            ours.push(value * unit.factor);
        }
    }
    compare(&questions, &ours);
}

/// Names in pint of the numbering systems; pint has no name for the others, and
/// takes their definition.
const SYSTEMS: [(CountSystem, &str); 10] = [
    (CountSystem::Tex, "tex"),
    (CountSystem::Decitex, "dtex"),
    (CountSystem::Denier, "denier"),
    (CountSystem::Metric, "number_meter"),
    (CountSystem::Cotton, "number_english"),
    (CountSystem::Worsted, "560 * yard / pound"),
    (CountSystem::WoollenRun, "1600 * yard / pound"),
    (CountSystem::WoollenCut, "300 * yard / pound"),
    (CountSystem::Linen, "300 * yard / pound"),
    (CountSystem::YorkshireSkein, "256 * yard / pound"),
];

/// Pint 0.25: tex, dtex, denier, number_english, number_meter, and the
/// definitions of the others in its yard and pound.
#[test]
fn every_count_is_the_length_per_mass_that_pint_says() {
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    for (system, name) in SYSTEMS {
        for value in values(50) {
            let Ok(count) = YarnCount::new(value, 1, system) else {
                continue;
            };
            questions.push(
                json!({"ask": "convert", "value": value, "source": name, "target": "metre / gram"}),
            );
            ours.push(count.grist().as_metres_per_gram());
        }
    }
    assert!(ours.len() > 300);
    compare(&questions, &ours);
}

/// Pint 0.25, context "textile".
#[test]
fn every_count_in_every_other_system_is_that_of_pint() {
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    for (from, source) in SYSTEMS {
        for (to, target) in &SYSTEMS[..5] {
            for value in spread(&(1.0..100.0_f64), 10) {
                let count = YarnCount::new(value, 1, from).unwrap();
                questions.push(
                    json!({"ask": "convert", "value": value, "source": source, "target": target}),
                );
                ours.push(count.grist().as_count(*to));
            }
        }
    }
    compare(&questions, &ours);
}

/// A way of telling a grist.
type Way = fn(Grist) -> f64;

/// Pint 0.25: yard per pound, metre per 100 g, tex.
#[test]
fn every_way_of_telling_a_grist_is_that_of_pint() {
    let grist = |value| Grist::metres_per_gram(value).unwrap();
    let ways: [(&str, Way); 3] = [
        ("yard / pound", Grist::as_yards_per_pound),
        ("metre / hectogram", Grist::as_metres_per_100_g),
        ("tex", Grist::as_tex),
    ];
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    for value in values(100).into_iter().filter(|v| (1e-3..1e3).contains(v)) {
        for (target, way) in ways {
            questions.push(json!({"ask": "convert", "value": value, "source": "metre / gram", "target": target}));
            ours.push(way(grist(value)));
        }
    }
    compare(&questions, &ours);
}

fn compare(questions: &[serde_json::Value], ours: &[f64]) {
    let Some(theirs) = answers(questions) else {
        return;
    };
    for ((question, ours), theirs) in questions.iter().zip(ours).zip(theirs) {
        let theirs = theirs.as_f64().unwrap();
        assert!(
            are_close(*ours, theirs, 1e-12),
            "{question}: {ours}, pint {theirs}"
        );
    }
}
