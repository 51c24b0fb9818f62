//! A value beside the text it was read from.

/// What was printed or typed, kept to the letter, and what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed<T> {
    /// The text as it was given.
    pub text: String,
    /// Its meaning.
    pub value: T,
}

impl<T> Printed<T> {
    /// A value and the text it was read from.
    pub fn new(text: impl Into<String>, value: T) -> Self {
        Self {
            text: text.into(),
            value,
        }
    }
}
