//! Swatches, listed.

use super::ListEntry;
use crate::{
    app::SwatchList,
    record::{Stored, Swatch},
    report::{Align, ListFields, Page, Render, Style, Table, gauge_words, list_page},
    words::number,
};
use serde::Serialize;

/// Fields of one swatch of a list.
#[derive(Debug, Serialize)]
struct SwatchFields<'s> {
    /// Its number, by which it can be removed.
    number: i64,
    /// The day it was measured.
    measured_on: &'s str,
    /// What was measured.
    measured: String,
    /// Anything else.
    notes: &'s str,
}

impl<'s> SwatchFields<'s> {
    fn new(kept: &'s Stored<Swatch>) -> Self {
        Self {
            number: kept.id.number(),
            measured_on: &kept.record.measured_on,
            measured: swatch_words(&kept.record),
            notes: &kept.record.notes,
        }
    }
}

/// A swatch: `on 4 mm, before washing ...; after washing ...`.
pub(in crate::report) fn swatch_words(swatch: &Swatch) -> String {
    let before = swatch.before.as_ref();
    let before = before.map(|before| format!("before washing {}", gauge_words(&before.gauge)));
    let after = swatch.after.as_ref();
    let after = after.map(|after| format!("after washing {}", gauge_words(after)));
    let parts: Vec<String> = before.into_iter().chain(after).collect();
    format!(
        "on {} mm, {}",
        number(swatch.needle.as_millimetres(), 2),
        parts.join("; ")
    )
}

impl Render for SwatchList {
    fn fields(&self) -> impl Serialize {
        ListFields::new(self.swatches.iter().map(SwatchFields::new))
    }

    fn page(&self, _: &Style) -> Page {
        let mut table = Table::new(&[
            ("no", Align::Right),
            ("day", Align::Left),
            ("measured", Align::Left),
            ("notes", Align::Left),
        ]);
        table.rows = self
            .swatches
            .iter()
            .map(SwatchFields::new)
            .map(|row| {
                vec![
                    row.number.to_string(),
                    row.measured_on.to_owned(),
                    row.measured,
                    row.notes.to_owned(),
                ]
            })
            .collect();
        let title = format!("Swatches of {}", self.yarn);
        list_page(title, table, "No swatch of it is kept yet.")
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
