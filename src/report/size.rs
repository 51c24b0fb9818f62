//! The finished size of a piece.

use super::{Page, Render, Role, Style, Table};
use crate::{app::SizeAnswer, measure::Length, words::number};
use serde::Serialize;
use serde_json::json;

impl Render for SizeAnswer {
    /// Stitches and rows that were counted, and the gauge as typed.
    fn fields(&self) -> impl Serialize {
        json!({
            "stitches": self.stitches,
            "rows": self.rows,
            "gauge": self.gauge,
            "width_m": self.size.width.map(Length::as_metres),
            "height_m": self.size.height.map(Length::as_metres),
            "warnings": Style::default().notes(&self.notes),
        })
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Finished size at {}", self.gauge));
        let width = ("width, stitches", self.stitches.zip(self.size.width));
        let height = ("height, rows", self.rows.zip(self.size.height));
        let known = [width, height].into_iter();
        let known = known.filter_map(|(what, known)| Some((what, known?)));
        page.table(
            Table::of(known)
                .left("", |(what, _)| what)
                .right("count", |(_, (count, _))| number(count, 2))
                .pair(style, "", ["cm", "in"], |(_, (_, length))| {
                    let centimetres = length.as_metres() * 100.0;
                    [number(centimetres, 1), number(length.as_inches(), 2)]
                }),
        );
        page.text(
            Role::Aside,
            "Size = count / (count per length). A gauge over 4 in means 4 in (10.16 cm), not 10 cm.",
        );
        page.part("Notes", Role::Caution, &style.notes(&self.notes));
        page
    }
}
