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
