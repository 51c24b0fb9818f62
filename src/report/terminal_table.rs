//! A table as text for a terminal: as wide as its words where there is room, its
//! cells wrapped between words where there is not, and one line for each cell
//! where even that is too wide.

use super::{Align, Table};
use crate::words::{safe, with_units_held};
use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, Table as Drawn, Width,
};

/// Columns between two cells: usually, and where there is little room. Numbers
/// before words keep the usual ones, lest a number seem to belong to them.
const GAPS: [u16; 2] = [2, 1];
/// What stands before each line.
const INDENT: &str = "  ";

/// The table in at most `width` columns, but for a single cell that is wider.
pub(super) fn tabulated(table: &Table, width: usize) -> String {
    let room = width.saturating_sub(INDENT.len());
    let whole = |gap: u16| {
        let lines = lines(&drawn(table, gap));
        is_within(&lines, room).then(|| joined(&lines))
    };
    let fits = GAPS.into_iter().find_map(whole);
    fits.or_else(|| head_wrapped(table, room))
        .or_else(|| makers_cut(table, room))
        .or_else(|| {
            GAPS.into_iter()
                .find_map(|gap| names_whole(table, gap, room))
        })
        .or_else(|| GAPS.into_iter().find_map(|gap| wrapped(table, gap, room)))
        .or_else(|| parted(table, width))
        .unwrap_or_else(|| joined(&turned(table)))
}

fn drawn(table: &Table, gap: u16) -> Drawn {
    let mut drawn = Drawn::new();
    drawn.load_style(comfy_table::presets::NOTHING);
    if has_head(table) {
        let heads = table.columns.iter();
        drawn.set_header(heads.map(|(head, align)| cell(head, *align)));
    }
    for row in &table.rows {
        let cells = row.iter().zip(&table.columns);
        drawn.add_row(cells.map(|(text, (_, align))| cell(text, *align)));
    }
    for (at, column) in drawn.column_iter_mut().enumerate() {
        column.set_padding((0, gap_after(table, at, gap)));
    }
    drawn
}

fn gap_after(table: &Table, at: usize, gap: u16) -> u16 {
    let align = |at: usize| table.columns.get(at).map(|(_, align)| *align);
    match (align(at), align(at + 1)) {
        (Some(Align::Right), Some(Align::Left)) => gap.max(2),
        _ => gap,
    }
}

fn has_head(table: &Table) -> bool {
    table.columns.iter().any(|(head, _)| !head.is_empty())
}

fn cell(text: &str, align: Align) -> Cell {
    Cell::new(with_units_held(&safe(text))).set_alignment(match align {
        Align::Left => CellAlignment::Left,
        Align::Right => CellAlignment::Right,
    })
}

/// Columns that hold names.
const NAMES: [&str; 3] = ["yarn", "pattern", "project"];
/// So many columns a cell may have and is never broken, where there is another way.
const SHORT: usize = 16;

/// With lines broken between the words of long cells, but for names; `None` where that
/// is too wide.
fn names_whole(table: &Table, gap: u16, room: usize) -> Option<String> {
    within(table, gap, room, |head, text| {
        match NAMES.contains(&head) || columns(text) <= SHORT {
            true => columns(text),
            false => widest_part(text),
        }
    })
}

/// With makers cut short before the names of their yarns: `Thrumw., Grundlin DK`;
/// `None` where that does not help.
fn makers_cut(table: &Table, room: usize) -> Option<String> {
    let at = table
        .columns
        .iter()
        .position(|(head, _)| NAMES.contains(&head.as_str()))?;
    let widest = |table: &Table| {
        let cells = table.rows.iter().filter_map(|row| row.get(at));
        cells.map(|cell| columns(&safe(cell))).max()
    };
    let longest = widest(table)?;
    (longest.saturating_sub(SHORT)..longest)
        .rev()
        .find_map(|most| {
            let mut cut = table.clone();
            for cell in cut.rows.iter_mut().filter_map(|row| row.get_mut(at)) {
                *cell = maker_cut(&safe(cell), most);
            }
            let fits = widest(&cut).is_some_and(|widest| widest <= most);
            fits.then(|| head_wrapped(&cut, room)).flatten()
        })
}

/// `maker, name` in at most `most` columns, where three letters of the maker are enough.
fn maker_cut(title: &str, most: usize) -> String {
    let Some((maker, name)) = title.split_once(", ") else {
        return title.to_owned();
    };
    let over = columns(title).saturating_sub(most);
    let left = maker.chars().count().saturating_sub(over + 1);
    if over == 0 || left < 3 {
        return title.to_owned();
    }
    let start: String = maker.chars().take(left).collect();
    format!("{}., {name}", start.trim_end())
}

/// With lines broken between words; `None` where the words alone are too wide.
fn wrapped(table: &Table, gap: u16, room: usize) -> Option<String> {
    within(table, gap, room, |_, text| widest_part(text))
}

fn widest_part(text: &str) -> usize {
    match is_numbers(text) {
        true => columns(text),
        false => text.split(' ').map(columns).max().unwrap_or(0),
    }
}

/// Numbers alone, such as one count a size, stay on one line.
fn is_numbers(text: &str) -> bool {
    text.chars()
        .all(|c| c.is_ascii_digit() || " (),.".contains(c))
}

/// With lines broken in the head alone, the cells close together.
fn head_wrapped(table: &Table, room: usize) -> Option<String> {
    within(table, 1, room, |_, text| columns(text))
}

