//! Needs of every size from what was knitted and weighed.

use super::{
    AppError,
    heard::Heard,
    needs_samples::{learned, left_out},
    needs_sizes::{Stated, lines, outside_geometry},
    skeins::USUAL_MARGIN,
};
use crate::{
    files::needs_file::{NeedsFile, read_needs_file},
    label::cells::{self, Step},
    measure::Length,
    quantity::Basis,
    report::{NeedsReport, NeedsYarnLine, metres_and_yards, skein_words},
    words::number,
};

/// A file of samples and pieces, and how needs are stated; values as typed.
#[derive(Debug, Clone, Default)]
pub struct NeedsRequest {
    /// What messages call the file.
    pub file: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Margin; the file's, else 10 %, where not given.
    pub margin: Option<String>,
    /// What needs are rounded up to; the file's, else 1 m, where not given.
    pub step: Option<String>,
}

/// A file of samples and pieces, and what came of it.
pub(super) struct Reckoned {
    pub(super) file: NeedsFile,
    pub(super) stated: Stated,
    pub(super) report: NeedsReport,
}

/// Reckons every size and yarn of a file.
pub fn needs(request: &NeedsRequest) -> Result<NeedsReport, AppError> {
    Ok(reckoned(request)?.report)
}

/// The same, with what it was reckoned from.
pub(super) fn reckoned(request: &NeedsRequest) -> Result<Reckoned, AppError> {
    let reading = read_needs_file(&request.file, &request.bytes)?;
    let file = reading.needs;
    let mut heard = Heard::default();
    heard
        .warnings
        .extend(reading.warnings.iter().map(ToString::to_string));
    let mut working = Vec::new();
    let stated = stated(request, &file, &mut heard, &mut working)?;
    let rates = learned(&file)?;
    let needs = lines(&file, &rates, stated)?;
    heard.warnings.extend(outside_geometry(&needs));
    heard.warnings.extend(one_dimension(&file));
    working.extend(how(rates.basis));
    if needs.iter().all(|line| line.geometry_percent.is_none()) {
        working.push("Not held against the geometry of plain knitting: that needs a gauge with rows, or counts beside measures.".to_owned());
    }
    let report = NeedsReport {
        pattern: file.pattern.to_string(),
        basis: match rates.basis {
            Basis::Area => "area",
            Basis::Stitches => "stitches",
        },
        margin_percent: stated.margin.as_percent(),
        yarns: file.yarns.iter().map(yarn_line).collect(),
        rates: rates.lines(&file),
        left_out: left_out(&file, &rates)?,
        needs,
        working,
        warnings: heard.warnings,
    };
    Ok(Reckoned {
        file,
        stated,
        report,
    })
}

fn yarn_line(yarn: &crate::files::needs_file::NeedsYarn) -> NeedsYarnLine {
    NeedsYarnLine {
        yarn: yarn.key.to_string(),
        called: yarn.called.clone(),
        put_up: skein_words(yarn.facts.skein_length(), yarn.facts.skein_mass()),
    }
}

fn stated(
    request: &NeedsRequest,
    file: &NeedsFile,
    heard: &mut Heard,
    working: &mut Vec<String>,
) -> Result<Stated, AppError> {
    let margin = heard.maybe("--margin", request.margin.as_deref(), cells::percent)?;
    let margin = match margin.or(file.margin) {
        Some(margin) => margin,
        None => {
            working.push("A margin of 10 % is added, since none is stated (common practice): set your own with `margin` or --margin.".to_owned());
            heard.value("--margin", cells::percent(USUAL_MARGIN))?
        }
    };
    let step = heard.maybe("--step", request.step.as_deref(), cells::step)?;
    let step = step
        .or(file.step)
        .unwrap_or(Step::Length(Length::metres(1.0)?));
    let words = match step {
        Step::Length(length) => metres_and_yards(length),
        Step::Mass(mass) => format!("{} g", number(mass.as_grams(), 2)),
    };
    working.push(format!(
        "What is stated = need x {}, rounded up to whole steps of {words}; skeins are rounded up from the need and margin.",
        number(1.0 + margin.as_fraction(), 4)
    ));
    Ok(Stated { margin, step })
}

fn how(basis: Basis) -> Vec<String> {
    let of = match basis {
        Basis::Area => {
            "metres per area of each stitch, times the area of each piece, so that needs grow with width and height"
        }
        Basis::Stitches => "metres per stitch, times the stitches of each piece",
    };
    vec![format!(
        "Need = {of}, and the yarn of edges and tails. What a stitch takes is learned from what was weighed, edges taken off, or is your own figure."
    )]
}

/// Pieces whose sizes grow in one measure only.
fn one_dimension(file: &NeedsFile) -> Vec<String> {
    let pieces = file.pieces.iter().filter(|piece| piece.one_measure_grows);
    pieces
        .map(|piece| {
            format!(
                "{}: only one of its measures differs from size to size; most pieces grow in two, so check that this is meant.",
                piece.name
            )
        })
        .collect()
}
