//! How like a text that is looked for is to a name.
//!
//! What is compared is folded ([`super::name_key`]); which names there are is left
//! to others. Likeness is Jaro's and Winkler's, by `rapidfuzz`: it gives up early
//! below the likeness that is asked for, and reads the text that is looked for only
//! once. At 100,000 names that is 10 times as fast as `strsim`, which compares single
//! names elsewhere and gives the same.

use super::Found;
use ordered_float::OrderedFloat;
use rapidfuzz::distance::jaro_winkler::{Args, BatchComparator};

/// The order of hits: how found, the likest first.
pub(super) type Rank = (Found, OrderedFloat<f64>);

/// The text that is looked for, made ready to be compared with many names.
pub(super) struct Matcher<'t> {
    text: &'t str,
    whole: BatchComparator<char>,
    words: Vec<(&'t str, BatchComparator<char>)>,
    /// The maker of the name before; one maker serves many.
    maker: String,
    /// How like each word is to any word of that maker; empty until it is asked for.
    like_maker: Vec<f64>,
    /// Maker and name of the last comparison, in memory that is used again.
    title: String,
}

impl<'t> Matcher<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let comparator = |text: &str| BatchComparator::new(text.chars());
        let words = text.split(' ').map(|word| (word, comparator(word)));
        Self {
            text,
            whole: comparator(text),
            words: words.collect(),
            maker: String::new(),
            like_maker: Vec::new(),
            title: String::new(),
        }
    }

    /// The rank of a name that is the text, or holds all its words.
    pub(super) fn held(&self, maker: &str, name: &str) -> Option<Rank> {
        let after = self.text.strip_prefix(maker);
        let is_title = after.and_then(|rest| rest.strip_prefix(' ')) == Some(name);
        let mut words = self.words.iter();
        let found = if is_title || self.text == name {
            Found::Exact
        } else if words.all(|(word, _)| maker.contains(word) || name.contains(word)) {
            Found::Contains
        } else {
            return None;
        };
        Some((found, OrderedFloat(0.0)))
    }

    /// The rank of a name that is at least so like the text: in whole, with its
    /// maker, or word for word.
    pub(super) fn likeness(&mut self, maker: &str, name: &str, least: f64) -> Option<Rank> {
        self.title.clear();
        self.title.extend([maker, " ", name]);
        let likeness = likeness(&self.whole, name, least)
            .max(likeness(&self.whole, &self.title, least))
            .max(self.word_for_word(maker, name, least));
        (likeness >= least).then_some((Found::ByLikeness, OrderedFloat(-likeness)))
    }

    /// The likeness of that word of the text that is least like any word of maker
    /// and name; 0 where it is less than `least`.
    fn word_for_word(&mut self, maker: &str, name: &str, least: f64) -> f64 {
        if self.maker != maker || self.like_maker.is_empty() {
            maker.clone_into(&mut self.maker);
            let words = self.words.iter();
            let like = words.map(|(_, word)| likest_word(word, maker, least));
            self.like_maker = like.collect();
        }
        let mut words = self.words.iter().zip(&self.like_maker);
        let least_like = words.try_fold(1.0, |all: f64, ((_, word), like_maker)| {
            let like = if *like_maker >= all {
                all
            } else {
                like_maker.max(likest_word(word, name, least))
            };
            Some(all.min(like)).filter(|all| *all >= least)
        });
        least_like.unwrap_or(0.0)
    }
}

/// Jaro-Winkler likeness; 0 where it is less than `least`.
fn likeness(text: &BatchComparator<char>, other: &str, least: f64) -> f64 {
    // What is rounded is let pass.
    let args = Args::default().score_cutoff(least - 1e-9);
    let likeness = text.similarity_with_args(other.chars(), &args);
    likeness.unwrap_or(0.0)
}

/// The likeness to that word of `words` that is likest.
fn likest_word(word: &BatchComparator<char>, words: &str, least: f64) -> f64 {
    let each = words.split(' ').map(|other| likeness(word, other, least));
    each.fold(0.0, f64::max)
}

/// What a rank is, said plainly.
#[cfg(test)]
pub(super) fn plain_rank(text: &str, maker: &str, name: &str) -> Option<Rank> {
    let title = format!("{maker} {name}");
    let each = text.split(' ').map(|word| {
        let others = title.split(' ');
        let likeness = others.map(|other| strsim::jaro_winkler(word, other));
        likeness.fold(0.0, f64::max)
    });
    let likest = strsim::jaro_winkler(text, name)
        .max(strsim::jaro_winkler(text, &title))
        .max(each.fold(1.0, f64::min));
    let holds = |word| maker.contains(word) || name.contains(word);
    if text == title || text == name {
        Some((Found::Exact, OrderedFloat(0.0)))
    } else if text.split(' ').all(holds) {
        Some((Found::Contains, OrderedFloat(0.0)))
    } else {
        let rank = (Found::ByLikeness, OrderedFloat(-likest));
        (likest >= crate::words::TYPING_ERROR_LIKENESS).then_some(rank)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::TYPING_ERROR_LIKENESS;
    use proptest::prelude::*;

    fn rank(text: &str, maker: &str, name: &str, least: f64) -> Option<Rank> {
        let mut matcher = Matcher::new(text);
        let held = matcher.held(maker, name);
        held.or_else(|| matcher.likeness(maker, name, least))
    }

    fn texts() -> impl Strategy<Value = String> {
        prop_oneof!["[a-c ]{0,12}", "[a-cé ]{50,150}", "\\PC{0,12}"]
    }

    proptest! {
        #[test]
        fn prop_two_libraries_agree_on_a_likeness(
            a in texts(), b in texts(), least in 0.0_f64..1.0, shared in 0_usize..2,
        ) {
            let b = if shared == 0 { b } else { format!("{a}{b}") };
            let expected = strsim::jaro_winkler(&a, &b);
            for least in [least, expected] {
                let found = likeness(&BatchComparator::new(a.chars()), &b, least);
                if expected >= least {
                    prop_assert!((found - expected).abs() < 1e-12, "{found}, not {expected}");
                } else {
                    prop_assert!(found < least, "{found} for {expected}");
                }
            }
        }

        #[test]
        fn prop_nothing_worth_asking_about_is_cut_off(
            text in "[a-e]{1,6}( [a-e]{1,4})?", maker in "[a-e]{1,5}", name in "[a-eé]{1,6}( [a-e]{1,4})?",
        ) {
            let found = plain_rank(&text, &maker, &name);
            prop_assert_eq!(rank(&text, &maker, &name, TYPING_ERROR_LIKENESS), found);
            if let Some((Found::ByLikeness, likeness)) = found {
                prop_assert_eq!(rank(&text, &maker, &name, -likeness.0), found);
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
            let (found, likeness) = rank(text, maker, name, TYPING_ERROR_LIKENESS).unwrap();
            assert_eq!(found, Found::ByLikeness);
            assert!(
                (-likeness.0 - most).abs() < 1e-9,
                "{text}: {likeness}, not {most}"
            );
        }
    }
}
