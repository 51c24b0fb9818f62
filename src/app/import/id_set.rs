//! Which numbers were met, at a bit each: numbers of records lie close together.

use std::collections::HashMap;

/// A set of numbers.
#[derive(Debug, Default)]
pub(super) struct IdSet(HashMap<i64, u64>);

impl IdSet {
    /// Adds a number; whether it is new.
    pub(super) fn insert(&mut self, number: i64) -> bool {
        let bits = self.0.entry(number.div_euclid(64)).or_default();
        let bit = 1_u64 << number.rem_euclid(64);
        let is_new = *bits & bit == 0;
        *bits |= bit;
        is_new
    }

    /// Whether a number is in it.
    pub(super) fn contains(&self, number: i64) -> bool {
        let bits = self.0.get(&number.div_euclid(64));
        bits.is_some_and(|bits| bits & (1_u64 << number.rem_euclid(64)) != 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::collections::HashSet;

    proptest! {
        #[test]
        fn prop_it_is_a_set(numbers in prop::collection::vec(-200_i64..200, 0..300)) {
            let (mut seen, mut set) = (IdSet::default(), HashSet::new());
            for number in numbers {
                prop_assert_eq!(seen.insert(number), set.insert(number));
                prop_assert!(seen.contains(number));
                prop_assert_eq!(seen.contains(201), false);
            }
        }
    }
}
