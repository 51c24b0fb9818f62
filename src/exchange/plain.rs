//! Values written plainly, for texts that do not read back by themselves.
//!
//! A value is written as it was printed wherever that text, alone in its cell,
//! means the same value. A text that was cut from a longer one may not: then
//! the value is written in canonical units instead.

use super::cells::{self, Cell};
use crate::{
    measure::{Grist, GristTolerance, Interval, Length, Mass, YarnCount, units::COUNT_SYSTEMS},
    record::{
        Blend, Classes, Multiple, Need, Needles, Price, PriceBasis, Printed, StatedGauge, YarnFacts,
    },
    trade::Construction,
    words::or_list,
};

/// The text of a value: as printed where that reads back to it, else plainly.
pub(super) fn text_of<T: PartialEq>(
    printed: &Printed<T>,
    read: impl Fn(&str) -> Cell<T>,
    plain: impl Fn(&T) -> String,
) -> String {
    let same = |text: &str| read(text).is_ok_and(|reading| reading.value == printed.value);
    if same(&printed.text) {
        return printed.text.clone();
    }
    let plain = plain(&printed.value);
    match same(&plain) {
        true => plain,
        false => printed.text.clone(),
    }
}

/// A number that is read back exactly: one with three decimals gets a fourth,
/// since three digits behind a mark may also be thousands.
fn exact(value: f64) -> String {
    let text = value.to_string();
    match text.split_once('.') {
        Some((_, decimals)) if decimals.len() == 3 => format!("{text}0"),
        _ => text,
    }
}

fn range(range: Interval<f64>) -> String {
    match range.is_one() {
        true => exact(range.low()),
        false => format!("{}-{}", exact(range.low()), exact(range.high())),
    }
}

/// `125 m`.
pub(super) fn length(value: &Length) -> String {
    format!("{} m", exact(value.as_metres()))
}

/// `50 g`.
pub(super) fn mass(value: &Mass) -> String {
    format!("{} g", exact(value.as_grams()))
}

/// `14 x 2 Nm`: the number of one single, then how many.
pub(super) fn count(value: &YarnCount) -> String {
    let unit = COUNT_SYSTEMS
        .iter()
        .find(|unit| unit.system == value.system());
    let symbol = unit.map_or("", |unit| unit.symbol);
    format!("{} x {} {symbol}", exact(value.single()), value.plies())
}

/// `3`, or `2 or 3`.
pub(super) fn class(value: &Classes) -> String {
    let numbers = value.as_slice().iter().map(|class| class.number());
    or_list(&numbers.map(|n| n.to_string()).collect::<Vec<_>>())
}

/// `75% wool, 25% nylon`.
pub(super) fn blend(value: &Blend) -> String {
    let parts = value.parts().iter();
    let texts = parts.map(|part| format!("{}% {}", exact(part.percent), part.fibre));
    texts.collect::<Vec<_>>().join(", ")
}

/// `22 sts x 30 rows / 10 cm`, without what else was stated.
pub(super) fn bare_gauge(value: &StatedGauge) -> String {
    let gauge = value.gauge;
    let rows = gauge.rows().map(|rows| format!(" x {} rows", range(rows)));
    let over = gauge.over().map(|over| {
        let inches = over.as_metres() / crate::measure::units::INCH_M;
        match (inches - inches.round()).abs() < 1e-12 {
            true => format!(" / {} in", inches.round()),
            false => format!(" / {} cm", exact(over.as_metres() * 100.0)),
        }
    });
    format!(
        "{} sts{}{}",
        range(gauge.stitches()),
        rows.unwrap_or_default(),
        over.unwrap_or_default()
    )
}

/// A gauge with all that was stated about it.
pub(super) fn gauge(value: &StatedGauge) -> String {
    let stitch = value.stitch.as_ref().map(|stitch| stitch.name().to_owned());
    let worked = value.worked.map(|worked| worked.name().to_owned());
    let washed = value.washed.map(|washed| match washed {
        true => "washed".to_owned(),
        false => "unwashed".to_owned(),
    });
    let strands = value.strands.map(|strands| format!("{strands} strands"));
    let parts = [Some(bare_gauge(value)), stitch, worked, washed, strands];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// `3.25-3.75 mm`.
pub(super) fn needles(value: &Needles) -> String {
    format!("{} mm", range(value.map(|needle| needle.as_millimetres())))
}

/// `6.50 GBP`, `6.50 GBP / 50 g`.
pub(super) fn price(value: &Price) -> String {
    match value.per {
        PriceBasis::Skein => value.money.to_string(),
        PriceBasis::Mass(of) => format!("{} / {}", value.money, mass(&of)),
        PriceBasis::Length(of) => format!("{} / {}", value.money, length(&of)),
    }
}

/// `48.5 g = 121 m`.
pub(super) fn weighed(value: &(Mass, Option<Length>)) -> String {
    match value {
        (grams, None) => mass(grams),
        (grams, Some(metres)) => format!("{} = {}", mass(grams), length(metres)),
    }
}

/// `4 + 2`.
pub(super) fn multiple(value: &Multiple) -> String {
    match value.plus {
        0 => value.stitches.to_string(),
        plus => format!("{} + {plus}", value.stitches),
    }
}

/// `8 %`, `15 m/100 g`.
pub(super) fn tolerance(value: &GristTolerance) -> String {
    match value {
        GristTolerance::Share(share) => format!("{} %", exact(share.as_percent())),
        GristTolerance::Absolute(grist) => per_hundred(*grist),
    }
}

fn per_hundred(grist: Grist) -> String {
    format!("{} m/100 g", exact(grist.as_metres_per_gram() * 100.0))
}

/// `900-1100 m`, `9 x 200 m`, `650 g`.
pub(super) fn need(value: &Need) -> String {
    match value {
        Need::Length(of) => format!("{} m", range(of.map(Length::as_metres))),
        Need::Mass(of) => format!("{} g", range(of.map(Mass::as_grams))),
        Need::Skeins { count, skein } => format!("{} x {}", exact(*count), length(skein)),
    }
}

/// The text of a construction: as printed, unless that says other plies.
pub(super) fn construction_text(facts: &YarnFacts) -> Option<String> {
    let built = facts.construction.as_ref()?;
    let same = |(value, plies): (Construction, Option<u8>)| {
        value == built.value && (plies.is_none() || plies == facts.plies)
    };
    Some(match cells::construction(&built.text) {
        Ok(read) if same(read.value) => built.text.clone(),
        _ => built.value.name().to_owned(),
    })
}
