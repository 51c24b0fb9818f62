//! The chance of running out of a candidate, for each size that is asked about.

use super::{
    AppError,
    amounts::{Worked, bought},
    asked::{Asked, Role},
    candidate::Candidate,
};
use crate::report::SureLine;

/// One line for each size; none where the chance was not asked for or a need is
/// not known. Also whether a need is known as a range only.
pub(super) fn sure_lines(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    how: Worked,
) -> Result<(Vec<SureLine>, bool), AppError> {
    let (mut lines, mut ranges) = (Vec::new(), false);
    let Some(sure) = asked.sure else {
        return Ok((lines, ranges));
    };
    for place in asked.places() {
        let size = asked.sizes.get(place).map_or("", String::as_str);
        if let Some(bought) = bought(asked, role, candidate, place, how)? {
            ranges |= bought.need.at_least < bought.need.buy_for;
            lines.extend(sure.line(size, &role.key, &bought, &candidate.facts));
        }
    }
    Ok((lines, ranges))
}
