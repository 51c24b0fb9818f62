//! A name that something is kept by, and a record with the key and the version under
//! which it is kept.

use super::RecordError;
use std::{fmt, hash::Hash, marker::PhantomData};

/// The key of a kept `T`; keys of different records cannot be mixed up.
pub struct Id<T>(i64, PhantomData<fn() -> T>);

impl<T> Id<T> {
    /// The key with this number.
    pub fn new(number: i64) -> Self {
        Self(number, PhantomData)
    }

    /// Its number.
    pub fn number(self) -> i64 {
        self.0
    }
}

impl<T> Clone for Id<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Id<T> {}

impl<T> PartialEq for Id<T> {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl<T> Eq for Id<T> {}

impl<T> PartialOrd for Id<T> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Id<T> {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.cmp(&other.0)
    }
}

impl<T> Hash for Id<T> {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.0.hash(state);
    }
}

impl<T> fmt::Debug for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.0)
    }
}

impl<T> fmt::Display for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A kept record. `version` grows with each change, so that of two people who
/// edit the same record the second can be told.
#[derive(Debug, Clone, PartialEq)]
pub struct Stored<T> {
    /// Its key.
    pub id: Id<T>,
    /// How often it was written.
    pub version: i64,
    /// The record.
    pub record: T,
}

/// A name: trimmed, not empty, at most [`Name::MOST`] characters, any script.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Name(String);

impl Name {
    /// The most characters that a name may have.
    pub const MOST: usize = 300;

    /// A name for `what`; inner line breaks and runs of spaces become one space.
    pub fn new(what: &'static str, text: &str) -> Result<Self, RecordError> {
        let tidy = text.split_whitespace().collect::<Vec<_>>().join(" ");
        match tidy.chars().count() {
            1..=Self::MOST => Ok(Self(tidy)),
            given => Err(RecordError::NameLength {
                what,
                given,
                most: Self::MOST,
            }),
        }
    }

    /// The name of a maker.
    pub fn maker(text: &str) -> Result<Self, RecordError> {
        Self::new("a maker", text)
    }

    /// The name of a yarn of a maker.
    pub fn yarn(text: &str) -> Result<Self, RecordError> {
        Self::new("a yarn's name", text)
    }

    /// The name of a pattern.
    pub fn pattern(text: &str) -> Result<Self, RecordError> {
        Self::new("a pattern's name", text)
    }

    /// The name of a project.
    pub fn project(text: &str) -> Result<Self, RecordError> {
        Self::new("a project's name", text)
    }

    /// The name as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod name_tests {
    use super::*;

    #[test]
    fn a_name_is_tidied_and_bounded() {
        assert_eq!(
            Name::new("a name", " Ferry \n Lane ").unwrap().as_str(),
            "Ferry Lane"
        );
        assert!(Name::new("a name", " \t ").is_err());
        let error = Name::new("a name", &"x".repeat(10_000)).unwrap_err();
        assert_eq!(
            error.to_string(),
            "a name has 10000 characters: write 1 to 300"
        );
    }
}
