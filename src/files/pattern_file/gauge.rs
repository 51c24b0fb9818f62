//! The gauge of a pattern: one text, and what was stated about it in keys of
//! its own.

use crate::{
    files::toml_reader::Keys,
    label::cells::{self, written},
    label::reading::{ReadError, Reading},
    record::{FlatOrRound, Printed, StatedGauge, Stitch},
};
use toml::Value;

/// The gauge with what `stitch`, `worked`, `washed` and `gauge_strands` add.
pub(super) fn read_gauge(keys: &Keys<'_>) -> Option<Printed<StatedGauge>> {
    let gauge: Option<Printed<StatedGauge>> = keys.printed("gauge");
    let stitch = keys.text("stitch").map(|text| Stitch::named(&text.text));
    let worked = keys.value("worked", worked).map(|cell| cell.value);
    let washed = keys.yes_no("washed", cells::yes_no);
    let strands = keys.whole::<u8>("gauge_strands");
    let Some(mut gauge) = gauge else {
        without_gauge(keys);
        return None;
    };
    let stated = &mut gauge.value;
    agree(keys, "stitch", &mut stated.stitch, stitch);
    agree(keys, "worked", &mut stated.worked, worked);
    agree(keys, "washed", &mut stated.washed, washed);
    agree(keys, "gauge_strands", &mut stated.strands, strands);
    Some(gauge)
}

/// Takes what a key adds; refuses what it contradicts.
fn agree<T: PartialEq>(keys: &Keys<'_>, key: &str, stated: &mut Option<T>, added: Option<T>) {
    match (stated.as_ref(), added) {
        (_, None) => {}
        (Some(stated), Some(added)) if *stated != added => {
            let why = "the text of `gauge` says otherwise";
            keys.fault(key, "", why, "say it in one of the two");
        }
        (_, added) => *stated = added,
    }
}

fn without_gauge(keys: &Keys<'_>) {
    if keys.has("gauge") {
        return;
    }
    for key in ["stitch", "worked", "washed", "gauge_strands"] {
        if keys.has(key) {
            let why = "this describes a gauge, and there is none";
            keys.fault(key, "", why, "give `gauge`, or leave this out");
        }
    }
}

fn worked(text: &str) -> cells::Cell<FlatOrRound> {
    let folded = crate::words::fold(text);
    let all = [FlatOrRound::Flat, FlatOrRound::InTheRound];
    match all.into_iter().find(|worked| worked.name() == folded) {
        Some(value) => Ok(Reading {
            value,
            notes: Vec::new(),
        }),
        None => Err(ReadError {
            span: 0..text.len(),
            given: text.to_owned(),
            why: "this is not a way of knitting".to_owned(),
            allowed: "`flat` or `in the round`".to_owned(),
        }),
    }
}

/// The text of a gauge, and what that text does not say as keys and values.
pub(super) fn gauge_and_beyond(
    gauge: &Printed<StatedGauge>,
) -> (String, Vec<(&'static str, Value)>) {
    let beyond = |text: &str| beyond_the_text(text, &gauge.value);
    if let Some(beyond) = beyond(&gauge.text) {
        return (gauge.text.clone(), beyond);
    }
    let bare = written::counts(&gauge.value.gauge);
    let beyond = beyond(&bare).unwrap_or_else(Vec::new);
    (bare, beyond)
}

/// What of a gauge a text does not say; `None` where it says something else.
fn beyond_the_text(text: &str, meant: &StatedGauge) -> Option<Vec<(&'static str, Value)>> {
    let text = cells::gauge(text).ok()?.value;
    let stitch = added(text.stitch.as_ref(), meant.stitch.as_ref())?;
    let worked = added(text.worked, meant.worked)?;
    let washed = added(text.washed, meant.washed)?;
    let strands = added(text.strands, meant.strands)?;
    let pairs = [
        ("stitch", stitch.map(|stitch| stitch.name().into())),
        ("worked", worked.map(|worked| worked.name().into())),
        ("washed", washed.map(Into::into)),
        ("gauge_strands", strands.map(|n| i64::from(n).into())),
    ];
    let given = pairs
        .into_iter()
        .filter_map(|(key, value)| Some((key, value?)));
    (text.gauge == meant.gauge).then(|| given.collect())
}

/// What `meant` says and `text` does not; `None` where `text` says another thing.
fn added<T: PartialEq>(text: Option<T>, meant: Option<T>) -> Option<Option<T>> {
    match (text, meant) {
        (None, meant) => Some(meant),
        (text, meant) if text == meant => Some(None),
        _ => None,
    }
}
