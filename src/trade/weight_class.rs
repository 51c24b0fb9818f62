//! The published weight classes 0 to 7.
//!
//! Source: Craft Yarn Council, Standard Yarn Weight System, current version
//! with eight classes (www.YarnStandards.com). All its ranges are guidelines.

use std::fmt;

/// A weight class, 0 (lace) to 7 (jumbo).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WeightClass(u8);

impl WeightClass {
    /// All of them, in order.
    pub const ALL: [Self; 8] = [
        Self(0),
        Self(1),
        Self(2),
        Self(3),
        Self(4),
        Self(5),
        Self(6),
        Self(7),
    ];

    /// The class of this number; `None` above 7.
    pub fn new(number: u8) -> Option<Self> {
        (number <= 7).then_some(Self(number))
    }

    /// 0 to 7.
    pub fn number(self) -> u8 {
        self.0
    }

    /// The published name.
    pub fn name(self) -> &'static str {
        match self.0 {
            0 => "lace",
            1 => "super fine",
            2 => "fine",
            3 => "light",
            4 => "medium",
            5 => "bulky",
            6 => "super bulky",
            _ => "jumbo",
        }
    }

    /// Steps between two classes.
    pub fn steps_to(self, other: Self) -> u8 {
        self.0.abs_diff(other.0)
    }

    /// The pair of classes, one of each list, with the fewest steps between
    /// them, and those steps; `None` where a list is empty. Of equally near
    /// pairs the finest counts.
    pub fn nearest(some: &[Self], others: &[Self]) -> Option<(Self, Self, u8)> {
        let pairs = some
            .iter()
            .flat_map(|a| others.iter().map(move |b| (*a, *b, a.steps_to(*b))));
        pairs.min_by_key(|(a, b, steps)| (*steps, *a, *b))
    }
}

impl fmt::Display for WeightClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.0, self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_several_possible_classes_the_nearest_pair_counts() {
        let class = |n| WeightClass::new(n).unwrap();
        let nearest = WeightClass::nearest(&[class(1), class(2)], &[class(4), class(5)]);
        assert_eq!(nearest, Some((class(2), class(4), 2)));
        assert_eq!(WeightClass::nearest(&[class(1)], &[]), None);
    }

    /// Names: Craft Yarn Council, Standard Yarn Weight System, eight classes.
    #[test]
    fn classes_run_from_lace_to_jumbo() {
        let names: Vec<String> = WeightClass::ALL.iter().map(ToString::to_string).collect();
        assert_eq!(
            names.join(", "),
            "0 lace, 1 super fine, 2 fine, 3 light, 4 medium, 5 bulky, 6 super bulky, 7 jumbo"
        );
        assert_eq!(WeightClass::new(8), None);
    }
}
