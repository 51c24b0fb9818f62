//! JSON with documented fields.

use crate::words::moves_terminal;
use serde::Serialize;

/// Fields as indented JSON with a line break at the end. Numbers are in the unit
/// that the field's name ends with; what is not known is `null`.
///
/// JSON itself escapes only part of what moves a terminal; the rest is escaped
/// here too, so that the text is the same fields and safe to look at.
pub fn json<T: Serialize + ?Sized>(fields: &T) -> Result<String, serde_json::Error> {
    let text = serde_json::to_string_pretty(fields)?;
    Ok(text.chars().map(escaped).collect::<String>() + "\n")
}

/// None of these characters stands outside of a string but the line break.
fn escaped(c: char) -> String {
    if c != '\n' && moves_terminal(c) {
        format!("\\u{:04x}", u32::from(c))
    } else {
        c.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_moves_a_terminal_is_escaped_and_means_the_same() {
        let text = "a\u{1b}[3m\u{7f}\u{9b}\u{202e}\u{feff}b ½ שלום";
        let written = json(text).unwrap();
        assert_eq!(
            written,
            "\"a\\u001b[3m\\u007f\\u009b\\u202e\\ufeffb ½ שלום\"\n"
        );
        assert_eq!(serde_json::from_str::<String>(&written).unwrap(), text);
    }
}
