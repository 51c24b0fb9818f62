//! Swatches of a yarn, as a list.

use super::ListEntry;
use crate::{
    app::{ListedSwatch, SwatchList},
    record::{Stitch, Swatch},
    report::{
        Columns, Page, Render, Style, Table, gauge_words,
        json::fields_of,
        listing::{ListFields, list_fields, list_page},
    },
    words::{and_list, joined, number},
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
    SwatchRow(listed: &ListedSwatch) {
        /// Number by which it is removed.
        number: i64 = listed.kept.id.number(),
        /// The day.
        measured_on: String = listed.kept.record.measured_on.clone(),
        /// Needle, and gauge before and after washing.
        measured: String = swatch_words(&listed.kept.record),
        /// Notes.
        notes: String = listed.kept.record.notes.clone(),
        /// Names of the yarns that were held together with this one; empty where it was alone.
        held_with: Vec<String> = listed.held_with.clone(),
    }
}

impl Render for SwatchList {
    type Fields = ListFields<SwatchRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.swatches, SwatchRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = swatches_table(&self.swatches);
        let title = format!("Swatches of {}", self.yarn);
        list_page(title, table, "No swatch of it yet.")
    }
}

/// Swatches of a yarn.
pub(super) fn swatches_table(swatches: &[ListedSwatch]) -> Columns<&ListedSwatch> {
    Table::of(swatches)
        .right("no", |listed| listed.kept.id.number().to_string())
        .left("day", |listed| listed.kept.record.measured_on.as_str())
        .left("measured", |listed| swatch_words(&listed.kept.record))
        .left("held with", |listed| and_list(&listed.held_with))
        .left("notes", |listed| listed.kept.record.notes.as_str())
}

/// A swatch of a list.
pub fn swatch_entry(listed: &ListedSwatch) -> ListEntry {
    let swatch = &listed.kept.record;
    let held_with = match listed.held_with.as_slice() {
        [] => String::new(),
        yarns => format!("held together with {}", and_list(yarns)),
    };
    let words = [held_with.as_str(), &swatch.measured_on, &swatch.notes];
    let words = words.into_iter().filter(|words| !words.is_empty());
    ListEntry {
        number: listed.kept.id.number(),
        title: swatch_words(swatch),
        words: joined(words, ", "),
    }
}
