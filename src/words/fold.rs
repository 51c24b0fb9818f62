//! Names as they are compared, whatever their accents, case and punctuation.

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
    let words: Vec<&str> = name.split_whitespace().collect();
    let lower = words.join(" ").to_lowercase();
    match lower.is_ascii() {
        true => lower,
        false => lower.nfc().collect(),
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
