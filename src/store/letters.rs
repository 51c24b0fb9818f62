//! The letters of a name without their order: from them alone most pairs of names
//! are told to be unlike, at a small part of the cost of comparing them.

use std::num::NonZeroU16;

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

    /// The likeness from which one is asked for; what is rounded is let pass.
    pub(super) fn cutoff(&self) -> f64 {
        self.likeness - 1e-9
    }

    fn share(&self, same_at_first: usize) -> f64 {
        let share = self.shares.get(same_at_first).or(self.shares.last());
        share.copied().unwrap_or_default()
    }

    /// Whether names of a and b letters, m of them in common, may be as like.
    fn allows(&self, common: u32, (a, b): (NonZeroU16, NonZeroU16), same_at_first: usize) -> bool {
        let common = f64::from(common.min(u32::from(a.min(b).get())));
        let (a, b) = (f64::from(a.get()), f64::from(b.get()));
        common * (a + b) >= self.share(same_at_first) * (a * b)
    }
}

/// The letters of a text; those that share a place count as one letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Letters {
    /// Bit n of each: place n occurs once, twice, three times or more often.
    once: u32,
    twice: u32,
    thrice: u32,
    /// How many letters, where all are plain and there are any.
    length: Option<NonZeroU16>,
    /// The first byte.
    first: u8,
}

/// A text as far as its letters are counted.
#[derive(Default)]
struct Counting {
    letters: Letters,
    bytes: usize,
    /// Every bit that any byte has.
    any: u8,
}

impl Counting {
    #[inline]
    fn add(&mut self, byte: u8) {
        if self.bytes == 0 {
            self.letters.first = byte;
        }
        self.letters.add(bit(byte));
        self.bytes += 1;
        self.any |= byte;
    }

    #[inline]
    fn letters(self) -> Letters {
        let length = u16::try_from(self.bytes).ok().and_then(NonZeroU16::new);
        Letters {
            length: length.filter(|_| self.any < 128),
            ..self.letters
        }
    }
}

/// Letters have 32 places, so that one word of them takes 16 bytes; a figure shares
/// its place with a letter.
#[inline]
fn bit(byte: u8) -> u32 {
    1 << (byte % 32)
}

impl Letters {
    /// The letters of `text`.
    #[inline]
    pub(super) fn of(text: &str) -> Self {
        let mut counting = Counting::default();
        text.bytes().for_each(|byte| counting.add(byte));
        counting.letters()
    }

    /// Those of each word of `text`, in the place of what is in `words`.
    #[inline]
    pub(super) fn of_words(text: &str, words: &mut Vec<Self>) {
        words.clear();
        let mut counting = Counting::default();
        for byte in text.bytes() {
            match byte {
                b' ' => words.push(std::mem::take(&mut counting).letters()),
                byte => counting.add(byte),
            }
        }
        words.push(counting.letters());
    }

    /// Those of words with a space between each.
    #[inline]
    pub(super) fn together(words: &[Self]) -> Self {
        let all = words.iter().copied().reduce(|all, word| all.and(&word));
        all.unwrap_or_else(|| Self::of(""))
    }

    #[inline]
    fn add(&mut self, bit: u32) {
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
            length: length.and_then(|(a, b)| a.checked_add(b.get())?.checked_add(1)),
            first: self.first,
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
    fn beyond(&self) -> u32 {
        let length = self.length.map_or(0, |length| u32::from(length.get()));
        let counted = self.once.count_ones() + self.twice.count_ones() + self.thrice.count_ones();
        length.saturating_sub(counted)
    }

    /// How many letters both have, at most.
    #[inline]
    fn common(&self, others: &Self) -> u32 {
        let (once, twice) = (self.once & others.once, self.twice & others.twice);
        let counted = once.count_ones() + twice.count_ones();
        // Few names have a letter so often, and counting bits is slow.
        match self.thrice & others.thrice {
            0 => counted,
            thrice => counted + thrice.count_ones() + self.beyond().min(others.beyond()),
        }
    }

    /// Whether texts of these letters may be as like.
    #[inline]
    pub(super) fn may_be_like(&self, others: &Self, same_at_first: usize, least: &Least) -> bool {
        let Some(lengths) = self.length.zip(others.length) else {
            return true;
        };
        least.allows(self.common(others), lengths, same_at_first)
    }

    /// Whether texts of these letters may be as like where they share as many
    /// first letters as they can.
    #[inline]
    pub(super) fn may_be_like_at_best(&self, others: &Self, least: &Least) -> bool {
        let same_at_first = match self.first == others.first {
            true => usize::MAX,
            false => 0,
        };
        self.may_be_like(others, same_at_first, least)
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
            let (a, b) = (Letters::of(&a), Letters::of(&b));
            prop_assert!(a.may_be_like(&b, same, &least) && a.may_be_like_at_best(&b, &least));
        }

        #[test]
        fn prop_letters_add_up(a in "[abé]{1,9}", b in "[ab]{1,5}( [ab]{1,4})?") {
            let both = Letters::of(&a).and(&Letters::of(&b));
            let text = format!("{a} {b}");
            prop_assert_eq!(Letters::of(&text), both);
            let mut words = vec![both];
            Letters::of_words(&text, &mut words);
            prop_assert_eq!(words.len(), text.split(' ').count());
            prop_assert_eq!(Letters::together(&words), both);
        }
    }

    #[test]
    fn names_of_other_letters_are_told_apart() {
        let (a, b) = (Letters::of("quince"), Letters::of("harbour wall"));
        let least = Least::of(0.82);
        assert!(!a.may_be_like(&b, 0, &least) && !a.may_be_like_at_best(&b, &least));
        assert!(!a.are_all_in(&b) && Letters::of("wall").are_all_in(&b));
    }
}
