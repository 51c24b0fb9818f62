//! Lists of kept records, a page at a time, with a form that searches them.

use super::{
    body::Body,
    form::{Field, Form, Group},
    layout::Layout,
    links::encoded,
    preferences::Preferences,
};
use crate::{app::ListPage, report::ListEntry};
use axum::response::Response;

/// Entries on one page of a list.
pub(super) const PAGE: usize = 40;

/// A form with one field that searches a list.
pub(super) fn search(action: &str, label: &str, text: &str) -> Form {
    let mut field = Field::line("q", label, "");
    field.value = text.to_owned();
    Form::get("search", action, "Search").with(Group::plain(vec![field]))
}

/// What a list is of, and what is said where it is empty.
pub(super) struct List<'l> {
    pub(super) heading: &'static str,
    pub(super) here: &'static str,
    pub(super) links: &'l [(&'static str, &'static str)],
    /// What the field that searches it takes.
    pub(super) search: &'static str,
    /// Where nothing is kept.
    pub(super) empty: &'static str,
    /// Where nothing is found.
    pub(super) none: &'static str,
}

impl List<'_> {
    /// One page of it.
    pub(super) fn page<T>(
        &self,
        text: &str,
        found: &ListPage<T>,
        entry: impl Fn(&T) -> ListEntry,
        prefs: &Preferences,
    ) -> Response {
        let mut body = Body::default();
        body.heading(self.heading);
        let links = self
            .links
            .iter()
            .map(|(to, name)| ((*to).to_owned(), *name));
        body.links(&links.collect::<Vec<_>>());
        body.form(&search(self.here, self.search, text));
        self.entries(&mut body, text, found, entry);
        Layout::new(self.heading, self.here, prefs).ok(body)
    }

    /// What was found, with links to the pages before and after it.
    fn entries<T>(
        &self,
        body: &mut Body,
        text: &str,
        found: &ListPage<T>,
        entry: impl Fn(&T) -> ListEntry,
    ) {
        if found.entries.is_empty() {
            let is_searched = !text.trim().is_empty();
            return body.said(if is_searched { self.none } else { self.empty });
        }
        let entries: Vec<ListEntry> = found.entries.iter().map(entry).collect();
        body.entries(&entries, &format!("{}/", self.here), "");
        let at = |from: usize| format!("{}?q={}&from={from}", self.here, encoded(text));
        let before = || (at(found.from.saturating_sub(PAGE)), "The ones before");
        let before = (found.from > 0).then(before);
        let after = found
            .more
            .then(|| (at(found.from + PAGE), "The ones after"));
        let links: Vec<(String, &str)> = before.into_iter().chain(after).collect();
        if !links.is_empty() {
            body.links(&links);
        }
    }
}
