//! Shapes of characters and of numbers in a text: spaces, letters, look-alike
//! signs; runs of digits with marks, fractions behind a whole number, and what
//! damage leaves.

use super::number::{common_fraction, vulgar};

pub fn bytes_while(text: &str, holds: impl Fn(char) -> bool) -> usize {
    text.find(|c| !holds(c)).unwrap_or(text.len())
}

/// Spaces of every width, marks without any, and marks of a trade name, which say
/// nothing of a yarn.
pub fn is_space(c: char) -> bool {
    c.is_whitespace()
        || matches!(
            c,
            '\u{200B}' | '\u{FEFF}' | '\u{AD}' | '\u{2060}' | '™' | '®' | '©'
        )
}

pub fn is_letter(c: char) -> bool {
    c.is_alphabetic() && c != 'º' || unicode_normalization::char::is_combining_mark(c)
}

/// Letters of Japanese, which stand beside Latin ones without a space.
pub fn is_eastern(c: char) -> bool {
    matches!(c, '\u{3005}' | '\u{3040}'..='\u{30FF}' | '\u{3400}'..='\u{9FFF}')
        || matches!(c, '\u{3099}' | '\u{309A}')
}

pub fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '\u{2019}')
}

/// A dot right after a word, unless letters or digits make it part of a name.
pub fn ends_abbreviation(after: &str) -> bool {
    after.starts_with('.') && !after.starts_with("..")
}

/// The one sign that a look-alike stands for.
pub fn look_alike(c: char) -> char {
    match c {
        '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
        '\u{2044}' | '\u{2215}' | '\u{FF0F}' => '/',
        '≈' | '≃' | '≅' | '∼' | '〜' | '～' => '~',
        '″' | '”' | '“' | '„' => '"',
        '′' | '’' | '‘' => '\'',
        '⨯' | '✕' | '╳' | '*' => '×',
        'º' | '˚' => '°',
        '∅' | '⌀' => 'ø',
        '＝' => '=',
        '、' | '，' => ',',
        '。' | '．' => '.',
        '：' => ':',
        '（' => '(',
        '）' => ')',
        '・' => '·',
        '％' => '%',
        c => c,
    }
}

/// Signs that a wrong text encoding leaves inside numbers.
const DAMAGE: [char; 6] = ['\u{201A}', '\u{FFFD}', 'Â', 'Ã', '¿', '\u{0192}'];

/// Digits with single marks between them, in bytes.
pub fn run_of_digits(text: &str) -> usize {
    let mut end = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let before_digit = chars.peek().is_some_and(|(_, next)| next.is_ascii_digit());
        match c {
            c if c.is_ascii_digit() => end = at + 1,
            c if is_mark(c) && before_digit && group_shape(c, text, at) => {}
            _ => break,
        }
    }
    end
}

/// Spaces and apostrophes part only groups of exactly three digits.
pub fn group_shape(mark: char, text: &str, at: usize) -> bool {
    let digits = text
        .get(at + mark.len_utf8()..)
        .map_or(0, |rest| bytes_while(rest, |c| c.is_ascii_digit()));
    matches!(mark, '.' | ',') || digits == 3
}

pub fn is_mark(c: char) -> bool {
    matches!(
        c,
        '.' | ',' | '\'' | '\u{2019}' | '\u{A0}' | '\u{2009}' | '\u{202F}'
    )
}

/// Marks of thousands that are no dot and no comma, as `'`.
pub fn plain_marks(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            c if c.is_ascii_digit() || matches!(c, '.' | ',') => c,
            _ => '\'',
        })
        .collect()
}

/// A fraction that belongs to the whole number before it: `½`, ` 3/4`, `-3/4`.
pub fn fraction_after(after: &str) -> Option<(f64, usize)> {
    let gap = after
        .chars()
        .next()
        .filter(|c| is_space(*c) && *c != '\n' || *c == '-')
        .map_or(0, char::len_utf8);
    let rest = after.get(gap..)?;
    if let Some(part) = rest.chars().next().and_then(vulgar) {
        let sign = rest.chars().next().map_or(0, char::len_utf8);
        return Some((part, gap + sign));
    }
    (gap > 0)
        .then(|| written_fraction(rest))
        .flatten()
        .map(|(part, bytes)| (part, gap + bytes))
}

pub fn written_fraction(text: &str) -> Option<(f64, usize)> {
    let top = bytes_while(text, |c| c.is_ascii_digit());
    let slash = text
        .get(top..)?
        .chars()
        .next()
        .filter(|c| look_alike(*c) == '/')?;
    let start = top + slash.len_utf8();
    let rest = text.get(start..)?;
    let bottom = bytes_while(rest, |c| c.is_ascii_digit());
    let size_name = rest.get(bottom..)?.starts_with(['x', 'X', '/']);
    let part = common_fraction(
        text.get(..top)?.parse().ok()?,
        rest.get(..bottom)?.parse().ok()?,
    )?;
    (!size_name).then_some((part, start + bottom))
}

/// What a wrong encoding left after a number, in bytes.
pub fn damaged(after: &str) -> Option<usize> {
    after.starts_with(DAMAGE).then(|| {
        bytes_while(after, |c| {
            DAMAGE.contains(&c) || c.is_ascii_digit() || vulgar(c).is_some()
        })
    })
}

pub fn exponent(after: &str) -> Option<usize> {
    let rest = after.strip_prefix(['e', 'E'])?;
    let sign = usize::from(rest.starts_with(['+', '-']));
    let digits = bytes_while(rest.get(sign..)?, |c| c.is_ascii_digit());
    (digits > 0).then_some(1 + sign + digits)
}
