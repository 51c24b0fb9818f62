//! Whether what is left of a yarn lasts.

use super::{Align, Page, Range, Report, Role, Table};
use crate::{
    measure::units::YARD_M,
    words::{count_of, number},
};
use serde::Serialize;

/// Whether it lasts, with its interval.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Lasts {
    /// Even at the low end of the interval.
    Yes,
    /// Not even at the high end.
    No,
    /// The interval reaches to both sides.
    #[serde(rename = "too close to say")]
    TooClose,
}

/// Answer to `last`.
#[derive(Debug, Clone, Serialize)]
pub struct LastReport {
    /// Yarn that is left to knit with, g; core and what is kept taken off.
    pub left_g: f64,
    /// The same in m, where the length per mass is known.
    pub left_m: Option<f64>,
    /// What is kept for the bind-off, g.
    pub keep_g: f64,
    /// What a row takes as it is now, g.
    pub row_now_g: f64,
    /// The same in m.
    pub row_now_m: Option<f64>,
    /// Rows that what is left makes.
    pub rows_remain: Range,
    /// Whole rows that are safe: the low end of `rows_remain`.
    pub stop_after_rows: f64,
    /// Rows after which a narrowing piece has no stitches left.
    pub ends_after_rows: Option<f64>,
    /// Rows still to work, where stated.
    pub rows_left: Option<f64>,
    /// What those take, g.
    pub takes_g: Option<f64>,
    /// The same in m.
    pub takes_m: Option<f64>,
    /// To spare after them, g; below zero where it does not last.
    pub spare_g: Option<Range>,
    /// The same in m.
    pub spare_m: Option<Range>,
    /// Rows to spare after them.
    pub spare_rows: Option<Range>,
    /// Whether it lasts.
    pub lasts: Option<Lasts>,
    /// Rows of a triangle that are done, %.
    pub rows_done_percent: Option<f64>,
    /// Yarn of a triangle that is used, %.
    pub yarn_done_percent: Option<f64>,
    /// What was counted, a sentence each.
    pub working: Vec<String>,
    /// What to know.
    pub warnings: Vec<String>,
}

impl Report for LastReport {
    fn page(&self) -> Page {
        let mut page = Page::titled("Will it last?");
        if let Some((role, words)) = self.verdict() {
            page.text(role, words);
        }
        if self
            .ends_after_rows
            .is_some_and(|end| self.rows_remain.low >= end - 1e-6)
        {
            page.text(
                Role::Good,
                "It lasts to the end: the piece closes before the yarn does.",
            );
        } else {
            page.text(Role::Plain, self.stop());
        }
        page.table(self.table());
        if let Some((rows, yarn)) = self.rows_done_percent.zip(self.yarn_done_percent) {
            page.text(
                Role::Plain,
                format!(
                    "{} % of the rows of this triangle are done, and {} % of its yarn is used.",
                    number(rows, 0),
                    number(yarn, 0)
                ),
            );
        }
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}

impl LastReport {
    fn stop(&self) -> String {
        format!(
            "Stop after {} and bind off or join new yarn: that far it reaches even where the doubts fall badly.",
            count_of(self.stop_after_rows, "more row")
        )
    }

    fn verdict(&self) -> Option<(Role, String)> {
        let rows = count_of(self.rows_left?, "row");
        Some(match self.lasts? {
            Lasts::Yes => (Role::Good, format!("It lasts for {rows}.")),
            Lasts::No => (Role::Bad, format!("It does not last for {rows}.")),
            Lasts::TooClose => (Role::Doubtful, format!("Too close to say for {rows}.")),
        })
    }

    fn table(&self) -> Table {
        let mut table = Table::new(&[
            ("", Align::Left),
            ("rows", Align::Right),
            ("g", Align::Right),
            ("m", Align::Right),
            ("yd", Align::Right),
        ]);
        let show =
            |value: Option<f64>, places| value.map(|v| number(v, places)).unwrap_or_default();
        let spread = |range: Option<Range>| range.map(|r| r.words(1)).unwrap_or_default();
        let yards = |metres: Option<f64>| metres.map(|m| m / YARD_M);
        let mut row = |what: &str, rows: String, grams: String, lengths: [String; 2]| {
            let [metres, yards] = lengths;
            table
                .rows
                .push(vec![what.to_owned(), rows, grams, metres, yards]);
        };
        row(
            "a row takes now",
            "1".to_owned(),
            number(self.row_now_g, 3),
            [show(self.row_now_m, 2), show(yards(self.row_now_m), 2)],
        );
        row(
            "left to knit with",
            self.rows_remain.words(1),
            number(self.left_g, 2),
            [show(self.left_m, 1), show(yards(self.left_m), 1)],
        );
        if self.rows_left.is_some() {
            row(
                "still to work",
                show(self.rows_left, 1),
                show(self.takes_g, 2),
                [show(self.takes_m, 1), show(yards(self.takes_m), 1)],
            );
            row(
                "to spare",
                spread(self.spare_rows),
                spread(self.spare_g),
                [
                    spread(self.spare_m),
                    spread(self.spare_m.map(|range| range.times(1.0 / YARD_M))),
                ],
            );
        }
        table
    }
}
