//! Records read: from the rows of a table, one after the other in flat memory, and
//! from the fields of a form.

use super::{
    cell_text::unguard,
    columns::Column,
    field_reader::{CellCache, FieldReader},
    header::{Header, delimiter_name, least, named, read_header},
    row_reader::{RowPlace, RowReader},
};
use crate::files::{CellFault, CellNote, FileError, Place};
use std::{cell::RefCell, io::Read, marker::PhantomData};

/// A kind of record with a table of its own, whose columns are the fields of its
/// form as well.
pub trait TableRecord: Sized {
    /// Its columns, in the order in which they are written.
    const COLUMNS: &'static [Column];

    /// Reads a record; what is wrong is left with the fields.
    fn read(fields: &mut FieldReader<'_>) -> Option<Self>;

    /// The text of each column, which reads back to the same record.
    fn texts(&self) -> Vec<String>;
}

/// What the fields of one record gave: the record with notes about it, or
/// all that is wrong with them.
pub type RecordReading<T> = Result<(T, Vec<CellNote>), Vec<CellFault>>;

/// Reads one record of a form; `text` gives the text of each column.
pub fn read_record<'t, T: TableRecord>(text: impl Fn(&'static str) -> &'t str) -> RecordReading<T> {
    let header = Header::with_all(T::COLUMNS);
    let texts = T::COLUMNS.iter().map(|column| text(column.name).trim());
    let mut fields = FieldReader::of_form(&header, texts.collect());
    for column in T::COLUMNS {
        if fields.text(column.name).contains('\0') {
            fields.refuse(column.name, "a NUL character is no text", "leave it out");
        }
    }
    let record = T::read(&mut fields);
    let (record, notes) = fields.finish(record);
    record.map(|record| (record, notes))
}

/// The text of each column of a record, for a form; it reads back to the same.
pub fn record_texts<T: TableRecord>(record: &T) -> Vec<(&'static str, String)> {
    let names = T::COLUMNS.iter().map(|column| column.name);
    names.zip(record.texts()).collect()
}

/// One row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row<T> {
    /// The line on which it starts, as an editor shows it.
    pub line: u64,
    /// The record, or every fault of the row.
    pub record: Result<T, Vec<CellFault>>,
    /// Notes about it.
    pub warnings: Vec<CellNote>,
}

/// The rows of a table. A row that is bad is given as such and reading goes on; an
/// error ends it.
pub struct Rows<'a, T> {
    reader: RowReader<'a>,
    header: Header,
    notes: Vec<CellNote>,
    cache: RefCell<CellCache>,
    ended: bool,
    of: PhantomData<fn() -> T>,
}

/// Opens a table: finds its delimiter and reads its header line. `file` is what
/// messages call it; `progress` gets the bytes read so far.
pub fn read_table<'a, T: TableRecord>(
    file: &str,
    source: impl Read + 'a,
    progress: impl FnMut(u64) + 'a,
) -> Result<Rows<'a, T>, FileError> {
    let is_column = |cell: &str| named(cell, T::COLUMNS).is_some();
    let mut reader = RowReader::open(file, Box::new(source), Box::new(progress), is_column)?;
    let Some(RowPlace { line, .. }) = reader.advance()? else {
        return Err(FileError::Empty {
            file: file.to_owned(),
            columns: least(T::COLUMNS),
        });
    };
    let cells: Vec<&str> = reader.cells().iter().map(str::trim).collect();
    let read = read_header(line, &cells, T::COLUMNS);
    let (header, notes) = read.map_err(|faults| FileError::Faults {
        more: 0,
        file: file.to_owned(),
        faults,
    })?;
    Ok(Rows {
        reader,
        header,
        notes,
        cache: RefCell::default(),
        ended: false,
        of: PhantomData,
    })
}

impl<T: TableRecord> Rows<'_, T> {
    /// Notes about the header line: columns that are not read.
    pub fn warnings(&self) -> &[CellNote] {
        &self.notes
    }

    fn next_row(&mut self) -> Result<Option<Row<T>>, FileError> {
        let Some(place) = self.reader.advance()? else {
            return Ok(None);
        };
        let line = place.line;
        if let Some(fault) = self.misshapen(place) {
            return Ok(Some(Row {
                line,
                record: Err(vec![fault]),
                warnings: Vec::new(),
            }));
        }
        let texts = self.reader.cells().iter().map(unguard).collect();
        let mut fields = FieldReader::of_row(&self.header, texts, line, &self.cache);
        let record = T::read(&mut fields);
        let (record, warnings) = fields.finish(record);
        Ok(Some(Row {
            line,
            record,
            warnings,
        }))
    }

    /// Why the cells of a row cannot be told apart.
    fn misshapen(&self, place: RowPlace) -> Option<CellFault> {
        if let Some(line) = place.loose_text {
            let why = "text follows the double quote that closes a cell";
            let allowed = "close the cell behind its text; a double quote that belongs to the text is written twice";
            return Some(CellFault::new("", "", why, allowed).at(Place::line(line)));
        }
        let (given, wanted) = (self.reader.cells().len(), self.header.width);
        if given == wanted {
            return None;
        }
        let why = format!("the row has {given} cells, the header line has {wanted}");
        let allowed = format!(
            "separate cells with {}, as in the header line; put text with that sign or a line break in double quotes",
            delimiter_name(self.reader.delimiter())
        );
        Some(CellFault::new("", "", why, allowed).at(Place::line(place.line)))
    }
}

