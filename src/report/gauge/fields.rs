//! The fields of an answer to `gauge`. Lengths of fabric and yarn are in metres;
//! what is not known is `null`.

use super::words;
use crate::{
    app::{GaugeAnswer, Growth, NeedAtGauge, SizeAtGauge},
    measure::Length,
    quantity::{FinishedSize, Purchase},
    report::{
        SWATCH_LINE, Style,
        gauge_change::keep_name,
        gauge_words,
        in_hand::in_hand_fields,
        json::{list, without_empty},
    },
};
use serde_json::{Value, json};

/// `yarn` is what skeins are counted in, the pattern's own where it is `null`;
/// ratios are own / pattern's count per length; `keep_assumed` says that nobody
/// said what is kept.
pub(super) fn fields(answer: &GaugeAnswer) -> Value {
    let style = &Style::default();
    let fields = json!({
        "pattern": answer.pattern,
        "yarn": answer.yarn,
        "pattern_gauge": gauge_words(&answer.pattern_gauge),
        "own_gauge": gauge_words(&answer.own.gauge),
        "source": words::source(&answer.own.source),
        "stitch_ratio": answer.ratio.stitches,
        "row_ratio": answer.ratio.rows,
        "keep": keep_name(answer.reading.keep),
        "keep_assumed": answer.reading.is_assumed,
        "sizes": list(&answer.sizes, size),
        "skeins": list(&answer.needs, need),
        "in_hand": answer.in_hand.as_ref().map(in_hand_fields),
        "growth": answer.own.growth.as_ref().map(growth),
        "tendency": tendency(answer, style),
        "margin_percent": answer.margin.as_percent(),
        "working": words::working(answer, style),
        "warnings": words::warnings(answer, style),
        "swatch": SWATCH_LINE,
    });
    without_empty(fields, &["in_hand"])
}

/// One size: what it is meant to measure, what it measures with all of the pattern's
/// counts and with its stitches alone, the size whose counts come nearest in width,
/// the counts that keep the size (`reworked`: what those measure, rounded to the
/// multiple), and what to measure before washing so that the wanted size comes out.
fn size(size: &SizeAtGauge) -> Value {
    let instead = size.instead.as_ref();
    json!({
        "size": size.name,
        "stitches": size.intended.counts.stitches,
        "rows": size.intended.counts.rows,
        "wanted": measures(&size.intended.size),
        "counts_kept": measures(&size.counts_kept),
        "stitches_kept": measures(&size.stitches_kept),
        "knit_instead": instead.map(|(name, _)| name),
        "instead": instead.map(|(_, comes_out)| measures(comes_out)),
        "to_stitches": size.reworked.stitches,
        "to_rows": size.reworked.rows,
        "reworked": measures(&size.size_kept),
        "before_washing": size.before_washing.as_ref().map(measures),
    })
}

fn measures(size: &FinishedSize) -> Value {
    json!({
        "width_m": size.width.map(Length::as_metres),
        "height_m": size.height.map(Length::as_metres),
    })
}

/// What one size takes of one yarn, one amount for each way to knit it.
fn need(need: &NeedAtGauge) -> Value {
    json!({
        "size": need.size,
        "yarn": need.yarn,
        "at_pattern_gauge": amount(&need.at_pattern_gauge),
        "counts_kept": amount(&need.counts_kept),
        "stitches_kept": amount(&need.stitches_kept),
        "size_kept": amount(&need.size_kept),
        "instead": need.instead.as_ref().map(amount),
    })
}

/// Strand metres without the margin, and skeins with it.
fn amount(bought: &Purchase) -> Value {
    json!({ "need_m": bought.need.buy_for.as_metres(), "skeins": bought.skeins })
}

/// Width and height after / before washing.
fn growth(growth: &Growth) -> Value {
    json!({
        "across": growth.growth.across,
        "along": growth.growth.along,
        "source": words::growth_source(growth),
        "applied_to": growth.applied_to.as_ref().map(gauge_words),
    })
}

/// Own gauge / label gauge: the mean, and `factor`, the same shrunk towards 1 while
/// swatches are few.
fn tendency(answer: &GaugeAnswer, style: &Style) -> Value {
    let tendency = &answer.tendency;
    json!({
        "swatches": tendency.swatches,
        "mean_ratio": tendency.mean_ratio(),
        "factor": tendency.factor(),
        "used": answer.own.source.is_expected(),
        "text": words::tendency(answer, style),
    })
}
