//! The rows of the first sheet of a workbook that holds something: `.xlsx` and `.xls` by
//! calamine, `.ods` by [`super::ods`]. A file of some KiB can hold endless zeros, two cells
//! at the far ends of a sheet, a text that a million cells share, or a count of texts that
//! are not there, so whatever is gathered is counted before room is made for it.

use super::{
    FileError,
    ods::read_ods,
    sheet::{Sheet, SheetForm, SheetRow},
    workbook::OWN_SHEET,
};
use calamine::{Data, Reader, Xls, Xlsx, XlsxError};
use quick_xml::events::Event;
use std::{
    collections::BTreeMap,
    fmt::Display,
    io::{self, BufReader, Cursor},
};
use zip::ZipArchive;

/// The most bytes that a workbook may have once it is unpacked: 50,000 rows of 20 columns
/// have some 60 MiB.
const MOST_UNPACKED: u64 = 256 * 1024 * 1024;
const TOO_MUCH_UNPACKED: &str = "256 MiB once it is unpacked";

/// The most columns that are looked at.
pub(super) const MOST_COLUMNS: usize = 200;

/// The most cells of a table, with the empty ones before the last of a row.
pub(super) const MOST_CELLS: usize = 4_000_000;
pub(super) const TOO_MANY_CELLS: &str = "4,000,000 cells";

/// The most bytes that the texts of all cells have.
const MOST_TEXT: usize = 128 * 1024 * 1024;
const TOO_MUCH_TEXT: &str = "128 MiB of text";

/// Why a workbook is not read.
#[derive(Debug)]
pub(super) enum WorkbookFault {
    /// It is damaged, locked or empty.
    Unreadable(String),
    /// It holds more than this.
    TooMuch(&'static str),
}

impl WorkbookFault {
    /// What is damaged, as whoever reads it says it.
    pub(super) fn because(why: impl Display) -> Self {
        Self::Unreadable(why.to_string())
    }

    /// The same about a file.
    pub(super) fn of(self, file: &str) -> FileError {
        let file = file.to_owned();
        match self {
            Self::Unreadable(why) => FileError::Workbook { file, why },
            Self::TooMuch(limit) => FileError::TooMuch { file, limit },
        }
    }
}

/// Whether bytes begin as a workbook does: an archive, or the older kind of a whole.
pub(super) fn is_workbook_by_start(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(OLD)
}

const OLD: &[u8] = b"\xD0\xCF\x11\xE0";

/// Reads the first sheet that holds something.
pub(super) fn read_workbook(bytes: &[u8]) -> Result<Sheet, WorkbookFault> {
    if bytes.starts_with(OLD) {
        return read_xls(bytes);
    }
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(WorkbookFault::because)?;
    unpacked_within(&mut archive)?;
    match archive.index_for_name("content.xml") {
        Some(_) => read_ods(&mut archive),
        None => {
            strings_within(&mut archive)?;
            read_xlsx(bytes)
        }
    }
}

/// An archive of workbooks.
pub(super) type Archive<'b> = ZipArchive<Cursor<&'b [u8]>>;

/// A small archive can hold endless zeros: it is asked what it holds, and, since it may
/// lie, what comes out of it is counted.
fn unpacked_within(archive: &mut Archive<'_>) -> Result<(), WorkbookFault> {
    let stated = archive.decompressed_size();
    if stated.is_some_and(|size| size > u128::from(MOST_UNPACKED)) {
        return Err(WorkbookFault::TooMuch(TOO_MUCH_UNPACKED));
    }
    let mut left = MOST_UNPACKED;
    for place in 0..archive.len() {
        let entry = archive.by_index(place).map_err(WorkbookFault::because)?;
        let copied = io::copy(&mut io::Read::take(entry, left + 1), &mut io::sink());
        let copied = copied.map_err(WorkbookFault::because)?;
        let rest = left.checked_sub(copied);
        left = rest.ok_or(WorkbookFault::TooMuch(TOO_MUCH_UNPACKED))?;
    }
    Ok(())
}

/// The texts of a workbook say how many they are, and calamine makes room for as many.
fn strings_within(archive: &mut Archive<'_>) -> Result<(), WorkbookFault> {
    let names = archive.file_names().flatten();
    let is_strings = |name: &String| name.to_lowercase().ends_with("sharedstrings.xml");
    let names: Vec<String> = names.map(Into::into).filter(is_strings).collect();
    for name in names {
        let entry = archive.by_name(&name).map_err(WorkbookFault::because)?;
        if claimed_strings(BufReader::new(entry))? > MOST_CELLS {
            return Err(WorkbookFault::TooMuch(TOO_MANY_CELLS));
        }
    }
    Ok(())
}

/// How many texts a list of texts says that it holds; none where it does not say so.
fn claimed_strings(text: impl io::BufRead) -> Result<usize, WorkbookFault> {
    let mut reader = quick_xml::Reader::from_reader(text);
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        let event = reader.read_event_into(&mut buffer);
        match event.map_err(WorkbookFault::because)? {
            Event::Start(start) | Event::Empty(start) if start.local_name().as_ref() == "sst" => {
                let count = start.try_get_attribute("uniqueCount");
                let count = count.map_err(WorkbookFault::because)?;
                let count = count.map(|count| count.value.trim().parse());
                // A number that is too long for a count is refused as one that is too large.
                return Ok(count.map_or(0, |count| count.unwrap_or(usize::MAX)));
            }
            Event::Eof => return Ok(0),
            _ => {}
        }
    }
}

