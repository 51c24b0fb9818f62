//! How a text stands in a cell, there and back: a text that a spreadsheet would
//! take for a formula is made harmless, and several things share a cell.
//!
//! The list of first characters follows common practice against formula
//! injection: `=`, `+`, `-`, `@`, tab and carriage return, also behind spaces
//! or double quotes, and the full-width forms that some locales take too.

use std::borrow::Cow;

/// The character that is set before.
const GUARD: char = '\'';

/// `text` as it is written: with a `'` before it where a spreadsheet would run
/// it, where it starts with `'` itself, or where spaces at its ends would be
/// lost.
pub(super) fn guard(text: &str) -> Cow<'_, str> {
    if wants_guard(text) {
        Cow::Owned(format!("{GUARD}{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// What a cell says, without what [`guard`] added; spaces around any other text do not
/// count.
pub(in crate::files) fn unguard(cell: &str) -> &str {
    match cell.strip_prefix(GUARD) {
        Some(text) if wants_guard(text) => text,
        _ => cell.trim(),
    }
}

fn wants_guard(text: &str) -> bool {
    let start = text.trim_start_matches(says_nothing);
    text.starts_with(GUARD) || start.starts_with(starts_formula) || text.trim() != text
}

/// Whether a spreadsheet may look past the character for the start of a formula: a
/// quote, a space of any width, a character that nobody sees.
fn says_nothing(c: char) -> bool {
    let is_break = matches!(c, '\t' | '\r' | '\n');
    let is_unseen = matches!(
        c,
        '\u{00AD}' | '\u{061C}' | '\u{180E}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}'
    );
    c == '"' || is_unseen || !is_break && (c.is_whitespace() || c.is_control())
}

fn starts_formula(c: char) -> bool {
    matches!(
        c,
        '=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠'
    )
}

/// Texts separated by `|`, such as shades; `\|` is a bar within one, `\\` a backslash.
pub(super) fn read_list(cell: &str) -> Vec<String> {
    let mut shades = vec![String::new()];
    let mut letters = cell.chars().peekable();
    while let Some(letter) = letters.next() {
        let escaped = match letter {
            '\\' => letters.next_if(|next| matches!(next, '|' | '\\')),
            _ => None,
        };
        match (escaped, shades.last_mut()) {
            (None, _) if letter == '|' => shades.push(String::new()),
            (letter_of, Some(shade)) => shade.push(letter_of.unwrap_or(letter)),
            (_, None) => {}
        }
    }
    let tidy = shades.iter().map(|shade| shade.trim().to_owned());
    tidy.filter(|shade| !shade.is_empty()).collect()
}

/// The cell that reads back to these.
pub(super) fn write_list(shades: &[String]) -> String {
    let escaped: Vec<String> = shades
        .iter()
        .map(|shade| shade.replace('\\', r"\\").replace('|', r"\|"))
        .collect();
    escaped.join("|")
}

/// What separates parts of a cell, and the parts of each part.
const PART: char = '|';
const WITHIN: [char; 2] = ['=', ':'];

/// Parts separated by `|`, each in its own parts: what stands before a `=`, behind it, and
/// behind a `:` after that. A `\` before a sign, or before a space at an end, makes it part
/// of the text.
pub(super) fn split_parts(cell: &str) -> Vec<Vec<String>> {
    let mut letters = cell.chars();
    let mut parts = vec![vec![Vec::new()]];
    while let Some(letter) = letters.next() {
        let (letter, is_text) = match letter {
            '\\' => (letters.next().unwrap_or('\\'), true),
            letter => (letter, false),
        };
        let Some(part) = parts.last_mut() else {
            continue;
        };
        let divides = part.len() == 1 && letter == '=' || part.len() > 1 && letter == ':';
        match letter {
            PART if !is_text => parts.push(vec![Vec::new()]),
            _ if !is_text && divides => part.push(Vec::new()),
            _ => part
                .last_mut()
                .into_iter()
                .for_each(|text| text.push((letter, is_text))),
        }
    }
    let parts = parts
        .iter()
        .map(|part| part.iter().map(|text| tidy(text)).collect());
    parts
        .filter(|part: &Vec<String>| part.iter().any(|text| !text.is_empty()))
        .collect()
}

/// A text without the spaces at its ends that are not part of it.
fn tidy(text: &[(char, bool)]) -> String {
    let is_text = |(letter, is_text): &(char, bool)| *is_text || !letter.is_whitespace();
    let first = text.iter().position(is_text).unwrap_or(text.len());
    let last = text
        .iter()
        .rposition(is_text)
        .map_or(first, |last| last + 1);
    let kept = text.get(first..last).unwrap_or_default();
    kept.iter().map(|(letter, _)| letter).collect()
}

/// The cell that reads back to these parts.
pub(super) fn escape_parts<'t>(parts: impl Iterator<Item = Vec<&'t str>>) -> String {
    let part = |texts: Vec<&str>| {
        let [first, second] = WITHIN;
        let mut written = String::new();
        for (place, text) in texts.into_iter().enumerate() {
            match place {
                0 => {}
                1 => written.push(first),
                _ => written.push(second),
            }
            escape_into(text, &mut written);
        }
        written
    };
    parts.map(part).collect::<Vec<_>>().join("|")
}

fn escape_into(text: &str, written: &mut String) {
    let last = text.char_indices().next_back().map(|(at, _)| at);
    for (at, letter) in text.char_indices() {
        let is_end = at == 0 || Some(at) == last;
        let is_sign = letter == '\\' || letter == PART || WITHIN.contains(&letter);
        if is_sign || is_end && letter.is_whitespace() {
            written.push('\\');
        }
        written.push(letter);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_a_spreadsheet_would_run_is_guarded() {
        for text in [
            "=1+1",
            "+1",
            "-1",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            "\"=1\"",
            " =1",
            "＝1",
            "\u{200b}=1",
            "\u{feff}+1",
            "\u{61c}-1",
            "\u{a0}@A1",
            "\u{ad}\u{2060}=1",
            "\u{1}=1",
        ] {
            assert_eq!(guard(text), format!("'{text}"), "{text:?}");
        }
    }

    #[test]
    fn plain_text_is_written_as_it_is() {
        for text in ["", "Orrin DK", "3-ply", "don't", "½ moss", "\"warm\" moss"] {
            assert_eq!(guard(text), text);
        }
    }

    #[test]
    fn an_apostrophe_that_was_typed_stays() {
        assert_eq!(unguard("'tis"), "'tis");
        assert_eq!(unguard("  moss "), "moss");
    }

    proptest! {
        #[test]
        fn prop_any_text_comes_back_unchanged(text in any::<String>()) {
            let written = guard(&text);
            prop_assert_eq!(unguard(&written), text.as_str());
        }

        #[test]
        fn prop_formula_like_text_comes_back_unchanged(text in "[='\" @+\\-\t\ra]{0,6}") {
            let written = guard(&text);
            prop_assert_eq!(unguard(&written), text.as_str());
        }

        #[test]
        fn prop_no_written_cell_starts_a_formula(text in "[='\" @+\\-\t\ra]{0,6}") {
            let written = guard(&text).into_owned();
            prop_assert!(!written.starts_with(starts_formula));
        }
    }

    #[test]
    fn shades_are_parted_by_bars() {
        assert_eq!(read_list(" moss | rust||"), ["moss", "rust"]);
        assert_eq!(read_list(r"a\|b|c\\|d\e"), ["a|b", r"c\", r"d\e"]);
        assert!(read_list("").is_empty());
    }

    proptest! {
        #[test]
        fn prop_shades_come_back(shades in proptest::collection::vec(r"[a-z|\\][a-z |\\]{0,5}[a-z|\\]", 0..4)) {
            prop_assert_eq!(read_list(&write_list(&shades)), shades);
        }
    }
}
