//! A page as HTML: headings, lists, tables with scopes, rails as pictures with
//! their numbers in words. Every text is escaped; there is no inline style and
//! no script. Roles are classes, and the words say the same.

mod bars;
mod file;
mod map;
mod map_names;
mod rail;
mod table;

pub use file::html_page;
pub use table::{Head, list_table};

use super::{Answer, Block, Page, Picture, Reason, Role, Side, Table, chip};
use crate::words::safe;
use std::cmp::Reverse;

/// The pages one below the other. With one page its title is the `h1`; with
/// several there is an `h1` of the caller's and each title is an `h2`.
pub fn html(pages: &[Page]) -> String {
    linked(pages, &[])
}

/// Names of records and the pages that each leads to, wherever it is said.
pub type NameLinks = [(String, String)];

/// Pages that stay beside each other, below an `h1` of the caller's: each in a strip
/// of its own that ends with its part of `after`, which is HTML.
pub fn stacked(pages: &[Page], after: &[String], names: &NameLinks) -> String {
    let mut writer = Writer::new(2, names);
    writer.put("<div class=\"stack\">\n");
    let mut after = after.iter();
    for page in pages {
        writer.put("<article class=\"strip\">\n");
        writer.blocks(&page.blocks);
        writer.put(after.next().map_or("", String::as_str));
        writer.put("</article>\n");
    }
    writer.put("</div>\n");
    with_chips(&writer.out)
}

/// The same with a link at each of these names.
pub fn linked(pages: &[Page], names: &NameLinks) -> String {
    let mut writer = Writer::new(if pages.len() == 1 { 1 } else { 2 }, names);
    for page in pages {
        writer.blocks(&page.blocks);
    }
    with_chips(&writer.out)
}

/// Finished HTML with each chip as a square, which is nothing to those who listen: its
/// name stands beside it.
fn with_chips(html: &str) -> String {
    chip::drawn(html, |colour| {
        format!(
            "<svg class=\"chip\" viewBox=\"0 0 16 16\" aria-hidden=\"true\" focusable=\"false\">\
             <path fill=\"{colour}\" d=\"M1 1H15V15H1Z\"/></svg>"
        )
    })
}

struct Writer<'n> {
    out: String,
    top: u8,
    pictures: usize,
    tables: usize,
    heading: String,
    open: bool,
    names: &'n NameLinks,
}

impl<'n> Writer<'n> {
    /// One whose titles are headings of this level.
    fn new(top: u8, names: &'n NameLinks) -> Self {
        Self {
            out: String::new(),
            top,
            pictures: 0,
            tables: 0,
            heading: String::new(),
            open: false,
            names,
        }
    }

    /// Text that is escaped already, with a link at each name.
    fn linked(&self, text: &str) -> String {
        let found = self.names.iter().filter_map(|(name, link)| {
            let name = escaped(name);
            let at = text.find(&name).filter(|_| !name.is_empty())?;
            Some((at, Reverse(name.len()), name, link))
        });
        let Some((at, _, name, link)) = found.min() else {
            return text.to_owned();
        };
        let (before, rest) = text.split_at(at);
        let after = self.linked(rest.strip_prefix(&name).unwrap_or_default());
        format!("{before}<a href=\"{}\">{name}</a>{after}", escaped(link))
    }

    fn blocks(&mut self, blocks: &[Block]) {
        for (at, block) in blocks.iter().enumerate() {
            match block {
                Block::Title(text) => self.title(text),
                Block::Section(text) => {
                    let rest = blocks.get(at + 1..).unwrap_or_default();
                    self.section(text, is_aside(rest));
                }
                other => self.block(other),
            }
        }
        self.close();
    }

    fn title(&mut self, text: &str) {
        self.close();
        self.heading = chip::without_chips(text);
        let shown = self.linked(&escaped(text));
        self.put(&format!("<h{0}>{shown}</h{0}>\n", self.top));
    }

