//! What was typed that goes together, or does not.

use super::AppError;

/// Refuses `what` without `other`: it would be left unused in silence.
pub(super) fn only_with(
    what: (&str, bool),
    other: (&str, bool),
    meant: &str,
) -> Result<(), AppError> {
    match (what.1, other.1) {
        (true, false) => Err(AppError::Usage(format!(
            "{} says nothing without {}: {meant}",
            what.0, other.0
        ))),
        _ => Ok(()),
    }
}

/// Refuses two ways of saying one thing.
pub(super) fn not_both(one: (&str, bool), other: (&str, bool)) -> Result<(), AppError> {
    match (one.1, other.1) {
        (true, true) => Err(AppError::Usage(format!(
            "{} and {} are two ways to say one thing: give one of them",
            other.0, one.0
        ))),
        _ => Ok(()),
    }
}
