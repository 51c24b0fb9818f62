//! What is known of a yarn, in one line.

use super::{per_100_g_and_pound, skein_words};
use crate::{
    measure::{Gauge, Interval, units::INCH_M},
    record::{Classes, Needles, StatedGauge, YarnFacts},
    words::{number, or_list},
};

/// `225 m/100 g (1116 yd/lb); 112 m / 50 g a skein; class 3 light; ...`.
pub fn facts_words(facts: &YarnFacts, gauge: Option<&StatedGauge>) -> String {
    let gauge = gauge.or(facts.gauge.as_ref().map(|gauge| &gauge.value));
    let parts = [
        facts.grist().map(per_100_g_and_pound),
        of_skein(facts),
        facts.class.as_ref().map(|class| class_words(&class.value)),
        facts.blend.as_ref().map(|blend| blend.value.to_string()),
        facts
            .construction
            .as_ref()
            .map(|construction| construction.value.name().to_owned()),
        gauge.map(|gauge| gauge_words(&gauge.gauge)),
        facts
            .needles
            .as_ref()
            .map(|needles| needle_words(&needles.value)),
        facts.care.as_ref().map(|care| care.value.name().to_owned()),
    ];
    let known: Vec<String> = parts.into_iter().flatten().collect();
    match known.is_empty() {
        true => "nothing is known of it".to_owned(),
        false => known.join("; "),
    }
}

fn of_skein(facts: &YarnFacts) -> Option<String> {
    let words = skein_words(
        facts.length.as_ref().map(|l| l.value),
        facts.mass.as_ref().map(|m| m.value),
    );
    (!words.is_empty()).then(|| format!("skein of {words}"))
}

/// `class 1 super fine or 2 fine`.
pub fn class_words(classes: &Classes) -> String {
    let names: Vec<String> = classes.as_slice().iter().map(ToString::to_string).collect();
    format!("class {}", or_list(&names))
}

/// `22 stitches x 30 rows over 10 cm`.
pub fn gauge_words(gauge: &Gauge) -> String {
    let rows = gauge
        .rows()
        .map(|rows| format!(" x {} rows", range_words(rows)))
        .unwrap_or_default();
    let over = match gauge.over() {
        Some(over) => format!("over {}", over_words(over.as_metres())),
        None => "(over what length is not stated)".to_owned(),
    };
    format!("{} stitches{rows} {over}", range_words(gauge.stitches()))
}

/// `10 cm`; whole inches as inches: `4 in`.
pub fn over_words(metres: f64) -> String {
    let inches = metres / INCH_M;
    let whole = (inches - inches.round()).abs() < 1e-9 && inches.round() >= 1.0;
    match whole {
        true => format!("{} in", number(inches, 0)),
        false => format!("{} cm", number(metres * 100.0, 2)),
    }
}

/// `4 mm`, `3.25 to 3.75 mm`.
pub fn needle_words(needles: &Needles) -> String {
    format!(
        "needle {} mm",
        range_words(needles.map(|needle| needle.as_millimetres()))
    )
}

/// `20` or `20 to 22`.
pub fn range_words(range: Interval<f64>) -> String {
    match range.is_one() {
        true => number(range.low(), 2),
        false => format!("{} to {}", number(range.low(), 2), number(range.high(), 2)),
    }
}
