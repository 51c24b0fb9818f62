//! Lines of text, rows of Markdown and of CSV, each as one line of a sheet.

use super::SheetLine;
use crate::{
    files::{
        FileError,
        csv::{RowReader, unguard},
    },
    label::token::is_skein_word,
    measure::units::unit,
    words::fold,
};

/// What the head of a column of counts begins with.
const COUNTS: &str = "skeins ";

/// Whether the first line names columns, one of them counts of a size.
pub(super) fn is_table(text: &str) -> bool {
    let first = text.lines().find(|line| !line.trim().is_empty());
    first.is_some_and(|line| {
        line.split(',').any(|head| head.trim().starts_with(COUNTS)) && !line.contains('|')
    })
}

/// The rows of a table; counts of the sizes as one list, as patterns write it.
/// `file` is what messages call it.
pub(super) fn table_lines(file: &str, text: &str) -> Result<Vec<SheetLine>, FileError> {
    let is_counts = |head: &str| head.starts_with(COUNTS);
    let source = Box::new(text.as_bytes());
    let mut reader = RowReader::open(file, source, Box::new(|_| ()), is_counts)?;
    reader.advance()?;
    let heads: Vec<String> = reader.cells().iter().map(str::to_owned).collect();
    let mut lines = Vec::new();
    while let Some(place) = reader.advance()? {
        lines.push(line_of_row(&heads, reader.cells(), place.line));
    }
    Ok(lines)
}

fn line_of_row(heads: &[String], row: &csv::StringRecord, number: u64) -> SheetLine {
    let cells = || {
        heads
            .iter()
            .zip(row)
            .map(|(head, cell)| (head, unguard(cell)))
    };
    let counts: Vec<&str> = cells()
        .filter(|(head, _)| head.starts_with(COUNTS))
        .map(|(_, cell)| cell)
        .filter(|cell| !cell.is_empty())
        .collect();
    let mut told: Vec<String> = cells()
        .filter(|(head, _)| !head.starts_with(COUNTS))
        .map(|(_, cell)| cell.to_owned())
        .collect();
    let listed = listed_with(&counts, "skeins");
    told.extend((!listed.is_empty()).then_some(listed));
    SheetLine::new(number, told, false)
}

/// `8 (9, 10) skeins`.
fn listed_with(counts: &[&str], unit: &str) -> String {
    match counts.split_first() {
        None => String::new(),
        Some((first, [])) => format!("{first} {unit}"),
        Some((first, rest)) => format!("{first} ({}) {unit}", rest.join(", ")),
    }
}

/// The lines of a text; rows of Markdown tables know the heads of their columns.
pub(super) fn text_lines(text: &str) -> Vec<SheetLine> {
    let mut heads: Vec<String> = Vec::new();
    let mut lines = Vec::new();
    let mut sizes: Option<SizeRows> = None;
    let mut is_drawn = false;
    for (number, line) in (1u64..).zip(text.lines()) {
        let line = line.trim();
        if !line.starts_with('|') {
            heads.clear();
            lines.extend(sizes.take().into_iter().flat_map(SizeRows::lines));
        }
        is_drawn = !line.is_empty() && (is_drawn || is_drawn_table(line));
        if line.is_empty() || is_rule(line) || is_drawn {
            continue;
        }
        let cells = cells_of(line);
        let is_head = line.starts_with('|') && heads.is_empty();
        if is_head {
            heads.clone_from(&cells);
            sizes = SizeRows::below(number, &heads);
            continue;
        }
        if let Some(sizes) = &mut sizes {
            sizes.rows.push(cells);
            continue;
        }
        let cells: Vec<String> = cells
            .iter()
            .enumerate()
            .map(|(place, cell)| with_unit(heads.get(place), cell))
            .collect();
        lines.push(SheetLine::new(number, cells, line.starts_with('#')));
    }
    lines.extend(sizes.into_iter().flat_map(SizeRows::lines));
    lines
}

/// Whether a table of sizes begins that is drawn for a terminal: its heads are broken
/// over several lines, so nobody can tell what its numbers are of.
fn is_drawn_table(line: &str) -> bool {
    line.starts_with("size ") && line.contains(" needed ")
}

