//! The published weight classes 0 to 7, and the market names for them.
//!
//! Source: Craft Yarn Council, Standard Yarn Weight System, current version
//! with eight classes (www.YarnStandards.com). All its ranges are guidelines.

use crate::words::by_word;
use std::{collections::HashMap, fmt, sync::LazyLock};

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

/// Market names, folded, and the numbers of the classes they may mean.
///
/// Sources: Craft Yarn Council, Standard Yarn Weight System (names and yarn types of the
/// classes 0 to 7); the regional names and ply numbers are common practice, no source. A
/// ply number is a market's name for a thickness and no count of strands; where charts
/// disagree a name has several classes.
pub const CLASS_NAMES: &[(&str, &[u8])] = &[
    ("cobweb", &[0]),
    ("thread", &[0]),
    ("lace", &[0]),
    ("laceweight", &[0]),
    ("light fingering", &[0, 1]),
    ("super fine", &[1]),
    ("superfine", &[1]),
    ("fingering", &[1]),
    ("sock", &[1]),
    ("baby", &[1, 2]),
    ("fine", &[2]),
    ("sport", &[2]),
    ("sportweight", &[2]),
    ("light dk", &[2]),
    ("light", &[3]),
    ("dk", &[3]),
    ("double knit", &[3]),
    ("double knitting", &[3]),
    ("light worsted", &[3]),
    ("medium", &[4]),
    ("worsted", &[4]),
    ("heavy worsted", &[4]),
    ("afghan", &[4]),
    ("aran", &[4]),
    ("bulky", &[5]),
    ("chunky", &[5]),
    ("craft", &[5]),
    ("rug", &[5]),
    ("double double", &[5]),
    ("super bulky", &[6]),
    ("superbulky", &[6]),
    ("super chunky", &[6]),
    ("superchunky", &[6]),
    ("roving", &[6, 7]),
    ("jumbo", &[7]),
];

/// Ply numbers of the markets and the classes they may mean: 4 ply is class 1
/// on most charts, 2 on others, and 4 in North American use; the German six
/// ply is the Australian five or eight.
pub const PLY_NAMES: &[(u8, &[u8])] = &[
    (1, &[0]),
    (2, &[0]),
    (3, &[0, 1]),
    (4, &[1, 2, 4]),
    (5, &[2]),
    (6, &[2, 3]),
    (8, &[3]),
    (10, &[4]),
    (12, &[4, 5]),
    (14, &[5, 6]),
    (16, &[5, 6, 7]),
];

/// The classes that a market name, folded, may mean.
pub fn class_of_name(name: &str) -> Option<&'static [u8]> {
    static CLASSES: LazyLock<HashMap<&str, &[u8]>> =
        LazyLock::new(|| by_word(CLASS_NAMES.iter().copied()));
    CLASSES.get(name).copied()
}

/// The classes that `number` ply may mean.
pub fn class_of_ply(number: f64) -> Option<&'static [u8]> {
    PLY_NAMES
        .iter()
        .find(|(ply, _)| f64::from(*ply) == number)
        .map(|(_, classes)| *classes)
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

#[cfg(test)]
mod class_names_tests {
    use super::*;

    /// Craft Yarn Council, Standard Yarn Weight System: yarn types by class.
    #[test]
    fn the_published_yarn_types_lie_in_their_class() {
        for (name, class) in [
            ("sock", 1),
            ("baby", 1),
            ("sport", 2),
            ("baby", 2),
            ("dk", 3),
            ("light worsted", 3),
            ("worsted", 4),
            ("afghan", 4),
            ("aran", 4),
            ("chunky", 5),
            ("craft", 5),
            ("rug", 5),
            ("super bulky", 6),
            ("roving", 6),
            ("jumbo", 7),
            ("roving", 7),
        ] {
            assert!(class_of_name(name).unwrap().contains(&class), "{name}");
        }
    }

    #[test]
    fn four_ply_is_one_of_three_classes() {
        assert_eq!(class_of_ply(4.0), Some(&[1, 2, 4][..]));
        assert_eq!(class_of_ply(7.0), None);
        assert_eq!(class_of_ply(4.5), None);
    }

    #[test]
    fn every_class_is_one_of_the_eight() {
        let all = CLASS_NAMES
            .iter()
            .map(|row| row.1)
            .chain(PLY_NAMES.iter().map(|row| row.1));
        assert!(all.flatten().all(|class| *class <= 7));
    }
}
