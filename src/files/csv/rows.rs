//! The rows of a table, one after the other, in flat memory.

use super::{
    columns::Column,
    delimiter::delimiter_of,
    head::{failed_to_read, first_line, head_of},
    worker::{ReadRow, Told, Worker},
};
use crate::files::{CellError, CellNote, ExchangeError};
use std::{
    collections::VecDeque,
    io::{self, Read},
};

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
    pub read: ReadRow<T>,
}

/// The rows of a table. A row that is bad is given as such and reading goes on;
/// an error ends it.
pub struct Rows<'a, T> {
    file: String,
    source: Box<dyn Read + 'a>,
    progress: Box<dyn FnMut(u64) + 'a>,
    bytes: u64,
    /// Whether nothing more can be read.
    all_given: bool,
    notes: Vec<CellNote>,
    worker: Worker<T>,
    ready: VecDeque<Row<T>>,
    /// Whether the worker has done all of the file, or why it stopped.
    ended: bool,
    failed: Option<ExchangeError>,
}

/// Bytes that are given to the worker at a time; so few that a table of many
/// short rows takes little memory.
const BLOCK: u64 = 16 * 1024;

/// Blocks that the worker has before it.
const BLOCKS: usize = 2;

impl<'a, T: Send + 'static> Rows<'a, T> {
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
        let worker = Worker::start(file, delimiter, sheet.columns, sheet.read);
        let mut rows = Self {
            file: file.to_owned(),
            source,
            progress,
            bytes: 0,
            all_given: false,
            notes: Vec::new(),
            worker: worker.map_err(failed_to_read(file))?,
            ready: VecDeque::new(),
            ended: false,
            failed: None,
        };
        rows.give(head);
        (0..BLOCKS).for_each(|_| rows.feed());
        rows.wait_for_header()?;
        Ok(rows)
    }

    /// What to know about the header line: columns that are not read.
    pub fn warnings(&self) -> &[CellNote] {
        &self.notes
    }

    /// Gives back a record that is needed no more.
    pub fn give_back(&mut self, record: T) {
        self.worker.give_back(record);
    }

    fn wait_for_header(&mut self) -> Result<(), ExchangeError> {
        loop {
            match self.hear().map_err(failed_to_read(&self.file))? {
                Some(header) => {
                    self.notes = header?;
                    return Ok(());
                }
                None if self.ended => return self.failed.take().map_or(Ok(()), Err),
                None => {}
            }
        }
    }

    /// Waits for what the worker tells, and does what it asks for.
    fn hear(&mut self) -> io::Result<Option<Result<Vec<CellNote>, ExchangeError>>> {
        match self.worker.hear()? {
            Told::Header(header) => return Ok(Some(header)),
            Told::Rows(rows) => self.ready.extend(rows),
            Told::TookBlock => self.feed(),
            Told::Ended(why) => {
                self.ended = true;
                self.failed = why;
            }
        }
        Ok(None)
    }

    /// Gives the worker the next bytes of the file, that there are no more, or
    /// that they could not be read.
    fn feed(&mut self) {
        if self.all_given {
            return;
        }
        let mut block = Vec::new();
        let read = (&mut self.source).take(BLOCK).read_to_end(&mut block);
        self.all_given = block.is_empty() || read.is_err();
        if read.is_ok() || !block.is_empty() {
            self.give(block);
        }
        if let Err(why) = read {
            self.worker.give(Err(why));
        }
    }

    fn give(&mut self, block: Vec<u8>) {
        self.bytes += u64::try_from(block.len()).unwrap_or_default();
        (self.progress)(self.bytes);
        self.worker.give(Ok(block));
    }

    fn next_row(&mut self) -> io::Result<Option<Row<T>>> {
        while self.ready.is_empty() && !self.ended {
            self.hear()?;
        }
        Ok(self.ready.pop_front())
    }
}

impl<T: Send + 'static> Iterator for Rows<'_, T> {
    type Item = Result<Row<T>, ExchangeError>;

