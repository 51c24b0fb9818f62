//! A text that is looked for, and how like a name it is.
//!
//! What is compared is folded ([`super::key`]); which names there are is left to
//! others.

use super::{
    fewest::{Fewest, Least},
    lettered::Lettered,
    letters::{Letters, same_at_first},
    search::Found,
    spelt::Spelt,
};
use crate::words::WORTH_ASKING;
use ordered_float::OrderedFloat;
use std::cmp::Reverse;

/// The order of hits: how found, the likest first.
pub(super) type Rank = (Found, OrderedFloat<f64>);

/// The text that is looked for, made ready to be compared with many names.
pub(super) struct Wanted<'t> {
    spelt: Spelt<'t>,
    /// Its words, the longest first: they rule out most.
    words: Vec<Spelt<'t>>,
    /// The letters of all its words.
    letters: Letters,
    least: Least,
    /// Whether what is only like the text is looked for, too.
    by_likeness: bool,
    /// Whether it is known that no yarn holds all words.
    none_holds: bool,
    maker: Maker,
}

/// What is known of the maker of the names that come: one maker serves many.
struct Maker {
    key: String,
    whole: Letters,
    words: Vec<Letters>,
    /// How many letters the text and the maker have in common at most.
    common: u32,
    /// Bit n: word n of the text may be like a word of the maker.
    may_be: u64,
    /// How like each word of the text is to any word of the maker; empty until it
    /// is asked for.
    likeness: Vec<f64>,
}

