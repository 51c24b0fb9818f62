//! Names that may be one yarn written twice.

use super::AppError;
use crate::{
    record::Yarn,
    store::Reader,
    words::{fold, lower_name},
};
use std::collections::{BTreeMap, BTreeSet};

/// New names that are compared; of more, nothing is said.
const MOST_NEW: usize = 4000;

/// Names that may be one written twice; both stay.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum NearName {
    /// Two yarns of a maker.
    Yarns {
        /// The maker.
        maker: String,
        /// The names of the two.
        names: [String; 2],
    },
    /// Two makers.
    Makers([String; 2]),
}

/// What comparing the names of added yarns found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NearNames {
    /// These may be one written twice.
    Found(Vec<NearName>),
    /// They are too many to be compared.
    TooMany {
        /// New yarns up to which that is done.
        yarns: usize,
        /// Pairs of names up to which that is done.
        pairs: usize,
    },
}

impl Default for NearNames {
    fn default() -> Self {
        Self::Found(Vec::new())
    }
}

/// Names of yarns that were added, as far as they are few enough to compare.
#[derive(Debug, Default)]
pub(super) struct NewNames {
    names: Vec<(String, String)>,
    too_many: bool,
}

impl NewNames {
    /// One more yarn.
    pub(super) fn add(&mut self, yarn: &Yarn) {
        if self.names.len() < MOST_NEW {
            let name = (yarn.maker.to_string(), yarn.name.to_string());
            self.names.push(name);
        } else {
            self.too_many = true;
        }
    }

    /// Names that are nearly the same as others.
    pub(super) fn near(self, reader: &Reader<'_>) -> Result<NearNames, AppError> {
        if self.names.is_empty() {
            return Ok(NearNames::default());
        }
        let found = if self.too_many {
            None
        } else {
            near_names(&self.names, &self.worth_comparing(reader)?)
        };
        let too_many = NearNames::TooMany {
            yarns: MOST_NEW,
            pairs: MOST_PAIRS,
        };
        Ok(found.map_or(too_many, NearNames::Found))
    }

    /// Every yarn of the makers of the new ones, and one of each other maker.
    fn worth_comparing(&self, reader: &Reader<'_>) -> Result<Vec<(String, String)>, AppError> {
        let makers: BTreeSet<String> = self.names.iter().map(|(maker, _)| fold(maker)).collect();
        let mut others: BTreeSet<String> = BTreeSet::new();
        let mut kept = Vec::new();
        reader.yarn_names::<AppError>(|maker, name| {
            let folded = fold(&maker);
            let is_first = !others.contains(&folded);
            if is_first || makers.contains(&folded) {
                kept.push((maker, name));
            }
            if is_first {
                others.insert(folded);
            }
        })?;
        Ok(kept)
    }
}

/// Comparisons up to which names are compared; some two seconds of work.
const MOST_PAIRS: usize = 4_000_000;

/// Pairs of a new title and a kept or new one that differ by a slip of the
/// finger: one letter in names of five or more, two in names of twelve or more.
/// Digits do not count as slips. `None` when there are too many to compare.
fn near_names(new: &[(String, String)], all: &[(String, String)]) -> Option<Vec<NearName>> {
    let mut by_maker: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (maker, name) in all {
        by_maker.entry(fold(maker)).or_default().push(name.clone());
    }
    let makers: Vec<String> = by_maker.keys().cloned().collect();
    let work: usize = new
        .iter()
        .filter_map(|(maker, _)| by_maker.get(&fold(maker)))
        .map(Vec::len)
        .sum();
    if work + new.len().saturating_mul(makers.len()) > MOST_PAIRS {
        return None;
    }
    let mut told: Vec<NearName> = new
        .iter()
        .flat_map(|(maker, name)| like(maker, name, &by_maker, &makers))
        .collect();
    told.sort();
    told.dedup();
    Some(told)
}

fn like(
    maker: &str,
    name: &str,
    by_maker: &BTreeMap<String, Vec<String>>,
    makers: &[String],
) -> Vec<NearName> {
    let key = fold(maker);
    let maker_key = key.as_str();
    let names = by_maker
        .get(maker_key)
        .into_iter()
        .flatten()
        .map(String::as_str);
    let of_name = names.filter(|other| {
        let [one, two] = [fold(name), fold(other)];
        slipped(&one, &two) || (one == two && lower_name(name) != lower_name(other))
    });
    let of_name = of_name.map(|other| NearName::Yarns {
        maker: maker.to_owned(),
        names: in_order(name, other),
    });
    let of_maker = makers.iter().filter(|other| slipped(maker_key, other));
    let of_maker = of_maker.map(|other| NearName::Makers(in_order(maker_key, other)));
    of_name.chain(of_maker).collect()
}

fn in_order(one: &str, other: &str) -> [String; 2] {
    [one.min(other), one.max(other)].map(str::to_owned)
}

/// Whether two folded names differ by a slip of the finger.
fn slipped(a: &str, b: &str) -> bool {
    let shorter = a.chars().count().min(b.chars().count());
    let allowed = match shorter {
        0..=4 => 0,
        5..=11 => 1,
        _ => 2,
    };
    let digits = |text: &str| {
        text.chars()
            .filter(char::is_ascii_digit)
            .collect::<String>()
    };
    a != b
        && digits(a) == digits(b)
        && a.len().abs_diff(b.len()) <= allowed * 4
        && strsim::osa_distance(a, b) <= allowed
}

#[cfg(test)]
mod tests {
    use super::*;

    fn title(maker: &str, name: &str) -> (String, String) {
        (maker.to_owned(), name.to_owned())
    }

    #[test]
    fn a_slip_is_told_and_another_number_or_word_is_not() {
        let all = [
            title("Quenby", "Sandgate"),
            title("Quenby", "Sandgaet"),
            title("Quenby", "Dune 4"),
            title("Quenby", "Dune 5"),
        ];
        let told = near_names(&all, &all).unwrap();
        assert_eq!(told.len(), 1);
        let near = NearName::Yarns {
            maker: "Quenby".to_owned(),
            names: ["Sandgaet", "Sandgate"].map(str::to_owned),
        };
        assert_eq!(told[0], near);
    }

    #[test]
    fn names_that_differ_in_signs_only_are_told() {
        let all = [
            title("Quenby", "C"),
            title("Quenby", "C+"),
            title("Quenby", "c"),
        ];
        assert_eq!(near_names(&all, &all).unwrap().len(), 2);
    }

    #[test]
    fn a_maker_written_twice_is_told_once() {
        let all = [title("Quenby", "Sandgate"), title("Quenbyy", "Moor")];
        assert_eq!(near_names(&all, &all).unwrap().len(), 1);
    }
}
