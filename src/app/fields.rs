//! What was typed into the fields of a form.

use std::{collections::BTreeMap, str::FromStr};

/// The text of each field, as typed; a field that is not there is empty.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FormData(BTreeMap<String, String>);

impl FormData {
    /// The text of a field.
    pub fn text(&self, field: &str) -> &str {
        self.0.get(field).map_or("", String::as_str)
    }

    /// The text of a field without spaces around it; nothing where it is empty.
    pub fn filled(&self, field: &str) -> Option<String> {
        let text = self.text(field).trim();
        (!text.is_empty()).then(|| text.to_owned())
    }

    /// The number in a field that the program filled: of a record, or where a list begins.
    pub fn number<N: FromStr>(&self, field: &str) -> Option<N> {
        self.text(field).trim().parse().ok()
    }

    /// Sets the text of a field.
    pub fn set(&mut self, field: &str, text: impl Into<String>) {
        self.0.insert(field.to_owned(), text.into());
    }

    /// Every field and its text.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str()))
    }
}

impl<N: Into<String>, T: Into<String>> FromIterator<(N, T)> for FormData {
    fn from_iter<I: IntoIterator<Item = (N, T)>>(pairs: I) -> Self {
        let pairs = pairs.into_iter();
        Self(
            pairs
                .map(|(name, text)| (name.into(), text.into()))
                .collect(),
        )
    }
}
