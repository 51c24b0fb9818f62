//! Names as they are compared, whatever their accents, case and punctuation; and which
//! known name one with a typing error was perhaps meant for.

use super::or_list;
use ordered_float::OrderedFloat;
use unicode_normalization::{UnicodeNormalization, char::is_combining_mark};

/// A name as it is compared: accents dropped, lower case, runs of anything but
/// letters and digits made one space.
pub fn fold(name: &str) -> String {
    if name.is_ascii() {
        fold_ascii(name)
    } else {
        fold_any(name)
    }
}

/// A name with all that tells it from others: accents and signs, but neither case nor
/// spaces nor how an accented letter is composed.
pub fn lower_name(name: &str) -> String {
    let mut lower = String::with_capacity(name.len());
    for word in name.split_whitespace() {
        let gap = if lower.is_empty() { "" } else { " " };
        lower.extend([gap, word]);
    }
    match lower.is_ascii() {
        true => {
            lower.make_ascii_lowercase();
            lower
        }
        false => lower.to_lowercase().nfc().collect(),
    }
}

/// Plain letters need no table; most names are made of them alone.
fn fold_ascii(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    for byte in name.bytes() {
        match byte.is_ascii_alphanumeric() {
            true => folded.push(char::from(byte.to_ascii_lowercase())),
            false if folded.is_empty() || folded.ends_with(' ') => {}
            false => folded.push(' '),
        }
    }
    folded.truncate(folded.trim_end().len());
    folded
}

fn fold_any(name: &str) -> String {
    let plain = name.nfkd().filter(|c| !is_combining_mark(*c));
    let lower: String = plain.flat_map(char::to_lowercase).collect();
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    words.join(" ")
}

/// Likeness from which a name may be another with a typing error; found by trying
/// misspelt names, no source.
pub const TYPING_ERROR_LIKENESS: f64 = 0.82;

/// Likeness of two names from 0 to 1 (Jaro-Winkler over the folded names).
pub fn likeness(a: &str, b: &str) -> f64 {
    strsim::jaro_winkler(&fold(a), &fold(b))
}

/// Up to three of `known` that `given` may have meant, nearest first.
pub fn did_you_mean<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let mut near: Vec<(OrderedFloat<f64>, &str)> = known
        .into_iter()
        .map(|name| (OrderedFloat(-likeness(given, name)), name))
        .filter(|(distance, _)| -distance.0 >= TYPING_ERROR_LIKENESS)
        .collect();
    near.sort();
    near.into_iter().take(3).map(|(_, name)| name).collect()
}

/// What to do about a name that is not known: `near` are those that are nearly the
/// same, `all` those that there are, where they are few enough to list.
pub fn names_hint(near: &[String], all: &[String]) -> String {
    match (near, all) {
        ([], []) => ": list them to see the names".to_owned(),
        ([], all) => format!(": choose {}", or_list(all)),
        (near, _) => format!("; did you mean {}?", or_list(near)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn prop_plain_letters_fold_as_any_letters_do(name in "[ -~\\t]{0,24}") {
            prop_assert_eq!(fold_ascii(&name), fold_any(&name));
        }
    }

    #[test]
    fn case_spaces_and_composition_do_not_count_in_a_whole_name() {
        assert_eq!(lower_name(" O\u{308}land  C+ "), "\u{f6}land c+");
        assert_ne!(lower_name("C"), lower_name("C+"));
    }

    #[test]
    fn accents_case_and_punctuation_do_not_count() {
        assert_eq!(fold("  Bläck-Bird, No. 2 "), "black bird no 2");
    }
}

#[cfg(test)]
mod likeness_tests {
    use super::*;

    #[test]
    fn accents_case_and_punctuation_make_no_other_name() {
        assert!(likeness("Férry Lane", "ferry-lane") > 0.999);
    }

    #[test]
    fn a_slip_of_the_finger_is_asked_about_and_another_name_is_not() {
        let known = ["Ferry Lane DK", "Harbour Wall", "Dune"];
        assert_eq!(did_you_mean("Fery Lane DK", known), ["Ferry Lane DK"]);
        assert!(did_you_mean("Quince", known).is_empty());
    }
}
