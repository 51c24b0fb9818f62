//! A text that is compared with very many others. Source of the likeness: Jaro and
//! Winkler; `rapidfuzz` computes the same as `strsim`, many times faster for one text
//! and very many others.

use super::{
    fewest::{Fewest, Least},
    lettered::Lettered,
    letters::Letters,
};
use rapidfuzz::distance::jaro_winkler::{Args, BatchComparator};

/// A text and its letters, made ready to be compared.
pub(super) struct Spelt<'t> {
    pub(super) text: &'t str,
    pub(super) letters: Letters,
    pub(super) fewest: Fewest,
    compared: BatchComparator<char>,
}

impl<'t> Spelt<'t> {
    pub(super) fn of(text: &'t str, least: &Least) -> Self {
        let letters = Letters::of(text);
        Self {
            text,
            letters,
            fewest: Fewest::of(&letters, least),
            compared: BatchComparator::new(text.chars()),
        }
    }

    /// Whether it may be as like to a text of these letters.
    #[inline]
    pub(super) fn may_be_like(&self, letters: &Letters) -> bool {
        letters.may_be_like(&self.letters, self.letters.common(letters), &self.fewest)
    }

    /// Jaro-Winkler likeness; 0 where it is less than `least`.
    pub(super) fn likeness(
        &self,
        other: impl DoubleEndedIterator<Item = char> + Clone,
        least: &Least,
    ) -> f64 {
        let args = Args::default().score_cutoff(least.cutoff());
        let likeness = self.compared.similarity_with_args(other, &args);
        likeness.unwrap_or_default()
    }

    /// How like it is to the word of `other` that it is likest to; 0 where that
    /// cannot be `least`.
    pub(super) fn likest(&self, other: Lettered<'_>, least: &Least) -> f64 {
        let words = other.text.split(' ').zip(other.words);
        let may_be = words.filter(|(_, letters)| self.may_be_like(letters));
        may_be
            .map(|(word, _)| self.likeness(word.chars(), least))
            .fold(0.0, f64::max)
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
                let found = Spelt::of(&a, &least).likeness(b.chars(), &least);
                match likeness >= least.likeness {
                    true => prop_assert!((found - likeness).abs() < 1e-12, "{found}, not {likeness}"),
                    false => prop_assert!(found < least.likeness, "{found} for {likeness}"),
                }
            }
        }
    }
}
