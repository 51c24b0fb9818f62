//! How many letters two names must have in common, to be as like as is asked for.

use super::letters::Letters;

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

    /// The fewest letters in common with which names of a and b letters may be as
    /// like; more than either has where they cannot.
    fn fewest(&self, (a, b): (u8, u8), same_at_first: usize) -> u8 {
        let share = self.share(same_at_first) * f64::from(a) * f64::from(b);
        let both = f64::from(a) + f64::from(b);
        let enough = |common: &u8| f64::from(*common) * both >= share;
        (0..=a.min(b)).find(enough).unwrap_or(u8::MAX)
    }
}

/// Names that are longer are compared without a look at their letters.
pub(super) const LONGEST: usize = 63;

/// How many letters a text of each length has to have in common with one text.
#[derive(Debug)]
pub(super) struct Fewest {
    /// By how many first letters are the same.
    by_length: [[u8; 5]; LONGEST + 1],
    /// Where the first letter is the same, and where it is another.
    at_best: [[u8; LONGEST + 1]; 2],
}

impl Fewest {
    /// In common with a text of these letters, to be as like as `least`.
    pub(super) fn of(letters: &Letters, least: &Least) -> Self {
        let mut by_length = [[0; 5]; LONGEST + 1];
        if letters.length > 0 {
            for (length, fewest) in (0..).zip(&mut by_length).skip(1) {
                *fewest = [0, 1, 2, 3, 4].map(|same| least.fewest((letters.length, length), same));
            }
        }
        let [other, .., same] = [0, 1, 2, 3, 4].map(|same| {
            let at_best = |by_first: [u8; 5]| by_first.get(same).copied().unwrap_or_default();
            by_length.map(at_best)
        });
        let at_best = [same, other];
        Self { by_length, at_best }
    }

    /// In common with a text of such a length; 0 is a length that is not known.
    #[inline]
    pub(super) fn at(&self, length: usize, same_at_first: usize) -> u32 {
        let by_first = self.by_length.get(length).copied().unwrap_or_default();
        let fewest = by_first.get(same_at_first).or(by_first.last());
        u32::from(fewest.copied().unwrap_or_default())
    }

    /// The same where as many first letters are the same as can be, if any.
    #[inline]
    pub(super) fn at_best(&self, length: usize, same_first: bool) -> u32 {
        let [same, other] = &self.at_best;
        let by_length = if same_first { same } else { other };
        u32::from(by_length.get(length).copied().unwrap_or_default())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The most that Jaro and Winkler allow, by their definitions.
    fn at_best(common: f64, (a, b): (f64, f64), same_at_first: f64) -> f64 {
        let jaro = (common / a + common / b + 1.0) / 3.0;
        jaro + 0.1 * same_at_first * (1.0 - jaro)
    }

    proptest! {
        #[test]
        fn prop_one_letter_fewer_would_not_do(
            likeness in 0.7_f64..1.0, a in 1_u8..=63, b in 1_u8..=63, same in 0_u8..=4,
        ) {
            let (least, same_at_first) = (Least::of(likeness), f64::from(same));
            let fewest = Fewest::of(&Letters::of(&"a".repeat(a.into())), &least);
            let found = fewest.at(b.into(), same.into());
            let at_best = |common: u32| {
                at_best(f64::from(common), (a.into(), b.into()), same_at_first)
            };
            match found > a.min(b).into() {
                true => prop_assert!(at_best(a.min(b).into()) < likeness),
                false => {
                    prop_assert!(at_best(found) > likeness - 1e-6);
                    prop_assert!(found == 0 || at_best(found - 1) < likeness);
                }
            }
            prop_assert!(same > 0 || found == fewest.at_best(b.into(), false));
            prop_assert!(same < 4 || found == fewest.at_best(b.into(), true));
            prop_assert!((least.cutoff() - likeness).abs() < 1e-6 && least.cutoff() < likeness);
        }
    }

    #[test]
    fn nothing_is_asked_of_what_cannot_be_counted() {
        let least = Least::of(0.9);
        let of = |text: &str| Fewest::of(&Letters::of(text), &least);
        assert_eq!((of("wall").at(0, 0), of("wall").at_best(0, true)), (0, 0));
        assert_eq!((of("wall").at(64, 9), of("wall").at_best(99, true)), (0, 0));
        assert_eq!((of("").at(4, 0), of("köhler").at(4, 0)), (0, 0));
        assert!(of("wall").at(4, 0) > 2);
        assert_eq!(of("wall").at(4, 9), of("wall").at(4, 4));
    }
}
