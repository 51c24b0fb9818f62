//! Finished size from counts and gauge.

mod request;

pub use request::SizeRequest;

use super::{AppError, FaultKind, FieldNote, GaugeFault, InputReader};
use crate::{
    label::cells,
    measure::Gauge,
    quantity::{FinishedSize, finished_size},
};

/// Answer to [`size`].
#[derive(Debug, Clone)]
pub struct SizeAnswer {
    /// Stitches that were counted.
    pub stitches: Option<f64>,
    /// Rows that were counted.
    pub rows: Option<f64>,
    /// The gauge, as typed.
    pub gauge: String,
    /// What they make.
    pub size: FinishedSize,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// Finished size of the counts. A gauge that does not say over what length is
/// refused: 10 cm and 4 in differ by 1.6 %.
pub fn size(request: &SizeRequest) -> Result<SizeAnswer, AppError> {
    let mut reader = InputReader::default();
    let stitches = reader.count("stitches", &request.stitches);
    let rows = reader.count("rows", &request.rows);
    let gauge = gauge(&mut reader, request);
    if request.stitches.is_none() && request.rows.is_none() {
        reader.fault("stitches", FaultKind::OneNeeded(&["stitches", "rows"]));
    }
    let (typed, gauge) = reader.checked(request.gauge.clone().zip(gauge))?;
    Ok(SizeAnswer {
        stitches,
        rows,
        gauge: typed.trim().to_owned(),
        size: finished_size(&gauge, stitches, rows)?,
        notes: reader.notes,
    })
}

/// The gauge, with a length and with what the request counts.
fn gauge(reader: &mut InputReader, request: &SizeRequest) -> Option<Gauge> {
    let gauge = reader
        .required("gauge", &request.gauge, cells::gauge)?
        .gauge;
    let given = request.gauge.clone()?;
    if gauge.over().is_none() {
        reader.fault("gauge", GaugeFault::OverNoLength(given));
    } else if request.rows.is_some() && gauge.rows().is_none() {
        reader.fault("gauge", GaugeFault::WithoutRows(given));
    }
    Some(gauge)
}
