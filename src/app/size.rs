//! Finished size from counts and gauge.

use super::{AppError, heard::Heard};
use crate::{label::cells, measure::Length, quantity::finished_size, report::SizeReport};

/// Counts and the gauge they are worked at.
#[derive(Debug, Clone, Default)]
pub struct SizeRequest {
    /// Stitches across.
    pub stitches: Option<f64>,
    /// Rows along.
    pub rows: Option<f64>,
    /// The gauge, as typed.
    pub gauge: String,
}

/// Finished size of the counts. A gauge that does not say over what length is
/// refused: 10 cm and 4 in differ by 1.6 %.
pub fn size(request: &SizeRequest) -> Result<SizeReport, AppError> {
    let mut heard = Heard::default();
    counted("--stitches", request.stitches)?;
    counted("--rows", request.rows)?;
    let stated = heard.value("--gauge", cells::gauge(&request.gauge))?;
    if request.stitches.is_none() && request.rows.is_none() {
        return Err(AppError::Usage(
            "give --stitches, --rows or both".to_owned(),
        ));
    }
    if stated.gauge.over().is_none() {
        return Err(AppError::Usage(format!(
            "--gauge `{}` does not say over what length: add `/ 10 cm` or `/ 4 in`",
            request.gauge
        )));
    }
    if request.rows.is_some() && stated.gauge.rows().is_none() {
        return Err(AppError::Usage(format!(
            "--gauge `{}` states no rows: add them, as in `22 sts x 30 rows / 10 cm`",
            request.gauge
        )));
    }
    let size = finished_size(&stated.gauge, request.stitches, request.rows)?;
    Ok(SizeReport {
        stitches: request.stitches,
        rows: request.rows,
        gauge: request.gauge.trim().to_owned(),
        width_m: size.width.map(Length::as_metres),
        height_m: size.height.map(Length::as_metres),
        warnings: heard.warnings,
    })
}

/// A count of stitches or rows, as people can count them.
fn counted(what: &str, count: Option<f64>) -> Result<(), AppError> {
    match count {
        Some(count) if !(count > 0.0 && count <= MOST) => Err(AppError::Usage(format!(
            "{what} {count} cannot be counted: give a number above 0 and up to {MOST}"
        ))),
        _ => Ok(()),
    }
}

/// The most stitches or rows that are taken.
const MOST: f64 = 1e6;
