//! A page as text for a terminal, with colour by role. Whoever prints it takes
//! the colour out where it is not wanted.

use super::{Block, Page, Role, rail, terminal_table::tabulated};
use crate::words::safe;
use anstyle::{AnsiColor, Style};

/// The page as text of at most `width` columns.
pub fn terminal(page: &Page, width: usize) -> String {
    let mut out = String::new();
    for (place, block) in page.blocks.iter().enumerate() {
        let apart = matches!(block, Block::Section(_)) || place == 1;
        if apart && place > 0 {
            out.push('\n');
        }
        out.push_str(&written(block, width));
    }
    out
}

/// The same without colour, to keep or to send.
pub fn plain_text(page: &Page, width: usize) -> String {
    anstream::adapter::strip_str(&terminal(page, width)).to_string()
}

fn written(block: &Block, width: usize) -> String {
    match block {
        Block::Title(text) => wrapped(text, width, "", Style::new().bold()),
        Block::Section(text) => wrapped(text, width, "", Style::new().bold()),
        Block::Text(role, text) => wrapped(text, width, "  ", style(*role)),
        Block::Items(role, items) => items
            .iter()
            .map(|item| point(item, width, style(*role)))
            .collect(),
        Block::Table(table) => tabulated(table, width),
        Block::Rail(words, numbers) => {
            format!(
                "{}    {}\n",
                wrapped(words, width, "  ", Style::new()),
                rail(numbers)
            )
        }
    }
}

fn style(role: Role) -> Style {
    let colour = |colour: AnsiColor| Style::new().fg_color(Some(colour.into()));
    match role {
        Role::Plain => Style::new(),
        Role::Good => colour(AnsiColor::Green).bold(),
        Role::Doubtful => colour(AnsiColor::Yellow).bold(),
        Role::Bad => colour(AnsiColor::Red).bold(),
        Role::Caution => colour(AnsiColor::Magenta),
        Role::Aside => Style::new().dimmed(),
    }
}

fn wrapped(text: &str, width: usize, indent: &str, style: Style) -> String {
    fill(text, width, indent, indent, style)
}

fn point(text: &str, width: usize, style: Style) -> String {
    fill(text, width, "  - ", "    ", style)
}

fn fill(text: &str, width: usize, first: &str, rest: &str, style: Style) -> String {
    let options = textwrap::Options::new(width)
        .initial_indent(first)
        .subsequent_indent(rest);
    // A number and its unit stay on one line.
    let shown = safe(text)
        .replace(" %", "\u{a0}%")
        .replace("/100 g", "/100\u{a0}g");
    let lines = textwrap::wrap(&shown, options);
    lines
        .iter()
        .map(|line| format!("{style}{}{style:#}\n", line.replace('\u{a0}', " ")))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Align, Table};

    #[test]
    fn long_text_is_wrapped_and_escapes_from_names_are_not_sent() {
        let mut page = Page::titled("A page");
        page.text(
            Role::Plain,
            format!("evil \u{1b}[2J name {}", "word ".repeat(40)),
        );
        let text = terminal(&page, 40);
        assert!(text.contains("\\u{1b}[2J"));
        assert!(
            text.lines()
                .all(|line| anstream::adapter::strip_str(line).to_string().len() <= 40)
        );
    }

    #[test]
    fn numbers_keep_to_the_right() {
        let mut page = Page::default();
        let mut table = Table::new(&[("size", Align::Left), ("skeins", Align::Right)]);
        table.rows.push(["S", "7"].map(str::to_owned).to_vec());
        page.table(table);
        assert_eq!(terminal(&page, 80), "  size  skeins\n  S          7\n");
    }
}
