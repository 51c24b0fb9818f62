//! Watches the bytes on their way to the CSV parser: counts lines, and stops
//! where a row does not end.
//!
//! The parser's own line numbers are too low in files with CR LF and after
//! blank lines. Here every line that is not blank is noted with the byte at
//! which it starts, and a row is looked up by its byte.

use std::{
    collections::VecDeque,
    io::{self, Read},
};

/// The most bytes that one row may have.
pub(super) const MOST: u64 = 1 << 20;

/// Where the parser stands within a row; the same rules as the parser's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    CellStart,
    Plain,
    Quoted,
    AfterQuote,
}

/// A byte and the line it stands in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    byte: u64,
    line: u64,
}

/// A source of bytes under watch.
pub(super) struct Watched<S = Box<dyn Read>> {
    source: S,
    delimiter: u8,
    state: State,
    previous: u8,
    at_line_start: bool,
    byte: u64,
    line: u64,
    row_start: u64,
    starts: VecDeque<Spot>,
    loose: VecDeque<Spot>,
    quote: Spot,
    too_long: bool,
}

impl<S> Watched<S> {
    /// Watches `source`.
    pub fn new(source: S, delimiter: u8) -> Self {
        Self {
            source,
            delimiter,
            state: State::CellStart,
            previous: 0,
            at_line_start: true,
            byte: 0,
            line: 1,
            row_start: 0,
            starts: VecDeque::new(),
            loose: VecDeque::new(),
            quote: Spot { byte: 0, line: 1 },
            too_long: false,
        }
    }

    /// The line of the row that the parser says starts at `byte` (line breaks
    /// and blank lines before it may be counted with it). Rows are asked for in
    /// order; what lies before is forgotten.
    pub fn line_of_row(&mut self, byte: u64) -> u64 {
        self.row_start = byte;
        for spots in [&mut self.starts, &mut self.loose] {
            while spots.pop_front_if(|spot| spot.byte < byte).is_some() {}
        }
        self.starts.front().map_or(self.line, |spot| spot.line)
    }

    /// The line of text behind a closing quote, in the row that ends at `end`.
    pub fn loose_text_before(&self, end: u64) -> Option<u64> {
        let first = self.loose.front()?;
        (first.byte < end).then_some(first.line)
    }

    /// The line of a quote before `end` that is still open after all that was read.
    pub fn open_quote_before(&self, end: u64) -> Option<u64> {
        (self.state == State::Quoted && self.quote.byte < end).then_some(self.quote.line)
    }

    /// The line on which reading stopped for a row that is too long.
    pub fn too_long(&self) -> bool {
        self.too_long
    }

    fn see(&mut self, byte: u8) {
        self.see_line(byte);
        self.see_quote(byte);
        self.previous = byte;
        self.byte += 1;
    }

    fn see_line(&mut self, byte: u8) {
        let after_cr = self.previous == b'\r';
        if after_cr && byte != b'\n' || self.previous == b'\n' {
            self.line += 1;
            self.at_line_start = true;
        }
        if self.at_line_start && !matches!(byte, b'\r' | b'\n') {
            self.at_line_start = false;
            self.starts.push_back(self.spot());
        }
    }

    fn see_quote(&mut self, byte: u8) {
        let ends = byte == self.delimiter || matches!(byte, b'\r' | b'\n');
        self.state = match (self.state, byte) {
            (State::Quoted, b'"') => State::AfterQuote,
            (State::Quoted, _) => State::Quoted,
            (State::AfterQuote, b'"') => State::Quoted,
            (State::CellStart, b'"') => {
                self.quote = self.spot();
                State::Quoted
            }
            (_, _) if ends => State::CellStart,
            (State::AfterQuote, b' ') => State::AfterQuote,
            (State::AfterQuote, _) => {
                self.loose.push_back(self.spot());
                State::Plain
            }
            (_, _) => State::Plain,
        };
    }

    fn spot(&self) -> Spot {
        Spot {
            byte: self.byte,
            line: self.line,
        }
    }
}

impl<S: Read> Read for Watched<S> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.byte.saturating_sub(self.row_start) > MOST {
            self.too_long = true;
            return Err(io::Error::other("a row does not end"));
        }
        let given = self.source.read(buffer)?;
        for byte in buffer.iter().take(given) {
            self.see(*byte);
        }
        Ok(given)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(text: &str) -> Watched<&[u8]> {
        let mut watched = Watched::new(text.as_bytes(), b',');
        io::copy(&mut watched, &mut io::sink()).unwrap();
        watched
    }

    #[test]
    fn every_kind_of_line_break_counts_once() {
        for text in ["a\nb\nc", "a\r\nb\r\nc", "a\rb\rc"] {
            let byte = u64::try_from(text.len() - 1).unwrap();
            assert_eq!(watched(text).line_of_row(byte), 3, "{text:?}");
        }
    }

    #[test]
    fn a_row_is_found_behind_the_blank_lines_that_the_parser_counts_with_it() {
        assert_eq!(watched("a\r\n\r\n\nb\n").line_of_row(2), 4);
    }

    #[test]
    fn an_open_quote_is_known_with_its_line() {
        assert_eq!(watched("a\n\"b\nc\n").open_quote_before(100), Some(2));
        assert_eq!(watched("a\n\"b \"\" c\"\n").open_quote_before(100), None);
    }

    #[test]
    fn text_behind_a_closing_quote_is_noticed_and_a_space_is_not() {
        assert_eq!(watched("a\n\"b\"c,d").loose_text_before(100), Some(2));
        assert_eq!(watched("a\n\"b\" ,d").loose_text_before(100), None);
    }

    #[test]
    fn a_row_that_never_ends_stops_the_reading() {
        let source = io::repeat(b'x').take(10 * MOST);
        let mut watched = Watched::new(source, b',');
        assert!(io::copy(&mut watched, &mut io::sink()).is_err());
        assert!(watched.too_long());
        assert!(watched.byte < 2 * MOST);
    }
}
