//! Why a part of the text was recognised and yet not taken.

use super::{NotRead, ReadError, Token};
use crate::words::safe;
use std::ops::Range;

/// The most characters of a text that a message repeats.
const SHOWN: usize = 60;

/// A part of the text that was recognised and not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Bytes of the text that are at fault.
    pub span: Range<usize>,
    /// What is wrong with them.
    pub why: String,
    /// What to write instead.
    pub allowed: String,
}

impl Refusal {
    /// A refusal of `span`.
    pub fn new(span: Range<usize>, why: impl Into<String>, allowed: impl Into<String>) -> Self {
        Self {
            span,
            why: why.into(),
            allowed: allowed.into(),
        }
    }

    /// For a cell: an error about `text`.
    pub fn error(self, text: &str) -> ReadError {
        ReadError {
            given: shown(text.get(self.span.clone()).unwrap_or(text)),
            span: self.span,
            why: self.why,
            allowed: self.allowed,
        }
    }

    /// For a band: a part of `text` that is not read.
    pub fn not_read(self, text: &str) -> NotRead {
        NotRead {
            text: text.get(self.span.clone()).unwrap_or(text).to_owned(),
            span: self.span,
            why: format!("{}; write {}", self.why, self.allowed),
        }
    }
}

/// `text` made safe and shortened for a message.
pub fn shown(text: &str) -> String {
    let short: String = text.chars().take(SHOWN).collect();
    match text.chars().count() > SHOWN {
        true => format!("{}…", safe(&short)),
        false => safe(&short),
    }
}

/// The bytes that `tokens` cover; empty at 0 for none.
pub fn span_of(tokens: &[Token<'_>]) -> Range<usize> {
    match (tokens.first(), tokens.last()) {
        (Some(first), Some(last)) => first.span.start..last.span.end,
        _ => 0..0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_text_is_cut_and_a_text_that_just_fits_is_not() {
        let fits = "m".repeat(SHOWN);
        assert_eq!(shown(&fits), fits);
        assert_eq!(shown(&format!("{fits}m")), format!("{fits}…"));
    }
}
