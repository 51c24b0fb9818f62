//! Any table as rows of cells, whoever made it: text with cells separated by `,`, `;` or
//! tabs in the usual encodings, or the first sheet of a workbook that holds something, which
//! `workbook_rows` reads. What the cells mean is left to [`super::layout`].

use super::{
    FileError,
    csv::{unguard, write_table},
    text::without_mark,
    workbook_rows::{
        MOST_CELLS, MOST_COLUMNS, TOO_MANY_CELLS, is_workbook_by_start, read_workbook,
    },
};
use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};
use std::{
    borrow::Cow,
    io::{Cursor, Read},
};

/// The most bytes that a table may have: a price list of 50,000 rows has some 10 MiB.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;

/// What separates cells, as spreadsheets write them.
const DELIMITERS: [u8; 3] = [b';', b'\t', b','];

/// Rows by which the separating sign is found.
const LOOKED_AT: usize = 50;

/// One row that is not blank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRow {
    /// The line of the file on which it starts, or the row of the sheet.
    pub line: u64,
    /// Its cells, without the spaces at their ends.
    pub cells: Vec<String>,
}

/// A table as rows of cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// How it was read.
    pub form: SheetForm,
    /// Its rows; those that are blank are left out.
    pub rows: Vec<SheetRow>,
}

/// How a table was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetForm {
    /// As text in an encoding, by its name.
    Text(&'static str),
    /// As a sheet of a workbook.
    Workbook {
        /// The sheet.
        sheet: String,
        /// How many others there are.
        others: usize,
    },
}

/// Reads any table. `file` is what messages call it.
pub fn read_sheet(file: &str, bytes: &[u8]) -> Result<Sheet, FileError> {
    if bytes.len() > MOST_BYTES {
        return Err(FileError::too_long(file, MOST_BYTES));
    }
    let sheet = match is_workbook_by_start(bytes) {
        true => read_workbook(bytes).map_err(|fault| fault.of(file))?,
        false => read_text(file, bytes)?,
    };
    if sheet.rows.is_empty() {
        return Err(FileError::NoRows {
            file: file.to_owned(),
        });
    }
    Ok(sheet)
}

/// A table as text: a workbook as the table on its first sheet, anything else as it is.
pub fn as_text<'s>(
    file: &str,
    mut source: impl Read + 's,
) -> Result<Box<dyn Read + 's>, FileError> {
    let failed = |source| FileError::Read {
        file: file.to_owned(),
        source,
    };
    let mut first = Vec::new();
    let read = source.by_ref().take(4).read_to_end(&mut first);
    read.map_err(failed)?;
    let whole = Cursor::new(first.clone()).chain(source);
    if !first.starts_with(b"PK\x03\x04") {
        return Ok(Box::new(whole));
    }
    let mut bytes = Vec::new();
    let most = u64::try_from(MOST_BYTES).unwrap_or(u64::MAX);
    let read = whole.take(most.saturating_add(1)).read_to_end(&mut bytes);
    read.map_err(failed)?;
    let rows = read_sheet(file, &bytes)?.rows;
    let width = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let mut rows = rows.into_iter().map(|row| {
        let mut cells = row.cells;
        cells.resize(width, String::new());
        cells
    });
    let head = rows.next().unwrap_or_default();
    let mut text = Vec::new();
    write_table(file, &mut text, &head, &rows.collect::<Vec<_>>())?;
    Ok(Box::new(Cursor::new(text)))
}

fn unreadable(file: &str, why: String) -> FileError {
    FileError::Workbook {
        file: file.to_owned(),
        why,
    }
}

fn has_text(row: &SheetRow) -> bool {
    row.cells.iter().any(|cell| !cell.is_empty())
}

fn read_text(file: &str, bytes: &[u8]) -> Result<Sheet, FileError> {
    let (text, encoding) = decoded(bytes);
    if text.contains('\0') {
        return Err(unreadable(
            file,
            "it is no table: a workbook or a text is".into(),
        ));
    }
    let (_, delimiter) = DELIMITERS
        .into_iter()
        .map(|delimiter| (evenness(&text, delimiter), delimiter))
        .max_by_key(|(even, delimiter)| (*even, *delimiter == b';'))
        .unwrap_or((0, b','));
    let mut rows = Vec::new();
    let mut count = 0;
    let mut lines = LineCounter::of(&text);
    let mut reader = reader_of(&text, delimiter);
    let mut record = csv::StringRecord::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => return Err(unreadable(file, error.to_string())),
        }
        let start = record.position().map_or(0, csv::Position::byte);
        let cells = record.iter().take(MOST_COLUMNS);
        count += record.len().min(MOST_COLUMNS);
        if count > MOST_CELLS {
            return Err(FileError::TooMuch {
                file: file.to_owned(),
                limit: TOO_MANY_CELLS,
            });
        }
        rows.push(SheetRow {
            line: lines.line_of(start),
            cells: cells.map(|cell| unguard(cell).to_owned()).collect(),
        });
    }
    rows.retain(has_text);
    let form = SheetForm::Text(encoding.name());
    Ok(Sheet { form, rows })
}

