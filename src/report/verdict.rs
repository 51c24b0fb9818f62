//! How a verdict is written.

use super::Role;
use crate::matching::Verdict;
use serde::Serializer;

/// A verdict as its words.
pub(super) fn verdict_words<S: Serializer>(
    verdict: &Verdict,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(verdict.words())
}

/// What kind of news a verdict is.
pub(super) fn news(verdict: Verdict) -> Role {
    match verdict {
        Verdict::ShouldWork => Role::Good,
        Verdict::CouldWork | Verdict::CannotSay => Role::Doubtful,
        Verdict::WillNotWork => Role::Bad,
    }
}
