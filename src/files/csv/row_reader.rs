//! Bytes into rows of cells: tells on which line each row stands, and stops where
//! the bytes are no table. The csv crate finds the cells; its own line numbers are
//! too low in files with CR LF and after blank lines, so lines are counted here, in
//! the bytes of each row.

use super::header::delimiter_of;
use crate::files::{
    FileError,
    text::{FileKind, kind_by_start, without_mark},
};
use std::io::{self, Chain, Cursor, Read};

/// The most bytes that one row may have.
const MOST: u64 = 1 << 20;

/// The most bytes in which the header line is looked for.
const HEAD: u64 = 64 * 1024;

/// Bytes that are read at a time.
const BLOCK: usize = 64 * 1024;

/// Where a row stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::files) struct RowPlace {
    /// The line on which it starts.
    pub line: u64,
    /// The line on which text follows a closing double quote, if any does.
    pub loose_text: Option<u64>,
}

/// A table, row by row, in memory of one row and one block.
pub(in crate::files) struct RowReader<'a> {
    file: String,
    reader: csv::Reader<Window<'a>>,
    delimiter: u8,
    record: csv::StringRecord,
    /// The line that the next byte stands on.
    line: u64,
    /// The byte before it.
    previous: u8,
}

impl<'a> RowReader<'a> {
    /// Looks at the start of a table. `is_column` says which texts name a column,
    /// by which the delimiter is found; `progress` gets the bytes read so far.
    pub fn open(
        file: &str,
        mut source: Box<dyn Read + 'a>,
        progress: Box<dyn FnMut(u64) + 'a>,
        is_column: impl Fn(&str) -> bool,
    ) -> Result<Self, FileError> {
        let mut head = Vec::new();
        let read = (&mut source).take(HEAD).read_to_end(&mut head);
        read.map_err(|source| failed(file, source))?;
        if let Some(found) = kind_by_start(&head) {
            return Err(not_text(file, None, found));
        }
        let head = without_mark(&head).to_vec();
        let delimiter = delimiter_of(&String::from_utf8_lossy(first_line(&head)), is_column);
        let window = Window::new(Cursor::new(head).chain(source), progress);
        Ok(Self {
            file: file.to_owned(),
            reader: csv::ReaderBuilder::new()
                .delimiter(delimiter)
                .has_headers(false)
                .flexible(true)
                .buffer_capacity(BLOCK)
                .from_reader(window),
            delimiter,
            record: csv::StringRecord::new(),
            line: 1,
            previous: 0,
        })
    }

    /// What separates the cells.
    pub fn delimiter(&self) -> u8 {
        self.delimiter
    }

    /// The cells of the row that was read last.
    pub fn cells(&self) -> &csv::StringRecord {
        &self.record
    }

    /// Reads the next row that is not blank; `None` at the end.
    pub fn advance(&mut self) -> Result<Option<RowPlace>, FileError> {
        loop {
            let start = self.reader.position().byte();
            self.reader.get_mut().row_start = start;
            let read = match self.reader.read_record(&mut self.record) {
                Err(error) if self.is_of_source(&error) => {
                    return Err(failed(&self.file, error.into()));
                }
                read => read,
            };
            let place = self.place(start)?;
            match read {
                Err(_) => return Err(self.refusal(place.line)),
                Ok(false) => return Ok(None),
                Ok(true) if self.record.as_slice().contains('\0') => {
                    return Err(not_text(&self.file, Some(place.line), FileKind::Binary));
                }
                Ok(true) if self.record.as_slice().trim().is_empty() => {}
                Ok(true) => return Ok(Some(place)),
            }
        }
    }

