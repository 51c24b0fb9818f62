//! An answer about a kept pattern, with the patterns that the form offers.

use super::calculator_page::is_asked;
use crate::{
    app::{self, AppError, FormData, PatternChoice, Records},
    web::field_errors::Refusal,
};

/// The kept patterns, and the answer where one is asked for.
pub(super) type LookedUp<A> = (Vec<PatternChoice>, Option<Result<A, Refusal>>);

/// Reads both at one moment.
pub(super) fn looked_up<A>(
    records: &Records,
    typed: &FormData,
    answer: impl Fn(&Records, &[PatternChoice], &FormData) -> Result<A, Refusal>,
) -> Result<LookedUp<A>, AppError> {
    let patterns = app::pattern_choices(records)?;
    let answer = is_asked(typed).then(|| answer(records, &patterns, typed));
    Ok((patterns, answer))
}
