//! Lists of records, and short notices of what was done.

use super::{Page, Render, Role, Style, Table, json::list};
use schemars::JsonSchema;
use serde::Serialize;

/// The fields of a list of records.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ListFields<R> {
    /// The records, in order.
    rows: Vec<R>,
    /// Nothing: a list has no warnings.
    warnings: [String; 0],
}

/// The fields of a list of records.
pub(super) fn list_fields<T, R>(records: &[T], row: impl Fn(&T) -> R) -> ListFields<R> {
    ListFields {
        rows: list(records, row),
        warnings: [],
    }
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

/// What was done, and notes about it.
#[derive(Debug, Clone, Default, Serialize, JsonSchema)]
pub struct Notice {
    /// What was done, one sentence.
    pub done: String,
    /// Names and counts, where they matter.
    pub details: Vec<(String, String)>,
    /// The notes.
    pub warnings: Vec<String>,
    /// Those of the details that a sentence says already: people do not read them
    /// twice.
    #[serde(skip)]
    pub said: Vec<&'static str>,
    /// Those that people read only where they ask for all that is known.
    #[serde(skip)]
    pub folded: Vec<&'static str>,
}

impl Notice {
    /// A notice of one sentence.
    pub(super) fn of(done: impl Into<String>) -> Self {
        let done = done.into();
        Self {
            done,
            ..Self::default()
        }
    }

    /// The notice with one more name and what it comes to.
    pub(super) fn detail(mut self, what: impl Into<String>, value: impl Into<String>) -> Self {
        self.details.push((what.into(), value.into()));
        self
    }

    /// The notice with a detail for programs, which its sentence says already.
    pub(super) fn said_already(self, what: &'static str, value: impl Into<String>) -> Self {
        let mut notice = self.detail(what, value);
        notice.said.push(what);
        notice
    }

    /// The notice with a detail that people read only where they ask for all.
    pub(super) fn folded(self, what: &'static str, value: impl Into<String>) -> Self {
        let mut notice = self.detail(what, value);
        notice.folded.push(what);
        notice
    }

    /// The notice with notes about it.
    pub(super) fn knowing(mut self, warnings: impl IntoIterator<Item = String>) -> Self {
        self.warnings.extend(warnings);
        self
    }
}

/// An answer that says what was done, or what is kept of one thing.
pub(super) trait ShortAnswer {
    /// The answer in a style.
    fn notice(&self, style: &Style) -> Notice;
}

impl ShortAnswer for Notice {
    fn notice(&self, _: &Style) -> Notice {
        self.clone()
    }
}

fn named(details: Vec<&(String, String)>) -> Table {
    let columns = Table::of(details)
        .left("", |(what, _)| what.as_str())
        .left("", |(_, value)| value.as_str());
    columns.into()
}

impl<T: ShortAnswer> Render for T {
    type Fields = Notice;

    fn fields(&self) -> Notice {
        self.notice(&Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let notice = self.notice(style);
        let mut page = Page::titled(notice.done);
        let details = notice.details.iter();
        let details = details.filter(|(what, _)| !notice.said.contains(&what.as_str()));
        let (folded, shown): (Vec<_>, Vec<_>) =
            details.partition(|(what, _)| notice.folded.contains(&what.as_str()));
        page.table(named(shown));
        page.part("Notes", Role::Caution, &notice.warnings);
        if !folded.is_empty() {
            let mut printed = Page::default();
            printed.table(named(folded));
            page.details("As its label says", printed);
        }
        page
    }
}
