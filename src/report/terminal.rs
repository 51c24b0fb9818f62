//! A page as text for a terminal, with colour by role. Whoever prints it takes
//! the colour out where it is not wanted.

use super::{Align, Block, Page, Role, Table, rail};
use crate::words::safe;
use anstyle::{AnsiColor, Style};
use comfy_table::CellAlignment;

/// The page as text of at most `width` columns, except where a table needs more.
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

fn written(block: &Block, width: usize) -> String {
    match block {
        Block::Title(text) => wrapped(text, width, "", Style::new().bold()),
        Block::Section(text) => wrapped(text, width, "", Style::new().bold()),
        Block::Text(role, text) => wrapped(text, width, "  ", style(*role)),
        Block::Items(role, items) => items
            .iter()
            .map(|item| point(item, width, style(*role)))
            .collect(),
        Block::Table(table) => tabulated(table),
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

fn tabulated(table: &Table) -> String {
    let mut drawn = comfy_table::Table::new();
    drawn.load_style(comfy_table::presets::NOTHING);
    if table.columns.iter().any(|(head, _)| !head.is_empty()) {
        drawn.set_header(table.columns.iter().map(|(head, _)| safe(head)));
    }
    drawn.add_rows(
        table
            .rows
            .iter()
            .map(|row| row.iter().map(|cell| safe(cell)).collect::<Vec<_>>()),
    );
    for (column, (_, align)) in drawn.column_iter_mut().zip(&table.columns) {
        column.set_padding((0, 2));
        column.set_cell_alignment(match align {
            Align::Left => CellAlignment::Left,
            Align::Right => CellAlignment::Right,
        });
    }
    drawn
        .lines()
        .map(|line| format!("  {}\n", line.trim_end()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

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