/// A table with a row for each size: each of its columns is read as one line, which
/// has the number of its head.
struct SizeRows {
    number: u64,
    heads: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl SizeRows {
    /// One where the first column is of sizes.
    fn below(number: u64, heads: &[String]) -> Option<Self> {
        let first = fold(heads.first()?);
        ["size", "sizes"].contains(&first.as_str()).then(|| Self {
            number,
            heads: heads.to_vec(),
            rows: Vec::new(),
        })
    }

    /// What is needed, in both units; then the counts of each yarn, whose head says
    /// how long one is.
    fn lines(self) -> Vec<SheetLine> {
        let columns = self.heads.iter().enumerate().skip(1);
        let (needs, counts): (Vec<_>, Vec<_>) =
            columns.partition(|(_, head)| unit_of(head).is_some());
        let needs = needs
            .into_iter()
            .filter_map(|(at, head)| Some(listed_with(&self.values(at), unit_of(head)?)));
        let needs: Vec<String> = needs.collect();
        let counts = counts.into_iter().map(|(at, head)| {
            let listed = listed_with(&self.values(at), "skeins");
            SheetLine::new(self.number, vec![head.clone(), listed], false)
        });
        let needs = (!needs.is_empty()).then(|| SheetLine::new(self.number, needs, false));
        needs.into_iter().chain(counts).collect()
    }

    fn values(&self, at: usize) -> Vec<&str> {
        let cells = self.rows.iter().filter_map(|row| row.get(at));
        cells
            .map(String::as_str)
            .filter(|cell| !cell.is_empty())
            .collect()
    }
}

/// The unit at the end of a head: `needed m`.
fn unit_of(head: &str) -> Option<&str> {
    let last = head.split_whitespace().next_back()?;
    let is_unit = last.chars().all(char::is_alphabetic) && unit(&fold(last)).is_some();
    is_unit.then_some(last)
}

/// `|:--|--:|`, the rule under the head of a Markdown table.
fn is_rule(line: &str) -> bool {
    line.starts_with('|') && line.chars().all(|c| matches!(c, '|' | ':' | '-' | ' '))
}

/// Cells of a row of Markdown, without its `\\` before a sign, else the line itself.
fn cells_of(line: &str) -> Vec<String> {
    let inner = line
        .strip_prefix('|')
        .map(|row| row.strip_suffix('|').unwrap_or(row));
    match inner {
        Some(row) => split_at_bars(row),
        None => columns_of(line),
    }
}

/// Cells between bars; a bar with a `\\` before it belongs to its cell.
fn split_at_bars(row: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut escaped = false;
    for c in row.chars() {
        match (c, escaped, cells.last_mut()) {
            ('|', false, _) => cells.push(String::new()),
            (_, _, Some(cell)) => cell.push(c),
            (_, _, None) => {}
        }
        escaped = c == '\\' && !escaped;
    }
    cells.iter().map(|cell| plain(cell.trim())).collect()
}

/// Columns that stand two spaces or more apart, as in a table of plain text.
fn columns_of(line: &str) -> Vec<String> {
    let parts = line.split("  ").map(str::trim);
    parts.filter(|part| !part.is_empty()).map(plain).collect()
}

fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut escaped = false;
    for c in text.chars() {
        match (c, escaped) {
            ('\\', false) => escaped = true,
            (c, _) => {
                escaped = false;
                out.push(c);
            }
        }
    }
    out.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

/// A cell of bare numbers, with the unit that its column names.
fn with_unit(head: Option<&String>, cell: &str) -> String {
    let head = head.map_or_else(String::new, |head| fold(head));
    let bare = !cell.is_empty() && !cell.chars().any(char::is_alphabetic);
    let list = cell.contains('(');
    if bare && list && (is_skein_word(&head) || unit(&head).is_some()) {
        format!("{cell} {head}")
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_of_a_table_know_their_lines_and_counts() {
        let text = "yarn,put-up,skeins S,skeins M\r\nA,\"120 m, 50 g\",8,9\r\n\r\nB,x,1,2\r\n";
        assert!(is_table(text));
        let lines = table_lines("s.csv", text).unwrap();
        assert_eq!(lines[0].text, "A | 120 m, 50 g | 8 (9) skeins");
        assert_eq!((lines[0].number, lines[1].number), (2, 4));
    }

    #[test]
    fn a_table_with_a_row_for_each_size_is_read_by_its_columns() {
        let text = "| size | needed m | yd | Dune, 120 m (131 yd) |\n| :-- | --: | --: | --: |\n| S | 960 | 1050 | 9 |\n| M | 1080 | 1181 | 10 |\n";
        let lines: Vec<String> = text_lines(text).into_iter().map(|line| line.text).collect();
        assert_eq!(
            lines,
            [
                "960 (1080) m | 1050 (1181) yd",
                "Dune, 120 m (131 yd) | 9 (10) skeins"
            ]
        );
    }

    #[test]
    fn markdown_cells_take_the_unit_of_their_column() {
        let text =
            "# x\n\n| yarn | m | skeins |\n| :-- | --: | :-- |\n| A \\| b | 960 (1080) | 8 (9) |\n";
        let lines = text_lines(text);
        assert_eq!(lines[1].number, 5);
        assert!(lines[1].text.ends_with("960 (1080) m | 8 (9) skeins"));
        assert!(lines[0].is_heading);
    }
}
