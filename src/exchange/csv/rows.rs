//! The rows of a table, one after the other, in flat memory.

use super::{
    columns::Column,
    delimiter::{delimiter_name, delimiter_of},
    header::{Header, least, read_header},
    lines::{MOST, Watched},
    row::Cells,
};
use crate::exchange::{
    CellError, CellNote, ExchangeError,
    text::{Found, given_away, without_mark},
};
use std::io::{self, Cursor, Read};

/// One row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row<T> {
    /// The line on which it starts, as an editor shows it.
    pub line: u64,
    /// The record, or every bad cell of the row.
    pub record: Result<T, Vec<CellError>>,
    /// What to know about it.
    pub warnings: Vec<CellNote>,
}

/// What one kind of table asks for, and how a row of it is read.
pub(super) struct Sheet<T> {
    /// Its columns.
    pub columns: &'static [Column],
    /// Reads one row; what is wrong is left with the cells.
    pub read: fn(&mut Cells<'_>) -> Option<T>,
}

/// The rows of a table. A row that is bad is given as such and reading goes on;
/// an error ends it.
pub struct Rows<'a, T> {
    file: String,
    reader: csv::Reader<Watched<'a>>,
    header: Header,
    notes: Vec<CellNote>,
    read: fn(&mut Cells<'_>) -> Option<T>,
    delimiter: u8,
    done: bool,
}

/// The most bytes in which the header line is looked for.
const HEAD: u64 = 64 * 1024;

impl<'a, T> Rows<'a, T> {
    /// Opens a table: finds its delimiter and reads its header line.
    pub(super) fn open(
        file: &str,
        mut source: Box<dyn Read + 'a>,
        progress: Box<dyn FnMut(u64) + 'a>,
        sheet: &Sheet<T>,
    ) -> Result<Self, ExchangeError> {
        let head = head_of(file, &mut source)?;
        let line = first_line(&head);
        let delimiter = delimiter_of(&String::from_utf8_lossy(line), sheet.columns);
        let source = Box::new(Cursor::new(head).chain(source));
        let mut rows = Self {
            file: file.to_owned(),
            reader: csv::ReaderBuilder::new()
                .delimiter(delimiter)
                .has_headers(false)
                .flexible(true)
                .from_reader(Watched::new(source, delimiter, progress)),
            header: Header {
                width: 0,
                places: Vec::new(),
            },
            notes: Vec::new(),
            read: sheet.read,
            delimiter,
            done: false,
        };
        rows.take_header(sheet.columns)?;
        Ok(rows)
    }

    fn take_header(&mut self, columns: &'static [Column]) -> Result<(), ExchangeError> {
        let (line, record) = self.next_record()?.ok_or_else(|| ExchangeError::Empty {
            file: self.file.clone(),
            columns: least(columns),
        })?;
        let cells: Vec<String> = record.iter().map(|cell| cell.trim().to_owned()).collect();
        let read = read_header(line, &cells, columns);
        (self.header, self.notes) = read.map_err(|faults| ExchangeError::Faults {
            file: self.file.clone(),
            faults,
        })?;
        Ok(())
    }

    /// What to know about the header line: columns that are not read.
    pub fn warnings(&self) -> &[CellNote] {
        &self.notes
    }

    /// Bytes read so far.
    pub fn bytes(&self) -> u64 {
        self.reader.get_ref().bytes()
    }

    /// The next row that is not blank, with its line.
    fn next_record(&mut self) -> Result<Option<(u64, csv::StringRecord)>, ExchangeError> {
        let mut record = csv::ByteRecord::new();
        loop {
            let start = self.reader.position().byte();
            let more = self.reader.read_byte_record(&mut record);
            let line = self.reader.get_mut().line_of_row(start);
            let more = more.map_err(|error| self.failed(error, line))?;
            let end = self.reader.position().byte();
            if let Some(line) = self.reader.get_ref().open_quote_before(end) {
                return Err(self.open_quote(line));
            }
            if !more {
                return Ok(None);
            }
            if record.iter().any(|cell| !cell.trim_ascii().is_empty()) {
                return self.text_of(line, record).map(Some);
            }
        }
    }

