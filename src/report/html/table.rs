//! Tables with scopes, in a frame that scrolls sideways where they are wide.

use super::escape::escaped;
use crate::report::{Align, Table};

/// A table; one whose columns have no heads becomes a list of terms.
pub(super) fn table(table: &Table, label: &str) -> String {
    if table.columns.iter().all(|(head, _)| head.is_empty()) {
        terms(table)
    } else {
        grid(table, label)
    }
}

fn terms(table: &Table) -> String {
    let pairs: String = table
        .rows
        .iter()
        .filter_map(|row| row.split_first())
        .map(|(what, rest)| {
            let said = escaped(&rest.join(" "));
            format!("<dt>{}</dt><dd>{said}</dd>\n", escaped(what))
        })
        .collect();
    format!("<dl>\n{pairs}</dl>\n")
}

fn grid(table: &Table, label: &str) -> String {
    let heads: String = table
        .columns
        .iter()
        .map(|(head, align)| cell("col", head, *align))
        .collect();
    let rows: String = table
        .rows
        .iter()
        .map(|row| format!("<tr>{}</tr>\n", cells(row, table)))
        .collect();
    format!(
        "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n<table>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n</div>\n",
        escaped(label)
    )
}

fn cells(row: &[String], table: &Table) -> String {
    let aligned = row
        .iter()
        .zip(table.columns.iter().map(|(_, align)| *align));
    aligned
        .enumerate()
        .map(|(at, (text, align))| match at {
            0 => cell("row", text, align),
            _ => {
                let text = match align {
                    Align::Left => escaped(text),
                    Align::Right => escaped(&held_together(text)),
                };
                format!("<td{}>{text}</td>", side(align))
            }
        })
        .collect()
}

/// A head; an empty one is no head of anything.
fn cell(scope: &str, text: &str, align: Align) -> String {
    if text.is_empty() {
        "<td></td>".to_owned()
    } else {
        format!(
            "<th scope=\"{scope}\"{}>{}</th>",
            side(align),
            escaped(&unbroken(text))
        )
    }
}

/// Numbers such as `377 (342 to 413)` are broken only before the bracket.
fn held_together(numbers: &str) -> String {
    numbers.replace(' ', "\u{a0}").replace("\u{a0}(", " (")
}

/// `m/100 g` stays on one line.
fn unbroken(head: &str) -> String {
    match head.split_once('/') {
        Some((unit, per)) => format!("{unit}/{}", per.replace(' ', "\u{a0}")),
        None => head.to_owned(),
    }
}

fn side(align: Align) -> &'static str {
    match align {
        Align::Left => "",
        Align::Right => " class=\"right\"",
    }
}
