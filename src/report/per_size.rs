//! One value a size, as patterns print them.

use crate::words::joined;
use std::fmt::Display;

/// `4 (5, 6)`.
pub fn sizes_as_patterns_write_them(counts: impl IntoIterator<Item = impl Display>) -> String {
    let mut counts = counts.into_iter();
    let first = counts.next().map(|first| first.to_string());
    let rest = joined(counts, ", ");
    let rest = if rest.is_empty() {
        rest
    } else {
        format!(" ({rest})")
    };
    first.unwrap_or_default() + &rest
}

/// `4 (5, 6)`; `1` where all sizes have the same.
pub(super) fn counts_in_short(counts: &[u32]) -> String {
    match counts {
        [first, rest @ ..] if rest.iter().all(|count| count == first) => first.to_string(),
        all => sizes_as_patterns_write_them(all),
    }
}

/// `4 to 6`, the fewest and the most; nothing where nothing is counted.
pub(super) fn counts_from_to(counts: &[u32]) -> Option<String> {
    let (least, most) = (counts.iter().min()?, counts.iter().max()?);
    Some(match least == most {
        true => least.to_string(),
        false => format!("{least} to {most}"),
    })
}

/// `4 (5, 6) skeins`, `1 skein`.
pub(super) fn counts_of_sizes(
    counts: impl IntoIterator<Item = impl Display>,
    word: &str,
) -> String {
    match sizes_as_patterns_write_them(counts).as_str() {
        "1" => format!("1 {word}"),
        counts => format!("{counts} {word}s"),
    }
}

/// A yarn of a pattern by its key, as people call it: `colour MC`, `yarn A`.
pub(super) fn role_name(key: &str) -> String {
    let letters = key.trim_end_matches(|c: char| c.is_ascii_digit());
    let is_colour = matches!(letters, "MC" | "CC" | "C");
    format!("{} {key}", if is_colour { "colour" } else { "yarn" })
}

/// `8 (9, 10) skeins` of `8 skeins`, `9 skeins` and `10 skeins`: what all end in is
/// said once. Texts that do not are listed whole.
pub fn measures_of_sizes(texts: &[String]) -> String {
    let parted: Option<Vec<(&str, &str)>> = texts.iter().map(|text| number_first(text)).collect();
    let (Some(parts), true) = (parted, texts.len() > 1) else {
        return sizes_as_patterns_write_them(texts);
    };
    let same = |unit: &str| unit.strip_suffix('s').unwrap_or(unit).to_owned();
    let unit = parts.last().map_or("", |(_, unit)| unit);
    if parts.iter().all(|(_, other)| same(other) == same(unit)) {
        let numbers = parts.iter().map(|(number, _)| number);
        format!("{} {unit}", sizes_as_patterns_write_them(numbers))
    } else {
        sizes_as_patterns_write_them(texts)
    }
}

fn number_first(text: &str) -> Option<(&str, &str)> {
    let (number, unit) = text.split_once(' ')?;
    let plain = number.chars().all(|c| c.is_ascii_digit() || c == '.');
    (plain && !number.is_empty()).then_some((number, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_that_all_sizes_share_is_said_once() {
        let told = |texts: &[&str]| {
            let texts: Vec<String> = texts.iter().map(ToString::to_string).collect();
            measures_of_sizes(&texts)
        };
        assert_eq!(told(&["8 skeins", "9 skeins"]), "8 (9) skeins");
        assert_eq!(told(&["1 skein", "2 skeins"]), "1 (2) skeins");
        assert_eq!(told(&["9 x 125 m", "10 x 125 m"]), "9 (10) x 125 m");
        assert_eq!(told(&["95 m", "140 yd"]), "95 m (140 yd)");
        assert_eq!(told(&["95m", "125m"]), "95m (125m)");
        assert_eq!(told(&["95 m"]), "95 m");
        assert_eq!(told(&[]), "");
    }

    #[test]
    fn one_skein_of_one_size_is_no_skeins() {
        let told = |counts: &[&str]| counts_of_sizes(counts, "skein");
        assert_eq!(told(&["1"]), "1 skein");
        assert_eq!(told(&["1", "1"]), "1 (1) skeins");
        assert_eq!(told(&["4", "5", "6"]), "4 (5, 6) skeins");
    }
}
