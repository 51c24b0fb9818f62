//! A page as Markdown, to hand over or to paste.

use super::{Align, Block, Page, Reason, Role, Side, Table, terminal::drawn};
use crate::words::{joined, safe};

/// The page as Markdown. Text from records is escaped.
pub fn markdown(page: &Page) -> String {
    let blocks: Vec<String> = page.blocks.iter().map(written).collect();
    blocks.join("\n")
}

fn written(block: &Block) -> String {
    match block {
        Block::Title(text) => format!("# {}\n", escaped(text)),
        Block::Section(text) => format!("## {}\n", escaped(text)),
        Block::Text(Role::Good | Role::Doubtful | Role::Bad, text) => {
            format!("**{}**\n", escaped(text))
        }
        Block::Text(_, text) => format!("{}\n", escaped(text)),
        Block::Items(_, items) => items
            .iter()
            .map(|item| format!("- {}\n", escaped(item)))
            .collect(),
        Block::Table(table) => tabulated(table),
        Block::Answer(answer) => {
            let verdict = escaped(&answer.verdict);
            format!("**{verdict}**\n\n{}\n", escaped(&answer.amounts()))
        }
        Block::Reasons(reasons) => reasons.iter().map(reason).collect(),
        Block::Picture(picture) => {
            let title = escaped(picture.title());
            format!("{title}\n\n{}", tabulated(&picture.table()))
        }
        Block::Details(head, folded) => {
            let folded: Vec<String> = folded.iter().map(written).collect();
            format!("## {}\n\n{}", escaped(head), folded.join("\n"))
        }
    }
}

/// A point for each reason; its rail as characters.
fn reason(reason: &Reason) -> String {
    let side = match reason.side {
        Side::For => "fits",
        Side::Against => "**differs**",
        Side::Unknown => "**not known**",
    };
    let said = [&reason.offered, &reason.wanted, &reason.meaning];
    let said = said.into_iter().filter(|text| !text.is_empty());
    let said = joined(said.map(|text| escaped(text)), ", ");
    let rail = reason.rail.as_ref();
    let rail = rail.map_or(String::new(), |rail| format!("\n\n      {}\n", drawn(rail)));
    format!("- {} ({side}): {said}{rail}\n", reason.criterion)
}

fn tabulated(table: &Table) -> String {
    let row = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
    let rule = |align: &Align| match align {
        Align::Left => ":--".to_owned(),
        Align::Right => "--:".to_owned(),
    };
    let head = row(table
        .columns
        .iter()
        .map(|(head, _)| escaped(head))
        .collect());
    let rules = row(table.columns.iter().map(|(_, align)| rule(align)).collect());
    let rows = table
        .rows
        .iter()
        .map(|cells| row(cells.iter().map(|cell| escaped(cell)).collect()));
    format!("{head}{rules}{}", rows.collect::<String>())
}

/// Text that means nothing to Markdown or to HTML.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in safe(text).chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '#' => out.extend(['\\', c]),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_from_records_cannot_become_markup() {
        let mut page = Page::titled("<b>x</b> | y");
        page.text(Role::Plain, "*not bold*");
        assert_eq!(
            markdown(&page),
            "# &lt;b&gt;x&lt;/b&gt; \\| y\n\n\\*not bold\\*\n"
        );
    }
}
