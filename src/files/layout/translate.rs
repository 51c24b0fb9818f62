//! Rows of anybody's table as cells of our own.

use super::{Answers, Field, Lack, Layout, body};
use crate::{
    files::sheet::{Sheet, SheetRow},
    label::cells,
    words::fold,
};
use std::collections::BTreeMap;

/// A row, as cells of our tables.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OurRow {
    /// Its line in the table.
    pub line: u64,
    /// Its cells that are not empty, by our columns.
    pub cells: BTreeMap<&'static str, String>,
}

impl OurRow {
    /// The text of a column; empty where the table says nothing.
    pub fn text(&self, column: &str) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }
}

/// A row that is about no yarn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Its line.
    pub line: u64,
    /// What it says.
    pub text: String,
}

/// Words that begin a row of sums.
const SUMS: [&str; 14] = [
    "total",
    "sum",
    "subtotal",
    "summe",
    "gesamt",
    "zwischensumme",
    "insgesamt",
    "somme",
    "totaal",
    "totaux",
    "suma",
    "i alt",
    "ialt",
    "sum total",
];

/// The rows of a table as cells of ours, and those that are about no yarn: sums, heads
/// that are repeated, text between.
pub fn translate(sheet: &Sheet, layout: &Layout, answers: &Answers) -> (Vec<OurRow>, Vec<LeftOut>) {
    let head = sheet.rows.get(layout.head).map(|row| &row.cells);
    let (mut rows, mut left_out) = (Vec::new(), Vec::new());
    let mut maker = answers.maker.clone();
    for row in body(sheet, layout.head).filter(|row| Some(&row.cells) != head) {
        let mut cells = our_cells(row, layout, answers);
        let is_sum = row
            .cells
            .iter()
            .any(|cell| SUMS.contains(&fold(cell).as_str()));
        let is_about_one = ["name", "gtin"].iter().any(|key| cells.contains_key(key));
        if is_sum || !is_about_one {
            let said = row.cells.iter().filter(|cell| !cell.is_empty());
            let text = said.cloned().collect::<Vec<_>>().join(", ");
            left_out.push(LeftOut {
                line: row.line,
                text,
            });
            continue;
        }
        // The maker of cells that are merged stands in the first row only.
        match cells.get("maker") {
            Some(said) => maker = Some(said.clone()),
            None if cells.contains_key("name") => {
                cells.extend(maker.clone().map(|maker| ("maker", maker)));
            }
            None => {}
        }
        rows.push(OurRow {
            line: row.line,
            cells,
        });
    }
    (rows, left_out)
}

fn our_cells(row: &SheetRow, layout: &Layout, answers: &Answers) -> BTreeMap<&'static str, String> {
    let mut cells = BTreeMap::new();
    for (column, cell) in layout.columns.iter().zip(&row.cells) {
        let Some(field) = column.field.filter(|field| says_something(field, cell)) else {
            continue;
        };
        let unit = field
            .lack
            .and_then(|lack| column.unit.as_deref().or(answers.unit(lack)));
        let text = match (field.number_in(cell, layout.decimal_comma), unit) {
            (Some(number), Some(unit)) => with_unit(&number, unit),
            _ if field.name == "gtin" => cell.split_whitespace().collect(),
            _ => cell.split_whitespace().collect::<Vec<_>>().join(" "),
        };
        match field.name {
            "put_up" => cells.extend(halves(&text)),
            name => {
                cells.insert(name, text);
            }
        }
    }
    if let Some(mass) = layout
        .mass
        .as_ref()
        .filter(|_| cells.contains_key("length"))
    {
        cells.entry("mass").or_insert_with(|| mass.clone());
    }
    cells
}

/// Whether a cell holds more than a sign that nothing is known.
fn says_something(field: &Field, cell: &str) -> bool {
    let is_sign = matches!(
        cell,
        "?" | "??" | "-" | "--" | "\u{2013}" | "n/a" | "N/A" | "x"
    );
    !(cell.is_empty() || is_sign && field.reads.is_some())
}

