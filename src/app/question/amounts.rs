//! Skeins of a candidate for the needs of one role.

use super::{Asked, Role, candidate::Candidate};
use crate::{
    app::{AppError, skeins::skeins_line},
    measure::Length,
    quantity::{Purchase, purchase, strand_need},
    record::Need,
    report::SkeinsLine,
};

/// How a candidate is worked: strands held, and what the need is multiplied by.
#[derive(Debug, Clone, Copy)]
pub(in crate::app) struct Worked {
    pub(in crate::app) strands: u8,
    pub(in crate::app) factor: f64,
}

impl Worked {
    /// One strand, and the need as the pattern states it.
    pub(in crate::app) const AS_WRITTEN: Self = Self {
        strands: 1,
        factor: 1.0,
    };
}

/// What to buy for one size; `None` where the length of a skein or the need in
/// metres is not known.
pub(in crate::app) fn bought(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    place: usize,
    how: Worked,
) -> Result<Option<Purchase>, AppError> {
    let Some(need) = role.needs.get(place) else {
        return Ok(None);
    };
    let Some((metres, skein)) = in_metres(need, role).zip(candidate.facts.skein_length()) else {
        return Ok(None);
    };
    let strand_metres = strand_need(metres?, role.wanted.strands, how.strands, how.factor)?;
    Ok(Some(purchase(strand_metres, skein, asked.margin)?))
}

/// The need of a role in metres, where it can be known.
pub(in crate::app) fn in_metres(
    need: &Need,
    role: &Role,
) -> Option<Result<crate::record::NeedRange, crate::measure::MeasureError>> {
    need.in_metres(role.wanted.facts.grist())
}

/// The lines of every size that is asked about.
pub(in crate::app) fn skeins_lines(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    how: Worked,
) -> Result<Vec<SkeinsLine>, AppError> {
    let mut lines = Vec::new();
    for place in asked.places() {
        let size = asked.sizes.get(place).cloned().unwrap_or_default();
        if let Some(bought) = bought(asked, role, candidate, place, how)? {
            lines.push(skeins_line(
                size,
                &role.key,
                &bought,
                candidate.price(),
                &candidate.facts,
            ));
        }
    }
    Ok(lines)
}

/// Strand metres of one size with the margin, for the stash.
pub(in crate::app) fn with_margin(bought: &Purchase) -> Result<Length, AppError> {
    Ok(Length::metres(
        bought.need.buy_for.as_metres() * (1.0 + bought.margin.as_fraction()),
    )?)
}
