//! The tolerance on length per mass: as asked, the pattern's, or the default.

use super::{InputReader, QuestionRequest, question::answer::Working};
use crate::{
    label::cells,
    matching::DEFAULT_TOLERANCE,
    measure::{GristTolerance, Ratio},
    record::Pattern,
};

/// The tolerance that is asked for, else the pattern's, else the default.
pub(super) fn tolerance(
    reader: &mut InputReader,
    request: &QuestionRequest,
    pattern: Option<&Pattern>,
    working: &mut Vec<Working>,
) -> GristTolerance {
    let stated = reader.optional("tolerance", &request.tolerance, cells::tolerance);
    let of_pattern = pattern.and_then(|pattern| pattern.tolerance.as_ref());
    match (stated, of_pattern) {
        (Some(stated), _) => stated,
        (None, Some(printed)) => {
            working.push(Working::ToleranceOfPattern(printed.text.clone()));
            printed.value
        }
        (None, None) => {
            let usual = Ratio::whole_percent(DEFAULT_TOLERANCE);
            working.push(Working::UsualTolerance(usual));
            GristTolerance::Share(usual)
        }
    }
}
