//! Single characters: which are spaces, letters and apostrophes, and which sign
//! a look-alike stands for.

pub fn bytes_while(text: &str, holds: impl Fn(char) -> bool) -> usize {
    text.find(|c| !holds(c)).unwrap_or(text.len())
}

/// Spaces of every width, and marks without any.
pub fn is_space(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}' | '\u{FEFF}' | '\u{AD}' | '\u{2060}')
}

pub fn is_letter(c: char) -> bool {
    c.is_alphabetic() && c != 'º' || unicode_normalization::char::is_combining_mark(c)
}

pub fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '\u{2019}')
}

/// A dot right after a word, unless letters or digits make it part of a name.
pub fn ends_abbreviation(after: &str) -> bool {
    after.starts_with('.') && !after.starts_with("..")
}

/// Look-alikes as one sign.
pub fn plain(c: char) -> char {
    match c {
        '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
        '\u{2044}' | '\u{2215}' | '\u{FF0F}' => '/',
        '≈' | '≃' | '≅' | '∼' => '~',
        '″' | '”' | '“' | '„' => '"',
        '′' | '’' | '‘' => '\'',
        '⨯' | '✕' | '╳' | '*' => '×',
        'º' | '˚' => '°',
        '∅' | '⌀' => 'ø',
        '＝' => '=',
        '％' => '%',
        c => c,
    }
}
