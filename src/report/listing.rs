//! Lists of what is kept, and short notices of what was done.

use super::{Align, Page, Render, Role, Style, Table};
use serde::Serialize;

/// The fields of a list of records.
#[derive(Debug, Serialize)]
pub(super) struct ListFields<T> {
    rows: Vec<T>,
    warnings: Vec<String>,
}

impl<T> ListFields<T> {
    pub(super) fn new(rows: impl IntoIterator<Item = T>) -> Self {
        Self {
            rows: rows.into_iter().collect(),
            warnings: Vec::new(),
        }
    }
}

/// The page of a list of records; `empty` is said where there is nothing.
pub(super) fn list_page(title: impl Into<String>, table: Table, empty: &str) -> Page {
    let mut page = Page::titled(title);
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
        let mut table = Table::new(&[("", Align::Left), ("", Align::Left)]);
        table.rows = self
            .details
            .iter()
            .map(|(what, value)| vec![what.clone(), value.clone()])
            .collect();
        page.table(table);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}
