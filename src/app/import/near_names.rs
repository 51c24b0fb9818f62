//! Names that may be one yarn written twice.

use super::AppError;
use crate::{record::Yarn, store::Reader, words::fold};
use std::collections::{BTreeMap, BTreeSet};

/// New names that are compared; of more, nothing is said.
const MOST_NEW: usize = 4000;

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

    /// What to say of names that are nearly the same as kept ones.
    pub(super) fn near(self, reader: &Reader<'_>) -> Result<Vec<String>, AppError> {
        if self.names.is_empty() {
            return Ok(Vec::new());
        }
        let told = if self.too_many {
            None
        } else {
            near_names(&self.names, &self.worth_comparing(reader)?)
        };
        Ok(told.unwrap_or_else(|| vec![too_many()]))
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

/// Where comparing ends, in words.
fn too_many() -> String {
    format!(
        "so many yarns were added that their names were not compared with each other: that is done for up to {MOST_NEW} new yarns and {MOST_PAIRS} pairs of names"
    )
}

/// Comparisons up to which names are compared; some two seconds of work.
const MOST_PAIRS: usize = 4_000_000;

/// Pairs of a new title and a kept or new one that differ by a slip of the
/// finger: one letter in names of five or more, two in names of twelve or more.
/// Digits do not count as slips. `None` when there are too many to compare.
fn near_names(new: &[(String, String)], all: &[(String, String)]) -> Option<Vec<String>> {
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
    let mut told: Vec<String> = new
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
) -> Vec<String> {
    let key = fold(maker);
    let maker_key = key.as_str();
    let names = by_maker
        .get(maker_key)
        .into_iter()
        .flatten()
        .map(String::as_str);
    let of_name = names.filter(|other| slipped(&fold(name), &fold(other))).map(|other| {
        let (a, b) = (name.min(other), name.max(other));
        format!("{maker} has both `{a}` and `{b}`: two yarns, or one written twice? They were kept apart.")
    });
    let of_maker = makers.iter().filter(|other| slipped(maker_key, other)).map(|other| {
        let (a, b) = (maker_key.min(other), maker_key.max(other));
        format!("makers `{a}` and `{b}` are nearly the same: two makers, or one written twice? They were kept apart.")
    });
    of_name.chain(of_maker).collect()
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
        assert!(told[0].contains("`Sandgaet` and `Sandgate`"));
    }

    #[test]
    fn a_maker_written_twice_is_told_once() {
        let all = [title("Quenby", "Sandgate"), title("Quenbyy", "Moor")];
        assert_eq!(near_names(&all, &all).unwrap().len(), 1);
    }
}
