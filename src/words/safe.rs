//! Text of unknown origin made safe to show.

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
    fn escapes_are_written_out_and_letters_of_any_script_are_kept() {
        assert_eq!(safe("a\u{1b}[31mb"), "a\\u{1b}[31mb");
        assert_eq!(safe("a\nb"), "a b");
        assert_eq!(safe("a\u{202e}b"), "a\\u{202e}b");
        assert_eq!(safe("a\u{61c}b"), "a\\u{61c}b");
        assert_eq!(safe("Wölle ½ שלום"), "Wölle ½ שלום");
    }
}
