//! What each size takes at the own gauge, counts kept and counts reworked.

use super::{
    super::{
        AppError,
        question::amounts::{KnittingPlan, bought},
        question::candidate::Candidate,
        question::{Asked, Role},
    },
    sizes::Resized,
};
use crate::{
    quantity::{Keep, Purchase},
    report::{RegaugedLine, Taken},
};

/// One line for each size and role; none where the need is not known in metres.
pub(super) fn lines(
    asked: &Asked,
    candidate: Option<&Candidate>,
    resized: &Resized<'_>,
) -> Result<Vec<RegaugedLine>, AppError> {
    let mut lines = Vec::new();
    for role in &asked.roles {
        let yarn = candidate.cloned().unwrap_or_else(|| own_yarn(role));
        for place in asked.places() {
            lines.extend(line(asked, role, &yarn, place, resized)?);
        }
    }
    Ok(lines)
}

/// The pattern's own yarn, where no other is named.
fn own_yarn(role: &Role) -> Candidate {
    Candidate {
        facts: role.wanted.facts.clone(),
        ..Candidate::default()
    }
}

fn line(
    asked: &Asked,
    role: &Role,
    yarn: &Candidate,
    place: usize,
    resized: &Resized<'_>,
) -> Result<Option<RegaugedLine>, AppError> {
    let taken = |place: usize, factor: f64| -> Result<Option<Taken>, AppError> {
        let how = KnittingPlan {
            strands: role.wanted.strands,
            factor,
        };
        Ok(bought(asked, role, yarn, place, how)?.map(taken_of))
    };
    let ratio = resized.ratio;
    let Some(at_pattern_gauge) = taken(place, 1.0)? else {
        return Ok(None);
    };
    let kept = Keep::Counts.need_factor(ratio);
    Ok(Some(RegaugedLine {
        size: asked.sizes.get(place).cloned().unwrap_or_default(),
        yarn: role.key.clone(),
        at_pattern_gauge,
        counts_kept: taken(place, kept)?.unwrap_or_default(),
        size_kept: taken(place, Keep::Size.need_factor(ratio))?.unwrap_or_default(),
        instead: match resized.instead(place)? {
            Some(instead) => taken(instead, kept)?,
            None => None,
        },
    }))
}

fn taken_of(bought: Purchase) -> Taken {
    Taken {
        need_m: bought.need.buy_for.as_metres(),
        skeins: bought.skeins,
    }
}
