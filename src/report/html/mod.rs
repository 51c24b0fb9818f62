//! A page as HTML: headings, lists, tables with scopes, rails as pictures with
//! their numbers in words. Every text is escaped; there is no inline style and
//! no script. Roles are classes, and the words say the same.

mod escape;
mod file;
mod places;
mod rail;
mod table;

pub use escape::{entities, escaped, escaped_message};
pub use file::html_page;
pub use places::places;

use super::{Block, Page, Role};

/// The pages one below the other. With one page its title is the `h1`; with
/// several there is an `h1` of the caller's and each title is an `h2`.
pub fn html(pages: &[Page]) -> String {
    illustrated(pages, &[])
}

/// The same with a picture in HTML for each page, behind its first table.
pub fn illustrated(pages: &[Page], pictures: &[String]) -> String {
    let top = if pages.len() == 1 { 1 } else { 2 };
    let mut writer = Writer {
        out: String::new(),
        top,
        pictures: 0,
        tables: 0,
        heading: String::new(),
        open: false,
    };
    let mut pictures = pictures.iter();
    for page in pages {
        writer.page(page, pictures.next().map_or("", String::as_str));
    }
    writer.out
}

struct Writer {
    out: String,
    top: u8,
    pictures: usize,
    tables: usize,
    heading: String,
    open: bool,
}

impl Writer {
    fn page(&mut self, page: &Page, mut picture: &str) {
        for (at, block) in page.blocks.iter().enumerate() {
            match block {
                Block::Title(text) => self.title(text),
                Block::Section(text) => {
                    let rest = page.blocks.get(at + 1..).unwrap_or_default();
                    self.section(text, is_aside(rest));
                }
                other => self.block(other),
            }
            if matches!(block, Block::Table(_)) {
                self.put(std::mem::take(&mut picture));
            }
        }
        self.close();
    }

    fn title(&mut self, text: &str) {
        self.close();
        self.heading = text.to_owned();
        self.put(&format!("<h{0}>{1}</h{0}>\n", self.top, escaped(text)));
    }

    fn section(&mut self, text: &str, aside: bool) {
        self.close();
        self.heading = text.to_owned();
        let class = if aside { " class=\"aside\"" } else { "" };
        let level = self.top + 1;
        self.put(&format!(
            "<section{class}>\n<h{level}>{}</h{level}>\n",
            escaped(text)
        ));
        self.open = true;
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Text(role, text) => {
                self.put(&format!(
                    "<p class=\"{}\">{}</p>\n",
                    class(*role),
                    worded(*role, text)
                ));
            }
            Block::Items(role, items) => self.items(*role, items),
            Block::Table(table) => {
                self.tables += 1;
                let label = format!("Table {}: {}", self.tables, self.heading);
                self.out.push_str(&table::table(table, &label));
            }
            Block::Rail(words, numbers) => {
                self.pictures += 1;
                self.out
                    .push_str(&rail::rail(words, numbers, self.pictures));
            }
            Block::Title(_) | Block::Section(_) => {}
        }
    }

    fn items(&mut self, role: Role, items: &[String]) {
        let each: String = items
            .iter()
            .map(|item| format!("<li>{}</li>\n", worded(role, item)))
            .collect();
        self.put(&format!("<ul class=\"{}\">\n{each}</ul>\n", class(role)));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Align, Rail, Table};

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
            unit: "m/100 g",
        };
        page.blocks.push(Block::Rail(evil.to_owned(), rail));
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
}
