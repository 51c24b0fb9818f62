//! What the pages of all records share: a list a page at a time, the field of a
//! column, and which units come first.

use super::{
    body::{Body, Place},
    cookies::{UNITS, with_cookie},
    form::{Field, Form, Group, Kind},
    layout::Layout,
    links::{own, redirect},
    preferences::Preferences,
};
use crate::{
    app::{FieldKind, FormData, ListPage},
    report::ListEntry,
};
use axum::response::Response;

/// A form with one field that searches a list.
pub(super) fn search(action: &str, label: &str, text: &str) -> Form {
    let mut field = Field::line("q", label, "");
    field.value = text.to_owned();
    Form::get("search", action, "Search").with(Group::plain(vec![field]))
}

/// A field of a record's column.
pub(super) fn field_of(kind: &FieldKind) -> Field {
    let holds = capital(&kind.holds.replace('`', ""));
    let hint = match kind.name {
        "discontinued" => holds,
        _ => format!("{holds}, as in: {}", kind.example),
    };
    let shape = match kind.name {
        "notes" => Kind::Area(3),
        "discontinued" => Kind::Radio(vec![("no", "No"), ("yes", "Yes")]),
        _ => Kind::Line,
    };
    let label = match kind.name {
        "gtin" => "article number",
        name => name,
    };
    let mut field = Field::new(kind.name, &capital(label), &hint, shape);
    field.needed = kind.needed;
    if kind.name == "discontinued" {
        field.value = "no".to_owned();
    }
    field
}

/// Words as they begin a sentence.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
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
        let place = Place {
            list: self.here,
            base: &format!("{}/", self.here),
            text,
            empty: if text.trim().is_empty() {
                self.empty
            } else {
                self.none
            },
        };
        let entries: Vec<ListEntry> = found.entries.iter().map(entry).collect();
        body.list(&entries, (found.from, found.more), &place);
        Layout::new(self.heading, self.here, prefs).ok(body)
    }
}

/// Remembers which units come first, and goes back to the page.
pub(super) async fn units(sent: FormData) -> Response {
    let units = match sent.text("units") {
        "yards" => "yards",
        _ => "metres",
    };
    with_cookie(redirect(own(sent.text("back"))), UNITS, units, 31_536_000)
}
