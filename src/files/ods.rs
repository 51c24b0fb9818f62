//! The rows of the first sheet of an OpenDocument spreadsheet (`.ods`) that holds something,
//! read from one end to the other, so that no room is made for the rows, columns and spaces
//! that the file says are repeated.
//!
//! Source: OASIS OpenDocument 1.3, part 3: 9.1 (tables), 6.1 (white space), 19.385
//! (values of cells).

use super::{
    sheet::{Sheet, SheetForm},
    workbook_rows::{Archive, Gathered, NOTHING, WorkbookFault},
};
use quick_xml::{
    Reader, XmlVersion,
    events::{BytesStart, Event},
};
use std::io::{BufRead, BufReader, Read};

/// Rows that a sheet may have.
const MOST_ROWS: u32 = 1_048_576;
/// Spaces in a row that are read as such: a cell needs no more.
const MOST_SPACES: u32 = 100;

pub(super) fn read_ods(archive: &mut Archive<'_>) -> Result<Sheet, WorkbookFault> {
    refuse_locked(archive)?;
    let content = archive.by_name("content.xml");
    let content = content.map_err(WorkbookFault::because)?;
    let mut reader = Reader::from_reader(BufReader::new(content));
    let config = reader.config_mut();
    config.expand_empty_elements = true;
    config.check_end_names = false;
    Walk::default().through(&mut reader)
}

/// A workbook with a password says so in the list of its files.
fn refuse_locked(archive: &mut Archive<'_>) -> Result<(), WorkbookFault> {
    let Ok(mut list) = archive.by_name("META-INF/manifest.xml") else {
        return Ok(());
    };
    let mut text = Vec::new();
    let read = list.read_to_end(&mut text);
    read.map_err(WorkbookFault::because)?;
    match String::from_utf8_lossy(&text).contains(":encryption-data") {
        true => Err(WorkbookFault::because("it has a password")),
        false => Ok(()),
    }
}

/// Where the reading is.
#[derive(Default)]
struct Walk {
    sheets: usize,
    name: String,
    gathered: Gathered,
    first: Option<(String, Gathered)>,
    /// The place of the row, how often it is there, and its cells that hold something:
    /// the place of each, how often it is there, and its text.
    row: u32,
    row_repeats: u32,
    cells: Vec<(u32, u32, String)>,
    column: u32,
    cell: Option<Cell>,
}

/// A cell that is being read.
struct Cell {
    repeats: u32,
    /// What it holds by its attributes.
    value: Option<String>,
    /// What it shows.
    text: String,
}

impl Walk {
    fn through(mut self, reader: &mut Reader<impl BufRead>) -> Result<Sheet, WorkbookFault> {
        let mut buffer = Vec::new();
        loop {
            buffer.clear();
            let event = reader.read_event_into(&mut buffer);
            match event.map_err(WorkbookFault::because)? {
                Event::Start(start) if start.name().as_ref() == "office:annotation" => {
                    let name = start.to_end().into_owned();
                    let skipped = reader.read_to_end_into(name.name(), &mut Vec::new());
                    skipped.map_err(WorkbookFault::because)?;
                }
                Event::Start(start) => self.start(&start)?,
                Event::End(end) => self.end(end.name().as_ref())?,
                Event::Text(text) => self.say(&text.xml10_content()),
                Event::CData(text) => self.say(&text.xml10_content()),
                Event::GeneralRef(sign) => {
                    let sign = format!("&{};", &*sign);
                    let sign = quick_xml::escape::unescape(&sign);
                    self.say(&sign.map_err(WorkbookFault::because)?);
                }
                Event::Eof => break,
                _ => {}
            }
        }
        let (sheet, gathered) = self.first.ok_or(WorkbookFault::because(NOTHING))?;
        let others = self.sheets.saturating_sub(1);
        Ok(Sheet {
            form: SheetForm::Workbook { sheet, others },
            rows: gathered.into_rows(),
        })
    }