    fn text_of(
        &self,
        line: u64,
        record: csv::ByteRecord,
    ) -> Result<(u64, csv::StringRecord), ExchangeError> {
        let refused = |found| ExchangeError::NotText {
            file: self.file.clone(),
            line: Some(line),
            found,
        };
        if record.as_slice().contains(&0) {
            return Err(refused(Found::Binary));
        }
        let text = csv::StringRecord::from_byte_record(record);
        text.map(|record| (line, record))
            .map_err(|_| refused(Found::OneByteLetters))
    }

    fn open_quote(&self, line: u64) -> ExchangeError {
        ExchangeError::OpenQuote {
            file: self.file.clone(),
            line,
            most: MOST,
        }
    }

    fn failed(&self, error: csv::Error, line: u64) -> ExchangeError {
        let watched = self.reader.get_ref();
        let file = self.file.clone();
        match watched.open_quote_before(u64::MAX) {
            Some(line) if watched.too_long() => self.open_quote(line),
            None if watched.too_long() => ExchangeError::LongRow {
                file,
                line,
                most: MOST,
            },
            _ => ExchangeError::Read {
                file,
                source: io::Error::from(error),
            },
        }
    }

    fn row(&self, line: u64, record: &csv::StringRecord) -> Row<T> {
        let end = self.reader.position().byte();
        if let Some(fault) = self.misshapen(line, record, end) {
            return Row {
                line,
                record: Err(vec![fault]),
                warnings: Vec::new(),
            };
        }
        let mut cells = Cells::new(line, &self.header, record);
        let read = (self.read)(&mut cells);
        let record = match read {
            Some(read) if cells.errors.is_empty() => Ok(read),
            _ => Err(cells.errors),
        };
        Row {
            line,
            record,
            warnings: cells.notes,
        }
    }

    fn misshapen(&self, line: u64, record: &csv::StringRecord, end: u64) -> Option<CellError> {
        let fault = |line, why: String, allowed: &str| CellError::new(line, "", "", why, allowed);
        if let Some(line) = self.reader.get_ref().loose_text_before(end) {
            let why = "text follows the double quote that closes a cell".to_owned();
            let allowed = "close the cell behind its text; a double quote that belongs to the text is written twice";
            return Some(fault(line, why, allowed));
        }
        let (given, wanted) = (record.len(), self.header.width);
        let allowed = format!(
            "cells are parted by {}, as in the header line: text that holds it, or a line break, stands in double quotes",
            delimiter_name(self.delimiter)
        );
        (given != wanted).then(|| {
            let why = format!("the row has {given} cells, the header line has {wanted}");
            fault(line, why, &allowed)
        })
    }
}

impl<T> Iterator for Rows<'_, T> {
    type Item = Result<Row<T>, ExchangeError>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.done {
            return None;
        }
        match self.next_record() {
            Ok(Some((line, record))) => Some(Ok(self.row(line, &record))),
            Ok(None) => {
                self.done = true;
                None
            }
            Err(error) => {
                self.done = true;
                Some(Err(error))
            }
        }
    }
}

/// The start of a file, without the UTF-8 mark.
fn head_of(file: &str, source: &mut impl Read) -> Result<Vec<u8>, ExchangeError> {
    let mut head = Vec::new();
    let read = source.take(HEAD).read_to_end(&mut head);
    read.map_err(|source| ExchangeError::Read {
        file: file.to_owned(),
        source,
    })?;
    match given_away(&head) {
        Some(found) => Err(ExchangeError::NotText {
            file: file.to_owned(),
            line: None,
            found,
        }),
        None => Ok(without_mark(&head).to_vec()),
    }
}

/// The first line that is not blank.
fn first_line(head: &[u8]) -> &[u8] {
    let mut lines = head.split(|byte| matches!(byte, b'\r' | b'\n'));
    lines
        .find(|line| !line.trim_ascii().is_empty())
        .unwrap_or_default()
}
