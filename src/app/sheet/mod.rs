//! The materials sheet of a pattern: its yarns, what every size takes, and what
//! else would do, recounted for every size and colour.

mod alternatives;
mod lines;

use super::{
    AppError, From, Question, Records,
    asked::{Asked, asked},
};
use crate::{
    files::csv::write_table,
    report::{SheetReport, gauge_words},
};
use alternatives::{alternatives, shared_cautions};
use std::io::Write;

/// What a sheet is asked for.
#[derive(Debug, Clone)]
pub struct SheetRequest {
    /// The pattern, tolerance and margin, as typed.
    pub question: Question,
    /// Picked yarns, `YARN` for every role or `KEY=YARN` for one; empty for the
    /// best of what is kept.
    pub with: Vec<String>,
    /// Where the best come from.
    pub from: From,
    /// How many of them for each role.
    pub top: usize,
}

/// The sheet of a kept pattern.
pub fn sheet(records: &Records, request: &SheetRequest) -> Result<SheetReport, AppError> {
    let name = request.question.pattern.as_deref().unwrap_or_default();
    let pattern = records.pattern_named(name)?.record;
    let mut asked = asked(&request.question, Some(&pattern))?;
    let found = alternatives(records, &mut asked, &pattern, request)?;
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

fn working(asked: &Asked) -> Vec<String> {
    let mut told = asked.working.clone();
    told.push(
        "Skeins = need x strands x margin / length of one skein, rounded up to whole skeins for each size and colour by itself.".to_owned(),
    );
    told
}
