//! An answer about a kept pattern, with the patterns that the form offers.

use super::{calculator_page::is_asked, every_fault::every_fault};
use crate::app::{self, AppError, FormData, PatternChoice, Records};

/// The kept patterns, and the answer where one is asked for.
pub(super) type LookedUp<A> = (Vec<PatternChoice>, Option<Result<A, AppError>>);

/// Reads both at one moment.
pub(super) fn looked_up<A>(
    records: &Records,
    typed: &FormData,
    answer: impl Fn(&Records, &[PatternChoice], &FormData) -> Result<A, AppError>,
) -> Result<LookedUp<A>, AppError> {
    let patterns = app::pattern_choices(records)?;
    let answer =
        is_asked(typed).then(|| every_fault(typed, |typed| answer(records, &patterns, typed)));
    Ok((patterns, answer))
}
