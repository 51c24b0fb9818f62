//! Workbooks as spreadsheets write them: read as the table on their first sheet, up to
//! what a supplier's price list never reaches, and refused where a small file holds more
//! than is good for the machine.

use crate::desk::Desk;
use std::{
    fmt::Write as _,
    fs,
    io::{Cursor, Write as _},
};
use zip::{ZipArchive, ZipWriter, write::SimpleFileOptions};

const HEAD: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>";
const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006";

/// An archive of these files.
fn archive(files: &[(&str, String)]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in files {
        let options = SimpleFileOptions::default();
        archive.start_file(*name, options).unwrap();
        archive.write_all(text.as_bytes()).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

/// A workbook (ECMA-376) whose first sheet has these rows, with further files.
fn xlsx(rows: &str, more: &[(&str, String)]) -> Vec<u8> {
    let kind = "application/vnd.openxmlformats-officedocument.spreadsheetml";
    let mut files = vec![
        (
            "[Content_Types].xml",
            format!(
                "{HEAD}<Types xmlns=\"{PACKAGE}/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Override PartName=\"/xl/workbook.xml\" ContentType=\"{kind}.sheet.main+xml\"/><Override PartName=\"/xl/worksheets/sheet1.xml\" ContentType=\"{kind}.worksheet+xml\"/></Types>"
            ),
        ),
        (
            "_rels/.rels",
            format!(
                "{HEAD}<Relationships xmlns=\"{PACKAGE}/relationships\"><Relationship Id=\"r1\" Type=\"{OFFICE}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
            ),
        ),
        (
            "xl/workbook.xml",
            format!(
                "{HEAD}<workbook xmlns=\"{MAIN}\" xmlns:r=\"{OFFICE}\"><sheets><sheet name=\"Yarn\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"
            ),
        ),
        (
            "xl/_rels/workbook.xml.rels",
            format!(
                "{HEAD}<Relationships xmlns=\"{PACKAGE}/relationships\"><Relationship Id=\"r1\" Type=\"{OFFICE}/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>"
            ),
        ),
        (
            "xl/worksheets/sheet1.xml",
            format!("{HEAD}<worksheet xmlns=\"{MAIN}\"><sheetData>{rows}</sheetData></worksheet>"),
        ),
    ];
    files.extend_from_slice(more);
    archive(&files)
}

/// Rows with numbers as numbers, and texts in their cells.
fn rows<'c>(rows: impl IntoIterator<Item = [&'c str; 4]>) -> String {
    let mut sheet = String::new();
    for (row, cells) in rows.into_iter().enumerate() {
        write!(sheet, "<row r=\"{}\">", row + 1).unwrap();
        for (cell, column) in cells.iter().zip(["A", "B", "C", "D"]) {
            let place = format!("{column}{}", row + 1);
            match cell.parse::<f64>() {
                Ok(number) => write!(sheet, "<c r=\"{place}\"><v>{number}</v></c>"),
                Err(_) => write!(
                    sheet,
                    "<c r=\"{place}\" t=\"inlineStr\"><is><t>{cell}</t></is></c>"
                ),
            }
            .unwrap();
        }
        sheet += "</row>";
    }
    sheet
}

/// A spreadsheet (OpenDocument 1.3) of these sheets.
fn ods(sheets: &str) -> Vec<u8> {
    let namespaces = [
        ("office", "office"),
        ("table", "table"),
        ("text", "text"),
        ("dc", "meta"),
    ]
    .map(|(prefix, name)| {
        format!("xmlns:{prefix}=\"urn:oasis:names:tc:opendocument:xmlns:{name}:1.0\"")
    })
    .join(" ");
    let manifest = "urn:oasis:names:tc:opendocument:xmlns:manifest:1.0";
    archive(&[
        (
            "mimetype",
            "application/vnd.oasis.opendocument.spreadsheet".to_owned(),
        ),
        (
            "content.xml",
            format!(
                "{HEAD}<office:document-content {namespaces}><office:body><office:spreadsheet>{sheets}</office:spreadsheet></office:body></office:document-content>"
            ),
        ),
        (
            "META-INF/manifest.xml",
            format!("{HEAD}<manifest:manifest xmlns:manifest=\"{manifest}\"/>"),
        ),
    ])
}

