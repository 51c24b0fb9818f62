//! Tables of words, in which a word is found without a look at each: labels are read
//! word by word against some hundred tables.

use std::collections::HashMap;

/// Words or phrases, folded; made by [`words!`] alone, which sorts them while the
/// program is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Words {
    /// In the order of their bytes.
    pub(crate) sorted: &'static [&'static str],
    /// A bit for each first byte, by its last six bits: most words of a label begin no
    /// word of a table, and need no search.
    pub(crate) firsts: u64,
}

impl Words {
    /// Whether it holds the word.
    pub fn contains(self, word: &str) -> bool {
        self.may_begin_with(word) && self.sorted.binary_search(&word).is_ok()
    }

    /// Its phrases that begin with these letters.
    pub fn beginning(self, letters: &str) -> impl Iterator<Item = &'static str> {
        let first = match self.may_begin_with(letters) {
            true => self.sorted.partition_point(|phrase| *phrase < letters),
            false => self.sorted.len(),
        };
        let rest = self.sorted.iter().skip(first).copied();
        rest.take_while(move |phrase| phrase.starts_with(letters))
    }

    fn may_begin_with(self, letters: &str) -> bool {
        let first = letters.as_bytes().first();
        first.is_none_or(|first| self.firsts & bit_of(*first) != 0)
    }

    /// All of them.
    pub fn iter(self) -> impl Iterator<Item = &'static str> {
        self.sorted.iter().copied()
    }
}

/// A table of words or phrases, folded, separated by commas: `words! { ball, half
/// a ball }`.
macro_rules! words {
    ($($($word:ident)+),* $(,)?) => {
        const {
            $crate::words::Words {
                sorted: &$crate::words::sorted([$(stringify!($($word)+)),*]),
                firsts: $crate::words::firsts(&[$(stringify!($($word)+)),*]),
            }
        }
    };
}
pub(crate) use words;

const fn bit_of(byte: u8) -> u64 {
    1 << (byte & 63)
}

/// A bit for the first byte of each word.
pub const fn firsts(mut words: &[&'static str]) -> u64 {
    let mut bits = 0;
    while let [word, rest @ ..] = words {
        if let Some(first) = word.as_bytes().first() {
            bits |= bit_of(*first);
        }
        words = rest;
    }
    bits
}

/// The words in the order of their bytes.
#[expect(
    clippy::indexing_slicing,
    reason = "it runs only while the program is built"
)]
pub const fn sorted<const COUNT: usize>(mut words: [&'static str; COUNT]) -> [&'static str; COUNT] {
    let mut place = 1;
    while place < COUNT {
        let mut at = place;
        while at > 0 && comes_before(words[at].as_bytes(), words[at - 1].as_bytes()) {
            (words[at - 1], words[at]) = (words[at], words[at - 1]);
            at -= 1;
        }
        place += 1;
    }
    words
}

const fn comes_before(mut word: &[u8], mut other: &[u8]) -> bool {
    while let ([first, rest @ ..], [other_first, other_rest @ ..]) = (word, other) {
        if *first != *other_first {
            return *first < *other_first;
        }
        (word, other) = (rest, other_rest);
    }
    word.len() < other.len()
}

/// Meanings by their words; of a word that stands twice the first.
pub fn by_word<T>(rows: impl IntoIterator<Item = (&'static str, T)>) -> HashMap<&'static str, T> {
    let mut meanings = HashMap::new();
    for (word, meaning) in rows {
        meanings.entry(word).or_insert(meaning);
    }
    meanings
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_of_words_finds_its_words_and_phrases_and_no_others() {
        const TABLE: Words = words! { nøgle, of, in the   round, office, in };
        let all: Vec<&str> = TABLE.iter().collect();
        assert_eq!(all, ["in", "in the round", "nøgle", "of", "office"]);
        assert!(all.iter().all(|word| TABLE.contains(word)));
        assert!(!TABLE.contains("the") && !TABLE.contains("o") && !TABLE.contains(""));
        assert_eq!(TABLE.beginning("").count(), 5);
        let of: Vec<&str> = TABLE.beginning("in").collect();
        assert_eq!(of, ["in", "in the round"]);
        assert_eq!(TABLE.beginning("z").count(), 0);
    }

    #[test]
    fn of_two_meanings_of_a_word_the_first_counts() {
        let meanings = by_word([("m", 1), ("cm", 2), ("m", 3)]);
        assert_eq!((meanings.get("m"), meanings.len()), (Some(&1), 2));
    }
}
