//! The finished size of a piece.

use super::{Answer, Block, Page, Render, Style};
use crate::{
    app::SizeAnswer,
    measure::Length,
    words::{and_list, number},
};
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
        let side = |count: Option<f64>, length: Option<Length>, what: &str, way: &str| {
            let (count, length) = count.zip(length)?;
            let length = style.pair(
                format!("{} cm", number(length.as_metres() * 100.0, 1)),
                format!("{} in", number(length.as_inches(), 2)),
            );
            Some(format!("{length} {way} with {} {what}", number(count, 2)))
        };
        let width = side(self.stitches, self.size.width, "stitches", "wide");
        let height = side(self.rows, self.size.height, "rows", "high");
        let said = and_list(width.into_iter().chain(height));
        page.blocks.push(Block::Answer(Answer::alone(format!(
            "It comes out {said}."
        ))));
        let sum = "Size = count / (count per length). A gauge over 4 in means 4 in (10.16 cm), not 10 cm.";
        page.working(&[sum.to_owned()], &style.notes(&self.notes));
        page
    }
}
