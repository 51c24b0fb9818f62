//! Texts with the letters of the whole and of each of their words.

use super::letters::Letters;
use std::slice;

/// A folded text and its letters.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lettered<'t> {
    pub(super) text: &'t str,
    pub(super) whole: &'t Letters,
    /// Of each word, in their order.
    pub(super) words: &'t [Letters],
}

/// The letters of texts, one after the other.
#[derive(Debug, Default)]
pub(super) struct ManyLetters {
    pub(super) wholes: Vec<Letters>,
    /// Of the words of those texts that have more than one.
    pub(super) words: Vec<Letters>,
}

/// Letters that are not taken yet.
#[derive(Clone)]
pub(super) struct Left<'t> {
    wholes: slice::Iter<'t, Letters>,
    words: &'t [Letters],
}

impl ManyLetters {
    /// Adds those of a text.
    pub(super) fn add(&mut self, text: &str) {
        let whole = Letters::of(text);
        self.wholes.push(whole);
        if whole.words_of(text) > 1 {
            self.words.extend(text.split(' ').map(Letters::of));
        }
    }

    /// All of them, to be taken from the first on.
    pub(super) fn all(&self) -> Left<'_> {
        Left {
            wholes: self.wholes.iter(),
            words: &self.words,
        }
    }

    /// Of one text alone, its letters in the place of those before.
    pub(super) fn only<'t>(&'t mut self, text: &'t str) -> Lettered<'t> {
        self.wholes.clear();
        self.words.clear();
        self.add(text);
        self.all().take(text)
    }
}

impl<'t> Left<'t> {
    /// Takes those of the next text, which this is.
    #[inline]
    pub(super) fn take(&mut self, text: &'t str) -> Lettered<'t> {
        let whole = self.wholes.next().unwrap_or(&Letters::NONE);
        let words = match whole.words_of(text) {
            1 => slice::from_ref(whole),
            count => {
                let (words, rest) = self.words.split_at_checked(count).unwrap_or_default();
                self.words = rest;
                words
            }
        };
        Lettered { text, whole, words }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn prop_each_text_takes_its_own_letters(
            texts in prop::collection::vec("[a-cé]{0,3}( [a-c]{1,3}){0,2}", 0..9),
        ) {
            let (mut letters, mut alone) = (ManyLetters::default(), ManyLetters::default());
            texts.iter().for_each(|text| letters.add(text));
            let mut left = letters.all();
            for text in &texts {
                let words: Vec<Letters> = text.split(' ').map(Letters::of).collect();
                for taken in [left.take(text), alone.only(text)] {
                    prop_assert_eq!(*taken.whole, Letters::of(text));
                    prop_assert_eq!(taken.words, &words);
                }
            }
            prop_assert_eq!((left.wholes.len(), left.words.len()), (0, 0));
        }
    }
}