fn read_xlsx(bytes: &[u8]) -> Result<Sheet, WorkbookFault> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(WorkbookFault::because)?;
    first_filled(book.sheet_names(), |name, _| {
        let mut gathered = Gathered {
            is_exact: name == OWN_SHEET,
            ..Gathered::default()
        };
        let mut cells = match book.worksheet_cells_reader(name) {
            Err(XlsxError::NotAWorksheet(_)) => return Ok(gathered),
            cells => cells.map_err(WorkbookFault::because)?,
        };
        while let Some(cell) = cells.next_cell().map_err(WorkbookFault::because)? {
            let value = Data::from(cell.get_value().clone());
            gathered.put(cell.get_position(), &cell_text(&value))?;
        }
        Ok(gathered)
    })
}

fn read_xls(bytes: &[u8]) -> Result<Sheet, WorkbookFault> {
    let mut book: Xls<_> = Xls::new(Cursor::new(bytes)).map_err(WorkbookFault::because)?;
    first_filled(book.sheet_names(), |_, place| {
        let mut gathered = Gathered::default();
        let Some(range) = book.worksheet_range_at(place) else {
            return Ok(gathered);
        };
        let range = range.map_err(WorkbookFault::because)?;
        let rows = range.start().map_or(0, |(row, _)| row)..;
        for (row, cells) in rows.zip(range.rows()) {
            for (column, cell) in (0..).zip(cells) {
                gathered.put((row, column), &cell_text(cell))?;
            }
        }
        Ok(gathered)
    })
}

/// The first of these sheets that holds something.
fn first_filled(
    names: Vec<String>,
    mut read: impl FnMut(&str, usize) -> Result<Gathered, WorkbookFault>,
) -> Result<Sheet, WorkbookFault> {
    let others = names.len().saturating_sub(1);
    for (place, sheet) in names.into_iter().enumerate() {
        let rows = read(&sheet, place)?.into_rows();
        if !rows.is_empty() {
            let form = SheetForm::Workbook { sheet, others };
            return Ok(Sheet { form, rows });
        }
    }
    Err(WorkbookFault::because(NOTHING))
}

/// Said of a workbook that is empty.
pub(super) const NOTHING: &str = "no sheet of this workbook holds anything";

/// A cell as people see it; a whole number has no `.0`, as an article number must not.
fn cell_text(cell: &Data) -> String {
    match cell {
        Data::Float(number) => number.to_string(),
        Data::DateTime(when) => when.to_string(),
        Data::Error(_) | Data::Empty => String::new(),
        other => other.to_string(),
    }
}

/// The cells of a sheet that hold something, in whatever order they come.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    rows: BTreeMap<u32, Vec<String>>,
    cells: usize,
    text: usize,
    /// Whether spaces at the ends of a cell are part of its text, as in a workbook that was
    /// written here.
    is_exact: bool,
}

impl Gathered {
    /// Puts a text into a row and a column, both from 0; whether that column is looked at.
    /// What is blank is nothing.
    pub(super) fn put(
        &mut self,
        (row, column): (u32, u32),
        text: &str,
    ) -> Result<bool, WorkbookFault> {
        let text = match self.is_exact {
            true => text,
            false => text.trim(),
        };
        let column = usize::try_from(column).unwrap_or(MOST_COLUMNS);
        let is_looked_at = column < MOST_COLUMNS;
        if text.is_empty() || !is_looked_at {
            return Ok(is_looked_at);
        }
        self.text += text.len();
        if self.text > MOST_TEXT {
            return Err(WorkbookFault::TooMuch(TOO_MUCH_TEXT));
        }
        let cells = self.rows.entry(row).or_default();
        if cells.len() <= column {
            self.cells += column + 1 - cells.len();
            cells.resize(column + 1, String::new());
        }
        if self.cells > MOST_CELLS {
            return Err(WorkbookFault::TooMuch(TOO_MANY_CELLS));
        }
        if let Some(cell) = cells.get_mut(column) {
            text.clone_into(cell);
        }
        Ok(true)
    }

    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The rows in the order of the sheet, each with its number from 1.
    pub(super) fn into_rows(self) -> Vec<SheetRow> {
        let rows = self.rows.into_iter();
        let rows = rows.map(|(row, cells)| SheetRow {
            line: u64::from(row) + 1,
            cells,
        });
        rows.collect()
    }
}