/// Length and mass of a put-up that stands in one cell; the whole as the length where
/// it is not read, so that the fault is reported there.
fn halves(text: &str) -> Vec<(&'static str, String)> {
    let facts = cells::put_up(text).ok().map(|read| read.value);
    let halves = facts.and_then(|facts| Some((facts.length?, facts.mass?)));
    match halves {
        Some((length, mass)) => vec![("length", length.text), ("mass", mass.text)],
        None => vec![("length", text.to_owned())],
    }
}

/// Signs of money that several countries share.
const SHARED_SIGNS: [&str; 4] = ["kr.", "kr", "$", "\u{a5}"];

impl Field {
    /// The number of a cell that does not say its unit. A price may have a sign that
    /// several countries share, and no cents: `49,95 kr`, `49,-`.
    pub(super) fn number_in(&self, cell: &str, decimal_comma: bool) -> Option<String> {
        let number = |text: &str| bare_number(text, decimal_comma);
        let is_price = self.lack == Some(Lack::Currency);
        number(cell).or_else(|| is_price.then(|| number(price_without_sign(cell)))?)
    }
}

fn price_without_sign(cell: &str) -> &str {
    let sign = |text: &str| {
        SHARED_SIGNS
            .iter()
            .find(|sign| sign.eq_ignore_ascii_case(text))
    };
    let from_digits = cell.trim_start_matches(|c: char| !c.is_ascii_digit());
    let before = cell.strip_suffix(from_digits).unwrap_or_default().trim();
    let behind = from_digits
        .trim_start_matches(|c: char| c.is_ascii_digit() || " '.,-\u{2013}\u{2014}".contains(c));
    let number = from_digits.strip_suffix(behind).unwrap_or_default();
    let is_sign = |text: &str| text.is_empty() || sign(text).is_some();
    match is_sign(before) && is_sign(behind.trim()) {
        true => number.trim_end_matches(|c: char| !c.is_ascii_digit()),
        false => cell,
    }
}

/// A number alone, with a point before its decimals. A comma divides decimals where the
/// table does so elsewhere, or where it cannot divide thousands.
pub(super) fn bare_number(text: &str, decimal_comma: bool) -> Option<String> {
    let text: String = text
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '\'')
        .collect();
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
    let starts = text.starts_with(|c: char| c.is_ascii_digit());
    if !starts || !text.chars().all(is_part) {
        return None;
    }
    let (comma, point) = (text.rfind(','), text.rfind('.'));
    let is_decimal_comma = match (comma, point) {
        (Some(comma), Some(point)) => comma > point,
        (Some(comma), None) => decimal_comma || text.len() - comma != 4,
        (None, _) => false,
    };
    let is_thousands_point =
        comma.is_none() && decimal_comma && point.is_some_and(|point| text.len() - point == 4);
    let number = match is_decimal_comma || is_thousands_point {
        true => text.replace('.', "").replace(',', "."),
        false => text.replace(',', ""),
    };
    number.parse::<f64>().ok().map(|_| number)
}