fn ods_cell(text: &str) -> String {
    match text.parse::<f64>() {
        Ok(number) => format!(
            "<table:table-cell office:value-type=\"float\" office:value=\"{number}\"><text:p>{number}</text:p></table:table-cell>"
        ),
        Err(_) => format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{text}</text:p></table:table-cell>"
        ),
    }
}

fn ods_row(cells: &[&str], more: &str) -> String {
    let cells: String = cells.iter().map(|text| ods_cell(text)).collect();
    format!("<table:table-row>{cells}{more}</table:table-row>")
}

const TABLE: [[&str; 4]; 2] = [
    ["Brand", "Yarn", "Metres", "Grams"],
    ["Quenby", "Moor &amp; Fen", "125", "50"],
];

/// What is exported once this file is imported.
fn taken(desk: &Desk, name: &str, bytes: &[u8]) -> String {
    desk.write(name, bytes);
    desk.text(&["import", "table", name, "--yes"]);
    desk.text(&["export", "yarns"])
}

#[test]
fn workbooks_of_both_kinds_are_read_as_their_table() {
    let text = taken(&Desk::empty(), "book.xlsx", &xlsx(&rows(TABLE), &[]));
    assert!(text.contains("Quenby,Moor & Fen,125 m,50 g"), "{text}");
    let empty = "<table:table table:name=\"Notes\"><table:table-row table:number-rows-repeated=\"1048576\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row></table:table>";
    let rest = "<table:table-cell table:number-columns-repeated=\"16380\"/>";
    let [heads, cells] = TABLE.map(|cells| ods_row(&cells, rest));
    let noted = cells.replacen(
        "<text:p>",
        "<office:annotation><dc:date>2024-05-01</dc:date><text:p>ask again</text:p></office:annotation><text:p>",
        1,
    );
    let far = "<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>";
    let sheet = format!("<table:table table:name=\"Yarn\">{heads}{noted}{far}</table:table>");
    let desk = Desk::empty();
    let text = taken(&desk, "book.ods", &ods(&format!("{empty}{sheet}{empty}")));
    assert!(text.contains("Quenby,Moor & Fen,125 m,50 g"), "{text}");
    let look = desk.json(&["import", "table", "book.ods"]);
    assert_eq!(look["row_count"], 1, "{look:#}");
    let said = look["read_as"].as_str().unwrap();
    assert!(said.contains("Yarn"), "{said}");
}

#[test]
fn a_cell_at_the_far_end_of_a_sheet_costs_nothing() {
    let stray = "<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row>";
    let book = xlsx(&(rows(TABLE) + stray), &[]);
    let text = taken(&Desk::empty(), "stray.xlsx", &book);
    assert!(text.contains("Quenby,Moor & Fen,125 m,50 g"), "{text}");
    let [heads, cells] = TABLE.map(|cells| ods_row(&cells, ""));
    let gap = "<table:table-row table:number-rows-repeated=\"1048570\"><table:table-cell/></table:table-row>";
    let last = format!(
        "<table:table-row><table:table-cell table:number-columns-repeated=\"16383\"/>{}</table:table-row>",
        ods_cell("1")
    );
    let sheet = format!("<table:table table:name=\"Yarn\">{heads}{cells}{gap}{last}</table:table>");
    let text = taken(&Desk::empty(), "stray.ods", &ods(&sheet));
    assert!(text.contains("Quenby,Moor & Fen,125 m,50 g"), "{text}");
}

