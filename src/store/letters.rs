//! The letters of a name without their order: from them alone most pairs of names
//! are told to be unlike, at a small part of the cost of comparing them. First by
//! which letters there are, then by how often each.

/// Which letters occur; letters that share a place count as one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Letters {
    /// Bit n: place n is not empty.
    places: u64,
    /// How many letters, where all are plain.
    length: Option<u16>,
}

const PLACES: usize = 64;

fn place(byte: u8) -> u8 {
    byte % 64
}

impl Letters {
    /// The letters of `text`.
    pub(super) fn of(text: &str) -> Self {
        let places = text.bytes().fold(0, |all, byte| all | 1 << place(byte));
        let length = u16::try_from(text.len()).ok();
        Self {
            places,
            length: length.filter(|_| text.is_ascii()),
        }
    }

    /// The letters of both with a space between.
    pub(super) fn and(&self, others: &Self) -> Self {
        let length = self.length.zip(others.length);
        Self {
            places: self.places | others.places | 1 << place(b' '),
            length: length.and_then(|(a, b)| a.checked_add(b)?.checked_add(1)),
        }
    }

    /// Whether each occurs in `others`, however often.
    pub(super) fn are_all_in(&self, others: &Self) -> bool {
        self.places & !others.places == 0
    }

    /// How many places are there again: letters that occur more than once.
    fn again(&self) -> u32 {
        let length = u32::from(self.length.unwrap_or_default());
        length.saturating_sub(self.places.count_ones())
    }

    /// How many letters both have in common at most: each place of both once, and
    /// what either has more than once.
    fn common_at_most(&self, others: &Self) -> u32 {
        let both = (self.places & others.places).count_ones();
        both + self.again().min(others.again())
    }

    /// What Jaro-Winkler likeness is at most, from which letters there are.
    pub(super) fn likeness_at_most(&self, others: &Self, same_at_first: usize) -> f64 {
        let common = self.common_at_most(others);
        self.likeness_with(common, others.length, same_at_first)
    }

    /// What the likeness to any one word of these letters is at most.
    pub(super) fn likeness_to_a_word_at_most(&self, words: &Self) -> f64 {
        let Some(own @ 1..) = self.length.filter(|_| words.length.is_some()) else {
            return 1.0;
        };
        let common = (self.places & words.places).count_ones() + self.again();
        let jaro = (f64::from(common) / f64::from(own) + 2.0) / 3.0;
        winkler(jaro, 4)
    }

    /// With m letters in common, j <= (m / a + m / b + 1) / 3 for names of a and
    /// b letters, m being no more than a or b.
    fn likeness_with(&self, common: u32, others: Option<u16>, same_at_first: usize) -> f64 {
        let (Some(a @ 1..), Some(b @ 1..)) = (self.length, others) else {
            return 1.0;
        };
        let common = f64::from(common.min(u32::from(a.min(b))));
        let jaro = (common / f64::from(a) + common / f64::from(b) + 1.0) / 3.0;
        winkler(jaro, same_at_first)
    }
}

/// The first letters, up to four, that are the same add 0.1 (1 - j) each.
fn winkler(jaro: f64, same_at_first: usize) -> f64 {
    let first: f64 = [0.1; 4].iter().take(same_at_first).sum();
    jaro + first * (1.0 - jaro).max(0.0)
}

/// How often each letter occurs.
#[derive(Debug, Clone)]
pub(super) struct Counted {
    letters: Letters,
    counts: [u8; PLACES],
}

impl Counted {
    /// The letters of all of `texts`, which stand for one text.
    pub(super) fn of<'t>(letters: Letters, texts: impl IntoIterator<Item = &'t str>) -> Self {
        let mut counts = [0_u8; PLACES];
        for byte in texts.into_iter().flat_map(str::bytes) {
            if let Some(count) = counts.get_mut(usize::from(place(byte))) {
                *count = count.saturating_add(1);
            }
        }
        Self { letters, counts }
    }

    /// What Jaro-Winkler likeness is at most, from how often each letter occurs.
    pub(super) fn likeness_at_most(&self, others: &Self, same_at_first: usize) -> f64 {
        let pairs = self.counts.iter().zip(&others.counts);
        let common = pairs.map(|(a, b)| u32::from(*a.min(b))).sum();
        let others = others.letters.length;
        self.letters.likeness_with(common, others, same_at_first)
    }
}

/// How many letters at the start of both are the same.
pub(super) fn same_at_first(a: &str, b: &str) -> usize {
    let pairs = a.bytes().zip(b.bytes());
    pairs.take_while(|(a, b)| a == b).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn counted(text: &str) -> Counted {
        Counted::of(Letters::of(text), [text])
    }

    proptest! {
        #[test]
        fn prop_likeness_is_never_more_than_the_letters_allow(
            a in "[a-d0-3 ]{0,9}", b in "[a-d0-3 é]{0,9}",
        ) {
            let same = same_at_first(&a, &b);
            let most = Letters::of(&a).likeness_at_most(&Letters::of(&b), same);
            let of_counts = counted(&a).likeness_at_most(&counted(&b), same);
            prop_assert!(of_counts <= most + 1e-9);
            prop_assert!(strsim::jaro_winkler(&a, &b) <= of_counts + 1e-9);
        }

        #[test]
        fn prop_a_word_is_never_more_like_one_word_than_its_letters_allow(
            word in "[a-e]{1,9}", names in "[a-eé]{1,6}( [a-e]{1,6}){0,2}",
        ) {
            let most = Letters::of(&word).likeness_to_a_word_at_most(&Letters::of(&names));
            for name in names.split(' ') {
                prop_assert!(strsim::jaro_winkler(&word, name) <= most + 1e-9);
            }
        }

        #[test]
        fn prop_letters_add_up(a in "[a-d0-3é]{0,9}", b in "[a-d0-3 ]{0,9}") {
            let both = Letters::of(&a).and(&Letters::of(&b));
            prop_assert_eq!(Letters::of(&format!("{a} {b}")), both);
        }
    }

    #[test]
    fn names_of_other_letters_are_told_apart() {
        let (a, b) = (Letters::of("quince"), Letters::of("harbour wall"));
        assert!(a.likeness_at_most(&b, 0) < 0.82);
        assert!(!a.are_all_in(&b) && Letters::of("wall").are_all_in(&b));
    }
}
