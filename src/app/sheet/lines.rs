//! What the pattern's own yarns are, and what every size takes of them.

use super::super::{
    AppError,
    question::amounts::{Worked, in_metres, skeins_lines},
    question::candidate::Candidate,
    question::{Asked, Role},
};
use crate::{
    measure::Length,
    record::{Need, Pattern},
    report::{MaterialLine, NeedLine, SizeNeed, material_words},
    words::number,
};

/// One line for each yarn role.
pub(super) fn materials(asked: &Asked, pattern: &Pattern) -> Result<Vec<MaterialLine>, AppError> {
    asked
        .roles
        .iter()
        .map(|role| material(asked, role, pattern))
        .collect()
}

fn material(asked: &Asked, role: &Role, pattern: &Pattern) -> Result<MaterialLine, AppError> {
    let facts = &role.wanted.facts;
    let own = Candidate {
        facts: facts.clone(),
        ..Candidate::default()
    };
    let how = Worked {
        strands: role.wanted.strands,
        factor: 1.0,
    };
    let yarn = pattern
        .yarns
        .iter()
        .find(|yarn| yarn.key.as_str() == role.key);
    let skeins = skeins_lines(asked, role, &own, how)?;
    Ok(MaterialLine {
        yarn: role.key.clone(),
        called: yarn.and_then(|yarn| yarn.called.clone()),
        text: material_words(facts),
        strands: role.wanted.strands,
        put_up_m: facts.skein_length().map(Length::as_metres),
        put_up_g: facts.skein_mass().map(crate::measure::Mass::as_grams),
        m_per_100g: facts.grist().map(|grist| grist.as_metres_per_100_g()),
        stated_skeins: role.needs.iter().filter_map(stated).collect(),
        skeins: skeins.iter().map(|line| line.skeins).collect(),
    })
}

/// Skeins as the pattern states them.
fn stated(need: &Need) -> Option<String> {
    match need {
        Need::Skeins { count, .. } => Some(number(*count, 2)),
        Need::Length(_) | Need::Mass(_) => None,
    }
}

/// What every size takes of each role, where that is known in metres.
pub(super) fn needs(asked: &Asked) -> Result<Vec<NeedLine>, AppError> {
    let line = |role: &Role| -> Result<NeedLine, AppError> {
        let mut sizes = Vec::new();
        for place in asked.places() {
            sizes.extend(of_size(asked, role, place)?);
        }
        Ok(NeedLine {
            yarn: role.key.clone(),
            sizes,
        })
    };
    asked.roles.iter().map(line).collect()
}

fn of_size(asked: &Asked, role: &Role, place: usize) -> Result<Option<SizeNeed>, AppError> {
    let Some(need) = role.needs.get(place) else {
        return Ok(None);
    };
    let metres = in_metres(need, role).transpose()?;
    Ok(metres.map(|range| SizeNeed {
        size: asked.sizes.get(place).cloned().unwrap_or_default(),
        need_m: range.buy_for.as_metres(),
        need_yd: range.buy_for.as_yards(),
        need_at_least_m: range.at_least.as_metres(),
    }))
}
