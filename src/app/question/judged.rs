//! A judgement as lines of a report.

use super::{
    Asked, Role,
    amounts::{Worked, skeins_lines},
    candidate::Candidate,
};
use crate::{
    app::AppError,
    matching::{self, Judgement, Remedy, Verdict, judge},
    report::{RemedyLine, RemedySkeins},
};

/// Judges a candidate for one role.
pub(in crate::app) fn judged(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    strands: u8,
) -> Judgement {
    let offered = matching::Candidate {
        facts: candidate.facts.clone(),
        swatches: candidate.swatches.clone(),
        measured: asked.own_gauge.clone(),
        strands,
    };
    judge(&role.wanted, &offered, &asked.settings)
}

/// One remedy with the skeins that then result.
pub(in crate::app) fn remedy_line(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    strands: u8,
    remedy: &Remedy,
) -> Result<RemedyLine, AppError> {
    let how = worked(remedy, strands);
    let skeins = skeins_after(asked, role, candidate, how, remedy)?;
    Ok(RemedyLine::new(&role.key, remedy, how.factor, skeins))
}

/// How a candidate is worked once the remedy is taken.
pub(in crate::app) fn worked(remedy: &Remedy, strands: u8) -> Worked {
    match remedy {
        Remedy::HoldStrands { strands, .. } => Worked {
            strands: *strands,
            factor: 1.0,
        },
        Remedy::ChangeNeedle { .. } => Worked {
            strands,
            factor: 1.0,
        },
        Remedy::ReworkStitches { factor, .. } | Remedy::AnotherSize { factor, .. } => Worked {
            strands,
            factor: *factor,
        },
    }
}

/// How a candidate would be worked: with as many strands as its first remedy
/// says, where only that makes it work, else as asked.
pub(in crate::app) fn best_way(judgement: &Judgement, asked: Worked) -> Worked {
    let strands = judgement
        .remedies
        .iter()
        .find(|remedy| matches!(remedy, Remedy::HoldStrands { .. }));
    match (judgement.verdict, strands) {
        (Verdict::CouldWork, Some(remedy)) => Worked {
            factor: asked.factor,
            ..worked(remedy, asked.strands)
        },
        _ => asked,
    }
}

fn skeins_after(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    how: Worked,
    remedy: &Remedy,
) -> Result<Vec<RemedySkeins>, AppError> {
    let lines = match remedy {
        Remedy::AnotherSize { index, .. } => {
            skeins_lines(&asked.of_size(*index), role, candidate, how)?
        }
        _ => skeins_lines(asked, role, candidate, how)?,
    };
    Ok(lines
        .into_iter()
        .map(|line| RemedySkeins {
            size: line.size,
            skeins: line.skeins,
        })
        .collect())
}
