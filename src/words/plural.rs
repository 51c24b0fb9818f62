//! One skein, two skeins.

/// `word` for exactly one, `word` with an `s` (or `es`) otherwise.
pub fn plural(count: f64, word: &str) -> String {
    let one = (count - 1.0).abs() < 1e-9;
    match word {
        _ if one => word.to_owned(),
        _ if word.ends_with('s') || word.ends_with('x') || word.ends_with("ch") => {
            format!("{word}es")
        }
        _ => format!("{word}s"),
    }
}

/// The number and the word that agrees with it: `1 skein`, `3.5 skeins`.
pub fn count_of(count: f64, word: &str) -> String {
    format!("{} {}", super::number(count, 2), plural(count, word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_singular_and_everything_else_is_plural() {
        assert_eq!(count_of(1.0, "skein"), "1 skein");
        assert_eq!(count_of(0.0, "skein"), "0 skeins");
        assert_eq!(count_of(3.5, "skein"), "3.5 skeins");
        assert_eq!(count_of(2.0, "stitch"), "2 stitches");
    }
}
