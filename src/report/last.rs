//! Whether what is left of a yarn lasts.

use super::{Align, Page, Range, Render, Role, Style, Table};
use crate::{
    app::{LastAnswer, LastFault, RowShape, RowUseSource, RowsAhead, Weighing, YarnLasts},
    measure::units::YARD_M,
    words::{count_of, number},
};
use serde::Serialize;

/// Fields of the answer to `last`.
#[derive(Debug, Serialize)]
struct LastFields {
    /// Yarn that is left to knit with, g; core and what is kept taken off.
    left_g: f64,
    /// The same in m, where the length per mass is known.
    left_m: Option<f64>,
    /// What is kept for the bind-off, g.
    keep_g: f64,
    /// What a row takes as it is now, g.
    row_now_g: f64,
    /// The same in m.
    row_now_m: Option<f64>,
    /// Rows that what is left makes.
    rows_remain: Range,
    /// Whole rows that are safe: the low end of `rows_remain`.
    stop_after_rows: f64,
    /// Rows after which a narrowing piece has no stitches left.
    ends_after_rows: Option<f64>,
    /// Rows still to work, where stated.
    rows_left: Option<f64>,
    /// What those take, g.
    takes_g: Option<f64>,
    /// The same in m.
    takes_m: Option<f64>,
    /// To spare after them, g; below zero where it does not last.
    spare_g: Option<Range>,
    /// The same in m.
    spare_m: Option<Range>,
    /// Rows to spare after them.
    spare_rows: Option<Range>,
    /// Whether it lasts.
    lasts: Option<&'static str>,
    /// Rows of a triangle that are done, %.
    rows_done_percent: Option<f64>,
    /// Yarn of a triangle that is used, %.
    yarn_done_percent: Option<f64>,
    /// What was counted, a sentence each.
    working: Vec<String>,
    /// What to know.
    warnings: Vec<String>,
}

impl Render for LastAnswer {
    fn fields(&self) -> impl Serialize {
        let ahead = self.ahead.as_ref();
        let metres = |grams| self.metres(grams);
        let spare_m = |ahead: &RowsAhead| {
            let per_gram = self.grist?.as_metres_per_gram();
            Some(Range::from(ahead.spare_g).times(per_gram))
        };
        LastFields {
            left_g: self.left_g,
            left_m: metres(self.left_g),
            keep_g: self.keep_g,
            row_now_g: self.row_now_g,
            row_now_m: metres(self.row_now_g),
            rows_remain: self.rows_remain.into(),
            stop_after_rows: stop_after(self),
            ends_after_rows: self.ends_after_rows,
            rows_left: ahead.map(|ahead| ahead.rows),
            takes_g: ahead.map(|ahead| ahead.takes_g),
            takes_m: ahead.and_then(|ahead| metres(ahead.takes_g)),
            spare_g: ahead.map(|ahead| ahead.spare_g.into()),
            spare_m: ahead.and_then(spare_m),
            spare_rows: ahead.map(|ahead| ahead.spare_rows.into()),
            lasts: ahead.map(|ahead| match ahead.lasts {
                YarnLasts::Yes => "yes",
                YarnLasts::No => "no",
                YarnLasts::TooClose => "too close to say",
            }),
            rows_done_percent: self.triangle_done.map(|(rows, _)| rows * 100.0),
            yarn_done_percent: self.triangle_done.map(|(_, yarn)| yarn * 100.0),
            working: working(self),
            warnings: Style::default().notes(&self.notes),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled("Will it last?");
        if let Some(ahead) = &self.ahead {
            let (role, words) = verdict(ahead);
            page.text(role, words);
        }
        let low = self.rows_remain.low;
        if self.ends_after_rows.is_some_and(|end| low >= end - 1e-6) {
            page.text(
                Role::Good,
                "It lasts to the end: the piece closes before the yarn does.",
            );
        } else {
            page.text(
                Role::Plain,
                format!(
                    "Stop after {} and bind off or join new yarn: that far it reaches even where the doubts fall badly.",
                    count_of(stop_after(self), "more row")
                ),
            );
        }
        page.table(self.table(style));
        if let Some((rows, yarn)) = self.triangle_done {
            page.text(
                Role::Plain,
                format!(
                    "{} % of the rows of this triangle are done, and {} % of its yarn is used.",
                    number(rows * 100.0, 0),
                    number(yarn * 100.0, 0)
                ),
            );
        }
        page.part("Working", Role::Aside, &working(self));
        page.part("To know", Role::Caution, &style.notes(&self.notes));
        page
    }
}

impl LastAnswer {
    fn metres(&self, grams: f64) -> Option<f64> {
        Some(grams * self.grist?.as_metres_per_gram())
    }

