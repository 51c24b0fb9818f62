//! The materials sheet of a pattern: its yarns, what every size takes, and what
//! else would do, recounted for every size and colour.

mod alternatives;
mod lines;
mod request;

pub use request::SheetRequest;

use super::{
    AppError, FaultKind, InputReader, QuestionRequest, Records,
    input::filled,
    question::{Asked, resolve},
};
use crate::{
    files::csv::write_table,
    report::{SheetReport, Style, gauge_words},
};
use alternatives::{Wish, alternatives, shared_cautions};
use std::io::Write;

/// The sheet of a kept pattern.
pub fn sheet(records: &Records, request: &SheetRequest) -> Result<SheetReport, AppError> {
    let mut reader = InputReader::default();
    let (from, top) = request.best.read(&mut reader);
    let Some(name) = filled(request.pattern.as_deref()) else {
        reader.fault("pattern", FaultKind::Missing);
        return reader.checked(None);
    };
    let pattern = records.pattern_named(name)?.record;
    let asked = resolve(&mut reader, &question(request), Some(&pattern))?;
    let mut asked = reader.checked(asked)?;
    let wish = Wish {
        with: &request.with,
        from,
        top,
    };
    let found = alternatives(records, &mut reader, &mut asked, &pattern, &wish)?;
    let told = std::mem::take(&mut asked.warnings);
    asked.warnings = Style::default().notes(&reader.notes);
    asked.warnings.extend(told);
    let gauge = pattern.gauge.as_ref().map(|gauge| &gauge.value);
    Ok(SheetReport {
        pattern: asked.title.clone(),
        sizes: asked.sizes.clone(),
        gauge: gauge.map(|stated| {
            let stitch = stated.stitch.as_ref();
            let stitch = stitch.map_or_else(String::new, |stitch| format!(", {}", stitch.name()));
            format!("{}{stitch}", gauge_words(&stated.gauge))
        }),
        tolerance: asked.tolerance_words(),
        margin_percent: asked.margin.as_percent(),
        materials: lines::materials(&asked, &pattern)?,
        needs: lines::needs(&asked)?,
        cautions: shared_cautions(&found),
        alternatives: found.into_iter().map(|found| found.line).collect(),
        working: working(&asked),
        warnings: asked.warnings,
        ..SheetReport::default()
    })
}

/// Writes the alternatives of a sheet as a table (CSV).
pub fn sheet_table(sheet: &SheetReport, file: &str, target: impl Write) -> Result<(), AppError> {
    let (columns, rows) = sheet.table();
    Ok(write_table(file, target, &columns, &rows)?)
}

fn question(request: &SheetRequest) -> QuestionRequest {
    QuestionRequest {
        role: request.role.clone(),
        tolerance: request.tolerance.clone(),
        margin: request.margin.clone(),
        ..QuestionRequest::default()
    }
}

fn working(asked: &Asked) -> Vec<String> {
    let mut told = asked.working.clone();
    told.push(
        "Skeins = need x strands x margin / length of one skein, rounded up to whole skeins for each size and colour by itself.".to_owned(),
    );
    told
}
