//! What reading gives beside the value.

use std::ops::Range;

/// Something worth telling about a part of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Bytes of the text that it is about.
    pub span: Range<usize>,
    /// A sentence for the person who wrote the text.
    pub message: String,
}

/// A part of the text that was not understood, or not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotRead {
    /// Bytes of the text.
    pub span: Range<usize>,
    /// The part itself.
    pub text: String,
    /// Why not, and what to write instead.
    pub why: String,
}

/// A value and what was noticed while reading it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading<T> {
    /// The value.
    pub value: T,
    /// What was noticed, in the order of the text.
    pub notes: Vec<Note>,
}

/// Text that is no such quantity, or may be several.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{given}` is not read: {why}; write {allowed}")]
pub struct ReadError {
    /// Bytes of the text that are at fault.
    pub span: Range<usize>,
    /// Those bytes, made safe to show and shortened.
    pub given: String,
    /// What is wrong with them.
    pub why: String,
    /// What may be written instead, with an example.
    pub allowed: String,
}