    fn table(&self, style: &Style) -> Table {
        let [first, second] = style.ordered("m", "yd");
        let mut table = Table::new(&[
            ("", Align::Left),
            ("rows", Align::Right),
            ("g", Align::Right),
            (first, Align::Right),
            (second, Align::Right),
        ]);
        let lengths = |grams: f64, places| {
            let Some(metres) = self.metres(grams) else {
                return [String::new(), String::new()];
            };
            style.ordered(number(metres, places), number(metres / YARD_M, places))
        };
        let mut row = |what: &str, rows: String, grams: String, [first, second]: [String; 2]| {
            let what = what.to_owned();
            table.rows.push(vec![what, rows, grams, first, second]);
        };
        row(
            "a row takes now",
            "1".to_owned(),
            number(self.row_now_g, 3),
            lengths(self.row_now_g, 2),
        );
        row(
            "left to knit with",
            Range::from(self.rows_remain).words(1),
            number(self.left_g, 2),
            lengths(self.left_g, 1),
        );
        if let Some(ahead) = &self.ahead {
            row(
                "still to work",
                number(ahead.rows, 1),
                number(ahead.takes_g, 2),
                lengths(ahead.takes_g, 1),
            );
            let spare = Range::from(ahead.spare_g);
            let length = |unit_m: f64| match self.grist {
                Some(grist) => spare.times(grist.as_metres_per_gram() / unit_m).words(1),
                None => String::new(),
            };
            row(
                "to spare",
                Range::from(ahead.spare_rows).words(1),
                spare.words(1),
                style.ordered(length(1.0), length(YARD_M)),
            );
        }
        table
    }
}

/// Whole rows that are safe.
fn stop_after(answer: &LastAnswer) -> f64 {
    answer.rows_remain.low.floor().max(0.0)
}

fn verdict(ahead: &RowsAhead) -> (Role, String) {
    let rows = count_of(ahead.rows, "row");
    match ahead.lasts {
        YarnLasts::Yes => (Role::Good, format!("It lasts for {rows}.")),
        YarnLasts::No => (Role::Bad, format!("It does not last for {rows}.")),
        YarnLasts::TooClose => (Role::Doubtful, format!("Too close to say for {rows}.")),
    }
}

/// What is wrong with a request.
pub(super) fn last_fault_words(fault: &LastFault, style: &Style) -> String {
    match fault {
        LastFault::LengthWithoutPutUp => format!(
            "this is a length: add {}, as in `230 m/100 g`",
            style.field("put-up")
        ),
        LastFault::NothingToKnit { left_g, kept_g } => format!(
            "of {} g, {} g are core or kept: nothing is left to knit with",
            number(*left_g, 2),
            number(*kept_g, 2)
        ),
        LastFault::NothingUsed { before_g, left_g } => format!(
            "nothing was used: {} g before and {} g now",
            number(*before_g, 2),
            number(*left_g, 2)
        ),
        LastFault::NoLabelTolerance(mass) => format!(
            "no tolerance is published for a label of {} g: weigh the ball and give {}",
            number(mass.as_grams(), 2),
            style.field("before")
        ),
        LastFault::FewerThanNoStitches { rows, stitches } => format!(
            "{} ago this piece would have had {} stitches: check these rows, {}, {} and {}",
            count_of(*rows, "row"),
            number(*stitches, 1),
            style.field("rows-done"),
            style.field("stitches"),
            style.field("each")
        ),
    }
}

/// What was counted, a sentence each.
fn working(answer: &LastAnswer) -> Vec<String> {
    let [scale, damp] = weighing_words(&answer.weighing);
    let mut working = vec![scale, damp];
    working.extend(source_words(answer.source));
    working.extend(shape_words(answer.shape).map(str::to_owned));
    working.push(
        "Intervals hold the truth 95 times in 100 where the doubts named here are all there are."
            .to_owned(),
    );
    working
}

fn weighing_words(weighing: &Weighing) -> [String; 2] {
    let scale_g = weighing.scale.as_grams();
    [
        format!(
            "Scale: rounds to {} g, so each weighing is good to {} g either way.",
            number(scale_g, 4),
            number(scale_g / 2.0, 4)
        ),
        format!(
            "Damp: yarn may weigh {} % more or less from one weighing to the next (common practice, no source; 0 % where both were weighed in the same air).",
            number(weighing.damp.as_percent(), 2)
        ),
    ]
}

fn source_words(source: RowUseSource) -> Option<String> {
    match source {
        RowUseSource::Weighed => None,
        RowUseSource::Label { stated, shortfall } => Some(format!(
            "Label: a ball of {} g may fall {} g short (Directive 76/211/EEC, Annex I), at most 1 in 40 by more (UK packers' rules); 95 of 100 are taken to lie within that either way.",
            number(stated.as_grams(), 2),
            number(shortfall.as_grams(), 2)
        )),
        RowUseSource::OwnFigure => {
            Some("What a row takes is your own figure, taken as exact.".to_owned())
        }
    }
}

/// What a shape means for the yarn.
fn shape_words(shape: RowShape) -> Option<&'static str> {
    match shape {
        RowShape::Straight => None,
        RowShape::Triangle => Some(
            "A triangle goes by its stitches, not by its rows: with a share x of the rows done, x squared of the yarn is used.",
        ),
        RowShape::Crescent => {
            Some("Each row takes more than the one before it, by the stitches that it gains.")
        }
        RowShape::Yoke => {
            Some("Each row takes less than the one before it, by the stitches that it loses.")
        }
    }
}
