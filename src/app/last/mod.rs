//! Whether what is left of a yarn lasts: rows and masses as typed, read and put
//! together; the sums are those of `quantity`.

mod pieces;
mod request;
mod weighing;

pub use pieces::{LastPiecesAnswer, PieceAhead, YarnPieces, last_pieces};
pub use request::{LastPiecesRequest, LastRequest, RowShape};
pub use weighing::{RowUseSource, Weighing};

use super::{AppError, FaultKind, FieldNote, InputReader, input::is_given};
use crate::{
    label::cells,
    measure::{Grist, Mass},
    quantity::{Estimate, RemainingYarn, RowCourse, RowUse},
};
use weighing::row_use;

/// Answer to [`last`]. Masses in g, of yarn alone.
#[derive(Debug, Clone)]
pub struct LastAnswer {
    /// Used between the weighings, or of what the label says, where either is known.
    pub used_g: Option<f64>,
    /// Left to knit with: core and what is kept taken off.
    pub left_g: f64,
    /// Kept for the bind-off.
    pub keep_g: f64,
    /// What a row takes as it is now.
    pub row_now_g: f64,
    /// Rows that what is left makes.
    pub rows_remain: Estimate,
    /// Rows after which a narrowing piece has no stitches left.
    pub ends_after_rows: Option<f64>,
    /// The rows still to work, where stated.
    pub ahead: Option<RowsAhead>,
    /// Rows of a triangle that are done, and yarn of it that is used, as shares.
    pub triangle_done: Option<(f64, f64)>,
    /// Length per mass, where a put-up was given for metres.
    pub grist: Option<Grist>,
    /// How the rows go on.
    pub shape: RowShape,
    /// How the yarn was weighed.
    pub weighing: Weighing,
    /// How it is known what a row takes.
    pub source: RowUseSource,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// Rows still to work, and what is to spare after them.
#[derive(Debug, Clone)]
pub struct RowsAhead {
    /// How many.
    pub rows: f64,
    /// What they take, g.
    pub takes_g: f64,
    /// To spare, g; below zero where it does not last.
    pub spare_g: Estimate,
    /// To spare, in rows.
    pub spare_rows: Estimate,
    /// Whether it lasts.
    pub lasts: YarnLasts,
}

/// Whether it lasts, with its interval.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YarnLasts {
    /// Even at the low end of the interval.
    Yes,
    /// Not even at the high end.
    No,
    /// The interval reaches to both sides.
    TooClose,
}

/// What is wrong with a request, beyond what other questions have too.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LastFault {
    /// A length that only a put-up makes a mass.
    LengthWithoutPutUp,
    /// Less is left than is core or kept, g.
    NothingToKnit {
        /// What is left.
        left_g: f64,
        /// Core and what is kept.
        kept_g: f64,
    },
    /// No less is left than was there before, g.
    NothingUsed {
        /// What was there before.
        before_g: f64,
        /// What is left.
        left_g: f64,
    },
    /// A mass for which no tolerance of labels is published.
    NoLabelTolerance(Mass),
    /// So many rows ago a piece would have had fewer stitches than none.
    FewerThanNoStitches {
        /// The rows.
        rows: f64,
        /// The stitches.
        stitches: f64,
    },
}

/// What a row takes, how many rows remain, what is spare, where to stop.
pub fn last(request: &LastRequest) -> Result<LastAnswer, AppError> {
    let mut reader = InputReader::default();
    refuse_conflicts(&mut reader, request);
    let weighing = Weighing::read(&mut reader, request)?;
    let grist = grist(&mut reader, request);
    let core_g = grams(&mut reader, "tare", &request.tare);
    let keep_g = grams(&mut reader, "keep", &request.keep);
    let left = left(&mut reader, request, core_g + keep_g);
    let rows = reader.count("rows", &request.rows);
    let ahead = reader.optional("rows-left", &request.rows_left, cells::plain_number);
    let course = course(&mut reader, request, rows);
    let row_use = row_use(&mut reader, request, &weighing, (core_g, grist, rows))?;
    if let Some(((RowUse::Weighed { before, .. }, _), left)) = row_use.as_ref().zip(left) {
        let before_g = before.value;
        if before_g <= left.as_grams() {
            let left_g = left.as_grams();
            reader.fault("left", LastFault::NothingUsed { before_g, left_g });
        }
    }
    let (((row_use, source), left), course) = reader.checked(row_use.zip(left).zip(course))?;
    let used_g = match &row_use {
        RowUse::Weighed { before, .. } => Some(before.value - left.as_grams()),
        _ => None,
    };
    let remaining = RemainingYarn {
        taken: row_use,
        left: weighing.weighed(left, core_g),
        kept: core_g + keep_g,
        course,
    };
    let done = (request.shape == RowShape::Triangle).then_some(course.now);
    let done = done.zip(ahead).map(|(done, ahead)| done / (done + ahead));
    Ok(LastAnswer {
        used_g,
        left_g: remaining.left.value - remaining.kept,
        keep_g,
        row_now_g: remaining.row_now().value,
        rows_remain: remaining.rows_left(),
        ends_after_rows: course.ends_after(),
        ahead: ahead.map(|rows| rows_ahead(&remaining, rows)),
        triangle_done: done.map(|share| (share, share * share)),
        grist,
        shape: request.shape,
        weighing,
        source,
        notes: reader.notes,
    })
}