/// UTF-8 where it is that, UTF-16 by its mark or its zeros, else Windows-1252, which gives
/// every byte a letter: the rows are shown before anything is imported.
fn decoded(bytes: &[u8]) -> (Cow<'_, str>, &'static Encoding) {
    let marked = Encoding::for_bom(bytes).map(|(encoding, _)| encoding);
    let zero_at = |place: usize| bytes.get(place) == Some(&0);
    let encoding = match marked {
        Some(encoding) => encoding,
        None if zero_at(1) && zero_at(3) => UTF_16LE,
        None if zero_at(0) && zero_at(2) => UTF_16BE,
        None if std::str::from_utf8(bytes).is_ok() => UTF_8,
        None => WINDOWS_1252,
    };
    let (text, encoding, _) = encoding.decode(without_mark(bytes));
    (text, encoding)
}

fn reader_of(text: &str, delimiter: u8) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes())
}

/// How many of the first rows have the same number of cells, above one, as most have.
fn evenness(text: &str, delimiter: u8) -> usize {
    let rows = reader_of(text, delimiter).into_records().take(LOOKED_AT);
    let widths: Vec<usize> = rows.flatten().map(|row| row.len()).collect();
    let same = |width: usize| widths.iter().filter(|other| **other == width).count();
    let wide = widths.iter().filter(|width| **width > 1);
    wide.map(|width| same(*width)).max().unwrap_or(0)
}

/// Counts line breaks up to a byte, each byte once.
struct LineCounter<'t> {
    bytes: &'t [u8],
    seen: usize,
    line: u64,
}

impl<'t> LineCounter<'t> {
    fn of(text: &'t str) -> Self {
        Self {
            bytes: text.as_bytes(),
            seen: 0,
            line: 1,
        }
    }

    /// The line of a row that starts at `byte` or, behind blank lines, after it. CR LF
    /// counts once.
    fn line_of(&mut self, byte: u64) -> u64 {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        let at = |place: usize| self.bytes.get(place);
        let blank = (byte..).take_while(|place| matches!(at(*place), Some(b'\n' | b'\r')));
        let end = byte.saturating_add(blank.count());
        let ends_line = |place: &usize| match at(*place) {
            Some(b'\n') => true,
            Some(b'\r') => at(place + 1) != Some(&b'\n'),
            _ => false,
        };
        let breaks = (self.seen..end).filter(ends_line).count();
        self.line += u64::try_from(breaks).unwrap_or(u64::MAX);
        self.seen = end;
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(bytes: &[u8]) -> Vec<(u64, Vec<String>)> {
        let sheet = read_sheet("t", bytes).unwrap();
        sheet
            .rows
            .into_iter()
            .map(|row| (row.line, row.cells))
            .collect()
    }

    #[test]
    fn the_sign_that_most_rows_share_separates_cells() {
        let text = "Price list, spring\n\nName;Price\nMoor, aran;6,50\nFen;7,00\n";
        let found = cells(text.as_bytes());
        assert_eq!(found[1], (3, vec!["Name".into(), "Price".into()]));
        assert_eq!(found[2].1, ["Moor, aran", "6,50"]);
    }

    #[test]
    fn lines_are_counted_behind_breaks_within_cells() {
        let found = cells(b"a,b\r\n\"x\r\ny\",1\r\n\r\nc,2\r\n");
        let lines: Vec<u64> = found.iter().map(|(line, _)| *line).collect();
        assert_eq!(lines, [1, 2, 5]);
    }

    #[test]
    fn the_usual_encodings_give_the_same_letters() {
        let text = "Name;Farbe\nWölkchen;grün\n";
        let expected = cells(text.as_bytes());
        let (one_byte, ..) = WINDOWS_1252.encode(text);
        assert_eq!(cells(&one_byte), expected);
        for mark in [true, false] {
            let units = mark
                .then_some(0xFEFF)
                .into_iter()
                .chain(text.encode_utf16());
            let little: Vec<u8> = units.clone().flat_map(u16::to_le_bytes).collect();
            let big: Vec<u8> = units.flat_map(u16::to_be_bytes).collect();
            assert_eq!(cells(&little), expected, "{mark}");
            assert_eq!(cells(&big), expected, "{mark}");
        }
        let marked = [b"\xEF\xBB\xBF", text.as_bytes()].concat();
        assert_eq!(cells(&marked), expected);
    }

    #[test]
    fn what_is_no_table_is_refused() {
        for bytes in [
            &b"PK\x03\x04 no archive"[..],
            b"\xD0\xCF\x11\xE0",
            b"",
            b"\n \n",
            b"\0\x01\0\0\0",
        ] {
            assert!(read_sheet("t", bytes).is_err(), "{bytes:?}");
        }
    }

    proptest::proptest! {
        #[test]
        fn prop_no_bytes_bring_the_reader_down(bytes in proptest::collection::vec(proptest::prelude::any::<u8>(), 0..400)) {
            let _ = read_sheet("t", &bytes);
        }
    }
}
