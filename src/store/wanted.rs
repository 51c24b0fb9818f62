//! A text that is looked for, and how like a name it is.
//!
//! What is compared is folded ([`super::key`]); which names there are is left to
//! others. Source of the likeness: Jaro and Winkler, as `strsim` computes it.

use super::{
    letters::{Least, Letters, same_at_first},
    search::Found,
};
use crate::words::WORTH_ASKING;
use ordered_float::OrderedFloat;
use std::{cell::OnceCell, cmp::Reverse};

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

/// A text and its letters.
struct Spelt<'t> {
    text: &'t str,
    letters: Letters,
}

impl<'t> Spelt<'t> {
    fn of(text: &'t str) -> Self {
        let letters = Letters::of(text);
        Self { text, letters }
    }

    /// Jaro-Winkler likeness; 0 where it cannot be `least`.
    fn like(&self, other: &str, letters: &Letters, least: &Least) -> f64 {
        let same = same_at_first(self.text, other);
        match self.letters.may_be_like(letters, same, least) {
            true => strsim::jaro_winkler(self.text, other),
            false => 0.0,
        }
    }

    /// How like it is to the word of `names` that it is likest to; 0 where that
    /// cannot be `least`.
    fn likest(&self, names: &str, letters: &Letters, least: &Least) -> f64 {
        if !self.letters.may_be_like_a_word_of(letters, least) {
            return 0.0;
        }
        let each = names
            .split(' ')
            .map(|other| self.like(other, &Letters::of(other), least));
        each.fold(0.0, f64::max)
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
    /// What follows the maker in the text.
    after: Option<&'t str>,
    /// How like each word of the text is to any word of the maker; reckoned once
    /// it is asked for.
    likeness: OnceCell<Vec<f64>>,
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

    /// How a yarn is found, if it is, and better than `last`; `letters` are those
    /// of the name.
    pub(super) fn rank(
        &mut self,
        (maker, name): (&str, &str),
        letters: &Letters,
        last: Option<&Last>,
    ) -> Option<Rank> {
        if self.maker.key != maker {
            self.maker.become_that(maker, &self.spelt);
        }
        let rank = self.any_rank(name, letters, last)?;
        last.is_none_or(|last| rank < last.rank).then_some(rank)
    }

    fn any_rank(&self, name: &str, letters: &Letters, last: Option<&Last>) -> Option<Rank> {
        let maker = &self.maker;
        if self.spelt.text == name || maker.after == Some(name) {
            return Some((Found::Exact, OrderedFloat(0.0)));
        }
        let title = maker.letters.and(letters);
        let holds = |word: &Spelt<'_>| {
            word.letters.are_all_in(&title)
                && (maker.key.contains(word.text) || name.contains(word.text))
        };
        if self.words.iter().all(holds) {
            return Some((Found::Contains, OrderedFloat(0.0)));
        }
        let least = match last {
            None => &self.worth_asking,
            Some(last) if last.rank.0 == Found::ByLikeness => &last.least,
            Some(_) => return None,
        };
        let likeness = self
            .spelt
            .like(name, letters, least)
            .max(self.word_for_word(name, (letters, &title), least))
            .max(self.like_title(name, &title, least));
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
            true => strsim::jaro_winkler(self.spelt.text, &format!("{} {name}", maker.key)),
            false => 0.0,
        }
    }

    /// The likeness of that word of the text that is least like any word of maker
    /// and name; 0 where it cannot be `least`.
    fn word_for_word(
        &self,
        name: &str,
        (letters, title): (&Letters, &Letters),
        least: &Least,
    ) -> f64 {
        let mut words = self.words.iter();
        if !words.all(|word| word.letters.may_be_like_a_word_of(title, least)) {
            return 0.0;
        }
        let mut all: f64 = 1.0;
        for (word, of_maker) in self.words.iter().zip(self.maker.likeness(&self.words)) {
            let likeness = match *of_maker >= all {
                true => *of_maker,
                false => of_maker.max(word.likest(name, letters, least)),
            };
            all = all.min(likeness);
            if all < least.likeness {
                return 0.0;
            }
        }
        all
    }
}

impl<'t> Maker<'t> {
    /// Before the first name.
    fn none() -> Self {
        Self {
            key: String::new(),
            letters: Letters::of(""),
            after: None,
            likeness: OnceCell::new(),
        }
    }

    /// Learns the maker of the next names; takes no new memory, since there may
    /// be as many makers as yarns.
    fn become_that(&mut self, maker: &str, text: &Spelt<'t>) {
        let after = text.text.strip_prefix(maker);
        self.key.clear();
        self.key.push_str(maker);
        self.letters = Letters::of(maker);
        self.after = after.and_then(|rest| rest.strip_prefix(' '));
        self.likeness.take();
    }

    fn likeness(&self, words: &[Spelt<'_>]) -> &[f64] {
        let least = Least::of(WORTH_ASKING);
        let likest = |word: &Spelt<'_>| word.likest(&self.key, &self.letters, &least);
        self.likeness
            .get_or_init(|| words.iter().map(likest).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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
            prop_assert_eq!(Wanted::new(&text).rank((&maker, &name), &Letters::of(&name), None), found);
        }
    }
}
