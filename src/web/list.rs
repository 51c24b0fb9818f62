//! Lists of kept records, a page at a time, with a form that searches them.

use super::{
    form::{Field, Form, Head, Kind},
    links::encoded,
    visit::{PageResult, Visit},
};
use crate::{
    app::{AppError, FormData, ListPage, Records},
    report::{ListEntry, Style},
};

/// Entries on one page of a list.
const PAGE: usize = 40;

/// Of those that a text finds, so many from one on.
type Browse<T> = fn(&Records, &str, usize, usize) -> Result<ListPage<T>, AppError>;

/// What a list is of, and what is said where it is empty.
pub(super) struct List<T> {
    pub(super) heading: &'static str,
    pub(super) here: &'static str,
    pub(super) links: &'static [(&'static str, &'static str)],
    /// What the field that searches it takes.
    pub(super) search: &'static str,
    /// Where nothing is kept.
    pub(super) empty: &'static str,
    /// Where nothing is found.
    pub(super) none: &'static str,
    pub(super) browse: Browse<T>,
    pub(super) entry: fn(&T, &Style) -> ListEntry,
}

impl<T: Send + 'static> List<T> {
    /// One page of it.
    pub(super) async fn page(&self, visit: Visit, sent: FormData) -> PageResult {
        let browse = self.browse;
        let from = sent.number("from").unwrap_or(0);
        let find =
            move |records: &Records, sent: &FormData| browse(records, sent.text("q"), from, PAGE);
        let found = visit.answer(&sent, find).await?;
        let text = sent.text("q");
        let mut body = visit.body();
        body.heading(self.heading);
        body.links(self.links);
        let search = Field::new("q", self.search, "", Kind::Line).holding(text);
        let form = Form::get("search", self.here, "Search");
        body.form(&form.with(Head::None, vec![search]));
        let is_searched = !text.trim().is_empty();
        let none = if is_searched { self.none } else { self.empty };
        let style = visit.style();
        let entries = found.entries.iter().map(|one| (self.entry)(one, &style));
        body.entries(entries, (&format!("{}/", self.here), ""), none);
        body.links(&self.beside(text, &found));
        Ok(visit.page((self.heading, self.here), body))
    }

    /// Links to the pages before and after what was found.
    fn beside(&self, text: &str, found: &ListPage<T>) -> Vec<(String, &'static str)> {
        let at = |from: usize| format!("{}?q={}&from={from}", self.here, encoded(text));
        let before = || (at(found.from.saturating_sub(PAGE)), "The ones before");
        let after = || (at(found.from + PAGE), "The ones after");
        let before = (found.from > 0).then(before);
        let after = found.more.then(after);
        before.into_iter().chain(after).collect()
    }
}
