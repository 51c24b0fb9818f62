//! What a question says of fibres to keep away from.

use super::{InputReader, QuestionRequest, question::answer::Working};
use crate::{label::cells, matching::FibreLimits, trade::FibreGroup};

/// The limits that are asked for, with those that the text of the wish denies.
pub(super) fn fibre_limits(
    reader: &mut InputReader,
    request: &QuestionRequest,
    denied: &[FibreGroup],
    working: &mut Vec<Working>,
) -> FibreLimits {
    let mut read = |field, texts: &[String]| -> Vec<FibreGroup> {
        let filled = texts.iter().filter(|text| !text.trim().is_empty());
        let groups = filled.filter_map(|text| reader.read(field, cells::fibre_groups(text)));
        groups.flatten().collect()
    };
    let mut limits = FibreLimits {
        without: read("without", &request.without),
        only: read("only", &request.only),
    };
    for group in denied {
        if !limits.without.contains(group) {
            limits.without.push(*group);
        }
    }
    if !limits.is_empty() {
        working.push(Working::FibreLimits(limits.clone()));
    }
    limits
}
