//! Filters that the templates use.

use crate::{report::escaped_message, words::safe};

/// Text of records, made safe to show.
#[askama::filter_fn]
pub(super) fn shown(text: &str, _: &dyn askama::Values) -> askama::Result<String> {
    Ok(safe(text))
}

/// A message with what it quotes as code, escaped already.
#[askama::filter_fn]
pub(super) fn message(text: &str, _: &dyn askama::Values) -> askama::Result<String> {
    Ok(escaped_message(text))
}
