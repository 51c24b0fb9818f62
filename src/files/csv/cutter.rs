//! Cuts the bytes of a table into rows of cells, and knows on which line each row
//! stands and what keeps a row from being cut.

use super::{
    columns::Column,
    delimiter::delimiter_name,
    header::{Header, least, read_header},
    lines::{MOST, Watched},
};
use crate::files::{CellError, CellNote, ExchangeError, text::Found};
use std::io::{self, Read};

/// A row whose cells are not yet read.
pub(super) struct Raw {
    pub line: u64,
    pub record: csv::StringRecord,
    /// Why its cells cannot be told apart.
    pub misshapen: Option<CellError>,
}

/// A table that is cut into rows.
pub(super) struct Cutter {
    file: String,
    reader: csv::Reader<Watched>,
    delimiter: u8,
    /// Cells of the header line.
    width: usize,
    /// Bytes that a row may well have.
    room: usize,
}

/// The most bytes for which room is made before a row is read.
const LONG: usize = 512;

impl Cutter {
    pub fn of(file: &str, source: Box<dyn Read>, delimiter: u8) -> Self {
        Self {
            file: file.to_owned(),
            reader: csv::ReaderBuilder::new()
                .delimiter(delimiter)
                .has_headers(false)
                .flexible(true)
                .from_reader(Watched::new(source, delimiter)),
            delimiter,
            width: 0,
            room: 0,
        }
    }

    /// The header line, and what to know about it.
    pub fn header(
        &mut self,
        columns: &'static [Column],
    ) -> Result<(Header, Vec<CellNote>), ExchangeError> {
        let (line, record) = self.next_record()?.ok_or_else(|| ExchangeError::Empty {
            file: self.file.clone(),
            columns: least(columns),
        })?;
        let cells: Vec<String> = record.iter().map(|cell| cell.trim().to_owned()).collect();
        let read = read_header(line, &cells, columns);
        let read = read.map_err(|faults| ExchangeError::Faults {
            file: self.file.clone(),
            faults,
        })?;
        self.width = read.0.width;
        Ok(read)
    }

    /// The next row below the header line, blank ones left out.
    pub fn next_raw(&mut self) -> Result<Option<Raw>, ExchangeError> {
        let Some((line, record)) = self.next_record()? else {
            return Ok(None);
        };
        let end = self.reader.position().byte();
        Ok(Some(Raw {
            line,
            misshapen: self.misshapen(line, &record, end),
            record,
        }))
    }

    /// The next row that is not blank, with its line.
    fn next_record(&mut self) -> Result<Option<(u64, csv::StringRecord)>, ExchangeError> {
        let mut record = csv::ByteRecord::with_capacity(self.room, self.width);
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
                self.room = self.room.max(record.as_slice().len().min(LONG));
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

    fn misshapen(&self, line: u64, record: &csv::StringRecord, end: u64) -> Option<CellError> {
        let fault = |line, why: String, allowed: &str| CellError::new(line, "", "", why, allowed);
        if let Some(line) = self.reader.get_ref().loose_text_before(end) {
            let why = "text follows the double quote that closes a cell".to_owned();
            let allowed = "close the cell behind its text; a double quote that belongs to the text is written twice";
            return Some(fault(line, why, allowed));
        }
        let (given, wanted) = (record.len(), self.width);
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
