//! A table as a workbook (.xlsx): one sheet whose cells are all text, so that no digit is
//! lost and nothing is a formula. That needs no more than an archive of five small files;
//! a library for workbooks is forty times as much code, for charts and formats.
//!
//! Source: ECMA-376, Office Open XML, part 1 (SpreadsheetML) and part 2 (packages).

use super::FileError;
use std::io::{self, Write};
use zip::{
    ZipWriter,
    write::{SimpleFileOptions, StreamWriter},
};

/// Rows that a sheet may have, and characters of a cell, in every program that opens one.
const MOST_ROWS: u64 = 1_048_576;
const MOST_CHARACTERS: usize = 32_767;

const XML: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";

/// The files around the sheet.
const PARTS: [(&str, &str); 4] = [
    (
        "[Content_Types].xml",
        r#"<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>"#,
    ),
    (
        "_rels/.rels",
        r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#,
    ),
    (
        "xl/workbook.xml",
        r#"<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="understudy" sheetId="1" r:id="rId1"/></sheets></workbook>"#,
    ),
    (
        "xl/_rels/workbook.xml.rels",
        r#"<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>"#,
    ),
];

/// What the sheet of a workbook is called that is written here.
pub(super) const OWN_SHEET: &str = "understudy";

const SHEET: &str = "xl/worksheets/sheet1.xml";
const BEGIN: &str =
    r#"<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>"#;
const END: &str = "</sheetData></worksheet>";

/// Whether a file of this name is to be a workbook.
pub fn is_workbook(file: &str) -> bool {
    file.to_lowercase().ends_with(".xlsx")
}

/// A workbook that is written one row at a time.
pub(super) struct WorkbookWriter<W: Write> {
    archive: ZipWriter<StreamWriter<W>>,
    rows: u64,
}

impl<W: Write> WorkbookWriter<W> {
    /// Begins the sheet.
    pub(super) fn new(target: W) -> io::Result<Self> {
        let mut archive = ZipWriter::new_stream(target);
        // The same table is the same file, whatever the clock says.
        let options = SimpleFileOptions::default();
        for (name, text) in PARTS {
            archive.start_file(name, options)?;
            archive.write_all(XML.as_bytes())?;
            archive.write_all(text.as_bytes())?;
        }
        archive.start_file(SHEET, options.large_file(true))?;
        archive.write_all(XML.as_bytes())?;
        archive.write_all(BEGIN.as_bytes())?;
        Ok(Self { archive, rows: 0 })
    }

    /// Writes a row of texts.
    pub(super) fn row(&mut self, file: &str, cells: &[impl AsRef<str>]) -> Result<(), FileError> {
        self.rows += 1;
        let why = |why: &'static str| FileError::NoWorkbook {
            file: file.to_owned(),
            why,
        };
        if self.rows > MOST_ROWS {
            return Err(why("a sheet has at most 1,048,576 rows"));
        }
        let mut row = "<row>".to_owned();
        for cell in cells {
            let cell = cell.as_ref();
            if cell.chars().count() > MOST_CHARACTERS {
                return Err(why("a cell holds at most 32,767 characters"));
            }
            row.push_str(r#"<c t="inlineStr"><is><t xml:space="preserve">"#);
            escape(cell, &mut row).ok_or(why("a text holds a sign that no sheet can hold"))?;
            row.push_str("</t></is></c>");
        }
        row.push_str("</row>");
        let written = self.archive.write_all(row.as_bytes());
        written.map_err(|source| FileError::Write {
            file: file.to_owned(),
            source,
        })
    }

    /// Ends the sheet and the workbook.
    pub(super) fn finish(mut self) -> io::Result<()> {
        self.archive.write_all(END.as_bytes())?;
        self.archive.finish()?.into_inner().flush()
    }
}

/// The text as XML; nothing where XML 1.0 has no way to write it. What looks like a sign by
/// its number (`_x000D_`) has its first `_` written so, or it would be read as that sign.
fn escape(text: &str, into: &mut String) -> Option<()> {
    for (at, c) in text.char_indices() {
        match c {
            '_' if text.get(at..).is_some_and(is_number_of_sign) => into.push_str("_x005F_"),
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '\r' => into.push_str("&#13;"),
            '\t' | '\n' => into.push(c),
            c if c < ' ' || matches!(c, '\u{fffe}' | '\u{ffff}') => return None,
            c => into.push(c),
        }
    }
    Some(())
}

fn is_number_of_sign(text: &str) -> bool {
    let bytes = text.as_bytes();
    let [b'_', b'x', digits @ .., b'_'] = bytes.get(..7).unwrap_or_default() else {
        return false;
    };
    digits.iter().all(u8::is_ascii_hexdigit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::sheet::read_sheet;

    fn written(rows: &[Vec<String>]) -> Result<Vec<u8>, FileError> {
        let mut bytes = Vec::new();
        let mut book = WorkbookWriter::new(&mut bytes).unwrap();
        for row in rows {
            book.row("b.xlsx", row)?;
        }
        book.finish().unwrap();
        Ok(bytes)
    }

    #[test]
    fn texts_come_back_as_they_were() {
        let rows = [
            ["maker", "name", "gtin"],
            ["<Q & \"Y\">", "=1+1", "0036000291452"],
            ["line\nline", " inner  space ", "\u{1f9f6} \u{202e}x"],
            ["_x000D_ _x_", "carriage\r\nreturn", "_x005F_x000D_"],
        ];
        let rows = rows.map(|row| row.map(str::to_owned).to_vec());
        let read = read_sheet("b.xlsx", &written(&rows).unwrap()).unwrap();
        let read: Vec<Vec<String>> = read.rows.into_iter().map(|row| row.cells).collect();
        assert_eq!(read, rows);
    }

    #[test]
    fn what_no_sheet_can_hold_is_told() {
        for (cell, says) in [
            ("x".repeat(40_000), "32,767"),
            ("a\u{b}b".to_owned(), "no sheet can hold"),
        ] {
            let refused = written(&[vec![cell]]).unwrap_err().to_string();
            assert!(refused.contains(says), "{refused}");
            assert!(refused.contains("CSV"), "{refused}");
        }
    }
}
