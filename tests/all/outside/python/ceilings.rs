//! Whole skeins against exact fractions.

use super::{super::spread, answers};
use crate::desk::ask;
use proptest::prelude::*;
use serde_json::{Value, json};
use understudy::{
    measure::{Length, Ratio},
    quantity::purchase,
    record::Need,
};

/// A purchase in decimals: skeins wanted, length of one, length of one of the
/// other yarn, margin in percent.
#[derive(Debug, Clone)]
struct Case {
    count: String,
    skein: String,
    new: String,
    margin: String,
}

impl Case {
    fn question(&self) -> Value {
        json!({"ask": "skeins", "count": self.count, "skein": self.skein, "new": self.new, "margin": self.margin})
    }
}

/// Tenths as a decimal.
fn tenths(range: std::ops::Range<u32>) -> impl Strategy<Value = String> {
    range.prop_map(|n| format!("{}.{}", n / 10, n % 10))
}

/// Any needs, and as many that the other skein divides with nothing over.
fn cases() -> impl Strategy<Value = Case> {
    let count = || (1_u32..60).prop_map(|n| n.to_string());
    let margin = || prop_oneof![Just("0".to_owned()), Just("10".to_owned()), tenths(0..500)];
    let any = (count(), tenths(200..9000), tenths(200..9000), margin()).prop_map(
        |(count, skein, new, margin)| Case {
            count,
            skein,
            new,
            margin,
        },
    );
    let exact = (1_u32..40, 1_u32..20, tenths(200..3000)).prop_map(|(count, times, new)| {
        let unit: f64 = new.parse().unwrap();
        Case {
            count: count.to_string(),
            skein: format!("{:.1}", unit * f64::from(times)),
            new,
            margin: "0".to_owned(),
        }
    });
    prop_oneof![any, exact]
}

fn metres(text: &str, unit: f64) -> Length {
    Length::metres(text.parse::<f64>().unwrap() * unit).unwrap()
}

fn by_library(case: &Case, unit: f64) -> [u32; 2] {
    let need = Need::Skeins {
        count: case.count.parse().unwrap(),
        skein: metres(&case.skein, unit),
    };
    let need = need.in_metres(None).unwrap().unwrap();
    let margin = Ratio::percent(case.margin.parse().unwrap()).unwrap();
    let bought = purchase(need, metres(&case.new, unit), margin).unwrap();
    [bought.skeins, bought.fewest]
}

/// Exact fractions (Python): ceil(count x skein x (1 + margin) / new skein).
#[test]
fn skeins_are_those_of_exact_arithmetic_in_metres_and_in_yards() {
    let cases = spread(&cases(), 3000);
    let questions: Vec<Value> = cases.iter().map(Case::question).collect();
    let Some(theirs) = answers(&questions) else {
        return;
    };
    for (case, theirs) in cases.iter().zip(theirs) {
        for unit in [1.0, 0.9144] {
            assert_eq!(json!(by_library(case, unit)), theirs, "{case:?} x {unit} m");
        }
    }
}

/// The same through the program, from text to text.
#[test]
fn skeins_that_the_program_tells_are_those_of_exact_arithmetic() {
    let cases = spread(&cases(), 60);
    let questions: Vec<Value> = cases.iter().map(Case::question).collect();
    let Some(theirs) = answers(&questions) else {
        return;
    };
    for ((case, theirs), unit) in cases.iter().zip(theirs).zip(["m", "yd"].iter().cycle()) {
        let Case {
            count,
            skein,
            new,
            margin,
        } = case;
        let told = ask(&[
            "skeins",
            "--need",
            &format!("{count} x {skein} {unit}"),
            "--put-up",
            &format!("{new} {unit}"),
            "--margin",
            &format!("{margin}%"),
        ]);
        assert_eq!(
            json!([told["skeins"], told["fewest_skeins"]]),
            theirs,
            "{case:?} {unit}"
        );
    }
}