impl<T: TableRecord> Iterator for Rows<'_, T> {
    type Item = Result<Row<T>, FileError>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.ended {
            return None;
        }
        let row = self.next_row().transpose();
        self.ended = !matches!(row, Some(Ok(_)));
        row
    }
}

#[cfg(test)]
mod tests {
    use super::{super::STOCK_COLUMNS, *};
    use crate::record::Yarn;
    use proptest::{prelude::*, sample::select};
    use std::{cell::Cell, fmt::Write as _, io};

    const HEADER: &str = "maker,name,amount,notes";

    /// A row of which only the text is read.
    struct Texts(Vec<String>);

    impl TableRecord for Texts {
        const COLUMNS: &'static [Column] = STOCK_COLUMNS;

        fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
            let texts = ["maker", "name", "amount", "notes"].map(|c| fields.text(c).to_owned());
            Some(Self(texts.to_vec()))
        }

        fn texts(&self) -> Vec<String> {
            self.0.clone()
        }
    }

    fn open<'a>(source: impl Read + 'a) -> Result<Rows<'a, Texts>, FileError> {
        read_table("stock.csv", source, |_| ())
    }

    fn rows(text: &str) -> Vec<Row<Vec<String>>> {
        let rows = open(text.as_bytes()).unwrap();
        rows.map(|row| {
            let row = row.unwrap();
            Row {
                line: row.line,
                record: row.record.map(|texts| texts.0),
                warnings: row.warnings,
            }
        })
        .collect()
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
        let progress = |bytes| {
            assert!(bytes >= told.get());
            told.set(bytes);
        };
        let rows = read_table::<Texts>("s.csv", text.as_bytes(), progress).unwrap();
        assert_eq!(rows.count(), 5000);
        assert_eq!(told.get(), u64::try_from(text.len()).unwrap());
    }

    fn form(pairs: &[(&str, &str)]) -> RecordReading<Yarn> {
        read_record(|column| {
            let found = pairs.iter().find(|(name, _)| *name == column);
            found.map_or("", |(_, text)| text)
        })
    }

    #[test]
    fn a_yarn_goes_into_its_fields_and_comes_back() {
        let (kept, _) = form(&[
            ("maker", "Quenby"),
            ("name", "=Sandgate"),
            ("length", "125 m"),
            ("mass", "50 g"),
            ("fibre", "75% wool 25% nylon"),
            ("notes", "line one\nline two"),
        ])
        .unwrap();
        let texts = record_texts(&kept);
        let again = read_record::<Yarn>(|column| {
            let found = texts.iter().find(|(name, _)| *name == column);
            found.map_or("", |(_, text)| text.as_str())
        });
        assert_eq!(again.unwrap().0, kept);
        assert_eq!(kept.name.as_str(), "=Sandgate");
    }

    #[test]
    fn every_bad_field_is_told_at_once() {
        let faults = form(&[("maker", "Quenby"), ("length", "long"), ("mass", "50 g")]);
        let fields: Vec<String> = faults.unwrap_err().into_iter().map(|f| f.field).collect();
        assert_eq!(fields, ["name", "length"]);
    }

    #[test]
    fn a_form_takes_no_nul() {
        let fault = form(&[
            ("maker", "Quen\0by"),
            ("name", "Moor"),
            ("count", "2/14 Nm"),
        ]);
        assert_eq!(fault.unwrap_err()[0].field, "maker");
    }

    proptest! {
        #[test]
        fn prop_a_row_reads_as_the_same_with_and_without_what_was_read_before(
            rows in proptest::collection::vec(
                (select(&["125 m", "100 yd", "2/14 Nm", "unknown", "long", ""][..]),
                 select(&["DK", "3", "8ply", "dk ", "fog"][..])),
                0..12,
            ),
        ) {
            let mut text = "maker,name,length,mass,class\n".to_owned();
            for (length, class) in &rows {
                writeln!(text, "V,O,{length},50 g,{class}").unwrap();
            }
            let table = read_table::<Yarn>("y.csv", text.as_bytes(), |_| ()).unwrap();
            for (row, (length, class)) in table.zip(rows) {
                let row = row.unwrap();
                let alone = form(&[
                    ("maker", "V"), ("name", "O"), ("length", length), ("mass", "50 g"), ("class", class),
                ]);
                let place = Some(Place::line(row.line));
                let placed = |faults: Vec<CellFault>| -> Vec<CellFault> {
                    faults.into_iter().map(|fault| fault.at(place)).collect()
                };
                match alone {
                    Ok((yarn, _)) => prop_assert_eq!(row.record, Ok(yarn)),
                    Err(faults) => prop_assert_eq!(row.record, Err(placed(faults))),
                }
            }
        }
    }
}
