//! Another gauge than the pattern's, in words and as fields: one sentence for every
//! answer that counts with it.

use super::Style;
use crate::{
    app::{GaugeChange, GaugeReading, Keep},
    quantity::GaugeRatio,
    words::number,
};
use serde_json::{Value, json};

/// What another gauge does to the need: own / pattern's count per length, rows where
/// both are known, what is kept and whether nobody said so.
pub(super) fn gauge_change_fields(change: &GaugeChange) -> Value {
    json!({
        "stitch_ratio": change.ratio.stitches,
        "row_ratio": change.ratio.rows,
        "keep": keep_name(change.reading.keep),
        "keep_assumed": change.reading.is_assumed,
        "need_factor": change.need_factor(),
    })
}

/// What is kept, as it is typed.
pub(super) fn keep_name(keep: Keep) -> &'static str {
    match keep {
        Keep::Size => "size",
        Keep::Counts => "counts",
        Keep::Stitches => "stitches",
    }
}

/// What the other gauge is, what is kept at it, and what that does to the need.
pub(super) fn gauge_change_sentence(change: &GaugeChange, style: &Style) -> String {
    format!(
        "{}; {}, so you need {} times the yarn.",
        ratio_words(change.ratio),
        reading_words(change.reading, style),
        number(change.need_factor(), 4)
    )
}

/// `Own gauge / pattern's gauge: stitches 0.9091, rows 0.9`.
pub(super) fn ratio_words(ratio: GaugeRatio) -> String {
    let rows = ratio.rows.map_or_else(
        || "rows not known of both, so assumed to change as the stitches do".to_owned(),
        |rows| format!("rows {}", number(rows, 4)),
    );
    format!(
        "Own gauge / pattern's gauge: stitches {}, {rows}",
        number(ratio.stitches, 4)
    )
}

/// What is kept, and that it was assumed where nobody said so.
pub(super) fn reading_words(reading: GaugeReading, style: &Style) -> String {
    let kept = match reading.keep {
        Keep::Size => "you rework the counts, so that the finished size stays",
        Keep::Counts => {
            "you keep all counts, of stitches and rows, so that the finished size changes"
        }
        Keep::Stitches => "you keep the stitch counts and work lengths until they measure",
    };
    if reading.is_assumed {
        let field = style.field("keep");
        format!("assumed that {kept}, as most patterns mean it (change it with {field})")
    } else {
        kept.to_owned()
    }
}
