//! Finished size from counts and gauge.

use super::{Align, Page, Render, Role, Style, Table};
use crate::{app::SizeAnswer, measure::Length, words::number};
use serde::Serialize;

/// Fields of the answer to `size`.
#[derive(Debug, Serialize)]
struct SizeFields<'a> {
    /// Stitches that were counted.
    stitches: Option<f64>,
    /// Rows that were counted.
    rows: Option<f64>,
    /// The gauge, as typed.
    gauge: &'a str,
    /// Width, m.
    width_m: Option<f64>,
    /// Height, m.
    height_m: Option<f64>,
    /// What to know.
    warnings: Vec<String>,
}

impl Render for SizeAnswer {
    fn fields(&self) -> impl Serialize {
        SizeFields {
            stitches: self.stitches,
            rows: self.rows,
            gauge: &self.gauge,
            width_m: self.size.width.map(Length::as_metres),
            height_m: self.size.height.map(Length::as_metres),
            warnings: Style::default().notes(&self.notes),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Finished size at {}", self.gauge));
        let [first, second] = style.ordered("cm", "in");
        let mut table = Table::new(&[
            ("", Align::Left),
            ("count", Align::Right),
            (first, Align::Right),
            (second, Align::Right),
        ]);
        let lines = [
            ("width, stitches", self.stitches, self.size.width),
            ("height, rows", self.rows, self.size.height),
        ];
        for (what, count, length) in lines {
            if let Some((count, length)) = count.zip(length) {
                table.rows.push(row(what, count, length, style));
            }
        }
        page.table(table);
        page.text(
            Role::Aside,
            "Size = count / (count per length). A gauge over 4 in is kept over 4 in (10.16 cm).",
        );
        page.part("To know", Role::Caution, &style.notes(&self.notes));
        page
    }
}

fn row(what: &str, count: f64, length: Length, style: &Style) -> Vec<String> {
    let [first, second] = style.ordered(
        number(length.as_metres() * 100.0, 1),
        number(length.as_inches(), 2),
    );
    vec![what.to_owned(), number(count, 2), first, second]
}
