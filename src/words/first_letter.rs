//! The first letter of a sentence that becomes part of another, or the other way.

/// With a capital first letter.
pub fn capitalized(text: &str) -> String {
    with_first(text, |letter| letter.to_uppercase().collect())
}

/// Without one.
pub fn uncapitalized(text: &str) -> String {
    with_first(text, |letter| letter.to_lowercase().collect())
}

fn with_first(text: &str, changed: impl Fn(char) -> String) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(changed).unwrap_or_default();
    first + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_first_letter_changes() {
        assert_eq!(capitalized("if you go DOWN"), "If you go DOWN");
        assert_eq!(uncapitalized("Écrire à Lyon"), "écrire à Lyon");
        assert_eq!(capitalized(""), "");
    }
}