    fn section(&mut self, text: &str, aside: bool) {
        self.close();
        self.heading = text.to_owned();
        let class = if aside { " class=\"aside\"" } else { "" };
        let level = self.top + 1;
        self.put(&format!(
            "<section{class}>\n<h{level}>{}</h{level}>\n",
            self.linked(&escaped(text))
        ));
        self.open = true;
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Text(role, text) => {
                let (class, word) = (class(*role), word(*role));
                let shown = self.linked(&worded(*role, text));
                self.put(&format!("<p class=\"{class}\">{word}{shown}</p>\n"));
            }
            Block::Items(role, items) => self.items(*role, items),
            Block::Table(table) => self.table(table),
            Block::Answer(answer) => self.put(&card(answer)),
            Block::Reasons(reasons) => self.reasons(reasons),
            Block::Picture(picture) => self.picture(picture),
            Block::Details(head, blocks) => self.details(head, blocks),
            Block::Title(_) | Block::Section(_) => {}
        }
    }

    fn table(&mut self, table: &Table) {
        self.tables += 1;
        let label = format!("Table {}: {}", self.tables, self.heading);
        let links = table::Links {
            at_names: &|shown| self.linked(shown),
            in_full: &|name| self.link_of(name),
        };
        self.put(&table::table(table, &label, &links));
    }

    /// A picture, and below it the table that says the same.
    fn picture(&mut self, picture: &Picture) {
        self.pictures += 1;
        let nth = self.pictures;
        let (class, drawn) = match picture {
            Picture::Bars(bars) => ("bars", bars::picture(bars, nth)),
            Picture::Map(map) => ("map", map::picture(map, nth, |name| self.link_of(name))),
        };
        let title = escaped(picture.title());
        self.put(&format!(
            "<figure class=\"{class}\">\n<figcaption>{title}</figcaption>\n{drawn}<details>\n<summary>The same as a table</summary>\n"
        ));
        self.table(&picture.table());
        self.put("</details>\n</figure>\n");
    }

    /// Where a name leads.
    fn link_of(&self, name: &str) -> Option<String> {
        let mut names = self.names.iter();
        let (_, link) = names.find(|(known, _)| known == name)?;
        Some(link.clone())
    }

    fn items(&mut self, role: Role, items: &[String]) {
        let each: String = items
            .iter()
            .map(|item| format!("<li>{}</li>\n", self.linked(&worded(role, item))))
            .collect();
        let (class, word) = (class(role), word(role));
        self.put(&match word {
            "" => format!("<ul class=\"{class}\">\n{each}</ul>\n"),
            word => format!("<div class=\"{class}\">{word}<ul>\n{each}</ul></div>\n"),
        });
    }

    /// A row for each reason; its side is said in words as well.
    fn reasons(&mut self, reasons: &[Reason]) {
        self.put("<ul class=\"reasons\">\n");
        for reason in reasons {
            let (class, word) = side(reason.side);
            self.put(&format!(
                "<li class=\"{class}\"><p><span class=\"side\">{word}</span>"
            ));
            let parts = [
                ("criterion", reason.criterion),
                ("offered", &reason.offered),
                ("wanted", &reason.wanted),
                ("meaning", &reason.meaning),
            ];
            self.put(&spans(&parts));
            self.put("</p>\n");
            if let Some(rail) = &reason.rail {
                self.pictures += 1;
                self.put(&rail::picture(reason.criterion, rail, self.pictures));
            }
            self.put("</li>\n");
        }
        self.put("</ul>\n");
    }

    /// A part that is folded; what stands in it keeps its headings.
    fn details(&mut self, head: &str, blocks: &[Block]) {
        self.close();
        let summary = escaped(head);
        self.put(&format!(
            "<details class=\"details\">\n<summary>{summary}</summary>\n"
        ));
        head.clone_into(&mut self.heading);
        self.blocks(blocks);
        self.put("</details>\n");
    }

    fn close(&mut self) {
        if self.open {
            self.put("</section>\n");
        }
        self.open = false;
    }

    fn put(&mut self, text: &str) {
        self.out.push_str(text);
    }
}

/// Whether a section holds nothing but asides, which paper does without.
fn is_aside(rest: &[Block]) -> bool {
    let mut inside = rest
        .iter()
        .take_while(|block| !matches!(block, Block::Section(_) | Block::Title(_)))
        .peekable();
    inside.peek().is_some()
        && inside.all(|block| {
            matches!(
                block,
                Block::Text(Role::Aside, _) | Block::Items(Role::Aside, _)
            )
        })
}

/// What is said plainly may be what somebody typed, and stays as it is.
fn worded(role: Role, text: &str) -> String {
    match role {
        Role::Plain => escaped(text),
        _ => escaped_message(text),
    }
}

/// The word in front of what warns.
fn word(role: Role) -> &'static str {
    match role {
        Role::Caution => "<b>Take care</b> ",
        _ => "",
    }
}

fn class(role: Role) -> &'static str {
    match role {
        Role::Plain => "plain",
        Role::Good => "news good",
        Role::Doubtful => "news doubtful",
        Role::Bad => "news bad",
        Role::Caution => "caution",
        Role::Aside => "aside",
    }
}

/// The card: the verdict, then what to buy, then what is there of it.
fn card(answer: &Answer) -> String {
    let count = answer.count.as_ref().map_or(String::new(), |count| {
        let rest = [
            ("length", answer.length.as_deref().unwrap_or_default()),
            ("cost", answer.cost.as_deref().unwrap_or_default()),
        ];
        format!(
            "<p class=\"count\">{} <strong>{}</strong>{}</p>\n",
            answer.lead(),
            escaped(count),
            spans(&rest)
        )
    });
    let stash = answer.stash.as_ref().map_or(String::new(), |stash| {
        format!("<p class=\"stash\">{}</p>\n", escaped(stash))
    });
    format!(
        "<div class=\"answer {}\">\n<p class=\"verdict\">{}</p>\n{count}{stash}</div>\n",
        class(answer.role).trim_start_matches("news "),
        escaped_message(&answer.verdict)
    )
}

