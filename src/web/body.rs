//! The content of a page, piece by piece, by one template. Answers come as HTML from
//! `report`; every other text is escaped here, by the same function.

use super::{form::Form, refusal::FieldError};
use crate::report::{
    self, Block, Head, ListEntry, NameLinks, Page, Role, RowLine, Table, linked, list_table,
    stacked,
};
use askama::{Template, filters::Escaper};
use std::fmt;

/// Content in HTML.
#[derive(Debug, Default)]
pub(super) struct Body {
    out: String,
    faulty: bool,
}

/// A piece of the content.
#[derive(Template)]
#[template(path = "body.html", config = "src/web/askama.toml")]
enum Piece<'p> {
    Heading(&'p str),
    Part(&'p str),
    /// A part with a name.
    PartAt(&'p str, &'p str),
    Text(&'p str),
    Hint(&'p str),
    Links(&'p [(&'p str, &'p str)]),
    /// Records, and what stands before and behind the number of each in its link.
    Entries(&'p [ListEntry], &'p str, &'p str),
    /// HTML of `report`.
    Answer(&'p str),
    /// Finished content: an answer, and its question.
    Beside(&'p str, &'p str),
    /// HTML of `report` about what was done.
    Notice(&'p str),
    Form(&'p Form),
    Faults(&'p [FieldError]),
    Rows(&'p [RowLine]),
}

/// What ends the title of a page of `report`.
const TITLE_END: &str = "</h1>\n";

impl Body {
    pub(super) fn is_faulty(&self) -> bool {
        self.faulty
    }

    pub(super) fn into_html(self) -> String {
        self.out
    }

    pub(super) fn heading(&mut self, text: &str) {
        self.put(&Piece::Heading(text));
    }

    pub(super) fn part(&mut self, text: &str) {
        self.put(&Piece::Part(text));
    }

    /// A part with a name that links can go to.
    pub(super) fn part_at(&mut self, name: &'static str, text: &str) {
        self.put(&Piece::PartAt(name, text));
    }

    /// Paragraphs, one a line.
    pub(super) fn text(&mut self, text: &str) {
        self.put(&Piece::Text(text));
    }

    /// A paragraph that paper does without.
    pub(super) fn hint(&mut self, text: &str) {
        self.put(&Piece::Hint(text));
    }

    /// Links in a row, where there are any.
    pub(super) fn links<H: AsRef<str>>(&mut self, links: &[(H, &str)]) {
        let links: Vec<(&str, &str)> = links
            .iter()
            .map(|(to, name)| (to.as_ref(), *name))
            .collect();
        if !links.is_empty() {
            self.put(&Piece::Links(&links));
        }
    }

    /// HTML that is a file of the program.
    pub(super) fn fixed(&mut self, html: &'static str) {
        self.out.push_str(html);
    }

    /// A page that is written as this visitor wants it.
    pub(super) fn report(&mut self, page: &Page) {
        self.linked(page, &[]);
    }

    /// The same with a link at each of these names.
    pub(super) fn linked(&mut self, page: &Page, names: &NameLinks) {
        self.put(&Piece::Answer(&linked(std::slice::from_ref(page), names)));
    }

    /// The same with ways on below its title.
    pub(super) fn titled<H: AsRef<str>>(
        &mut self,
        page: &Page,
        links: &[(H, &str)],
        names: &NameLinks,
    ) {
        let mut ways = Self::default();
        ways.links(links);
        let html = linked(std::slice::from_ref(page), names);
        let html = match html.split_once(TITLE_END) {
            Some((title, rest)) => format!("{title}{TITLE_END}{}{rest}", ways.out),
            None => ways.out + &html,
        };
        self.put(&Piece::Answer(&html));
    }

    /// What was done, told where a reader of the screen hears it.
    pub(super) fn notice(&mut self, page: Page) {
        let blocks = page.blocks.into_iter().map(|block| match block {
            Block::Title(text) => Block::Text(Role::Plain, text),
            Block::Section(text) => Block::Text(Role::Plain, format!("{text}:")),
            other => other,
        });
        let blocks = blocks.collect();
        self.put(&Piece::Notice(&report::html(&[Page { blocks }])));
    }

    pub(super) fn form(&mut self, form: &Form) {
        self.put(&Piece::Form(form));
    }

    /// What is wrong, at the top of the page.
    pub(super) fn faults(&mut self, faults: &[FieldError]) {
        if !faults.is_empty() {
            self.faulty = true;
            self.put(&Piece::Faults(faults));
        }
    }

    /// Records, each with a link to its page: its number between `base` and `after`.
    /// Where there are none, `none` is said.
    pub(super) fn entries(
        &mut self,
        entries: impl IntoIterator<Item = ListEntry>,
        (base, after): (&str, &str),
        none: &str,
    ) {
        let entries: Vec<ListEntry> = entries.into_iter().collect();
        if entries.is_empty() {
            self.text(none);
        } else {
            self.put(&Piece::Entries(&entries, base, after));
        }
    }

    /// An answer and the question that it belongs to: beside each other where there is
    /// room, else one below the other.
    pub(super) fn beside(&mut self, answer: Body, question: Body) {
        self.faulty |= answer.faulty || question.faulty;
        self.put(&Piece::Beside(&answer.out, &question.out));
    }

    /// Answers that stay beside each other, each followed by its part of `after`.
    pub(super) fn stack(&mut self, pages: &[Page], after: Vec<Body>, names: &NameLinks) {
        let after: Vec<String> = after.into_iter().map(Body::into_html).collect();
        self.put(&Piece::Answer(&stacked(pages, &after, names)));
    }

    /// A list with a strip for each record, which leads to each of `links`.
    pub(super) fn list(&mut self, rows: &Table, label: &str, heads: &[Head], links: &[String]) {
        self.put(&Piece::Answer(&list_table(rows, label, heads, links)));
    }

    pub(super) fn rows(&mut self, rows: &[RowLine]) {
        self.put(&Piece::Rows(rows));
    }

    fn put(&mut self, piece: &Piece<'_>) {
        // Writing to a string does not fail; nothing is shown if it did.
        self.out.push_str(&piece.render().unwrap_or_default());
    }
}

/// The escaper of all templates: that of `report`, so that both write a text alike.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Entities;

impl Escaper for Entities {
    fn write_escaped_str<W: fmt::Write>(&self, mut out: W, text: &str) -> fmt::Result {
        out.write_str(&report::entities(text))
    }
}

/// What the templates use by name.
pub(super) mod filters {
    use crate::{report::escaped_message, words::safe};
    use askama::{Result, Values, filters::Safe};

    /// Text of records, made safe to show.
    #[askama::filter_fn]
    pub(in crate::web) fn shown(text: &str, _: &dyn Values) -> Result<String> {
        Ok(safe(text))
    }

    /// A message with what it quotes as code, escaped already.
    #[askama::filter_fn]
    pub(in crate::web) fn message(text: &str, _: &dyn Values) -> Result<Safe<String>> {
        Ok(Safe(escaped_message(text)))
    }
}
