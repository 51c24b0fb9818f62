//! The margin bought beyond the need, which people call spare: as asked, what the
//! pattern leaves to add, or the default.

use super::{InputReader, question::answer::Working};
use crate::{label::cells, measure::Ratio, record::Pattern};

/// Margin where none is stated, %: patterns commonly carry about as much
/// (common practice, no source).
pub(super) const DEFAULT_MARGIN: u8 = 10;

/// The margin that is asked for, else what the pattern's needs leave to add.
pub(super) fn margin(
    reader: &mut InputReader,
    stated: Option<&str>,
    pattern: Option<&Pattern>,
    working: &mut Vec<Working>,
) -> Ratio {
    if let Some(stated) = reader.optional("margin", stated, cells::percent) {
        return stated;
    }
    let usual = Ratio::whole_percent(DEFAULT_MARGIN);
    let (margin, why) = match pattern.and_then(|pattern| pattern.margin_included) {
        Some(true) => (Ratio::whole_percent(0), Working::MarginIncluded),
        Some(false) => (usual, Working::MarginNotIncluded(usual)),
        None => (usual, Working::MarginNotStated(usual)),
    };
    working.push(why);
    margin
}
