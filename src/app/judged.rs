//! A judgement as lines of a report.

use super::{
    AppError,
    amounts::{Worked, skeins_lines},
    asked::{Asked, Role},
    candidate::Candidate,
};
use crate::{
    matching::{self, Departure, Judgement, NotJudged, Remedy, Turn, Verdict, judge},
    report::{self, DepartureLine, NotJudgedLine, RemedyLine, RemedySkeins, ReworkLine},
    words::{count_of, number},
};

/// Judges a candidate for one role.
pub(super) fn judged(asked: &Asked, role: &Role, candidate: &Candidate, strands: u8) -> Judgement {
    let offered = matching::Candidate {
        facts: candidate.facts.clone(),
        swatches: candidate.swatches.clone(),
        measured: asked.own_gauge.clone(),
        strands,
    };
    judge(&role.wanted, &offered, &asked.settings)
}

pub(super) fn departure_line(key: &str, departure: &Departure) -> DepartureLine {
    let scale = departure.scale;
    DepartureLine {
        yarn: key.to_owned(),
        criterion: departure.criterion.name(),
        departure: departure.departure,
        wanted: departure.wanted.clone(),
        offered: departure.offered.clone(),
        tolerance: departure.tolerance.clone(),
        wanted_number: scale.map(|scale| scale.wanted),
        offered_number: scale.map(|scale| scale.offered),
        tolerance_number: scale.map(|scale| scale.tolerance),
        unit: scale.map(|scale| scale.unit),
        notes: departure.notes.clone(),
    }
}

pub(super) fn not_judged_line(key: &str, missing: &NotJudged) -> NotJudgedLine {
    NotJudgedLine {
        yarn: key.to_owned(),
        criterion: missing.criterion.name(),
        why: missing.why.clone(),
        measure: missing.measure.clone(),
    }
}

/// One remedy with the skeins that then result.
pub(super) fn remedy_line(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    strands: u8,
    remedy: &Remedy,
) -> Result<RemedyLine, AppError> {
    let how = worked(remedy, strands);
    Ok(RemedyLine {
        yarn: role.key.clone(),
        kind: kind(remedy),
        text: text(remedy),
        strands: matches!(remedy, Remedy::HoldStrands { .. }).then_some(how.strands),
        need_factor: how.factor,
        counts: counts(remedy),
        skeins: skeins_after(asked, role, candidate, how, remedy)?,
    })
}

/// How a candidate is worked once the remedy is taken.
pub(super) fn worked(remedy: &Remedy, strands: u8) -> Worked {
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
pub(super) fn best_way(judgement: &Judgement, asked: Worked) -> Worked {
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

fn kind(remedy: &Remedy) -> &'static str {
    match remedy {
        Remedy::HoldStrands { .. } => "hold strands",
        Remedy::ChangeNeedle { .. } => "change needle",
        Remedy::ReworkStitches { .. } => "rework stitches",
        Remedy::AnotherSize { .. } => "another size",
    }
}

fn counts(remedy: &Remedy) -> Vec<ReworkLine> {
    match remedy {
        Remedy::ReworkStitches { counts, .. } => counts
            .iter()
            .map(|count| ReworkLine {
                size: count.size.clone(),
                from_stitches: count.from,
                to_stitches: count.to,
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// What to do, with its numbers.
pub(super) fn text(remedy: &Remedy) -> String {
    match remedy {
        Remedy::HoldStrands {
            strands,
            grist,
            departure,
        } => format!(
            "Hold {strands} strands together: {} in all, departure {}. The need in strand metres is {strands} times the fabric length.",
            report::per_100_g_and_pound(*grist),
            number(*departure, 2)
        ),
        Remedy::ChangeNeedle {
            turn,
            steps,
            from,
            to,
            expected_per_10_cm,
            wanted_per_10_cm,
        } => {
            let needles = from.zip(*to).map(|(from, to)| {
                format!(
                    ", from {} to {} mm",
                    number(from.as_millimetres(), 2),
                    number(to.as_millimetres(), 2)
                )
            });
            format!(
                "Go {} {} of needle{}: about {} stitches over 10 cm are expected and {} are wanted (one size shifts about one stitch; common practice).",
                match turn {
                    Turn::Down => "down",
                    Turn::Up => "up",
                },
                count_of(f64::from(*steps), "size"),
                needles.unwrap_or_default(),
                number(*expected_per_10_cm, 1),
                number(*wanted_per_10_cm, 1)
            )
        }
        Remedy::ReworkStitches { factor, counts } => format!(
            "Keep the yarn's own gauge and rework the stitch counts by {}{}. The need changes by the same factor.",
            number(*factor, 3),
            counted(counts)
        ),
        Remedy::AnotherSize {
            knit,
            instead_of,
            width_m,
            wanted_m,
            ..
        } => format!(
            "Work the counts of size {knit} to get size {instead_of}: {} cm come out where {} cm are wanted.",
            number(width_m * 100.0, 1),
            number(wanted_m * 100.0, 1)
        ),
    }
}

fn counted(counts: &[crate::matching::Rework]) -> String {
    let each: Vec<String> = counts
        .iter()
        .map(|count| {
            format!(
                "size {} {} to {} stitches",
                count.size, count.from, count.to
            )
        })
        .collect();
    match each.is_empty() {
        true => String::new(),
        false => format!(" ({})", each.join(", ")),
    }
}
