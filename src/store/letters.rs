//! The letters of a name without their order: from them alone most pairs of names
//! are told to be unlike, at a small part of the cost of comparing them.

/// How often each letter occurs; letters that share a place count as one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Letters {
    counts: [u8; PLACES],
    /// Bit n: place n is not empty.
    places: u64,
    /// How many letters, where all are plain.
    length: Option<u8>,
}

const PLACES: usize = 64;

fn place(byte: u8) -> u8 {
    byte % 64
}

impl Letters {
    /// The letters of `text`.
    pub(super) fn of(text: &str) -> Self {
        let mut letters = Self {
            counts: [0; PLACES],
            places: 0,
            length: None,
        };
        text.bytes().for_each(|byte| letters.add(byte));
        letters.length = u8::try_from(text.len()).ok().filter(|_| text.is_ascii());
        letters
    }

    fn add(&mut self, byte: u8) {
        if let Some(count) = self.counts.get_mut(usize::from(place(byte))) {
            *count = count.saturating_add(1);
        }
        self.places |= 1 << place(byte);
    }

    /// The letters of both with a space between.
    pub(super) fn and(&self, others: &Self) -> Self {
        let mut both = *self;
        for (count, more) in both.counts.iter_mut().zip(&others.counts) {
            *count = count.saturating_add(*more);
        }
        both.places |= others.places;
        both.add(b' ');
        let length = self.length.zip(others.length);
        both.length = length.and_then(|(a, b)| a.checked_add(b)?.checked_add(1));
        both
    }

    /// Whether each occurs in `others`, however often.
    pub(super) fn are_all_in(&self, others: &Self) -> bool {
        self.places & !others.places == 0
    }

    /// What Jaro-Winkler likeness is at most: with m letters in common,
    /// j <= (m / a + m / b + 1) / 3 for names of a and b letters, and the first
    /// letters, up to four, that are the same add 0.1 (1 - j) each.
    pub(super) fn likeness_at_most(&self, others: &Self, same_at_first: usize) -> f64 {
        let (Some(a @ 1..), Some(b @ 1..)) = (self.length, others.length) else {
            return 1.0;
        };
        let pairs = self.counts.iter().zip(&others.counts);
        // no more than the letters of either, so that it fits
        let common = pairs.fold(0_u8, |sum, (a, b)| sum.wrapping_add(*a.min(b)));
        let common = f64::from(common);
        let jaro = (common / f64::from(a) + common / f64::from(b) + 1.0) / 3.0;
        let first: f64 = [0.1; 4].iter().take(same_at_first).sum();
        jaro + first * (1.0 - jaro).max(0.0)
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
        fn prop_likeness_is_never_more_than_the_letters_allow(
            a in "[a-d0-3 ]{0,9}", b in "[a-d0-3 é]{0,9}",
        ) {
            let most = Letters::of(&a).likeness_at_most(&Letters::of(&b), same_at_first(&a, &b));
            prop_assert!(strsim::jaro_winkler(&a, &b) <= most + 1e-9);
        }
    }

    proptest! {
        #[test]
        fn prop_letters_add_up(a in "[a-d0-3é]{0,9}", b in "[a-d0-3 ]{0,9}") {
            let (one, both) = (Letters::of(&format!("{a} {b}")), Letters::of(&a).and(&Letters::of(&b)));
            prop_assert_eq!((one.counts, one.places, one.length), (both.counts, both.places, both.length));
        }
    }

    #[test]
    fn names_of_other_letters_are_told_apart() {
        let (a, b) = (Letters::of("quince"), Letters::of("harbour wall"));
        assert!(a.likeness_at_most(&b, 0) < 0.82);
        assert!(!a.are_all_in(&b) && Letters::of("wall").are_all_in(&b));
    }
}
