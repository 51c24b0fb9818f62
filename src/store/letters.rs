//! The letters of a name without their order: from them alone most pairs of names
//! are told to be unlike, at a small part of the cost of comparing them.

use super::fewest::{Fewest, LONGEST};

/// The letters of a text; those that share a place count as one letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Letters {
    /// Bit n: place n occurs; bit 32 + n: it occurs twice. Counting the bits of one
    /// number is half the work of counting those of two.
    counted: u64,
    /// Bit n: place n occurs three times or more often.
    thrice: u32,
    /// How many letters, where all are plain, there are any and they are no more
    /// than [`LONGEST`]; else 0.
    pub(super) length: u8,
    /// The first byte.
    first: u8,
    /// How many spaces; no more than 255 are counted.
    spaces: u8,
}

/// A text as far as its letters are counted.
#[derive(Default)]
struct Counting {
    once: u32,
    twice: u32,
    thrice: u32,
    first: u8,
    spaces: u8,
    bytes: usize,
    /// Every bit that any byte has.
    any: u8,
}

impl Counting {
    #[inline]
    fn add(&mut self, byte: u8) {
        if self.bytes == 0 {
            self.first = byte;
        }
        let bit = bit(byte);
        self.thrice |= bit & self.twice;
        self.twice |= bit & self.once;
        self.once |= bit;
        self.spaces = self.spaces.saturating_add(u8::from(byte == b' '));
        self.bytes += 1;
        self.any |= byte;
    }

