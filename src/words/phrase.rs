//! Lists, plurals, numbers and first letters as sentences write them, and text from
//! elsewhere made safe to show.

use std::fmt::Display;

/// Joins with commas and a last `and`, with semicolons where an item has a comma of its
/// own; empty for no items.
pub fn and_list(items: impl IntoIterator<Item = impl Display>) -> String {
    listed(items, "and")
}

/// Joins with commas and a last `or`; empty for no items.
pub fn or_list(items: impl IntoIterator<Item = impl Display>) -> String {
    listed(items, "or")
}

fn listed(items: impl IntoIterator<Item = impl Display>, last: &str) -> String {
    let mut items: Vec<String> = items.into_iter().map(|item| item.to_string()).collect();
    let has_commas = items.iter().any(|item| item.contains(", "));
    let (between, before_last) = match (has_commas, items.len()) {
        (false, _) => (", ", " "),
        (true, ..=2) => ("; ", " "),
        (true, _) => ("; ", "; "),
    };
    match items.pop() {
        Some(tail) if !items.is_empty() => {
            format!("{}{before_last}{last} {tail}", items.join(between))
        }
        only => only.unwrap_or_default(),
    }
}

/// Joins with `between`.
pub fn joined(items: impl IntoIterator<Item = impl Display>, between: &str) -> String {
    let items: Vec<String> = items.into_iter().map(|item| item.to_string()).collect();
    items.join(between)
}

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

/// The same of things that are counted one by one: `3 lines`.
pub fn count_of_items(count: usize, word: &str) -> String {
    count_of(f64::from(u32::try_from(count).unwrap_or(u32::MAX)), word)
}

/// `value` rounded to at most `places` decimals, trailing zeros dropped.
pub fn number(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let trimmed = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    match trimmed {
        "-0" => "0".to_owned(),
        _ => trimmed.to_owned(),
    }
}

/// As [`number`], with a `+` on what is above zero.
pub fn signed(value: f64, places: usize) -> String {
    let text = number(value, places);
    if value > 0.0 && text != "0" {
        format!("+{text}")
    } else {
        text
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

/// Units that stay on the line of their number.
const UNITS: [&str; 8] = ["m", "yd", "g", "oz", "cm", "mm", "in", "%"];

/// `text` with spaces that lines are not broken at between a number and its unit.
pub fn with_units_held(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for (at, word) in text.split(' ').enumerate() {
        let bare = word.trim_end_matches(|c: char| c != '%' && !c.is_alphanumeric());
        let is_unit = UNITS.contains(&bare) && out.ends_with(|c: char| c.is_ascii_digit());
        if at > 0 {
            out.push(if is_unit { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
    }
    out
}

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

/// `text` with control characters, escapes and direction overrides written out
/// as `\u{..}`, so that a name from a file can neither move the cursor nor hide
/// what follows. Line breaks become spaces. Everything else stays as it is.
pub fn safe(text: &str) -> String {
    text.chars().map(shown).collect()
}

fn shown(c: char) -> String {
    match c {
        '\n' | '\r' | '\t' => " ".to_owned(),
        c if moves_terminal(c) => c.escape_unicode().to_string(),
        c => c.to_string(),
    }
}

/// `text` safe to show, its end cut where it is long. It is cut before it is looked
/// through, since it may be a whole file.
pub fn shortened(text: &str, most: usize) -> String {
    let cut = text.char_indices().nth(most + 1);
    let start = cut.and_then(|(byte, _)| text.get(..byte));
    within(safe(start.unwrap_or(text)), most)
}

fn within(text: String, most: usize) -> String {
    let cut = text.char_indices().nth(most);
    match cut.and_then(|(byte, _)| text.get(..byte)) {
        Some(start) => format!("{start}..."),
        None => text,
    }
}

/// Whether the character moves the cursor, commands the terminal, or turns the
/// direction of what follows.
pub fn moves_terminal(c: char) -> bool {
    c.is_control() || turns_direction(c)
}

/// Unicode's explicit direction marks and the byte order mark.
fn turns_direction(c: char) -> bool {
    matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_stays_with_its_number() {
        assert_eq!(
            with_units_held("per 50 g (1.76 oz); 8 % off, in 4 skeins"),
            "per 50\u{a0}g (1.76\u{a0}oz); 8\u{a0}% off, in 4 skeins"
        );
    }

    #[test]
    fn lists_read_as_a_sentence_does() {
        assert_eq!(and_list([""; 0]), "");
        assert_eq!(and_list(["a"]), "a");
        assert_eq!(and_list(["a", "b", "c"]), "a, b and c");
        assert_eq!(and_list(["a, b", "c", "d"]), "a, b; c; and d");
        assert_eq!(or_list(["a", "b"]), "a or b");
    }

    #[test]
    fn one_is_singular_and_everything_else_is_plural() {
        assert_eq!(count_of(1.0, "skein"), "1 skein");
        assert_eq!(count_of(0.0, "skein"), "0 skeins");
        assert_eq!(count_of(3.5, "skein"), "3.5 skeins");
        assert_eq!(count_of(2.0, "stitch"), "2 stitches");
    }

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

#[cfg(test)]
mod first_letter_tests {
    use super::*;

    #[test]
    fn only_the_first_letter_changes() {
        assert_eq!(capitalized("if you go DOWN"), "If you go DOWN");
        assert_eq!(uncapitalized("Écrire à Lyon"), "écrire à Lyon");
        assert_eq!(capitalized(""), "");
    }
}

#[cfg(test)]
mod safe_tests {
    use super::*;

    #[test]
    fn escapes_are_written_out_and_letters_of_any_script_are_kept() {
        assert_eq!(safe("a\u{1b}[31mb"), "a\\u{1b}[31mb");
        assert_eq!(safe("a\nb"), "a b");
        assert_eq!(safe("a\u{202e}b"), "a\\u{202e}b");
        assert_eq!(safe("a\u{61c}b"), "a\\u{61c}b");
        assert_eq!(safe("Wölle ½ שלום"), "Wölle ½ שלום");
    }
}
