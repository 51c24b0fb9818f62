//! The content of a page, piece by piece. Every text is escaped on its way in.

use super::{field_errors::FieldError, filters, form::Form, links::encoded, plain::plain_page};
use crate::{
    app::ImportRow,
    report::{ListEntry, Page, escaped, escaped_message, illustrated, yards_first},
};
use askama::Template;

/// Content in HTML.
#[derive(Debug, Default)]
pub(super) struct Body {
    out: String,
    faulty: bool,
}

#[derive(Template)]
#[template(path = "entries.html", config = "src/web/askama.toml")]
struct Entries<'e> {
    entries: &'e [ListEntry],
    base: &'e str,
    after: &'e str,
}

#[derive(Template)]
#[template(path = "faults.html", config = "src/web/askama.toml")]
struct Faults<'e> {
    faults: &'e [FieldError],
}

#[derive(Template)]
#[template(path = "preview.html", config = "src/web/askama.toml")]
struct Rows<'e> {
    rows: &'e [ImportRow],
}

impl Body {
    pub(super) fn is_faulty(&self) -> bool {
        self.faulty
    }

    pub(super) fn into_html(self) -> String {
        self.out
    }

    pub(super) fn heading(&mut self, text: &str) {
        self.out.push_str(&format!("<h1>{}</h1>\n", escaped(text)));
    }

    pub(super) fn part(&mut self, text: &str) {
        self.out.push_str(&format!("<h2>{}</h2>\n", escaped(text)));
    }

    /// A part with a name that links can go to.
    pub(super) fn part_at(&mut self, name: &'static str, text: &str) {
        let heading = escaped(text);
        self.out.push_str(&format!(
            "<h2 id=\"{name}\" class=\"no-paper\">{heading}</h2>\n"
        ));
    }

    /// Paragraphs, one a line.
    pub(super) fn said(&mut self, text: &str) {
        for line in text.lines() {
            self.out
                .push_str(&format!("<p>{}</p>\n", escaped_message(line)));
        }
    }

    /// A paragraph that paper does without.
    pub(super) fn hint(&mut self, text: &str) {
        self.out.push_str(&format!(
            "<p class=\"hint no-paper\">{}</p>\n",
            escaped(text)
        ));
    }

    /// Links in a row.
    pub(super) fn links(&mut self, links: &[(String, &str)]) {
        let each: String = links
            .iter()
            .map(|(href, name)| {
                format!(
                    "<li><a href=\"{}\">{}</a></li>\n",
                    escaped(href),
                    escaped(name)
                )
            })
            .collect();
        self.out
            .push_str(&format!("<ul class=\"links\">\n{each}</ul>\n"));
    }

    /// Ways on, each with a word about when it is the one to take.
    pub(super) fn ways(&mut self, ways: &[(&str, &str, &str)]) {
        let each: String = ways
            .iter()
            .map(|(href, name, when)| {
                format!(
                    "<li><a href=\"{}\">{}</a>\n<p>{}</p></li>\n",
                    escaped(href),
                    escaped(name),
                    escaped(when)
                )
            })
            .collect();
        self.out
            .push_str(&format!("<ul class=\"entries\">\n{each}</ul>\n"));
    }

    pub(super) fn pages(&mut self, pages: Vec<Page>, yards: bool) {
        self.illustrated(pages, &[], yards);
    }

    /// A page that is written as this visitor wants it.
    pub(super) fn written(&mut self, page: &Page) {
        self.drawn(std::slice::from_ref(page), &[]);
    }

    /// Pages that are written as this visitor wants them, with a picture for each.
    pub(super) fn drawn(&mut self, pages: &[Page], pictures: &[String]) {
        self.out.push_str(&illustrated(pages, pictures));
    }

    /// The same with a picture for each, behind its first table.
    pub(super) fn illustrated(&mut self, pages: Vec<Page>, pictures: &[String], yards: bool) {
        let pages: Vec<Page> = pages
            .into_iter()
            .map(plain_page)
            .map(|page| if yards { yards_first(page) } else { page })
            .collect();
        self.out.push_str(&illustrated(&pages, pictures));
    }

    /// What was done, told where a reader of the screen hears it.
    pub(super) fn told(&mut self, page: Page) {
        self.out.push_str("<div class=\"told\" role=\"status\">\n");
        let mut blocks = Vec::new();
        for block in page.blocks {
            blocks.push(match block {
                crate::report::Block::Title(text) => {
                    crate::report::Block::Text(crate::report::Role::Plain, text)
                }
                crate::report::Block::Section(text) => {
                    crate::report::Block::Text(crate::report::Role::Caution, format!("{text}:"))
                }
                other => other,
            });
        }
        self.written(&Page { blocks });
        self.out.push_str("</div>\n");
    }

    pub(super) fn form(&mut self, form: &Form) {
        self.render(form.render());
    }

    /// What is wrong, at the top of the page.
    pub(super) fn faults(&mut self, faults: &[FieldError]) {
        if !faults.is_empty() {
            self.faulty = true;
            self.render(Faults { faults }.render());
        }
    }

    pub(super) fn entries(&mut self, entries: &[ListEntry], base: &str, after: &str) {
        let list = Entries {
            entries,
            base,
            after,
        };
        self.render(list.render());
    }

    /// One page of a list, with links to those before and after it.
    pub(super) fn list(
        &mut self,
        entries: &[ListEntry],
        (from, more): (usize, bool),
        place: &Place<'_>,
    ) {
        if entries.is_empty() {
            return self.said(place.empty);
        }
        self.entries(entries, place.base, "");
        let at = |from: usize| format!("{}?q={}&from={from}", place.list, encoded(place.text));
        let before = (from > 0).then(|| (at(from.saturating_sub(PAGE)), "The ones before"));
        let after = more.then(|| (at(from + PAGE), "The ones after"));
        let links: Vec<(String, &str)> = before.into_iter().chain(after).collect();
        if !links.is_empty() {
            self.links(&links);
        }
    }

    pub(super) fn rows(&mut self, rows: &[ImportRow]) {
        self.render(Rows { rows }.render());
    }

    fn render(&mut self, rendered: Result<String, askama::Error>) {
        // Writing to a string does not fail; nothing is shown if it did.
        self.out.push_str(&rendered.unwrap_or_default());
    }
}

/// Entries on one page of a list.
pub(super) const PAGE: usize = 40;

/// Where a list is, and what was looked for in it.
pub(super) struct Place<'p> {
    pub(super) list: &'p str,
    pub(super) base: &'p str,
    pub(super) text: &'p str,
    pub(super) empty: &'p str,
}