/// Texts with their classes, those that say something.
fn spans(parts: &[(&str, &str)]) -> String {
    let said = parts.iter().filter(|(_, text)| !text.is_empty());
    let each = said.map(|(class, text)| {
        let text = escaped_message(text);
        format!(" <span class=\"{class}\">{text}</span>")
    });
    each.collect()
}

/// The class of a side, and its word.
fn side(side: Side) -> (&'static str, &'static str) {
    match side {
        Side::For => ("for", "Fits"),
        Side::Against => ("against", "Differs"),
        Side::Unknown => ("unknown", "Not known"),
    }
}

/// `text` made safe to show, for content and for quoted attributes.
pub fn escaped(text: &str) -> String {
    entities(&safe(text))
}

/// `text` with entities for what HTML would take for markup, and all else as it is:
/// for what was typed and is given back to be edited.
pub fn entities(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

/// A message made safe to show: what it quotes in backticks stands as code without
/// them. Where one has no partner, all stay.
pub fn escaped_message(text: &str) -> String {
    let escaped = escaped(text);
    if escaped.matches('`').count() % 2 == 1 {
        return escaped;
    }
    let parts = escaped.split('`').enumerate();
    parts
        .map(|(at, part)| match at % 2 {
            1 => format!("<code>{part}</code>"),
            _ => part.to_owned(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Align, Rail};

    #[test]
    fn no_text_can_become_markup() {
        let evil = "<script>alert(\"x\")</script>'&\u{202e}";
        let mut page = Page::titled(evil);
        page.section(evil);
        page.text(Role::Plain, evil);
        page.items(Role::Caution, &[evil.to_owned()]);
        let mut table = Table::new(&[(evil, Align::Left)]);
        table.rows.push(vec![evil.to_owned()]);
        page.table(table);
        let rail = Rail {
            wanted: 200.0,
            offered: 210.0,
            tolerance: 20.0,
            ends: ["thicker", "thinner"],
        };
        page.blocks.push(Block::Reasons(vec![Reason {
            side: Side::Against,
            criterion: "metres per 100 g",
            offered: evil.to_owned(),
            wanted: evil.to_owned(),
            meaning: evil.to_owned(),
            rail: Some(rail),
        }]));
        page.blocks.push(Block::Answer(Answer {
            role: Role::Bad,
            verdict: evil.to_owned(),
            count: Some(evil.to_owned()),
            length: Some(evil.to_owned()),
            cost: Some(evil.to_owned()),
            stash: Some(evil.to_owned()),
        }));
        let folded = Page::titled(evil);
        page.details(evil, folded);
        let out = html(&[page]);
        assert!(!out.contains("<script") && !out.contains('\u{202e}') && !out.contains("\"x\""));
        assert!(out.contains("&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;&#39;&amp;"));
        assert!(!out.contains("style="));
    }

    #[test]
    fn headings_follow_each_other_and_sections_close() {
        let mut page = Page::titled("One");
        page.section("Part");
        page.text(Role::Aside, "so");
        let one = html(std::slice::from_ref(&page));
        assert!(one.starts_with("<h1>One</h1>"));
        assert!(one.contains("<section class=\"aside\">\n<h2>Part</h2>"));
        assert!(one.trim_end().ends_with("</section>"));
        let two = html(&[page.clone(), page]);
        assert!(two.contains("<h2>One</h2>") && two.contains("<h3>Part</h3>"));
        assert_eq!(
            two.matches("<section").count(),
            two.matches("</section>").count()
        );
    }

    #[test]
    fn what_a_message_quotes_is_code_and_no_more_than_text() {
        let told = escaped_message("`<b>5` is no length: write `5 m` or `5 yd`");
        let code = "<code>&lt;b&gt;5</code> is no length: \
                    write <code>5 m</code> or <code>5 yd</code>";
        assert_eq!(told, code);
        assert_eq!(escaped_message("5` & more"), "5` &amp; more");
        assert_eq!(escaped_message("nothing"), "nothing");
    }

    #[test]
    fn a_name_leads_to_its_page_wherever_it_is_said_the_longest_first() {
        let names = [("Moss & Reed", "/a"), ("Moss & Reed DK", "/b")];
        let names = names.map(|(name, link)| (name.to_owned(), link.to_owned()));
        let mut page = Page::titled("Moss & Reed DK for Hat");
        page.text(Role::Plain, "Moss & Reed, then Moss & Reed DK");
        let out = linked(&[page], &names);
        assert!(out.contains("<h1><a href=\"/b\">Moss &amp; Reed DK</a> for Hat</h1>"));
        let both = "<a href=\"/a\">Moss &amp; Reed</a>, then <a href=\"/b\">Moss &amp; Reed DK</a>";
        assert!(out.contains(both), "{out}");
    }
}