    /// The place of the row that starts with the byte `start`, blank lines before it
    /// left out; an error where a double quote in it is still open.
    fn place(&mut self, start: u64) -> Result<RowPlace, FileError> {
        let window = self.reader.get_ref();
        let row = window.bytes_between(start, self.reader.position().byte());
        let line_of = |byte: usize| {
            let before = row.get(..byte).unwrap_or(row);
            self.line + line_breaks(before, self.previous)
        };
        let blank = row.iter().take_while(|byte| is_break(**byte)).count();
        let line = line_of(blank);
        let quotes = row.contains(&b'"').then(|| quotes(row, self.delimiter));
        let quotes = quotes.unwrap_or(Quotes::default());
        if let Some(open) = quotes.open {
            return Err(FileError::OpenQuote {
                file: self.file.clone(),
                line: line_of(open),
                most: MOST,
            });
        }
        let loose_text = quotes.loose_text.map(line_of);
        let next = line_of(row.len());
        self.previous = row.last().copied().unwrap_or(self.previous);
        self.line = next;
        Ok(RowPlace { line, loose_text })
    }

    /// Whether the source cannot be read, rather than what it holds.
    fn is_of_source(&self, error: &csv::Error) -> bool {
        matches!(error.kind(), csv::ErrorKind::Io(_)) && !self.reader.get_ref().too_long
    }

    /// Why the row that starts on `line` is none: too long, else no text.
    fn refusal(&self, line: u64) -> FileError {
        if self.reader.get_ref().too_long {
            FileError::LongRow {
                file: self.file.clone(),
                line,
                most: MOST,
            }
        } else {
            not_text(&self.file, Some(line), FileKind::OneByteLetters)
        }
    }
}

fn failed(file: &str, source: io::Error) -> FileError {
    FileError::Read {
        file: file.to_owned(),
        source,
    }
}

fn not_text(file: &str, line: Option<u64>, found: FileKind) -> FileError {
    FileError::NotText {
        file: file.to_owned(),
        line,
        found,
    }
}

fn is_break(byte: u8) -> bool {
    matches!(byte, b'\r' | b'\n')
}

/// The first line that is not blank.
fn first_line(head: &[u8]) -> &[u8] {
    let mut lines = head.split(|byte| is_break(*byte));
    lines
        .find(|line| !line.trim_ascii().is_empty())
        .unwrap_or(&[])
}

/// Line breaks in `bytes`, which follow the byte `previous`; CR LF is one.
fn line_breaks(bytes: &[u8], mut previous: u8) -> u64 {
    bytes.iter().fold(0, |breaks, byte| {
        let is_new = *byte == b'\r' || *byte == b'\n' && previous != b'\r';
        previous = *byte;
        breaks + u64::from(is_new)
    })
}

/// What is wrong with the double quotes of a row: bytes of it.
#[derive(Debug, Default, PartialEq, Eq)]
struct Quotes {
    /// The quote that is never closed.
    open: Option<usize>,
    /// The first text that follows a closing quote.
    loose_text: Option<usize>,
}

/// Looks through the double quotes of a row: one opens at the start of a cell, two
/// within such a cell are one that belongs to the text (RFC 4180, section 2).
fn quotes(row: &[u8], delimiter: u8) -> Quotes {
    #[derive(Clone, Copy)]
    enum State {
        CellStart,
        Plain,
        Quoted { from: usize },
        Closed { from: usize },
    }
    let mut state = State::CellStart;
    let mut loose_text = None;
    for (at, byte) in row.iter().enumerate() {
        state = match (state, *byte) {
            (State::Quoted { from }, b'"') => State::Closed { from },
            (State::Quoted { .. }, _) => state,
            (State::Closed { from }, b'"') => State::Quoted { from },
            (State::CellStart, b'"') => State::Quoted { from: at },
            (_, byte) if byte == delimiter || is_break(byte) => State::CellStart,
            (State::Closed { .. }, b' ') => state,
            (State::Closed { .. }, _) => {
                loose_text.get_or_insert(at);
                State::Plain
            }
            _ => State::Plain,
        };
    }
    let open = match state {
        State::Quoted { from } => Some(from),
        _ => None,
    };
    Quotes { open, loose_text }
}

