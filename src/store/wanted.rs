//! A text that is looked for, and how like a name it is.
//!
//! What is compared is folded ([`super::key`]); which names there are is left to
//! others. Source of the likeness: Jaro and Winkler; `rapidfuzz` computes the same
//! as `strsim`, many times faster for one text and very many others.

use super::{
    letters::{Least, Letters, same_at_first},
    search::Found,
};
use crate::words::WORTH_ASKING;
use ordered_float::OrderedFloat;
use rapidfuzz::distance::jaro_winkler::{Args, BatchComparator};
use std::cmp::Reverse;

/// The order of hits: how found, the likest first, then maker and name.
pub(super) type Rank = (Found, OrderedFloat<f64>);

/// The last of as many hits as are wanted.
pub(super) struct Last {
    rank: Rank,
    least: Least,
}

impl Last {
    pub(super) fn of(rank: Rank) -> Self {
        let least = Least::of(-rank.1.0);
        Self { rank, least }
    }
}

/// A text and its letters, made ready to be compared.
struct Spelt<'t> {
    text: &'t str,
    letters: Letters,
    compared: BatchComparator<char>,
}

impl<'t> Spelt<'t> {
    fn of(text: &'t str) -> Self {
        Self {
            text,
            letters: Letters::of(text),
            compared: BatchComparator::new(text.chars()),
        }
    }

    /// Jaro-Winkler likeness; 0 where it cannot be `least`.
    fn like(&self, other: &str, letters: &Letters, least: &Least) -> f64 {
        let same = same_at_first(self.text, other);
        match self.letters.may_be_like(letters, same, least) {
            true => self.likeness(other.chars(), least),
            false => 0.0,
        }
    }

    /// Jaro-Winkler likeness; 0 where it is less than `least`.
    fn likeness(&self, other: impl DoubleEndedIterator<Item = char> + Clone, least: &Least) -> f64 {
        let args = Args::default().score_cutoff(least.cutoff());
        let likeness = self.compared.similarity_with_args(other, &args);
        likeness.unwrap_or_default()
    }

    /// Whether it may be as like to any of some words.
    fn may_be_like_any(&self, words: &[Letters], least: &Least) -> bool {
        let mut words = words.iter();
        words.any(|word| self.letters.may_be_like_at_best(word, least))
    }

    /// How like it is to the word of `names` that it is likest to; 0 where that
    /// cannot be `least`.
    fn likest(&self, names: &str, words: &[Letters], least: &Least) -> f64 {
        let each = names.split(' ').zip(words);
        each.map(|(other, letters)| self.like(other, letters, least))
            .fold(0.0, f64::max)
    }
}

/// The text that is looked for, made ready to be compared with many names.
pub(super) struct Wanted<'t> {
    spelt: Spelt<'t>,
    /// Its words, the longest first: they rule out most.
    words: Vec<Spelt<'t>>,
    /// Names come in the order of makers, so that one maker serves many.
    maker: Maker<'t>,
    worth_asking: Least,
}

/// What is known of the maker of the name before.
struct Maker<'t> {
    key: String,
    letters: Letters,
    words: Vec<Letters>,
    /// What follows the maker in the text.
    after: Option<&'t str>,
    /// How like each word of the text is to any word of the maker; empty until it
    /// is asked for.
    likeness: Vec<f64>,
}

