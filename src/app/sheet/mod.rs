//! The materials sheet of a pattern: its yarns, what every size takes, and what
//! could replace it, recounted for every size and colour.

mod alternatives;
mod request;

pub use request::SheetRequest;

pub use alternatives::Alternative;

use super::{
    AppError, FaultKind, FieldNote, InputReader, PatternRequest, QuestionRequest, Records,
    TermsRequest,
    input::filled,
    question::{
        ResolvedQuestion, Role,
        amounts::{KnittingPlan, SizePurchase, purchases},
        answer::{Remark, Working},
        candidate::Candidate,
        resolve,
    },
};
use crate::{
    files::csv::write_table,
    measure::{GristTolerance, Ratio},
    record::{Need, NeedRange, StatedGauge, YarnFacts},
};
use alternatives::{AlternativeSource, alternatives};
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
    /// What could replace it, in the order of roles.
    pub alternatives: Vec<Alternative>,
    /// How the answer was reached.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
    /// Notes beside it.
    pub remarks: Vec<Remark>,
}

/// The sheet of a kept pattern.
pub fn sheet(records: &Records, request: &SheetRequest) -> Result<SheetAnswer, AppError> {
    let mut reader = InputReader::default();
    let (from, top) = request.best.read(&mut reader, request.most);
    let with = reader.several("with", &request.with);
    let Some(name) = filled(&request.pattern) else {
        reader.fault("pattern", FaultKind::Missing);
        return reader.checked(None);
    };
    let pattern = records.pattern_named(name)?.record;
    let asked = resolve(&mut reader, &question(request), Some(&pattern))?;
    let asked = reader.checked(asked)?.each_alone();
    let source = AlternativeSource { with, from, top };
    let found = alternatives(records, &mut reader, &asked, &source)?;
    let working = asked.working.iter().cloned().chain(found.working);
    Ok(SheetAnswer {
        materials: materials(&asked)?,
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
        of: PatternRequest {
            role: request.role.clone(),
            ..PatternRequest::default()
        },
        terms: TermsRequest {
            tolerance: request.tolerance.clone(),
            margin: request.margin.clone(),
            ..TermsRequest::default()
        },
        fibres: request.fibres.clone(),
        ..QuestionRequest::default()
    }
}

/// One of the pattern's own yarns.
#[derive(Debug, Clone)]
pub struct Material {
    /// Key of the role.
    pub key: String,
    /// The yarn of the sample, where the pattern names it.
    pub called: Option<String>,
    /// What it is.
    pub facts: YarnFacts,
    /// Strands held together.
    pub strands: u8,
    /// The needs as the pattern states them.
    pub stated: Vec<Need>,
    /// What to buy for each size.
    pub skeins: Vec<SizePurchase>,
    /// What each size takes, where that is known in metres.
    pub needs: Vec<(String, NeedRange)>,
}

/// One for each yarn role.
pub(super) fn materials(asked: &ResolvedQuestion) -> Result<Vec<Material>, AppError> {
    let roles = asked.roles.iter();
    roles.map(|role| material(asked, role.alone())).collect()
}

fn material(asked: &ResolvedQuestion, role: &Role) -> Result<Material, AppError> {
    let facts = role.wanted.facts.clone();
    let plan = KnittingPlan {
        strands: role.wanted.strands,
        factor: 1.0,
    };
    let own = Candidate {
        facts: facts.clone(),
        ..Candidate::default()
    };
    Ok(Material {
        key: role.key.clone(),
        called: role.called.clone(),
        strands: plan.strands,
        stated: role.needs.clone(),
        skeins: purchases(asked, role, &own, plan)?,
        needs: needs(asked, role)?,
        facts,
    })
}

fn needs(asked: &ResolvedQuestion, role: &Role) -> Result<Vec<(String, NeedRange)>, AppError> {
    let mut found = Vec::new();
    for (place, size) in asked.chosen_sizes() {
        let need = role.needs.get(place);
        let metres = need.and_then(|need| need.in_metres(role.wanted.facts.grist()));
        if let Some(metres) = metres.transpose()? {
            found.push((size.to_owned(), metres));
        }
    }
    Ok(found)
}