    fn start(&mut self, start: &BytesStart<'_>) -> Result<(), WorkbookFault> {
        match start.name().as_ref() {
            "table:table" => {
                self.sheets += 1;
                self.name = attribute(start, "table:name")?.unwrap_or_default();
                self.row = 0;
            }
            "table:table-row" => {
                self.row_repeats = repeats(start, "table:number-rows-repeated")?;
                self.column = 0;
            }
            "table:table-cell" | "table:covered-table-cell" => {
                self.cell = Some(Cell {
                    repeats: repeats(start, "table:number-columns-repeated")?,
                    value: value(start)?,
                    text: String::new(),
                });
            }
            "text:p" if self.has_said() => self.say("\n"),
            "text:s" => {
                let spaces = repeats(start, "text:c")?.min(MOST_SPACES);
                (0..spaces).for_each(|_| self.say(" "));
            }
            "text:tab" => self.say("\t"),
            "text:line-break" => self.say("\n"),
            _ => {}
        }
        Ok(())
    }

    fn has_said(&self) -> bool {
        self.cell.as_ref().is_some_and(|cell| !cell.text.is_empty())
    }

    fn say(&mut self, text: &str) {
        if let Some(cell) = &mut self.cell {
            cell.text.push_str(text);
        }
    }

    fn end(&mut self, name: &str) -> Result<(), WorkbookFault> {
        match name {
            "table:table-cell" | "table:covered-table-cell" => {
                if let Some(cell) = self.cell.take() {
                    let text = cell.value.unwrap_or(cell.text);
                    if !text.trim().is_empty() && self.first.is_none() {
                        self.cells.push((self.column, cell.repeats, text));
                    }
                    self.column = self.column.saturating_add(cell.repeats);
                }
            }
            "table:table-row" => self.end_row()?,
            "table:table" => {
                let gathered = std::mem::take(&mut self.gathered);
                if self.first.is_none() && !gathered.is_empty() {
                    self.first = Some((std::mem::take(&mut self.name), gathered));
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// Rows that are repeated without anything in them are many, and cost nothing.
    fn end_row(&mut self) -> Result<(), WorkbookFault> {
        let after = self.row.saturating_add(self.row_repeats).min(MOST_ROWS);
        let cells = std::mem::take(&mut self.cells);
        if !cells.is_empty() {
            for row in self.row..after {
                for (column, repeats, text) in &cells {
                    for column in (*column..).take(usize::try_from(*repeats).unwrap_or(1)) {
                        if !self.gathered.put((row, column), text)? {
                            break;
                        }
                    }
                }
            }
        }
        self.row = after;
        Ok(())
    }
}

/// How often something is there: once where nothing is said.
fn repeats(start: &BytesStart<'_>, name: &str) -> Result<u32, WorkbookFault> {
    let said = attribute(start, name)?;
    let count = said.map(|count| count.trim().parse::<u32>());
    Ok(count.map_or(1, |count| count.unwrap_or(u32::MAX)))
}

/// What a cell holds by its attributes: a number without the words around it. An error of
/// a formula is nothing.
fn value(start: &BytesStart<'_>) -> Result<Option<String>, WorkbookFault> {
    if attribute(start, "calcext:value-type")?.as_deref() == Some("error") {
        return Ok(Some(String::new()));
    }
    if let Some(number) = attribute(start, "office:value")? {
        let number = number.trim().parse::<f64>();
        return Ok(Some(number.map_err(WorkbookFault::because)?.to_string()));
    }
    for name in [
        "office:string-value",
        "office:date-value",
        "office:time-value",
        "office:boolean-value",
    ] {
        if let Some(text) = attribute(start, name)? {
            return Ok(Some(text));
        }
    }
    Ok(None)
}

fn attribute(start: &BytesStart<'_>, name: &str) -> Result<Option<String>, WorkbookFault> {
    let found = start.try_get_attribute(name);
    let found = found.map_err(WorkbookFault::because)?;
    let text = found.map(|found| {
        let text = found.normalized_value(XmlVersion::Implicit1_0);
        text.map(|text| text.into_owned())
    });
    text.transpose().map_err(WorkbookFault::because)
}
