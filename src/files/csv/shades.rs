//! Several shades in one cell.

/// Shades parted by `|`; `\|` is a bar within one, `\\` a backslash.
pub(super) fn read_shades(cell: &str) -> Vec<String> {
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

/// The cell that reads back to `shades`.
pub(super) fn write_shades(shades: &[String]) -> String {
    let escaped: Vec<String> = shades
        .iter()
        .map(|shade| shade.replace('\\', r"\\").replace('|', r"\|"))
        .collect();
    escaped.join("|")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn shades_are_parted_by_bars() {
        assert_eq!(read_shades(" moss | rust||"), ["moss", "rust"]);
        assert_eq!(read_shades(r"a\|b|c\\|d\e"), ["a|b", r"c\", r"d\e"]);
        assert!(read_shades("").is_empty());
    }

    proptest! {
        #[test]
        fn prop_shades_come_back(shades in proptest::collection::vec(r"[a-z|\\][a-z |\\]{0,5}[a-z|\\]", 0..4)) {
            prop_assert_eq!(read_shades(&write_shades(&shades)), shades);
        }
    }
}