/// A file of some KiB or MiB each; what it is told holds more than.
fn bombs() -> Vec<(&'static str, Vec<u8>, &'static str)> {
    let zeros = archive(&[("xl/zeros", " ".repeat(16 << 20))]);
    let mut zeros = ZipArchive::new(Cursor::new(zeros)).unwrap();
    let mut unpacking = ZipWriter::new(Cursor::new(Vec::new()));
    for copy in 0..17 {
        let entry = zeros.by_index_raw(0).unwrap();
        let name = format!("xl/zeros{copy}");
        unpacking.raw_copy_file_rename(entry, name).unwrap();
    }
    let claimed = format!("{HEAD}<sst xmlns=\"{MAIN}\" uniqueCount=\"99999999999999\"/>");
    let shared = format!(
        "{HEAD}<sst xmlns=\"{MAIN}\"><si><t>{}</t></si></sst>",
        "W".repeat(1 << 20)
    );
    let many: String = (0..200).map(|_| "<c t=\"s\"><v>0</v></c>").collect();
    let repeated = |rows: &str, text: &str| {
        let [heads, _] = TABLE.map(|cells| ods_row(&cells, ""));
        let cell = ods_cell(text).replacen(
            "<table:table-cell",
            "<table:table-cell table:number-columns-repeated=\"16384\"",
            1,
        );
        let row = format!(
            "<table:table-row table:number-rows-repeated=\"{rows}\">{cell}</table:table-row>"
        );
        ods(&format!(
            "<table:table table:name=\"Yarn\">{heads}{row}</table:table>"
        ))
    };
    vec![
        (
            "zeros.xlsx",
            unpacking.finish().unwrap().into_inner(),
            "256 MiB once it is unpacked",
        ),
        (
            "claimed.xlsx",
            xlsx(&rows(TABLE), &[("xl/sharedStrings.xml", claimed)]),
            "4,000,000 cells",
        ),
        (
            "shared.xlsx",
            xlsx(
                &format!("<row>{many}</row>"),
                &[("xl/sharedStrings.xml", shared)],
            ),
            "128 MiB of text",
        ),
        ("rows.ods", repeated("1048576", "x"), "4,000,000 cells"),
        (
            "texts.ods",
            repeated("9", &"W".repeat(1 << 20)),
            "128 MiB of text",
        ),
    ]
}

/// What a command that is refused says, and the most memory that it took, in KiB, where
/// the system tells that.
fn refused(desk: &Desk, command: &[&str]) -> (String, u64) {
    let mut child = desk.command(command).spawn().unwrap();
    let mut peak = 0;
    while child.try_wait().unwrap().is_none() {
        let status = fs::read_to_string(format!("/proc/{}/status", child.id()));
        let status = status.unwrap_or_default();
        let line = status.lines().find(|line| line.starts_with("VmHWM:"));
        let number = line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok());
        peak = peak.max(number.unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
    let done = child.wait_with_output().unwrap();
    assert_eq!(done.status.code(), Some(1));
    (String::from_utf8(done.stderr).unwrap(), peak)
}

#[test]
fn a_small_workbook_that_holds_much_is_refused_before_room_is_made_for_it() {
    let desk = Desk::empty();
    for (name, bytes, limit) in bombs() {
        assert!(bytes.len() < 1 << 20, "{name}: {} bytes", bytes.len());
        desk.write(name, bytes);
        for command in [["import", "table", name], ["import", "yarns", name]] {
            let (told, peak) = refused(&desk, &command);
            let expected = format!("{name} holds more than {limit}: save it as CSV");
            assert!(told.contains(&expected), "{told:.300}");
            assert!(peak < 512 << 10, "{name}: {peak} KiB");
        }
    }
    // Spaces that are said to be many in a cell are none at its end.
    let spaces = TABLE.map(|cells| ods_row(&cells, "")).concat().replacen(
        "Quenby",
        "Quenby<text:s text:c=\"4294967295\"/>",
        1,
    );
    let sheet = format!("<table:table table:name=\"Yarn\">{spaces}</table:table>");
    let text = taken(&desk, "spaces.ods", &ods(&sheet));
    assert!(text.contains("Quenby,Moor & Fen,125 m,50 g"), "{text}");
}

/// Beyond the 4 MiB and the 3,000 rows that were the limit once.
#[test]
fn a_price_list_of_many_thousand_rows_is_looked_at_whole() {
    let desk = Desk::empty();
    let count = if std::env::var_os("UNDERSTUDY_LONG").is_some() {
        50_000
    } else {
        3_500
    };
    let names: Vec<String> = (0..count).map(|nth| format!("Moor {nth}")).collect();
    let cells = names.iter().map(|name| ["Quenby", name, "125", "50"]);
    let heads = std::iter::once(TABLE[0]);
    let book = xlsx(&rows(heads.chain(cells)), &[]);
    desk.write("list.xlsx", &book);
    let look = desk.json(&["import", "table", "list.xlsx"]);
    assert_eq!(look["row_count"], count);
    let notes = "soft ".repeat(300);
    let mut text = "Brand;Yarn;Metres;Grams;Notes\n".to_owned();
    for name in names.iter().take(3500) {
        writeln!(text, "Quenby;{name};125;50;{notes}").unwrap();
    }
    assert!(text.len() > 5 << 20);
    fs::write(desk.path("list.csv"), text).unwrap();
    let look = desk.json(&["import", "table", "list.csv"]);
    assert_eq!(look["row_count"], 3500);
}
