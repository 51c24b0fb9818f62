//! A kept pattern, and perhaps one of its sizes, chosen from a list.

use super::{field_errors::FieldError, form::Choice};
use crate::{
    app::{FormData, PatternChoice},
    words::safe,
};

/// Every pattern and each of its sizes, after a choice of none.
pub(super) fn with_sizes(none: &str, patterns: &[PatternChoice]) -> Vec<Choice> {
    let each = patterns.iter().flat_map(|pattern| {
        let name = safe(&pattern.name);
        let whole = Choice::new(pattern.number.to_string(), format!("{name}, every size"));
        let sizes = pattern.sizes.iter().enumerate().map(move |(place, size)| {
            Choice::new(
                format!("{}:{place}", pattern.number),
                format!("{name}, size {}", safe(size)),
            )
        });
        std::iter::once(whole).chain(sizes).collect::<Vec<_>>()
    });
    std::iter::once(Choice::new("", none)).chain(each).collect()
}

/// Every pattern, after a choice of none.
pub(super) fn whole(none: &str, patterns: &[PatternChoice]) -> Vec<Choice> {
    let each = patterns
        .iter()
        .map(|pattern| Choice::new(pattern.number.to_string(), safe(&pattern.name)));
    std::iter::once(Choice::new("", none)).chain(each).collect()
}

/// The number of the pattern that is chosen.
pub(super) fn pattern_number(typed: &FormData) -> Option<i64> {
    let chosen = typed.filled("pattern")?;
    chosen.split(':').next()?.parse().ok()
}

/// Names of the pattern and the size that were chosen: `12`, or `12:3` for the
/// fourth size of that pattern.
pub(super) fn chosen(
    typed: &FormData,
    patterns: &[PatternChoice],
) -> Result<(Option<String>, Option<String>), FieldError> {
    let Some(choice) = typed.filled("pattern") else {
        return Ok((None, None));
    };
    let number = pattern_number(typed);
    let size = choice.split_once(':').map(|(_, size)| size);
    let pattern = patterns
        .iter()
        .find(|pattern| Some(pattern.number) == number);
    let size = size.map(|size| {
        let place: usize = size.parse().ok()?;
        pattern?.sizes.get(place)
    });
    match (pattern, size) {
        (Some(pattern), None) => Ok((Some(pattern.name.clone()), None)),
        (Some(pattern), Some(Some(size))) => Ok((Some(pattern.name.clone()), Some(size.clone()))),
        _ => Err(FieldError::new(
            "pattern",
            "this pattern or size is no longer kept: choose another",
        )),
    }
}