    fn next(&mut self) -> Option<Self::Item> {
        match self.next_row() {
            Ok(Some(row)) => Some(Ok(row)),
            Ok(None) => self.failed.take().map(Err),
            Err(source) => {
                self.ended = true;
                let file = self.file.clone();
                Some(Err(ExchangeError::Read { file, source }))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{super::STOCK_COLUMNS, *};
    use proptest::{prelude::*, sample::select};
    use std::{cell::Cell, fmt::Write as _};

    const HEADER: &str = "maker,name,amount,notes";

    /// Rows of which only the text is read.
    fn open<'a>(source: impl Read + 'a) -> Result<Rows<'a, Vec<String>>, ExchangeError> {
        let sheet = Sheet {
            columns: STOCK_COLUMNS,
            read: |cells| {
                let texts = ["maker", "name", "amount", "notes"].map(|c| cells.text(c).to_owned());
                Some(texts.to_vec())
            },
        };
        Rows::open("stock.csv", Box::new(source), Box::new(|_| {}), &sheet)
    }

    fn rows(text: &str) -> Vec<Row<Vec<String>>> {
        let rows = open(text.as_bytes()).unwrap();
        rows.map(Result::unwrap).collect()
    }

    /// The line and the texts of every row below the header.
    fn texts(body: &str) -> Vec<(u64, Vec<String>)> {
        let rows = rows(&format!("{HEADER}\n{body}"));
        rows.into_iter()
            .map(|row| (row.line, row.record.unwrap()))
            .collect()
    }

    fn first(body: &str) -> Vec<String> {
        texts(body).remove(0).1
    }

    fn refused(bytes: &[u8]) -> String {
        let error = match open(bytes) {
            Err(error) => error,
            Ok(mut rows) => rows.find_map(Result::err).expect("no error"),
        };
        error.to_string()
    }

    #[test]
    fn lines_are_those_of_an_editor_whatever_breaks_them() {
        for line_break in ["\n", "\r\n", "\r"] {
            let text = format!("{HEADER}|a,b,1,||  |c,d,2,\"one|two|three\"|,,,|e,f,3,|g,h,4,");
            let found: Vec<u64> = rows(&text.replace('|', line_break))
                .iter()
                .map(|row| row.line)
                .collect();
            assert_eq!(found, [2, 5, 9, 10], "{line_break:?}");
        }
    }

    #[test]
    fn blank_lines_before_the_header_are_counted_and_skipped() {
        let text = format!("\r\n\r\n{HEADER}\r\na,b,1,\r\n");
        assert_eq!(rows(&text)[0].line, 4);
    }

    /// RFC 4180, section 2, rules 5 to 7: quotes, line breaks and commas in
    /// quoted cells, doubled quotes.
    #[test]
    fn quoting_is_that_of_the_standard() {
        assert_eq!(
            first("\"aaa\",\"b CRLF\r\nbb\",\"c,cc\",\"d\"\"dd\"\n"),
            ["aaa", "b CRLF\r\nbb", "c,cc", "d\"dd"]
        );
        assert_eq!(first("a,b,1,\"\"\n"), ["a", "b", "1", ""]);
        assert_eq!(first("a,b,1,\"\"\"\"\n"), ["a", "b", "1", "\""]);
        assert_eq!(first("a,b,1,4\" band\n"), ["a", "b", "1", "4\" band"]);
    }

    #[test]
    fn the_last_line_needs_no_line_break() {
        assert_eq!(first("a,b,1,c"), ["a", "b", "1", "c"]);
    }

    #[test]
    fn the_mark_of_utf8_is_no_part_of_the_header() {
        let text = format!("\u{FEFF}{HEADER}\na,b,1,½\n");
        assert_eq!(rows(&text)[0].record.as_ref().unwrap()[3], "½");
    }

    #[test]
    fn semicolons_and_tabs_part_cells_too() {
        for delimiter in [";", "\t"] {
            let text = format!("{HEADER}\na,b,1,c\n").replace(',', delimiter);
            assert_eq!(
                rows(&text)[0].record.as_ref().unwrap(),
                &["a", "b", "1", "c"]
            );
        }
    }

    #[test]
    fn another_delimiter_is_told_by_what_the_header_lacks() {
        let message = refused(b"maker|name|amount\na|b|1\n");
        assert!(
            message.contains("lacks the columns maker, name and amount"),
            "{message}"
        );
    }

    #[test]
    fn a_row_of_the_wrong_length_is_refused_with_its_line_and_reading_goes_on() {
        let found = rows(&format!("{HEADER}\na,b,1,c,d\na,b\n\na,b,1,c\n"));
        let faults: Vec<String> = found
            .iter()
            .filter_map(|row| row.record.as_ref().err())
            .map(|faults| faults[0].to_string())
            .collect();
        assert!(faults[0].starts_with("line 2: the row has 5 cells, the header line has 4;"));
        assert!(faults[1].starts_with("line 3: the row has 2 cells"));
        assert!(found[2].record.is_ok());
    }

    #[test]
    fn text_behind_a_closing_quote_is_refused_and_not_glued_on() {
        let found = rows(&format!("{HEADER}\na,\"b\"c,1,d\na,\"b\" ,1,d\n"));
        let fault = &found[0].record.as_ref().unwrap_err()[0];
        assert!(fault.why.contains("follows the double quote"), "{fault}");
        assert_eq!(found[1].record.as_ref().unwrap()[1], "b");
    }

    #[test]
    fn a_quote_that_is_never_closed_is_told_with_the_line_that_opens_it() {
        let message = refused(format!("{HEADER}\na,b,1,c\n\na,b,1,\"c\na,b,2,d\n").as_bytes());
        assert!(
            message.starts_with("stock.csv, line 4: the double quote"),
            "{message}"
        );
        let mut long = format!("{HEADER}\na,b,1,\"");
        long.push_str(&"wool\n".repeat(500_000));
        assert!(refused(long.as_bytes()).starts_with("stock.csv, line 2: the double quote"));
        let row = format!("{HEADER}\na,b,1,c\n{}", "x".repeat(3_000_000));
        assert!(refused(row.as_bytes()).starts_with("stock.csv, line 3: the row"));
    }

    #[test]
    fn rows_before_an_open_quote_are_still_given() {
        let text = format!("{HEADER}\na,b,1,c\na,b,1,\"c\n");
        let found: Vec<bool> = open(text.as_bytes())
            .unwrap()
            .map(|row| row.is_ok())
            .collect();
        assert_eq!(found, [true, false]);
    }

    #[test]
    fn ten_thousand_letters_fit_in_a_cell() {
        let long = "é".repeat(10_000);
        assert_eq!(first(&format!("a,b,1,{long}\n"))[3], long);
    }

    #[test]
    fn what_is_no_text_is_refused_with_a_way_out() {
        let one_byte = refused(b"maker,name,amount\na,b,1\na,caf\xE9,1\n");
        assert!(one_byte.starts_with("stock.csv, line 3: this is text in Windows-1252"));
        assert!(one_byte.contains("UTF-8"));
        let late = format!("{HEADER}\n{}a,b\0,1,c\n", "a,b,1,c\n".repeat(20_000));
        assert!(refused(late.as_bytes()).starts_with("stock.csv, line 20002: this is a binary"));
        let bytes: Vec<u8> = HEADER.encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert!(refused(&bytes).contains("UTF-16"));
    }

    #[test]
    fn an_empty_file_is_told_what_it_lacks() {
        for text in ["", "\n\n", "\u{FEFF}", "  \r\n"] {
            let message = refused(text.as_bytes());
            assert_eq!(
                message,
                "stock.csv is empty: the first line names the columns, at least maker, name and amount"
            );
        }
    }

    #[test]
    fn a_header_alone_is_a_table_without_rows() {
        assert!(texts("").is_empty());
        assert!(rows(HEADER).is_empty());
    }

    #[test]
    fn a_source_that_fails_is_named() {
        struct Failing;
        impl Read for Failing {
            fn read(&mut self, _: &mut [u8]) -> io::Result<usize> {
                Err(io::Error::other("the stick was pulled out"))
            }
        }
        let source = HEADER.as_bytes().chain(&b"\na,b,1,c\n"[..]).chain(Failing);
        let message = match open(source) {
            Err(error) => error.to_string(),
            Ok(mut rows) => rows.find_map(Result::err).unwrap().to_string(),
        };
        assert_eq!(
            message,
            "stock.csv cannot be read: the stick was pulled out"
        );
    }

    proptest! {
        #[test]
        fn prop_every_row_is_found_at_its_line_with_its_text(
            cells in proptest::collection::vec("x[a,;\"\r\n é]{0,6}x", 1..12),
            blank in proptest::collection::vec(select(&["", "\n", "\r\n", ",,,\r\n"][..]), 12),
            terminator in select(&[csv::Terminator::CRLF, csv::Terminator::Any(b'\n')][..]),
        ) {
            let mut text = format!("{HEADER}\r\n");
            let mut expected = Vec::new();
            for (cell, blank) in cells.iter().zip(blank) {
                text.push_str(blank);
                expected.push((line_after(&text), cell.clone()));
                let mut row = csv::WriterBuilder::new().terminator(terminator).from_writer(Vec::new());
                row.write_record([cell, "b", "1", cell]).unwrap();
                text.push_str(std::str::from_utf8(&row.into_inner().unwrap()).unwrap());
            }
            let found: Vec<(u64, String)> = rows(&text)
                .into_iter()
                .map(|row| (row.line, row.record.unwrap().swap_remove(3)))
                .collect();
            prop_assert_eq!(found, expected);
        }

        #[test]
        fn prop_no_bytes_bring_the_reader_down(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
            let text = [HEADER.as_bytes(), b"\n", &bytes].concat();
            if let Ok(rows) = open(text.as_slice()) {
                prop_assert!(rows.count() <= bytes.len() + 1);
            }
        }
    }

    /// The line that begins after `text`, with CR LF, LF and CR as one break each.
    fn line_after(text: &str) -> u64 {
        let breaks = text
            .replace("\r\n", "\n")
            .replace('\r', "\n")
            .matches('\n')
            .count();
        u64::try_from(breaks).unwrap() + 1
    }

    #[test]
    fn progress_is_told_in_bytes_up_to_the_whole() {
        let mut text = format!("{HEADER}\n");
        for row in 0..5000 {
            writeln!(text, "a,b,{row},c").unwrap();
        }
        let told = Cell::new(0);
        let sheet = Sheet {
            columns: STOCK_COLUMNS,
            read: |_| Some(()),
        };
        let progress = Box::new(|bytes| {
            assert!(bytes >= told.get());
            told.set(bytes);
        });
        let rows = Rows::open("s.csv", Box::new(text.as_bytes()), progress, &sheet).unwrap();
        assert_eq!(rows.count(), 5000);
        assert_eq!(told.get(), u64::try_from(text.len()).unwrap());
    }
}
