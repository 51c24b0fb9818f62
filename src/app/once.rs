//! Changes that are made once under a text of whoever asks: asked for again, as by a
//! script that does not know whether the first went through, they are not made twice.

use crate::{
    store::{OnceKey, StoreError, Writer},
    words::joined,
};

/// The text that is given for one command, and how many changes it was used for.
#[derive(Debug, Clone, Default)]
pub(super) struct OnceText {
    text: Option<String>,
    used: i64,
}

/// One change, with its text where it has one.
#[derive(Debug)]
pub(super) struct OnceChange {
    text: Option<String>,
    part: i64,
    what: String,
}

impl OnceText {
    pub(super) fn new(text: Option<String>) -> Self {
        Self { text, used: 0 }
    }

    /// The next change under this text; `what` tells it from others.
    pub(super) fn next<'w>(&mut self, what: impl IntoIterator<Item = &'w str>) -> OnceChange {
        let part = self.used;
        self.used += 1;
        let what = what.into_iter().filter(|word| !word.is_empty());
        OnceChange {
            text: self.text.clone(),
            part,
            what: joined(what.map(str::to_owned), ", "),
        }
    }
}

impl OnceChange {
    fn key(&self) -> Option<OnceKey<'_>> {
        self.text.as_deref().map(|text| OnceKey {
            text,
            part: self.part,
            what: &self.what,
        })
    }

    /// The numbers that this change came to when it was made; nothing where it was not.
    pub(super) fn earlier(&self, writer: &Writer<'_>) -> Result<Option<Vec<i64>>, StoreError> {
        let made = self.key().map(|key| writer.made_once(key)).transpose()?;
        let numbers = |result: String| result.split(' ').filter_map(|n| n.parse().ok()).collect();
        Ok(made.flatten().map(numbers))
    }

    /// Keeps that it is made, with the numbers that it came to.
    pub(super) fn keep(&self, writer: &Writer<'_>, numbers: &[i64]) -> Result<(), StoreError> {
        let result = joined(numbers.iter().map(ToString::to_string), " ");
        self.key()
            .map_or(Ok(()), |key| writer.keep_once(key, &result))
    }
}