    #[inline]
    fn letters(&self) -> Letters {
        let known = self.any < 128 && self.bytes <= LONGEST;
        let length = u8::try_from(self.bytes).ok().filter(|_| known);
        Letters {
            counted: u64::from(self.twice) << 32 | u64::from(self.once),
            thrice: self.thrice,
            length: length.unwrap_or_default(),
            first: self.first,
            spaces: self.spaces,
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
    /// Those of no text.
    pub(super) const NONE: Self = Self {
        counted: 0,
        thrice: 0,
        length: 0,
        first: 0,
        spaces: 0,
    };

    /// The letters of `text`.
    #[inline]
    pub(super) fn of(text: &str) -> Self {
        let mut counting = Counting::default();
        text.bytes().for_each(|byte| counting.add(byte));
        counting.letters()
    }

    /// Whether each occurs in `these` or in `those`, however often.
    #[inline]
    pub(super) fn are_all_in(&self, these: &Self, those: &Self) -> bool {
        let missing = self.counted & !(these.counted | those.counted);
        missing & u64::from(u32::MAX) == 0
    }

    /// How many letters these and two other texts with a space between have in
    /// common, at most.
    pub(super) fn common_with_both(&self, a: &Self, b: &Self) -> u32 {
        self.common(&a.joined(&Self::of(" ")).joined(b))
    }

    /// The letters of a text and of another that follows it.
    fn joined(&self, next: &Self) -> Self {
        let low = u64::from(u32::MAX);
        let [(a, aa), (b, bb)] = [self, next].map(|of| (of.counted & low, of.counted >> 32));
        let thrice = u32::try_from(aa & b | a & bb).unwrap_or_default();
        Self {
            counted: a | b | (aa | bb | a & b) << 32,
            thrice: self.thrice | next.thrice | thrice,
            length: self.length.saturating_add(next.length),
            first: self.first,
            spaces: self.spaces.saturating_add(next.spaces),
        }
    }

    /// How many words `text` has, whose letters these are.
    #[inline]
    pub(super) fn words_of(&self, text: &str) -> usize {
        1 + match self.spaces {
            u8::MAX => text.matches(' ').count(),
            spaces => usize::from(spaces),
        }
    }

    /// How many letters come after the third of their place.
    fn beyond(&self) -> u32 {
        let counted = self.counted.count_ones() + self.thrice.count_ones();
        u32::from(self.length).saturating_sub(counted)
    }

    /// How many letters both have, at most.
    #[inline]
    pub(super) fn common(&self, others: &Self) -> u32 {
        let counted = (self.counted & others.counted).count_ones();
        // Few names have a letter so often, and counting bits is slow.
        match self.thrice & others.thrice {
            0 => counted,
            thrice => counted + thrice.count_ones() + self.beyond().min(others.beyond()),
        }
    }

    /// Whether a text of these letters may be as like to the one that `fewest` was
    /// made for, whose letters are `to`, where they have so many in common at most.
    #[inline]
    pub(super) fn may_be_like(&self, to: &Self, common: u32, fewest: &Fewest) -> bool {
        common >= fewest.at_best(usize::from(self.length), self.first == to.first)
    }

    /// The same, where it is known how many first letters are the same.
    pub(super) fn may_be_as_like(&self, fewest: &Fewest, common: u32, same: usize) -> bool {
        common >= fewest.at(usize::from(self.length), same)
    }

    /// As [`Letters::may_be_like`], of two texts with a space between, of which these
    /// are the letters of the first.
    #[inline]
    pub(super) fn may_be_like_with(
        &self,
        rest: &Self,
        to: &Self,
        common: u32,
        fewest: &Fewest,
    ) -> bool {
        common >= fewest.at_best(self.length_with(rest), self.first == to.first)
    }

    /// As [`Letters::may_be_as_like`], of two such texts.
    pub(super) fn may_be_as_like_with(
        &self,
        rest: &Self,
        fewest: &Fewest,
        common: u32,
        same: usize,
    ) -> bool {
        common >= fewest.at(self.length_with(rest), same)
    }

    #[inline]
    fn length_with(&self, rest: &Self) -> usize {
        match (self.length, rest.length) {
            (0, _) | (_, 0) => 0,
            (a, b) => usize::from(a) + 1 + usize::from(b),
        }
    }
}

/// How many letters at the start of both are the same.
pub(super) fn same_at_first(a: &str, b: &str) -> usize {
    let pairs = a.bytes().zip(b.bytes());
    pairs.take_while(|(a, b)| a == b).count()
}

#[cfg(test)]
mod tests {
    use super::super::fewest::Least;
    use super::*;
    use proptest::prelude::*;

    fn may_be(a_text: &str, b_text: &str, least: &Least) -> bool {
        let [a, b] = [a_text, b_text].map(Letters::of);
        let (common, fewest) = (a.common(&b), Fewest::of(&a, least));
        let may_be = b.may_be_as_like(&fewest, common, same_at_first(a_text, b_text));
        assert!(b.may_be_like(&a, common, &fewest) || !may_be);
        may_be
    }

    proptest! {
        #[test]
        fn prop_what_is_as_like_is_never_ruled_out(
            a in "[a-d0-3 ]{0,19}", b in "[a-d0-3 é]{0,19}",
        ) {
            let least = Least::of(strsim::jaro_winkler(&a, &b));
            prop_assert!(may_be(&a, &b, &least));
        }

        #[test]
        fn prop_long_texts_are_not_ruled_out_either(a in "[a-c]{50,70}", b in "[a-c]{50,70}") {
            let least = Least::of(strsim::jaro_winkler(&a, &b));
            prop_assert!(may_be(&a, &b, &least) && may_be(&b, &a, &least));
        }

        /// Four of a letter are counted where both have them all.
        #[test]
        fn prop_common_letters_are_counted_as_often_as_both_have_them(
            a in "[a-f ]{0,9}", b in "[a-f ]{0,9}",
        ) {
            let count = |text: &str, letter: char| text.chars().filter(|c| *c == letter).count();
            let both = |letter| count(&a, letter).min(count(&b, letter));
            let common: usize = ('a'..='f').chain([' ']).map(both).sum();
            let most = ('a'..='f').chain([' ']).map(|l| count(&a, l).max(count(&b, l))).max();
            let found = Letters::of(&a).common(&Letters::of(&b));
            match most <= Some(3) {
                true => prop_assert_eq!(found as usize, common),
                false => prop_assert!(found as usize >= common),
            }
        }

        #[test]
        fn prop_letters_of_a_text_are_those_of_its_parts(
            a in "[ab ]{1,9}|[a-z0-9]{1,20}", b in "[ab ]{1,9}|[a-z0-9]{1,20}",
        ) {
            let [parts @ .., all] = [a.clone(), b.clone(), format!("{a}{b}")].map(|t| Letters::of(&t));
            let [a, b] = parts;
            prop_assert_eq!(a.joined(&b), all);
            prop_assert_eq!(usize::from(all.length), usize::from(a.length + b.length));
        }

        #[test]
        fn prop_letters_of_two_texts_are_those_of_both(
            text in "[a-c ]{1,9}", maker in "[abc]{1,9}", name in "[ab]{1,5}( [abc]{1,4})?",
        ) {
            let [all, maker, name] = [&format!("{maker} {name}"), &maker, &name].map(|t| Letters::of(t));
            let text = Letters::of(&text);
            prop_assert_eq!(text.common_with_both(&maker, &name), text.common(&all));
        }

        #[test]
        fn prop_two_texts_are_ruled_out_as_one(
            text in "[a-d ]{1,12}", maker in "[a-dé]{1,9}", name in "[a-d]{1,9}( [a-d]{1,9})?",
        ) {
            let title = format!("{maker} {name}");
            let least = Least::of(strsim::jaro_winkler(&text, &title));
            let same = same_at_first(&text, &title);
            let [text, maker, name] = [&text, &maker, &name].map(|text| Letters::of(text));
            let common = text.common(&maker) + text.common(&name) + 1;
            let fewest = Fewest::of(&text, &least);
            prop_assert!(maker.may_be_like_with(&name, &text, common, &fewest));
            let well = text.common_with_both(&maker, &name);
            prop_assert!(maker.may_be_as_like_with(&name, &fewest, well, same));
        }
    }

    #[test]
    fn names_of_other_letters_are_told_apart() {
        let least = Least::of(0.82);
        assert!(!may_be("quince", "harbour wall", &least));
        assert!(may_be("harbor wall", "harbour wall", &least));
        let [text, maker, name] = ["quince", "quay", "harbour wall"].map(Letters::of);
        let fewest = Fewest::of(&text, &least);
        let well = text.common_with_both(&maker, &name);
        assert!(!maker.may_be_as_like_with(&name, &fewest, well, 2));
        assert!(!maker.may_be_like_with(&name, &text, well, &fewest));
        assert!(maker.may_be_like_with(&Letters::of("köhler"), &text, 0, &fewest));
        let [wall, harbour, quay] = ["wall", "harbour", "quay"].map(Letters::of);
        assert!(!harbour.are_all_in(&wall, &quay));
        assert!(wall.are_all_in(&quay, &Letters::of("shawl")) && wall.are_all_in(&wall, &quay));
    }
}
