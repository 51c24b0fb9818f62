//! Finished size from counts and gauge.

use super::{Align, Page, Report, Role, Table};
use crate::{measure::units::INCH_M, words::number};
use serde::Serialize;

/// Answer to `size`.
#[derive(Debug, Clone, Serialize)]
pub struct SizeReport {
    /// Stitches that were counted.
    pub stitches: Option<f64>,
    /// Rows that were counted.
    pub rows: Option<f64>,
    /// The gauge, in words.
    pub gauge: String,
    /// Width, m.
    pub width_m: Option<f64>,
    /// Height, m.
    pub height_m: Option<f64>,
    /// What to know.
    pub warnings: Vec<String>,
}

impl Report for SizeReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!("Finished size at {}", self.gauge));
        let mut table = Table::new(&[
            ("", Align::Left),
            ("count", Align::Right),
            ("cm", Align::Right),
            ("in", Align::Right),
        ]);
        let lines = [
            ("width, stitches", self.stitches, self.width_m),
            ("height, rows", self.rows, self.height_m),
        ];
        for (what, count, metres) in lines {
            if let Some((count, metres)) = count.zip(metres) {
                table.rows.push(vec![
                    what.to_owned(),
                    number(count, 2),
                    number(metres * 100.0, 1),
                    number(metres / INCH_M, 2),
                ]);
            }
        }
        page.table(table);
        page.text(
            Role::Aside,
            "Size = count / (count per length). A gauge over 4 in is kept over 4 in (10.16 cm).",
        );
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}
