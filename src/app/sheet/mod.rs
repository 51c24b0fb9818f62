//! The materials sheet of a pattern: its yarns, what every size takes, and what
//! else would do, recounted for every size and colour.

mod alternatives;
mod materials;
mod request;

pub use request::SheetRequest;

pub use alternatives::Alternative;
pub use materials::Material;

use super::{
    AppError, FaultKind, FieldNote, InputReader, QuestionRequest, Records,
    input::filled,
    question::{
        answer::{Remark, Working},
        resolve,
    },
};
use crate::{
    files::csv::write_table,
    measure::{GristTolerance, Ratio},
    record::StatedGauge,
};
use alternatives::{AlternativeSource, alternatives};
use materials::materials;
use std::io::Write;

/// Answer to [`sheet`].
#[derive(Debug, Clone)]
pub struct SheetAnswer {
    /// The pattern.
    pub pattern: String,
    /// Its sizes, in order.
    pub sizes: Vec<String>,
    /// Its gauge.
    pub gauge: Option<StatedGauge>,
    /// Tolerance on length per mass.
    pub tolerance: GristTolerance,
    /// Margin bought beyond the need.
    pub margin: Ratio,
    /// The pattern's own yarns.
    pub materials: Vec<Material>,
    /// What else would do, in the order of roles.
    pub alternatives: Vec<Alternative>,
    /// How the answer was reached.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
    /// What to know beside it.
    pub remarks: Vec<Remark>,
}

/// The sheet of a kept pattern.
pub fn sheet(records: &Records, request: &SheetRequest) -> Result<SheetAnswer, AppError> {
    let mut reader = InputReader::default();
    let (from, top) = request.best.read(&mut reader, request.most);
    let Some(name) = filled(&request.pattern) else {
        reader.fault("pattern", FaultKind::Missing);
        return reader.checked(None);
    };
    let pattern = records.pattern_named(name)?.record;
    let asked = resolve(&mut reader, &question(request), Some(&pattern))?;
    let asked = reader.checked(asked)?;
    let source = AlternativeSource {
        with: &request.with,
        from,
        top,
    };
    let found = alternatives(records, &mut reader, (&asked, &pattern), &source)?;
    let working = asked.working.iter().cloned().chain(found.working);
    Ok(SheetAnswer {
        materials: materials(&asked, &pattern)?,
        working: working.chain([Working::SkeinsOfSheet]).collect(),
        pattern: asked.title,
        sizes: asked.sizes,
        gauge: pattern.gauge.map(|gauge| gauge.value),
        tolerance: asked.settings.tolerance,
        margin: asked.margin,
        alternatives: found.alternatives,
        notes: reader.notes,
        remarks: found.remarks,
    })
}

/// Writes the alternatives of a sheet, worded as cells, as a table (CSV).
pub fn sheet_table(
    (columns, rows): &(Vec<String>, Vec<Vec<String>>),
    file: &str,
    target: impl Write,
) -> Result<(), AppError> {
    Ok(write_table(file, target, columns, rows)?)
}

fn question(request: &SheetRequest) -> QuestionRequest {
    QuestionRequest {
        role: request.role.clone(),
        tolerance: request.tolerance.clone(),
        margin: request.margin.clone(),
        without: request.without.clone(),
        only: request.only.clone(),
        ..QuestionRequest::default()
    }
}
