//! The chance of running out against SciPy.

use super::{super::spread, answers};
use proptest::prelude::*;
use serde_json::{Value, json};
use understudy::{measure::Length, quantity::UncertainNeed, record::NeedRange};

/// Need from and to (m), length and spread of a skein, spread of use, skeins.
type Case = (f64, f64, f64, f64, f64, u32);

/// Needs that are exact, and needs in a range; skeins about what they take.
fn cases() -> impl Strategy<Value = Case> {
    let more = prop_oneof![Just(0.0), 1.0..300.0f64];
    (
        200.0..3000.0f64,
        more,
        40.0..450.0f64,
        0.001..0.05f64,
        0.0..0.08f64,
        0.8..1.2f64,
    )
        .prop_map(|(low, more, skein, label, own, share)| {
            let skeins = ((low + more) / skein * share).ceil().max(1.0);
            (low, low + more, skein, label, own, skeins as u32)
        })
}

/// SciPy: norm.cdf and integrate.quad.
#[test]
fn the_chance_of_running_out_is_that_of_scipy() {
    let cases = spread(&cases(), 400);
    let questions: Vec<Value> = cases
        .iter()
        .map(|(low, high, skein, label, own, skeins)| {
            json!({"ask": "chance", "low": low, "high": high, "skein": skein, "label": label, "own": own, "skeins": skeins})
        })
        .collect();
    let Some(theirs) = answers(&questions) else {
        return;
    };
    let metres = |value| Length::metres(value).unwrap();
    for (case, theirs) in cases.iter().zip(theirs) {
        let (low, high, skein, label, own, skeins) = *case;
        let asked = UncertainNeed {
            need: NeedRange {
                at_least: metres(low),
                buy_for: metres(high),
            },
            skein: metres(skein),
            skein_spread: label,
            use_spread: own,
        };
        let within = if low < high { 1e-8 } else { 1e-10 };
        let ours = asked.chance(skeins);
        let theirs = theirs.as_f64().unwrap();
        assert!((ours - theirs).abs() < within, "{case:?}: {ours}, {theirs}");
    }
}
