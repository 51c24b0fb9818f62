//! Lists of records, and short notices of what was done.

use super::{Page, Render, Role, Style, Table, json::list};
use serde::Serialize;
use serde_json::{Value, json};

/// The fields of a list of records.
pub(super) fn list_fields<T>(records: &[T], row: impl Fn(&T) -> Value) -> Value {
    json!({ "rows": list(records, row), "warnings": [] })
}

/// The page of a list of records; `empty` is said where there is nothing.
pub(super) fn list_page(title: impl Into<String>, table: impl Into<Table>, empty: &str) -> Page {
    let (mut page, table) = (Page::titled(title), table.into());
    if table.rows.is_empty() {
        page.text(Role::Plain, empty);
    }
    page.table(table);
    page
}

/// What was done, and what to know about it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Notice {
    /// What was done, one sentence.
    pub done: String,
    /// Names and counts, where they matter.
    pub details: Vec<(String, String)>,
    /// What to know.
    pub warnings: Vec<String>,
}

impl Render for Notice {
    fn fields(&self) -> impl Serialize {
        self
    }

    fn page(&self, _: &Style) -> Page {
        self.as_page()
    }
}

impl Notice {
    /// The page, as short as it is.
    pub(super) fn as_page(&self) -> Page {
        let mut page = Page::titled(self.done.clone());
        page.table(
            Table::of(&self.details)
                .left("", |(what, _)| what.as_str())
                .left("", |(_, value)| value.as_str()),
        );
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}
