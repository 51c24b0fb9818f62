//! The user's records: yarns, stock, swatches and patterns, projects,
//! listed, shown and as entries of a page.

mod any_table;
mod columns;
mod import;
mod patterns;
mod projects;
mod shop;
mod stock;
mod strips;
mod swatches;
mod yarns;

pub(super) use any_table::open_questions;
pub use any_table::{field_words, layout_words};
pub use columns::table_columns;
pub(super) use import::bad_rows_words;
pub use import::{RowLine, exported_words, preview_notes, row_line};
pub(super) use patterns::pattern_entered;
pub use patterns::pattern_page;
pub(super) use projects::{project_wishes, reservation_words};
pub use shop::{count_rest, count_title, count_words, reservation_table, session_line_words};
pub(super) use stock::{counted, held, reserved};
pub use stock::{ledger_table, lot_entry, lot_heading};
pub use strips::{lot_rows, pattern_rows, yarn_rows};
pub use swatches::swatch_entry;
pub(super) use swatches::swatch_words;

/// One kept thing in a list on a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListEntry {
    /// Its number.
    pub number: i64,
    /// What people call it.
    pub title: String,
    /// What is known of it.
    pub words: String,
}

/// A text, where there is any.
pub(super) fn filled(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}
