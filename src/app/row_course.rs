//! How the rows of a piece go on, from what was typed.

use super::{AppError, LastRequest};
use crate::{
    quantity::RowCourse,
    words::{count_of, number},
};

/// How the rows of a piece go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RowShape {
    /// The same stitches in every row.
    #[default]
    Straight,
    /// From a point, growing evenly.
    Triangle,
    /// From a wide cast-on, growing evenly.
    Crescent,
    /// Narrowing evenly.
    Yoke,
}

/// The course of the rows, by the shape and what was said of it.
pub(super) fn course(request: &LastRequest) -> Result<RowCourse, AppError> {
    let changing = |sign: f64, name: &str| match request.stitches.zip(request.each) {
        Some((now, each)) => above_zero("--stitches", now)
            .and_then(|now| Ok((now, above_zero("--each", each)?)))
            .map(|(now, each)| RowCourse {
                now,
                each: sign * each,
            }),
        None => Err(AppError::Usage(format!(
            "a {name} needs --stitches (in a row now) and --each (gained or lost with each row, 4 for 8 every other row)"
        ))),
    };
    let course = match request.shape {
        RowShape::Straight => RowCourse {
            now: above_zero("--stitches", request.stitches.unwrap_or(1.0))?,
            each: 0.0,
        },
        RowShape::Triangle => match (request.rows_done.or(request.rows), request.stitches) {
            (Some(done), _) => RowCourse::triangle(above_zero("--rows-done", done)?),
            (None, _) => {
                return Err(AppError::Usage(
                    "a triangle needs --rows-done, its rows from the point".to_owned(),
                ));
            }
        },
        RowShape::Crescent => changing(1.0, "crescent")?,
        RowShape::Yoke => changing(-1.0, "yoke")?,
    };
    let behind = request.rows.map(|rows| course.now - course.each * rows);
    match behind {
        Some(first) if first < -1e-9 => Err(AppError::Usage(format!(
            "{} ago this piece would have had {} stitches: check --rows, --rows-done, --stitches and --each",
            count_of(request.rows.unwrap_or(0.0), "row"),
            number(first, 1)
        ))),
        _ => Ok(course),
    }
}

/// A number of stitches or rows.
pub(super) fn above_zero(what: &str, value: f64) -> Result<f64, AppError> {
    match value > 0.0 && value <= 1e6 {
        true => Ok(value),
        false => Err(AppError::Usage(format!(
            "{what} {value} is not possible: give a number above 0, to 1000000"
        ))),
    }
}

/// What a shape means for the yarn.
pub(super) fn shape_words(shape: RowShape) -> Option<String> {
    let words = match shape {
        RowShape::Straight => return None,
        RowShape::Triangle => {
            "A triangle goes by its stitches, not by its rows: with a share x of the rows done, x squared of the yarn is used."
        }
        RowShape::Crescent => {
            "Each row takes more than the one before it, by the stitches that it gains."
        }
        RowShape::Yoke => {
            "Each row takes less than the one before it, by the stitches that it loses."
        }
    };
    Some(words.to_owned())
}
