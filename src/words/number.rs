//! Numbers as people read them: no exponent, no needless zeros, no thousands
//! mark (a mark would be ambiguous when the text is read back).

/// `value` rounded to at most `places` decimals, trailing zeros dropped.
pub fn number(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let trimmed = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => &text,
    };
    match trimmed {
        "-0" => "0".to_owned(),
        _ => trimmed.to_owned(),
    }
}

/// As [`number`], with a `+` on what is above zero.
pub fn signed(value: f64, places: usize) -> String {
    let text = number(value, places);
    match value > 0.0 && text != "0" {
        true => format!("+{text}"),
        false => text,
    }
}

/// `value` in full, in a form of one meaning only: a number with exactly three
/// decimals gets a fourth, since a mark before three digits may part thousands.
/// After a lone zero no mark does.
pub fn unmistakable(value: f64) -> String {
    let text = value.to_string();
    match text.split_once('.') {
        Some((whole, decimals)) if decimals.len() == 3 && whole != "0" => format!("{text}0"),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_decimals_get_a_fourth() {
        assert_eq!(unmistakable(1.125), "1.1250");
        assert_eq!(unmistakable(0.125), "0.125");
        assert_eq!(unmistakable(1.5), "1.5");
        assert_eq!(unmistakable(1125.0), "1125");
    }

    #[test]
    fn needless_zeros_are_dropped_and_needed_ones_kept() {
        assert_eq!(number(100.0, 1), "100");
        assert_eq!(number(0.10, 2), "0.1");
        assert_eq!(number(-0.001, 1), "0");
        assert_eq!(number(1646.0, 0), "1646");
        assert_eq!(signed(2.5, 1), "+2.5");
        assert_eq!(signed(-2.5, 1), "-2.5");
        assert_eq!(signed(0.0, 1), "0");
    }
}