/// In no more than `room` columns, each as wide as `least` of its cells says and
/// as the words of its head are; `None` where that is too wide.
fn within(
    table: &Table,
    gap: u16,
    room: usize,
    least: impl Fn(&str, &str) -> usize,
) -> Option<String> {
    let mut drawn = drawn(table, gap);
    drawn.set_content_arrangement(ContentArrangement::Dynamic);
    drawn.set_width(u16::try_from(room).ok()?.checked_add(gap)?);
    for (at, column) in drawn.column_iter_mut().enumerate() {
        let head = table.columns.get(at).map_or("", |(head, _)| head);
        let words = with_units_held(&safe(head)).split(' ').map(columns).max();
        let cells = table.rows.iter().filter_map(|row| row.get(at));
        let cells = cells
            .map(|text| least(head, &with_units_held(&safe(text))))
            .max();
        let widest = u16::try_from(words.max(cells).unwrap_or(0)).ok()?;
        let width = Width::Fixed(widest.checked_add(gap_after(table, at, gap))?);
        column.set_constraint(ColumnConstraint::LowerBoundary(width));
    }
    let lines = lines(&drawn);
    is_within(&lines, room).then(|| joined(&lines))
}

/// A table of numbers as two, one below the other, whose rows begin alike; `None`
/// where there is nothing to part, or cells are words.
fn parted(table: &Table, width: usize) -> Option<String> {
    let (first, rest) = table.columns.split_first()?;
    let are_numbers = rest.iter().all(|(_, align)| *align == Align::Right);
    if rest.len() < 4 || !are_numbers {
        return None;
    }
    let half = |columns: std::ops::Range<usize>| {
        let kept = || std::iter::once(0).chain(columns.clone());
        let row = |row: &Vec<String>| kept().filter_map(|at| row.get(at).cloned()).collect();
        let of_rest = table.columns.get(columns.clone()).unwrap_or_default();
        Table {
            columns: std::iter::once(first).chain(of_rest).cloned().collect(),
            rows: table.rows.iter().map(row).collect(),
            ..Table::default()
        }
    };
    let middle = 1 + rest.len().div_ceil(2);
    let halves = [half(1..middle), half(middle..table.columns.len())];
    Some(halves.map(|half| tabulated(&half, width)).join("\n"))
}

/// Each row as a list: what it is of, then a line for each of its other cells.
fn turned(table: &Table) -> Vec<String> {
    table
        .rows
        .iter()
        .flat_map(|row| {
            let pairs = table.columns.iter().zip(row);
            pairs
                .filter(|(_, text)| !text.is_empty())
                .enumerate()
                .map(|(at, ((head, _), text))| {
                    let said = format!("{head} {text}");
                    match at {
                        0 => safe(said.trim()),
                        _ => format!("{INDENT}{}", safe(said.trim())),
                    }
                })
        })
        .collect()
}

fn lines(drawn: &Drawn) -> Vec<String> {
    drawn
        .lines()
        .map(|line| line.trim_end().replace('\u{a0}', " "))
        .collect()
}

fn columns(text: &str) -> usize {
    textwrap::core::display_width(text)
}

fn is_within(lines: &[String], room: usize) -> bool {
    lines.iter().all(|line| columns(line) <= room)
}

fn joined(lines: &[String]) -> String {
    lines
        .iter()
        .map(|line| format!("{INDENT}{line}\n"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn table(cells: &[&str]) -> Table {
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("comes out cm", Align::Right),
            ("knit instead", Align::Left),
        ]);
        table
            .rows
            .push(cells.iter().map(|cell| (*cell).to_owned()).collect());
        table
    }

    #[test]
    fn what_has_room_is_not_wrapped() {
        let text = tabulated(&table(&["S", "7", "M"]), 80);
        assert_eq!(
            text,
            "  size  comes out cm  knit instead\n  S                7  M\n"
        );
    }

    #[test]
    fn what_has_little_room_breaks_between_words_and_never_in_a_number() {
        let text = tabulated(&table(&["S", "12345.6", "M"]), 24);
        assert!(text.lines().all(|line| line.len() <= 24), "{text}");
        assert!(
            text.contains("12345.6") && text.contains("instead"),
            "{text}"
        );
    }

    #[test]
    fn a_name_stays_whole_where_other_words_can_break() {
        let mut table = Table::new(&[("yarn", Align::Left), ("fibre", Align::Left)]);
        let row = ["Quandrow, Knoppard Tweed", "85% wool, 10% viscose"];
        table.rows.push(row.map(str::to_owned).into());
        let text = tabulated(&table, 40);
        assert!(text.contains("Quandrow, Knoppard Tweed  85%"), "{text}");
        assert!(text.lines().all(|line| line.len() <= 40), "{text}");
    }

    #[test]
    fn a_maker_is_cut_before_a_name_is_broken() {
        let mut table = Table::new(&[("yarn", Align::Left), ("verdict", Align::Left)]);
        let row = ["Thrumwick Yard, Grundlin DK", "should work"];
        table.rows.push(row.map(str::to_owned).into());
        let text = tabulated(&table, 34);
        assert!(text.contains("Thrumw., Grundlin DK should work"), "{text}");
        assert_eq!(text.lines().count(), 2, "{text}");
    }

    #[test]
    fn what_has_no_room_becomes_a_list() {
        let text = tabulated(&table(&["S", "12345.6", "M"]), 16);
        assert_eq!(
            text,
            "  size S\n    comes out cm 12345.6\n    knit instead M\n"
        );
    }

    proptest! {
        #[test]
        fn prop_no_word_is_lost_at_any_width(
            cells in proptest::collection::vec("[a-z0-9 ]{0,30}", 3),
            width in 0usize..100,
        ) {
            let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
            let text = tabulated(&table(&cells), width);
            for word in cells.iter().flat_map(|cell| cell.split_whitespace()) {
                prop_assert!(text.contains(word), "{word}: {text}");
            }
        }
    }
}
