//! Swatches of a yarn, as a list.

use super::ListEntry;
use crate::{
    app::SwatchList,
    record::{Stitch, Stored, Swatch},
    report::{
        Page, Render, Style, Table, gauge_words,
        json::fields_of,
        listing::{ListFields, list_fields, list_page},
    },
    words::{joined, number},
};

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

fields_of! {
    /// A swatch of a yarn.
    SwatchRow(kept: &Stored<Swatch>) {
        /// Number by which it is removed.
        number: i64 = kept.id.number(),
        /// The day.
        measured_on: String = kept.record.measured_on.clone(),
        /// Needle, and gauge before and after washing.
        measured: String = swatch_words(&kept.record),
        /// Notes.
        notes: String = kept.record.notes.clone(),
    }
}

impl Render for SwatchList {
    type Fields = ListFields<SwatchRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.swatches, SwatchRow::of)
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
