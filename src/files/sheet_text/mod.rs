//! A materials sheet that somebody has already written, read line by line: plain
//! text, Markdown, or a table (CSV) with a column of skeins for each size.
//!
//! What is read of a line: quantities with a unit, alone or one a size; pairs of
//! units that state one thing twice; the put-up of a skein. What a line means
//! beyond that is not guessed.

mod rows;
mod stated;

use super::{FileError, text::text_of};
use crate::{label::band::BandReader, measure::Length};
pub use stated::{Stated, StatedKind, UnitPair, unit_pairs};
use std::cell::OnceCell;

/// One line of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetLine {
    /// Its number, from 1.
    pub number: u64,
    /// Its text; cells of a table parted by ` | `.
    pub text: String,
    /// Its cells; one where it is no row of a table.
    pub cells: Vec<String>,
    /// Whether it is the head of a part.
    pub is_heading: bool,
    /// Its quantities, found once: they are asked for several times.
    stated: OnceCell<Vec<Stated>>,
}

impl SheetLine {
    /// A line of these cells.
    pub fn new(number: u64, cells: Vec<String>, is_heading: bool) -> Self {
        Self {
            number,
            text: cells.join(" | "),
            cells,
            is_heading,
            stated: OnceCell::new(),
        }
    }

    /// Quantities with a unit, in the order of the line.
    pub fn stated(&self) -> Vec<Stated> {
        self.stated_once().to_vec()
    }

    fn stated_once(&self) -> &[Stated] {
        self.stated.get_or_init(|| stated::stated(&self.text))
    }

    /// Units that disagree.
    pub fn pairs(&self) -> Vec<UnitPair> {
        stated::pairs_of(&self.text, self.stated_once())
    }

    /// Length of one skein: of the first cell that reads as a put-up with length
    /// and mass, else of any that reads as a length.
    pub fn skein(&self, reader: &mut BandReader) -> Option<Length> {
        let facts = self.cells.iter().map(|cell| reader.read(cell).facts);
        let mut known: Vec<_> = facts.filter(|facts| facts.length.is_some()).collect();
        known.sort_by_key(|facts| facts.mass.is_none());
        known.first().and_then(|facts| facts.skein_length())
    }
}

/// The most bytes of a sheet: one of twenty sizes, ten yarns and forty alternatives
/// has some hundred thousand.
const MOST_BYTES: usize = 2 * 1024 * 1024;

/// The most bytes of one line: a row of twenty sizes in both systems has a thousand.
const MOST_LINE: usize = 16 * 1024;

/// The lines of a sheet that hold anything. `file` is what messages call it.
pub fn read_sheet(file: &str, bytes: &[u8]) -> Result<Vec<SheetLine>, FileError> {
    if bytes.len() > MOST_BYTES {
        return Err(FileError::too_long(file, MOST_BYTES));
    }
    let text = text_of(file, bytes)?;
    let lines = match rows::is_table(text) {
        true => rows::table_lines(file, text)?,
        false => rows::text_lines(text),
    };
    if lines.is_empty() {
        let file = file.to_owned();
        return Err(FileError::NoText { file });
    }
    match lines.iter().find(|line| line.text.len() > MOST_LINE) {
        Some(long) => Err(FileError::LongLine {
            file: file.to_owned(),
            line: long.number,
            most: MOST_LINE,
        }),
        None => Ok(lines),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_longer_than_any_is_refused_with_its_number() {
        let long = "1 ".repeat(MOST_LINE);
        for text in [
            format!("A: 120 m\n\n{long}\n"),
            format!("yarn,skeins M\nA,8\n{long},9\n"),
        ] {
            let error = read_sheet("s.txt", text.as_bytes())
                .unwrap_err()
                .to_string();
            assert!(
                error.starts_with("s.txt, line 3: the line is longer than 16 KiB"),
                "{error}"
            );
        }
    }
}
