//! Another gauge than the pattern's, in words and as fields: one sentence for every
//! answer that counts with it.

use super::{Style, json::fields_of};
use crate::{
    app::{GaugeChange, GaugeReading, Keep},
    quantity::GaugeRatio,
    words::number,
};

fields_of! {
    /// What another gauge does to the need.
    GaugeChangeFields(change: &GaugeChange) {
        /// Own / pattern's stitches per length.
        stitch_ratio: f64 = change.ratio.stitches,
        /// Own / pattern's rows per length, where both are known.
        row_ratio: Option<f64> = change.ratio.rows,
        /// What stays as the pattern says: `size`, `counts` or `stitches`.
        keep: &'static str = keep_name(change.reading.keep),
        /// Whether nobody said so.
        keep_assumed: bool = change.reading.is_assumed,
        /// What the need is multiplied by.
        need_factor: f64 = change.need_factor(),
    }
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
