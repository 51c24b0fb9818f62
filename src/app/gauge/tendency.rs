//! The own tendency against labels, from every kept swatch.

use super::super::AppError;
use crate::{
    measure::Over,
    quantity::{OwnTendency, SPREAD, own_tendency},
    record::{Swatch, YarnFacts},
    report::TendencyLine,
    store::Reader,
    words::{count_of, number},
};

/// The tendency over the washed swatches in stockinette whose yarn has a label
/// gauge, of as many strands as the label speaks of.
pub(super) fn tendency(reader: &Reader<'_>) -> Result<OwnTendency, AppError> {
    let ten = Over::centimetres(10.0)?;
    let mut pairs = Vec::new();
    for id in reader.swatched_yarns()? {
        let facts = reader.yarn(id)?.record.facts;
        for kept in reader.swatches_of(id)? {
            pairs.extend(pair(&kept.record, &facts, ten));
        }
    }
    Ok(own_tendency(&pairs))
}

fn pair(
    swatch: &Swatch,
    facts: &YarnFacts,
    ten: Over,
) -> Option<(f64, crate::measure::Interval<f64>)> {
    let label = &facts.gauge.as_ref()?.value;
    let before = swatch.before.as_ref();
    let held = before.and_then(|before| before.strands).unwrap_or(1);
    let plain = before.is_none_or(|before| before.is_stockinette()) && label.is_stockinette();
    if !plain || held != label.strands.unwrap_or(1) {
        return None;
    }
    let own = swatch.after?.or_over(ten).stitches_per_metre()?;
    let label = label.gauge.or_over(ten).stitches_per_metre()?;
    Some((own.middle(), label))
}

/// The tendency as a line of the report, whether it was used or not.
pub(super) fn line(tendency: &OwnTendency, used: bool) -> TendencyLine {
    TendencyLine {
        swatches: tendency.swatches,
        mean_ratio: (tendency.swatches > 0).then(|| tendency.mean_log.exp()),
        factor: tendency.factor(),
        used,
        text: text(tendency, used),
    }
}

fn text(tendency: &OwnTendency, used: bool) -> String {
    if tendency.swatches == 0 {
        return "No washed swatch in stockinette with a label gauge is kept (n = 0): no tendency is known.".to_owned();
    }
    let n = f64::from(tendency.swatches);
    let ratio = tendency.mean_log.exp();
    let way = match ratio {
        ratio if ratio > 1.0 => "tighter than",
        ratio if ratio < 1.0 => "looser than",
        _ => "as",
    };
    let used = match used {
        true => "Used here, as you asked",
        false => "Not used here; --own-tendency lets it stand in for a swatch",
    };
    format!(
        "n = {}, mean of own gauge / label gauge {} (geometric): you work {way} labels say. Shrunk by n / (n + {}) while swatches are few, that is a factor of {}. {used}.",
        count_of(n, "swatch"),
        number(ratio, 4),
        number(SPREAD, 0),
        number(tendency.factor(), 4),
    )
}