/// A source of bytes that keeps those of the row that is being read, up to [`MOST`].
struct Window<'a> {
    source: Chain<Cursor<Vec<u8>>, Box<dyn Read + 'a>>,
    progress: Box<dyn FnMut(u64) + 'a>,
    /// The bytes in memory, and which byte of the file is the first of them.
    kept: Vec<u8>,
    kept_from: u64,
    /// The byte at which the row starts.
    row_start: u64,
    too_long: bool,
}

impl<'a> Window<'a> {
    fn new(
        source: Chain<Cursor<Vec<u8>>, Box<dyn Read + 'a>>,
        progress: Box<dyn FnMut(u64) + 'a>,
    ) -> Self {
        Self {
            source,
            progress,
            kept: Vec::new(),
            kept_from: 0,
            row_start: 0,
            too_long: false,
        }
    }

    /// Bytes of the file that are still kept.
    fn bytes_between(&self, from: u64, to: u64) -> &[u8] {
        let place = |byte: u64| usize::try_from(byte - self.kept_from).unwrap_or(usize::MAX);
        self.kept.get(place(from)..place(to)).unwrap_or(&[])
    }
}

impl Read for Window<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let before = usize::try_from(self.row_start - self.kept_from).unwrap_or(usize::MAX);
        self.kept.drain(..before.min(self.kept.len()));
        self.kept_from = self.row_start;
        if u64::try_from(self.kept.len()).is_ok_and(|kept| kept > MOST) {
            self.too_long = true;
            return Err(io::Error::other("a row does not end"));
        }
        let given = self.source.read(buffer)?;
        self.kept
            .extend_from_slice(buffer.get(..given).unwrap_or(&[]));
        let kept = u64::try_from(self.kept.len()).unwrap_or(u64::MAX);
        (self.progress)(self.kept_from.saturating_add(kept));
        Ok(given)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reader<'a>(source: impl Read + 'a) -> RowReader<'a> {
        RowReader::open("s.csv", Box::new(source), Box::new(|_| ()), |_| false).unwrap()
    }

    fn lines(text: &str) -> Vec<u64> {
        let mut reader = reader(text.as_bytes());
        std::iter::from_fn(|| reader.advance().unwrap())
            .map(|place| place.line)
            .collect()
    }

    #[test]
    fn every_kind_of_line_break_counts_once() {
        for text in ["a\nb\nc", "a\r\nb\r\nc", "a\rb\rc"] {
            assert_eq!(lines(text), [1, 2, 3], "{text:?}");
        }
    }

    #[test]
    fn a_row_is_found_behind_blank_lines() {
        assert_eq!(lines("a\r\n\r\n\nb\n"), [1, 4]);
        assert_eq!(lines("\r\n  \na\r\r\nb"), [3, 5]);
    }

    #[test]
    fn an_open_quote_is_known_with_its_place() {
        assert_eq!(quotes(b"a,\"b\nc\n", b',').open, Some(2));
        assert_eq!(quotes(b"\"b \"\" c\"\n", b','), Quotes::default());
    }

    #[test]
    fn text_behind_a_closing_quote_is_noticed_and_a_space_is_not() {
        assert_eq!(quotes(b"\"b\"c,d", b',').loose_text, Some(3));
        assert_eq!(quotes(b"\"b\" ,d", b','), Quotes::default());
    }

    #[test]
    fn a_row_that_never_ends_is_refused_in_bounded_memory() {
        let mut reader = reader(io::repeat(b'x').take(10 * MOST));
        let error = reader.advance().unwrap_err();
        assert!(matches!(error, FileError::LongRow { line: 1, .. }));
        assert!(reader.reader.get_ref().kept.len() < 2 << 20);
    }

    #[test]
    fn the_first_line_is_the_first_that_says_something() {
        assert_eq!(first_line(b"\r\n  \nmaker,name\r\na,b"), b"maker,name");
        assert_eq!(first_line(b""), b"");
    }
}
