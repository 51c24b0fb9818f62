//! Names of makers, yarns, patterns, sizes and places.

use super::RecordError;
use std::fmt;

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
mod tests {
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