fn rows_ahead(remaining: &RemainingYarn, rows: f64) -> RowsAhead {
    let spare_g = remaining.spare(rows);
    RowsAhead {
        rows,
        takes_g: remaining.takes(rows).value,
        spare_g,
        spare_rows: remaining.rows_left().less(rows),
        lasts: match spare_g {
            spare if spare.low >= 0.0 => YarnLasts::Yes,
            spare if spare.high < 0.0 => YarnLasts::No,
            _ => YarnLasts::TooClose,
        },
    }
}

/// Nothing that was typed is left unused.
fn refuse_conflicts(reader: &mut InputReader, request: &LastRequest) {
    let before = ("before", &request.before);
    let label = ("label", &request.label);
    let row_takes = ("row-takes", &request.row_takes);
    reader.not_with(label, before);
    reader.not_with(row_takes, before);
    reader.not_with(row_takes, label);
    for (field, text, shapes) in [
        (
            "each",
            &request.each,
            &[RowShape::Crescent, RowShape::Yoke][..],
        ),
        ("rows-done", &request.rows_done, &[RowShape::Triangle]),
    ] {
        if is_given(text) && !shapes.contains(&request.shape) {
            let values = shapes.iter().map(|shape| shape.name()).collect();
            reader.fault(
                field,
                FaultKind::OnlyWithChoice {
                    field: "shape",
                    values,
                },
            );
        }
    }
}

fn grams(reader: &mut InputReader, field: &str, text: &Option<String>) -> f64 {
    let mass = reader.optional(field, text, cells::mass);
    mass.map_or(0.0, Mass::as_grams)
}

/// Length per mass of a put-up that was given for metres.
fn grist(reader: &mut InputReader, request: &LastRequest) -> Option<Grist> {
    let put_up = reader.optional("put-up", &request.put_up, cells::put_up)?;
    let grist = put_up.grist();
    if grist.is_none() {
        reader.fault("put-up", FaultKind::NoLengthPerMass);
    }
    grist
}

/// What is left, of which `not_knit` g are core or kept.
fn left(reader: &mut InputReader, request: &LastRequest, not_knit: f64) -> Option<Mass> {
    let left = reader.required("left", &request.left, cells::mass)?;
    if left.as_grams() <= not_knit {
        let left_g = left.as_grams();
        let kept_g = not_knit;
        reader.fault("left", LastFault::NothingToKnit { left_g, kept_g });
    }
    Some(left)
}

/// The course of the rows, by the shape and what was said of it.
fn course(reader: &mut InputReader, request: &LastRequest, rows: Option<f64>) -> Option<RowCourse> {
    let stitches = reader.count("stitches", &request.stitches);
    let each = reader.count("each", &request.each);
    let done = reader.count("rows-done", &request.rows_done);
    let mut needed = |field: &str, text: &Option<String>, value: Option<f64>| {
        if value.is_none() && !is_given(text) {
            let value = request.shape.name();
            let field_of = "shape";
            reader.fault(
                field,
                FaultKind::NeededFor {
                    field: field_of,
                    value,
                },
            );
        }
        value
    };
    let course = match request.shape {
        RowShape::Straight => RowCourse {
            now: stitches.unwrap_or(1.0),
            each: 0.0,
        },
        RowShape::Triangle => {
            RowCourse::triangle(needed("rows-done", &request.rows_done, done.or(rows))?)
        }
        RowShape::Crescent | RowShape::Yoke => {
            let stitches = needed("stitches", &request.stitches, stitches);
            let each = needed("each", &request.each, each);
            let narrows = request.shape == RowShape::Yoke;
            RowCourse {
                now: stitches?,
                each: if narrows { -each? } else { each? },
            }
        }
    };
    let behind = rows.map(|rows| (rows, course.now - course.each * rows));
    if let Some((rows, stitches)) = behind.filter(|(_, stitches)| *stitches < -1e-9) {
        reader.fault("rows", LastFault::FewerThanNoStitches { rows, stitches });
    }
    Some(course)
}
