//! Lists of what is kept, and short notices of what was done.

use super::{Align, Page, Report, Role, Table};
use serde::Serialize;

/// A list of records: a title, rows for people, the same rows as `T` in JSON.
#[derive(Debug, Clone, Serialize)]
pub struct Listing<T: Serialize> {
    /// What is listed.
    #[serde(skip)]
    pub title: String,
    /// The table for people.
    #[serde(skip)]
    pub table: Table,
    /// What to say where there is nothing.
    #[serde(skip)]
    pub empty: String,
    /// The rows for programs.
    pub rows: Vec<T>,
    /// What to know.
    pub warnings: Vec<String>,
}

impl<T: Serialize> Report for Listing<T> {
    fn page(&self) -> Page {
        let mut page = Page::titled(self.title.clone());
        if self.table.rows.is_empty() {
            page.text(Role::Plain, self.empty.clone());
        }
        page.table(self.table.clone());
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
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

impl Report for Notice {
    fn page(&self) -> Page {
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
