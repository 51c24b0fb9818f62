//! Swatches of a yarn, as a list.

use super::ListEntry;
use crate::{
    app::SwatchList,
    record::{Stitch, Stored, Swatch},
    report::{
        Page, Render, Style, Table, gauge_words,
        listing::{list_fields, list_page},
    },
    words::{joined, number},
};
use serde::Serialize;
use serde_json::json;

/// A swatch: `on 4 mm, before washing ...; after washing ...`.
pub(in crate::report) fn swatch_words(swatch: &Swatch) -> String {
    let before = swatch.before.as_ref();
    let stitch = before.and_then(|before| match &before.stitch {
        Some(Stitch::Other(name)) => Some(format!(" in {name}")),
        _ => None,
    });
    let before = before.map(|before| format!("before washing {}", gauge_words(&before.gauge)));
    let after = swatch.after.as_ref();
    let after = after.map(|after| format!("after washing {}", gauge_words(after)));
    let needle = number(swatch.needle.as_millimetres(), 2);
    let measured = joined(before.into_iter().chain(after), "; ");
    format!("on {needle} mm{}, {measured}", stitch.unwrap_or_default())
}

impl Render for SwatchList {
    /// `number` is what a swatch is removed by.
    fn fields(&self) -> impl Serialize {
        list_fields(&self.swatches, |kept| {
            json!({
                "number": kept.id.number(),
                "measured_on": kept.record.measured_on,
                "measured": swatch_words(&kept.record),
                "notes": kept.record.notes,
            })
        })
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.swatches)
            .right("no", |kept| kept.id.number().to_string())
            .left("day", |kept| kept.record.measured_on.as_str())
            .left("measured", |kept| swatch_words(&kept.record))
            .left("notes", |kept| kept.record.notes.as_str());
        let title = format!("Swatches of {}", self.yarn);
        list_page(title, table, "No swatch of it yet.")
    }
}

/// A swatch of a list.
pub fn swatch_entry(kept: &Stored<Swatch>) -> ListEntry {
    let swatch = &kept.record;
    ListEntry {
        number: kept.id.number(),
        title: swatch_words(swatch),
        words: [swatch.measured_on.as_str(), &swatch.notes].join(" "),
    }
}
