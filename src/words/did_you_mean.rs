//! Typing errors: which known name an unknown one was perhaps meant for.

use super::{and_list, fold, or_list};
use ordered_float::OrderedFloat;

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
        ([], all) => format!(": there are {}", and_list(all)),
        (near, _) => format!("; did you mean {}?", or_list(near)),
    }
}

#[cfg(test)]
mod tests {
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