impl<'t> Wanted<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let least = Least::of(WORTH_ASKING);
        let spelt = |text| Spelt::of(text, &least);
        let mut words: Vec<Spelt<'t>> = text.split(' ').map(spelt).collect();
        words.sort_by_key(|word| Reverse(word.text.len()));
        Self {
            spelt: spelt(text),
            words,
            letters: Letters::of(&text.replace(' ', "")),
            least,
            by_likeness: true,
            none_holds: false,
            maker: Maker::none(),
        }
    }

    /// The same where it is known that no yarn holds all words.
    pub(super) fn that_none_holds(self) -> Self {
        Self {
            none_holds: true,
            ..self
        }
    }

    /// From now on, hardly more than what is at least as good is looked for.
    pub(super) fn ask_for(&mut self, (found, likeness): Rank) {
        self.by_likeness = found == Found::ByLikeness;
        // What a little more would rule out costs less than to make it ready.
        if self.by_likeness && -likeness.0 > self.least.likeness + 0.01 {
            self.least = Least::of(-likeness.0);
            for spelt in self.words.iter_mut().chain([&mut self.spelt]) {
                spelt.fewest = Fewest::of(&spelt.letters, &self.least);
            }
        }
    }

    /// The maker of the names that come.
    pub(super) fn of_maker(&mut self, maker: Lettered<'_>) {
        self.maker.become_that(maker, &self.spelt, &self.words);
    }

    /// The maker of the names that come now.
    pub(super) fn maker(&self) -> &str {
        &self.maker.key
    }

    /// How a yarn of this name is found, if it is, and as good as is asked for.
    pub(super) fn rank(&mut self, name: Lettered<'_>) -> Option<Rank> {
        if !self.none_holds {
            let maker = (self.maker.key.as_str(), &self.maker.whole);
            let held = self.rank_of_held(maker, (name.text, name.whole));
            if held.is_some() || !self.by_likeness {
                return held;
            }
        }
        let common = self.spelt.letters.common(name.whole);
        let likeness = self
            .like_name(name, common)
            .max(self.like_title(name, common))
            .max(self.word_for_word(name));
        (likeness >= self.least.likeness).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
    }

    /// The same of a yarn whose maker and name, here with their letters, hold all
    /// words of the text; of other yarns nothing is said.
    #[inline]
    pub(super) fn rank_of_held(
        &self,
        (maker, in_maker): (&str, &Letters),
        (name, in_name): (&str, &Letters),
    ) -> Option<Rank> {
        if !self.letters.are_all_in(in_maker, in_name) {
            return None;
        }
        let text = self.spelt.text;
        let after = text.strip_prefix(maker);
        if text == name || after.and_then(|rest| rest.strip_prefix(' ')) == Some(name) {
            return Some((Found::Exact, OrderedFloat(0.0)));
        }
        let mut words = self.words.iter();
        let held = words.all(|word| maker.contains(word.text) || name.contains(word.text));
        held.then_some((Found::Contains, OrderedFloat(0.0)))
    }

    /// The likeness to the name; 0 where it is less than is asked for.
    #[inline]
    fn like_name(&self, name: Lettered<'_>, common: u32) -> f64 {
        let text = &self.spelt;
        let same = || same_at_first(text.text, name.text);
        match (name.whole).may_be_like(&text.letters, common, &text.fewest)
            && (name.whole).may_be_as_like(&text.fewest, common, same())
        {
            true => text.likeness(name.text.chars(), &self.least),
            false => 0.0,
        }
    }

    /// The likeness to maker and name together; 0 where it is less than is asked
    /// for. Of the name, the text has so many letters in common.
    #[inline]
    fn like_title(&self, name: Lettered<'_>, common: u32) -> f64 {
        let (maker, text) = (&self.maker, &self.spelt);
        // One more for the space between; what that lets pass is counted well.
        let roughly = maker.common + common + 1;
        let may_be =
            (maker.whole).may_be_like_with(name.whole, &text.letters, roughly, &text.fewest);
        match may_be && self.title_may_be_like(name) {
            true => {
                let title = maker.key.chars().chain([' ']).chain(name.text.chars());
                text.likeness(title, &self.least)
            }
            false => 0.0,
        }
    }

    fn title_may_be_like(&self, name: Lettered<'_>) -> bool {
        let (maker, text) = (&self.maker, &self.spelt);
        let common = text.letters.common_with_both(&maker.whole, name.whole);
        let same = maker.same_at_first(text.text);
        (maker.whole).may_be_as_like_with(name.whole, &text.fewest, common, same)
    }

    /// The likeness of that word of the text that is least like any word of maker
    /// and name; 0 where it is less than is asked for.
    #[inline]
    fn word_for_word(&mut self, name: Lettered<'_>) -> f64 {
        let may_be = |word: &Spelt<'_>| name.words.iter().any(|other| word.may_be_like(other));
        let mut each = (0..).zip(&self.words);
        match each.all(|(place, word)| self.maker.may_be(place) || may_be(word)) {
            true => self.compare_words(name),
            false => 0.0,
        }
    }

    fn compare_words(&mut self, name: Lettered<'_>) -> f64 {
        let least = &self.least;
        self.maker.learn_likeness(&self.words, least);
        let mut each = self.words.iter().zip(&self.maker.likeness);
        let likeness = each.try_fold(1.0, |all: f64, (word, of_maker)| {
            let likeness = match *of_maker >= all {
                true => *of_maker,
                false => of_maker.max(word.likest(name, least)),
            };
            Some(all.min(likeness)).filter(|all| *all >= least.likeness)
        });
        likeness.unwrap_or_default()
    }
}

impl Maker {
    /// Before the first name.
    fn none() -> Self {
        Self {
            key: String::new(),
            whole: Letters::NONE,
            words: Vec::new(),
            common: 0,
            may_be: 0,
            likeness: Vec::new(),
        }
    }

