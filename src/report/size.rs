//! The finished size of a piece.

use super::{Answer, Block, Page, Render, Style, json::fields_of};
use crate::{
    app::SizeAnswer,
    measure::Length,
    words::{and_list, number},
};

fields_of! {
    /// The finished size of a piece.
    SizeFields(answer: &SizeAnswer) {
        /// Stitches that were counted.
        stitches: Option<f64> = answer.stitches,
        /// Rows that were counted.
        rows: Option<f64> = answer.rows,
        /// The gauge as typed.
        gauge: String = answer.gauge.clone(),
        /// Width in metres.
        width_m: Option<f64> = answer.size.width.map(Length::as_metres),
        /// Height in metres.
        height_m: Option<f64> = answer.size.height.map(Length::as_metres),
        /// What was noticed in what was typed.
        warnings: Vec<String> = Style::default().notes(&answer.notes),
    }
}

impl Render for SizeAnswer {
    type Fields = SizeFields;

    fn fields(&self) -> SizeFields {
        SizeFields::of(self)
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
