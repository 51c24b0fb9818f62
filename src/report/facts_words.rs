//! What is known of a yarn, in one line.

use super::Style;
use crate::{
    label::measured::measured_range,
    measure::{Gauge, Interval, units::INCH_M},
    record::{Classes, Needles, Printed, StatedGauge, YarnFacts},
    words::{joined, number, or_list},
};

/// `225 m/100 g (1116 yd/lb); 112 m / 50 g a skein; class 3 light; ...`.
pub(super) fn facts_in_style(
    facts: &YarnFacts,
    gauge: Option<&StatedGauge>,
    style: &Style,
) -> String {
    let gauge = gauge.or(value(&facts.gauge));
    let skein = style.skein(value(&facts.length).copied(), value(&facts.mass).copied());
    known_words([
        grist_words(facts, style),
        (!skein.is_empty()).then(|| format!("skein of {skein}")),
        value(&facts.class).map(class_words),
        value(&facts.blend).map(ToString::to_string),
        value(&facts.construction).map(|built| built.name().to_owned()),
        gauge.map(|gauge| gauge_words(&gauge.gauge)),
        value(&facts.needles).map(needle_words),
        value(&facts.care).map(|care| care.name().to_owned()),
    ])
}

/// `377 m/100 g (1870 yd/lb)`; where somebody measured it with what it may be.
fn grist_words(facts: &YarnFacts, style: &Style) -> Option<String> {
    let grist = style.grist(facts.grist()?);
    Some(match measured_range(facts) {
        Some(range) => format!("{grist}, measured {}", style.grist_range(range)),
        None => grist,
    })
}

/// The same as names and values.
pub(super) fn facts_by_name(facts: &YarnFacts, style: &Style) -> Vec<(String, Option<String>)> {
    let skein = style.skein(value(&facts.length).copied(), value(&facts.mass).copied());
    let class = value(&facts.class).map(|classes| or_list(classes.as_slice()));
    let needles = value(&facts.needles).map(needle_words);
    let needles = needles.map(|words| words.replacen("needle ", "", 1));
    let built = value(&facts.construction).map(|built| built.name().to_owned());
    [
        ("metres per 100 g", grist_words(facts, style)),
        ("", (!skein.is_empty()).then_some(skein)),
        ("weight", class),
        ("fibre", value(&facts.blend).map(ToString::to_string)),
        ("build", built),
        (
            "gauge",
            value(&facts.gauge).map(|gauge| gauge_words(&gauge.gauge)),
        ),
        ("needle", needles),
        (
            "care",
            value(&facts.care).map(|care| care.name().to_owned()),
        ),
    ]
    .map(|(what, text)| match what {
        "" => (format!("one {}", facts.counter()), text),
        what => (what.to_owned(), text),
    })
    .into()
}

/// The meaning of what was printed.
pub(super) fn value<T>(printed: &Option<Printed<T>>) -> Option<&T> {
    printed.as_ref().map(|printed| &printed.value)
}

fn known_words<const N: usize>(parts: [Option<String>; N]) -> String {
    match joined(parts.into_iter().flatten(), "; ") {
        none if none.is_empty() => "nothing is known of it".to_owned(),
        known => known,
    }
}

/// A yarn as the materials list of a pattern prints it:
/// `100% wool; 120 m (131 yd) per 50 g (1.76 oz); class 3 light`.
pub(super) fn material_words(facts: &YarnFacts, style: &Style) -> String {
    let length = facts.skein_length().map(|length| style.length(length));
    let mass = facts.skein_mass().map(|mass| style.mass(mass));
    let put_up = match (length, mass) {
        (Some(length), Some(mass)) => Some(format!("{length} per {mass}")),
        (length, mass) => length.or(mass),
    };
    known_words([
        value(&facts.blend).map(ToString::to_string),
        put_up,
        value(&facts.class).map(class_words),
    ])
}

/// `class 1 super fine or 2 fine`.
pub fn class_words(classes: &Classes) -> String {
    format!("class {}", or_list(classes.as_slice()))
}

/// `22 stitches x 30 rows over 10 cm`.
pub fn gauge_words(gauge: &Gauge) -> String {
    let rows = gauge
        .rows()
        .map(|rows| format!(" x {} rows", range_words(rows)))
        .unwrap_or_default();
    let over = match gauge.over() {
        Some(over) => format!("over {}", over_words(over.as_metres())),
        None => "(it does not say over what length)".to_owned(),
    };
    format!("{} stitches{rows} {over}", range_words(gauge.stitches()))
}

/// `10 cm`; whole inches as inches: `4 in`.
pub fn over_words(metres: f64) -> String {
    let inches = metres / INCH_M;
    let whole = (inches - inches.round()).abs() < 1e-9 && inches.round() >= 1.0;
    if whole {
        format!("{} in", number(inches, 0))
    } else {
        format!("{} cm", number(metres * 100.0, 2))
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
    if range.is_one() {
        number(range.low(), 2)
    } else {
        format!("{} to {}", number(range.low(), 2), number(range.high(), 2))
    }
}