    /// Learns the maker of the next names; takes no new memory, since there may
    /// be as many makers as yarns.
    fn become_that(&mut self, maker: Lettered<'_>, text: &Spelt<'_>, words: &[Spelt<'_>]) {
        self.key.clear();
        self.key.push_str(maker.text);
        self.whole = *maker.whole;
        self.words.clear();
        self.words.extend_from_slice(maker.words);
        self.common = text.letters.common(maker.whole);
        let may_be = |word: &Spelt<'_>| maker.words.iter().any(|other| word.may_be_like(other));
        let bits = (0..u64::BITS).zip(words);
        let bit = |(place, word)| u64::from(may_be(word)) << place;
        self.may_be = bits.map(bit).fold(0, |all, bit| all | bit);
        self.likeness.clear();
    }

    /// Whether the word at a place of the text may be like a word of the maker.
    #[inline]
    fn may_be(&self, place: u32) -> bool {
        self.may_be
            .checked_shr(place)
            .is_none_or(|bits| bits & 1 == 1)
    }

    /// How many first letters of `text` and a title of the maker are the same: more
    /// than can be counted where the maker is all of them.
    fn same_at_first(&self, text: &str) -> usize {
        match same_at_first(text, &self.key) {
            all if all == self.key.len() => usize::MAX,
            some => some,
        }
    }

    fn learn_likeness(&mut self, words: &[Spelt<'_>], least: &Least) {
        if self.likeness.is_empty() {
            let maker = Lettered {
                text: &self.key,
                whole: &self.whole,
                words: &self.words,
            };
            let likest = words.iter().map(|word| word.likest(maker, least));
            self.likeness.extend(likest);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::lettered::ManyLetters;
    use super::*;
    use proptest::prelude::*;

    fn rank(text: &str, maker: &str, name: &str, asked: Option<Rank>) -> Option<Rank> {
        let (mut of_maker, mut of_name) = (ManyLetters::default(), ManyLetters::default());
        let mut wanted = Wanted::new(text);
        asked.into_iter().for_each(|rank| wanted.ask_for(rank));
        wanted.of_maker(of_maker.only(maker));
        wanted.rank(of_name.only(name))
    }

    proptest! {
        #[test]
        fn prop_nothing_worth_asking_about_is_cut_off(
            text in "[a-e]{1,6}( [a-e]{1,4})?", maker in "[a-e]{1,5}", name in "[a-eé]{1,6}( [a-e]{1,4})?",
        ) {
            let title = format!("{maker} {name}");
            let each = text.split(' ').map(|word| {
                let likeness = title.split(' ').map(|other| strsim::jaro_winkler(word, other));
                likeness.fold(0.0, f64::max)
            });
            let likest = strsim::jaro_winkler(&text, &name)
                .max(strsim::jaro_winkler(&text, &title))
                .max(each.fold(1.0, f64::min));
            let holds = text.split(' ').all(|word| title.contains(word));
            let found = match () {
                () if text == title || text == name => Some((Found::Exact, OrderedFloat(0.0))),
                () if holds => Some((Found::Contains, OrderedFloat(0.0))),
                () if likest >= WORTH_ASKING => Some((Found::ByLikeness, OrderedFloat(-likest))),
                () => None,
            };
            prop_assert_eq!(rank(&text, &maker, &name, None), found);
            if let Some(found) = found {
                prop_assert_eq!(rank(&text, &maker, &name, Some(found)), Some(found));
            }
        }
    }

    /// Each is likest by another of the three measures.
    #[test]
    fn the_likeness_is_the_most_of_name_title_and_words() {
        for (text, maker, name) in [
            ("harborwall", "quay", "harbour wall"),
            ("quay harbor wal", "quay", "harbour wall"),
            ("quaiharbour wal", "quay", "harbour wall"),
            ("wall harbor", "quay", "harbour wall"),
            ("kohlre fery", "kohler", "ferry lane dk"),
        ] {
            let title = format!("{maker} {name}");
            let each = text.split(' ').map(|word| {
                let likeness = title
                    .split(' ')
                    .map(|other| strsim::jaro_winkler(word, other));
                likeness.fold(0.0, f64::max)
            });
            let most = strsim::jaro_winkler(text, name)
                .max(strsim::jaro_winkler(text, &title))
                .max(each.fold(1.0, f64::min));
            let (found, likeness) = rank(text, maker, name, None).unwrap();
            assert_eq!(found, Found::ByLikeness);
            assert!(
                (-likeness.0 - most).abs() < 1e-9,
                "{text}: {likeness}, not {most}"
            );
        }
    }
}
