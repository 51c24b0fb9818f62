//! What reading gives: a value with notes, or why a part of the text that was
//! recognised is not taken.

use crate::{record::Contradiction, words::safe};
use std::ops::Range;

/// What is said of something that was read, for whoever shows it.
#[derive(Debug, Clone, PartialEq)]
pub enum NoteKind {
    /// A sentence.
    Text(String),
    /// Values that cannot all be true; how they are written is the reader's choice.
    Contradiction(Box<Contradiction>),
}

impl From<String> for NoteKind {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Note> for NoteKind {
    fn from(note: Note) -> Self {
        Self::Text(note.message)
    }
}

impl From<Contradiction> for NoteKind {
    fn from(found: Contradiction) -> Self {
        Self::Contradiction(Box::new(found))
    }
}

/// Something worth telling about a part of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Bytes of the text that it is about.
    pub span: Range<usize>,
    /// A sentence for the person who wrote the text.
    pub message: String,
    /// Which statements contradict each other, where it says that.
    pub clash: Option<Clash>,
}

/// What may be stated twice and not agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clash {
    /// The size of needles.
    Needles,
    /// A length or a mass: [`super::contradiction::contradictions`] finds it again.
    Quantity,
}

impl Note {
    /// A note about `span`.
    pub fn new(span: &Range<usize>, message: impl Into<String>) -> Self {
        Self {
            span: span.clone(),
            message: message.into(),
            clash: None,
        }
    }

    /// The same of two statements in `span` that do not agree.
    pub fn clash(clash: Clash, span: &Range<usize>, message: impl Into<String>) -> Self {
        Self {
            clash: Some(clash),
            ..Self::new(span, message)
        }
    }
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
    /// Whether no grammar knows it: a word, a sign, or a number without its unit.
    pub unknown: bool,
}

impl NotRead {
    /// What is said where the rest of the text is used.
    pub fn note(&self) -> Note {
        Note::new(
            &self.span,
            format!("`{}` is not used: {}", self.text, self.why),
        )
    }
}

/// The most notes, and the most parts of one note, that are told one by one.
const MOST: usize = 20;

/// What is said of the parts that were not taken: each that was recognised by
/// itself, all others in one line.
pub fn left_out(parts: &[NotRead]) -> Vec<Note> {
    let (unknown, refused): (Vec<&NotRead>, Vec<&NotRead>) =
        parts.iter().partition(|part| part.unknown);
    let mut notes = capped(refused.into_iter().map(NotRead::note).collect());
    if let Some(first) = unknown.first() {
        let shown: Vec<String> = unknown
            .iter()
            .take(MOST)
            .map(|part| format!("`{}`", shown(&part.text)))
            .collect();
        let more = match unknown.len().saturating_sub(MOST) {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        let message = format!("Not understood, left out: {}{more}.", shown.join(", "));
        notes.push(Note::new(&first.span, message));
    }
    notes
}

/// The first notes, and how many more there are.
pub fn capped(mut notes: Vec<Note>) -> Vec<Note> {
    let more = notes.len().saturating_sub(MOST);
    if more > 0 {
        notes.truncate(MOST);
        notes.push(Note::new(
            &(0..0),
            format!("{more} more notes of this kind"),
        ));
    }
    notes
}

/// A value and what was noticed while reading it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading<T> {
    /// The value.
    pub value: T,
    /// What was noticed, in the order of the text.
    pub notes: Vec<Note>,
}

/// Something recognised: a value with notes, or why it is not taken.
pub type ReadResult<T> = Result<Reading<T>, Refusal>;

impl<T> Reading<T> {
    /// A value of which nothing is to be said.
    pub fn plain(value: T) -> Self {
        Self {
            value,
            notes: Vec::new(),
        }
    }

    /// A value, and what is to be said of it.
    pub fn new(value: T, notes: impl IntoIterator<Item = Note>) -> Self {
        Self {
            value,
            notes: notes.into_iter().collect(),
        }
    }

    /// Another value with the same notes.
    pub fn map<U>(self, make: impl FnOnce(T) -> U) -> Reading<U> {
        Reading {
            value: make(self.value),
            notes: self.notes,
        }
    }

    /// Another value with the same notes, or why there is none.
    pub fn try_map<U, E>(self, make: impl FnOnce(T) -> Result<U, E>) -> Result<Reading<U>, E> {
        Ok(Reading {
            value: make(self.value)?,
            notes: self.notes,
        })
    }

    /// The value, its notes put behind `notes`.
    pub fn note_in(self, notes: &mut Vec<Note>) -> T {
        notes.extend(self.notes);
        self.value
    }
}

/// Text that is no such quantity, or may be several.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{given}` is not understood: {why}; write {allowed}")]
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
    pub fn new(span: Range<usize>, why: impl ToString, allowed: impl Into<String>) -> Self {
        Self {
            span,
            why: why.to_string(),
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

    /// For a band: why it is not read, and what to write.
    pub fn reason(&self) -> String {
        format!("{}; write {}", self.why, self.allowed)
    }
}

/// The most characters of a text that a message repeats.
const SHOWN: usize = 60;

/// `text` made safe and shortened for a message.
fn shown(text: &str) -> String {
    let short: String = text.chars().take(SHOWN).collect();
    let more = if short.len() < text.len() { "…" } else { "" };
    safe(&short) + more
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