impl<'t> Wanted<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let mut words: Vec<Spelt<'t>> = text.split(' ').map(Spelt::of).collect();
        words.sort_by_key(|word| Reverse(word.text.len()));
        let spelt = Spelt::of(text);
        let mut maker = Maker::none();
        maker.become_that("", &spelt);
        Self {
            spelt,
            words,
            maker,
            worth_asking: Least::of(WORTH_ASKING),
        }
    }

    /// How a yarn is found, if it is, and better than `last`; `words` are the
    /// letters of the words of its name.
    pub(super) fn rank(
        &mut self,
        (maker, name): (&str, &str),
        words: &[Letters],
        last: Option<&Last>,
    ) -> Option<Rank> {
        if self.maker.key != maker {
            self.maker.become_that(maker, &self.spelt);
        }
        let rank = self.any_rank(name, words, last)?;
        last.is_none_or(|last| rank < last.rank).then_some(rank)
    }

    fn any_rank(&mut self, name: &str, words: &[Letters], last: Option<&Last>) -> Option<Rank> {
        let maker = &self.maker;
        if self.spelt.text == name || maker.after == Some(name) {
            return Some((Found::Exact, OrderedFloat(0.0)));
        }
        let letters = Letters::together(words);
        let title = maker.letters.and(&letters);
        let holds = |word: &Spelt<'_>| {
            word.letters.are_all_in(&title)
                && (maker.key.contains(word.text) || name.contains(word.text))
        };
        if self.words.iter().all(holds) {
            return Some((Found::Contains, OrderedFloat(0.0)));
        }
        let least = match last {
            None => self.worth_asking,
            Some(last) if last.rank.0 == Found::ByLikeness => last.least,
            Some(_) => return None,
        };
        let whole = self.spelt.like(name, &letters, &least);
        let likeness = whole
            .max(self.like_title(name, &title, &least))
            .max(self.word_for_word(name, words, &least));
        (likeness >= WORTH_ASKING).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
    }

    /// The likeness to maker and name together; 0 where it cannot be `least`.
    fn like_title(&self, name: &str, letters: &Letters, least: &Least) -> f64 {
        let maker = &self.maker;
        let same = match same_at_first(self.spelt.text, &maker.key) {
            all if all == maker.key.len() => usize::MAX,
            some => some,
        };
        match self.spelt.letters.may_be_like(letters, same, least) {
            true => {
                let title = maker.key.chars().chain([' ']).chain(name.chars());
                self.spelt.likeness(title, least)
            }
            false => 0.0,
        }
    }

    /// The likeness of that word of the text that is least like any word of maker
    /// and name; 0 where it cannot be `least`.
    fn word_for_word(&mut self, name: &str, words: &[Letters], least: &Least) -> f64 {
        let of_maker = &self.maker.words;
        let may_be = |word: &Spelt<'_>| {
            word.may_be_like_any(words, least) || word.may_be_like_any(of_maker, least)
        };
        if !self.words.iter().all(may_be) {
            return 0.0;
        }
        self.maker.learn_likeness(&self.words);
        let mut each = self.words.iter().zip(&self.maker.likeness);
        let likeness = each.try_fold(1.0, |all: f64, (word, of_maker)| {
            let likeness = match *of_maker >= all {
                true => *of_maker,
                false => of_maker.max(word.likest(name, words, least)),
            };
            Some(all.min(likeness)).filter(|all| *all >= least.likeness)
        });
        likeness.unwrap_or_default()
    }
}

impl<'t> Maker<'t> {
    /// Before the first name.
    fn none() -> Self {
        Self {
            key: String::new(),
            letters: Letters::of(""),
            words: Vec::new(),
            after: None,
            likeness: Vec::new(),
        }
    }

    /// Learns the maker of the next names; takes no new memory, since there may
    /// be as many makers as yarns.
    fn become_that(&mut self, maker: &str, text: &Spelt<'t>) {
        let after = text.text.strip_prefix(maker);
        self.key.clear();
        self.key.push_str(maker);
        Letters::of_words(maker, &mut self.words);
        self.letters = Letters::together(&self.words);
        self.after = after.and_then(|rest| rest.strip_prefix(' '));
        self.likeness.clear();
    }

    fn learn_likeness(&mut self, words: &[Spelt<'_>]) {
        if self.likeness.is_empty() {
            let least = Least::of(WORTH_ASKING);
            let likest = |word: &Spelt<'_>| word.likest(&self.key, &self.words, &least);
            self.likeness.extend(words.iter().map(likest));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn texts() -> impl Strategy<Value = String> {
        prop_oneof!["[a-c ]{0,12}", "[a-cé ]{50,150}", "\\PC{0,12}"]
    }

    proptest! {
        #[test]
        fn prop_two_libraries_agree_on_a_likeness(
            a in texts(), b in texts(), least in 0.0_f64..1.0, shared in 0_usize..2,
        ) {
            let b = match shared { 0 => b, _ => format!("{a}{b}") };
            let likeness = strsim::jaro_winkler(&a, &b);
            for least in [least, likeness] {
                let least = Least::of(least);
                let found = Spelt::of(&a).likeness(b.chars(), &least);
                match likeness >= least.likeness {
                    true => prop_assert!((found - likeness).abs() < 1e-12, "{found}, not {likeness}"),
                    false => prop_assert!(found < least.likeness, "{found} for {likeness}"),
                }
            }
        }

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
            let mut words = Vec::new();
            Letters::of_words(&name, &mut words);
            prop_assert_eq!(Wanted::new(&text).rank((&maker, &name), &words, None), found);
        }
    }
}
