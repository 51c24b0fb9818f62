//! The letters of a name without their order: from them alone most pairs of names
//! are told to be unlike, at a small part of the cost of comparing them.

/// A likeness that is asked for, made ready for many names.
#[derive(Debug, Clone, Copy)]
pub(super) struct Least {
    /// The likeness.
    pub(super) likeness: f64,
    /// m / a + m / b, in which m letters of names of a and b letters are in
    /// common, has to be at least this, by how many first letters are the same.
    shares: [f64; 5],
}

impl Least {
    /// Jaro's likeness is j <= (m / a + m / b + 1) / 3; by Winkler the first
    /// letters, up to four, that are the same add 0.1 (1 - j) each.
    pub(super) fn of(likeness: f64) -> Self {
        let share = |first: f64| 3.0 * (likeness - first) / (1.0 - first) - 1.0 - 1e-9;
        Self {
            likeness,
            shares: [0.0, 0.1, 0.2, 0.3, 0.4].map(share),
        }
    }

    fn share(&self, same_at_first: usize) -> f64 {
        let share = self.shares.get(same_at_first).or(self.shares.last());
        share.copied().unwrap_or_default()
    }

    /// Whether names of a and b letters, m of them in common, may be as like.
    fn allows(&self, common: u32, (a, b): (u16, u16), same_at_first: usize) -> bool {
        let common = f64::from(common.min(u32::from(a.min(b))));
        let (a, b) = (f64::from(a), f64::from(b));
        common * (a + b) >= self.share(same_at_first) * (a * b)
    }

    /// Whether a word of a letters, m of them in common with several words, may
    /// be as like to one of them.
    fn allows_word(&self, common: u32, a: u16, same_at_first: usize) -> bool {
        f64::from(common) >= (self.share(same_at_first) - 1.0) * f64::from(a)
    }
}

/// The letters of a text; those that share a place count as one letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Letters {
    /// Bit n of each: place n occurs once, twice, three times or more often.
    once: u64,
    twice: u64,
    thrice: u64,
    /// Bit n: place n is the first letter of a word.
    firsts: u64,
    /// How many letters, where all are plain and there are any.
    length: Option<u16>,
}

/// Letters have 64 places.
#[inline]
fn bit(byte: u8) -> u64 {
    1 << (byte % 64)
}

impl Letters {
    /// The letters of `text`.
    #[inline]
    pub(super) fn of(text: &str) -> Self {
        let mut letters = Self {
            once: 0,
            twice: 0,
            thrice: 0,
            firsts: 0,
            length: None,
        };
        let (mut all, mut before) = (0, b' ');
        for byte in text.bytes() {
            let starts = u64::from(before == b' ').wrapping_neg();
            letters.firsts |= bit(byte) & starts;
            letters.add(bit(byte));
            all |= byte;
            before = byte;
        }
        let length = u16::try_from(text.len()).ok();
        letters.length = length.filter(|length| all < 128 && *length > 0);
        letters
    }

    #[inline]
    fn add(&mut self, bit: u64) {
        self.thrice |= bit & self.twice;
        self.twice |= bit & self.once;
        self.once |= bit;
    }

    /// The letters of both with a space between.
    #[inline]
    pub(super) fn and(&self, others: &Self) -> Self {
        let length = self.length.zip(others.length);
        let mut both = Self {
            once: self.once | others.once,
            twice: self.twice | others.twice | self.once & others.once,
            thrice: self.thrice
                | others.thrice
                | self.twice & others.once
                | self.once & others.twice,
            firsts: self.firsts | others.firsts,
            length: length.and_then(|(a, b)| a.checked_add(b)?.checked_add(1)),
        };
        both.add(bit(b' '));
        both
    }

    /// Whether each occurs in `others`, however often.
    #[inline]
    pub(super) fn are_all_in(&self, others: &Self) -> bool {
        self.once & !others.once == 0
    }

    /// How many letters come after the third of their place.
    #[inline]
    fn beyond(&self) -> u32 {
        let length = u32::from(self.length.unwrap_or_default());
        let counted = self.once.count_ones() + self.twice.count_ones() + self.thrice.count_ones();
        length.saturating_sub(counted)
    }

    /// How many letters up to the third of their place both have.
    #[inline]
    fn counted_in(&self, others: &Self) -> u32 {
        let (once, twice) = (self.once & others.once, self.twice & others.twice);
        let thrice = self.thrice & others.thrice;
        once.count_ones() + twice.count_ones() + thrice.count_ones()
    }

    /// Whether texts of these letters may be as like.
    #[inline]
    pub(super) fn may_be_like(&self, others: &Self, same_at_first: usize, least: &Least) -> bool {
        let Some(lengths) = self.length.zip(others.length) else {
            return true;
        };
        let common = self.counted_in(others) + self.beyond().min(others.beyond());
        least.allows(common, lengths, same_at_first)
    }

    /// Whether a word of these letters may be as like to any one of some words.
    #[inline]
    pub(super) fn may_be_like_a_word_of(&self, words: &Self, least: &Least) -> bool {
        let (Some(own), Some(_)) = (self.length, words.length) else {
            return true;
        };
        let same_at_first = match self.firsts & words.firsts {
            0 => 0,
            _ => 4,
        };
        let common = self.counted_in(words) + self.beyond();
        least.allows_word(common, own, same_at_first)
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

    proptest! {
        #[test]
        fn prop_what_is_as_like_is_never_ruled_out(
            a in "[a-d0-3 ]{0,19}", b in "[a-d0-3 é]{0,19}",
        ) {
            let least = Least::of(strsim::jaro_winkler(&a, &b));
            let same = same_at_first(&a, &b);
            prop_assert!(Letters::of(&a).may_be_like(&Letters::of(&b), same, &least));
        }

        #[test]
        fn prop_a_word_that_is_as_like_is_never_ruled_out(
            word in "[a-e]{1,9}", names in "[a-eé]{1,6}( [a-e]{1,6}){0,2}",
        ) {
            for name in names.split(' ') {
                let least = Least::of(strsim::jaro_winkler(&word, name));
                prop_assert!(Letters::of(&word).may_be_like_a_word_of(&Letters::of(&names), &least));
            }
        }

        #[test]
        fn prop_letters_add_up(a in "[abé]{1,9}", b in "[ab]{1,5}( [ab]{1,4})?") {
            let both = Letters::of(&a).and(&Letters::of(&b));
            prop_assert_eq!(Letters::of(&format!("{a} {b}")), both);
        }
    }

    #[test]
    fn names_of_other_letters_are_told_apart() {
        let (a, b) = (Letters::of("quince"), Letters::of("harbour wall"));
        let least = Least::of(0.82);
        assert!(!a.may_be_like(&b, 0, &least) && !a.may_be_like_a_word_of(&b, &least));
        assert!(!a.are_all_in(&b) && Letters::of("wall").are_all_in(&b));
    }
}