/// `125 m`, `6.50 EUR`, `3 skeins`.
pub(super) fn with_unit(number: &str, unit: &str) -> String {
    format!("{number} {unit}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{
        layout::{Question, propose},
        sheet::read_sheet,
    };

    fn taken(text: &str, answers: &Answers) -> (Layout, Vec<OurRow>, Vec<LeftOut>) {
        let sheet = read_sheet("t.csv", text.as_bytes()).unwrap();
        let layout = propose(&sheet, answers);
        let (rows, left_out) = translate(&sheet, &layout, answers);
        (layout, rows, left_out)
    }

    #[test]
    fn numbers_are_read_as_their_table_writes_them() {
        let cases = [
            ("6,50", true, "6.50"),
            ("6,50", false, "6.50"),
            ("1.234,50", true, "1234.50"),
            ("1,234.50", false, "1234.50"),
            ("1,234", false, "1234"),
            ("1,234", true, "1.234"),
            ("1.234", true, "1234"),
            ("1.234", false, "1.234"),
            ("1 234", false, "1234"),
        ];
        for (text, comma, expected) in cases {
            assert_eq!(
                bare_number(text, comma).as_deref(),
                Some(expected),
                "{text} {comma}"
            );
        }
        for text in ["", "6,50 EUR", "3-4", "1.2.3", "x", "50g"] {
            assert_eq!(bare_number(text, true), None, "{text}");
        }
    }

    #[test]
    fn a_price_with_a_sign_of_several_countries_takes_the_currency_that_is_said() {
        let price = |cell: &str, currency: Option<&str>| {
            let text = format!("Brand;Yarn;Price\nQ;Moor;{cell}\n");
            let currency = currency.map(str::to_owned);
            let (layout, rows, _) = taken(
                &text,
                &Answers {
                    currency,
                    ..Answers::default()
                },
            );
            let is_asked = layout.questions == [Question::Unit(Lack::Currency)];
            (rows[0].text("price").to_owned(), is_asked)
        };
        for (cell, expected) in [
            ("49,95 kr", "49.95 DKK"),
            ("49,95 kr.", "49.95 DKK"),
            ("Kr 1.049,95", "1049.95 DKK"),
            ("49,-", "49 DKK"),
            ("49,- kr", "49 DKK"),
            ("$49.95", "49.95 DKK"),
            ("49.95 EUR", "49.95 EUR"),
            ("US$ 49.95", "US$ 49.95"),
        ] {
            assert_eq!(price(cell, Some("DKK")).0, expected, "{cell}");
        }
        for (cell, is_asked) in [("49 kr", true), ("49,-", true), ("$49", false)] {
            assert_eq!(price(cell, None), (cell.to_owned(), is_asked), "{cell}");
        }
    }

    #[test]
    fn a_list_with_a_title_sums_and_merged_makers_is_read() {
        let text = "Vorrat im Herbst;;;;\n\nHersteller;Garn;Lauflänge (m);Gewicht;Preis €\n\
                    Quenby;Moor;125;50;6,50\n;Fen;1.100;100;12,00\n;;;Summe;18,50\n";
        let (layout, rows, left_out) = taken(text, &Answers::default());
        assert_eq!(layout.questions, []);
        assert_eq!(rows.len(), 2);
        assert_eq!(rows[1].line, 5);
        let cells = ["maker", "name", "length", "mass", "price"].map(|it| rows[1].text(it));
        assert_eq!(cells, ["Quenby", "Fen", "1100 m", "100 g", "12.00 EUR"]);
        assert_eq!(left_out[0].line, 6);
    }

    #[test]
    fn what_nobody_can_know_is_asked() {
        let text = "Yarn,Length,Weight,Price,Amount\nMoor,125,50,6.50,3\n";
        let (layout, ..) = taken(text, &Answers::default());
        let units = [Lack::Length, Lack::Mass, Lack::Currency, Lack::Amount];
        let mut expected = vec![Question::Maker];
        expected.extend(units.map(Question::Unit));
        assert_eq!(layout.questions, expected);
    }

    #[test]
    fn weight_is_a_class_or_a_mass_by_what_stands_below() {
        for (cell, field) in [("DK", "class"), ("50 g", "mass")] {
            let (layout, ..) = taken(
                &format!("Brand,Yarn,Weight\nQ,Moor,{cell}\n"),
                &Answers::default(),
            );
            assert_eq!(layout.columns[2].field.unwrap().name, field);
        }
    }

    #[test]
    fn a_head_may_name_the_mass_of_its_lengths_and_a_cell_may_hold_both() {
        let (_, rows, _) = taken("Marke;Garn;LL m/50g\nQ;Moor;125\n", &Answers::default());
        assert_eq!(
            [rows[0].text("length"), rows[0].text("mass")],
            ["125 m", "50 g"]
        );
        let (_, rows, _) = taken(
            "Marke;Garn;Lauflänge\nQ;Moor;125 m / 50 g\n",
            &Answers::default(),
        );
        assert_eq!(
            [rows[0].text("length"), rows[0].text("mass")],
            ["125 m", "50 g"]
        );
    }

    #[test]
    fn cells_give_a_column_away_that_is_headed_otherwise() {
        let text = "Marke;Garn;Nr;Info\nQ;Moor;4006381333931;75% wool 25% nylon\n";
        let (layout, ..) = taken(text, &Answers::default());
        let names: Vec<&str> = layout
            .columns
            .iter()
            .map(|it| it.field.unwrap().name)
            .collect();
        assert_eq!(names, ["maker", "name", "gtin", "fibre"]);
    }
}
