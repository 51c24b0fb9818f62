//! Cuts a text into numbers, words and symbols, each with its bytes.
//!
//! Lenient about spaces, case, accents, dots after abbreviations and look-alike
//! signs. A number that a spreadsheet has damaged stays one piece, refused.

use super::{
    Number, Token, TokenKind,
    number::{common_fraction, vulgar},
};
use crate::words::fold;
use std::cell::Cell;

/// Cuts `text`; every byte that is not a space lies in exactly one token.
pub fn lex(text: &str) -> Vec<Token<'_>> {
    let mut lexer = Lexer {
        text,
        at: 0,
        glued: false,
        tokens: Vec::new(),
    };
    while let Some(c) = lexer.peek() {
        lexer.piece(c);
    }
    lexer.tokens
}

struct Lexer<'t> {
    text: &'t str,
    at: usize,
    glued: bool,
    tokens: Vec<Token<'t>>,
}

impl<'t> Lexer<'t> {
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn push(&mut self, kind: TokenKind, bytes: usize) {
        let span = self.at..self.at + bytes;
        self.tokens.push(Token {
            kind,
            text: self.text.get(span.clone()).unwrap_or(""),
            span,
            glued: self.glued,
            looked_at: Cell::new(false),
        });
        self.at += bytes;
        self.glued = true;
    }

    fn piece(&mut self, c: char) {
        if is_space(c) {
            self.at += c.len_utf8();
            self.glued = false;
        } else if c.is_ascii_digit() || self.starts_with_point() {
            self.number();
        } else if let Some(part) = vulgar(c) {
            self.push(TokenKind::Number(Number::One(part)), c.len_utf8());
        } else if is_letter(c) {
            self.word();
        } else {
            self.sign(c);
        }
    }

    /// `.5`, where no digit and no letter stands before the point.
    fn starts_with_point(&self) -> bool {
        let mut rest = self.rest().chars();
        !self.glued && rest.next() == Some('.') && rest.next().is_some_and(|c| c.is_ascii_digit())
    }

    fn word(&mut self) {
        let rest = self.rest();
        let eastern = rest.chars().next().is_some_and(is_eastern);
        let letters = bytes_while(rest, |c| {
            is_eastern(c) == eastern && is_letter(c) || is_apostrophe(c)
        });
        let word = rest
            .get(..letters)
            .unwrap_or("")
            .trim_end_matches(is_apostrophe);
        let folded = fold(word).replace(' ', "");
        let dot = usize::from(rest.get(word.len()..).is_some_and(ends_abbreviation));
        match folded.as_str() {
            "x" => self.push(TokenKind::Symbol('×'), word.len()),
            _ => self.push(TokenKind::Word(folded), word.len() + dot),
        }
    }

    /// A command to a terminal is one sign, not the numbers inside it.
    fn terminal_command(&self) -> Option<usize> {
        let rest = self.rest().strip_prefix("\u{1b}[")?;
        let inner = bytes_while(rest, |c| c.is_ascii_digit() || c == ';');
        let last = rest.get(inner..)?.chars().next().map_or(0, char::len_utf8);
        Some(2 + inner + last)
    }

    fn sign(&mut self, c: char) {
        if let Some(bytes) = self.terminal_command() {
            return self.push(TokenKind::Symbol(c), bytes);
        }
        let kind = match c {
            '№' => TokenKind::Word("no".to_owned()),
            c if c.is_numeric() => TokenKind::Number(Number::Refused(
                "only the digits 0 to 9 are understood".to_owned(),
            )),
            c => TokenKind::Symbol(look_alike(c)),
        };
        let foreign = bytes_while(self.rest(), |c| {
            c.is_numeric() && !c.is_ascii() && vulgar(c).is_none()
        });
        self.push(kind, foreign.max(c.len_utf8()));
    }

    fn number(&mut self) {
        let rest = self.rest();
        let run = run_of_digits(rest);
        let text = rest.get(..run).unwrap_or("");
        let after = rest.get(run..).unwrap_or("");
        if let Some(bytes) = damaged(after) {
            let why = "its text encoding is damaged, so that a mark or a fraction is lost";
            return self.push(
                TokenKind::Number(Number::Refused(why.to_owned())),
                run + bytes,
            );
        }
        if let Some(bytes) = exponent(after) {
            let why = "a number with an exponent is not understood".to_owned();
            return self.push(TokenKind::Number(Number::Refused(why)), run + bytes);
        }
        match Number::from_digits(&plain_marks(text)) {
            Some(Number::One(whole)) if text.bytes().all(|b| b.is_ascii_digit()) => {
                self.whole_number(whole, run, after);
            }
            Some(number) => self.push(TokenKind::Number(number), run),
            None => self.list(text),
        }
    }

    /// A whole number, with a fraction after it where one stands there.
    fn whole_number(&mut self, whole: f64, run: usize, after: &str) {
        if let Some((part, bytes)) = fraction_after(after) {
            return self.push(TokenKind::Number(Number::One(whole + part)), run + bytes);
        }
        match self.spaced_thousands(run, after) {
            Some(bytes) => {
                let text = self.rest().get(..run + bytes).unwrap_or("").to_owned();
                let why = format!("`{text}` may be one number or two");
                self.push(TokenKind::Number(Number::Refused(why)), run + bytes);
            }
            None => self.push(TokenKind::Number(Number::One(whole)), run),
        }
    }

    /// `1 250` at the start, or after a sign: one number or two, nobody knows.
    fn spaced_thousands(&self, run: usize, after: &str) -> Option<usize> {
        let free = self.tokens.last().is_none_or(|token| {
            matches!(token.kind, TokenKind::Symbol(c) if !(self.glued && c == '/') && c != '#' && c != '×')
        });
        let digits = after.strip_prefix(' ')?;
        let group = bytes_while(digits, |c| c.is_ascii_digit());
        let unit_follows = digits
            .get(group..)?
            .trim_start()
            .starts_with(|c: char| is_letter(c));
        (free && run <= 2 && group == 3 && unit_follows).then_some(1 + group)
    }

    /// Digits and marks that make no one number: each for itself.
    fn list(&mut self, text: &str) {
        for piece in text.split_inclusive(|c: char| !c.is_ascii_digit()) {
            let digits = piece.trim_end_matches(|c: char| !c.is_ascii_digit());
            if let Some(number) = Number::from_digits(digits) {
                self.push(TokenKind::Number(number), digits.len());
            }
            if let Some(mark) = piece.chars().last().filter(|c| !c.is_ascii_digit()) {
                self.push(TokenKind::Symbol(look_alike(mark)), mark.len_utf8());
            }
        }
    }
}

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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn kinds(text: &str) -> Vec<String> {
        lex(text)
            .into_iter()
            .map(|token| token.text.to_owned())
            .collect()
    }

    fn numbers(text: &str) -> Vec<f64> {
        lex(text)
            .iter()
            .filter_map(|token| token.number()?.one())
            .collect()
    }

    #[test]
    fn letters_of_two_scripts_part_without_a_space() {
        assert_eq!(
            kinds("40g玉巻(約80m)"),
            ["40", "g", "玉巻", "(", "約", "80", "m", ")"]
        );
        assert_eq!(
            kinds("ポリエステル70%、"),
            ["ポリエステル", "70", "%", "、"]
        );
    }

    #[test]
    fn numbers_and_letters_part_without_a_space() {
        assert_eq!(kinds("25g,80m"), ["25", "g", ",", "80", "m"]);
        assert_eq!(kinds("oz.50g"), ["oz.", "50", "g"]);
        assert_eq!(kinds("6,7,8 skeins"), ["6", ",", "7", ",", "8", "skeins"]);
    }

    #[test]
    fn what_looks_like_one_number_and_is_not_comes_apart() {
        assert_eq!(kinds("10\u{A0}50"), ["10", "50"]);
        assert_eq!(kinds("1\u{A0}250"), ["1\u{A0}250"]);
        assert_eq!(kinds("2each"), ["2", "each"]);
        assert_eq!(kinds("1 3/4 oz"), ["1 3/4", "oz"]);
        assert_eq!(kinds("4.5 ½"), ["4.5", "½"]);
        let tokens = lex("12 250 m");
        let why = "`12 250` may be one number or two".to_owned();
        assert_eq!(tokens[0].kind, TokenKind::Number(Number::Refused(why)));
    }

    #[test]
    fn a_point_starts_a_number_where_nothing_stands_before_it() {
        assert_eq!(numbers(".5 oz"), [0.5]);
        assert_eq!(numbers("No.5"), [5.0]);
        assert_eq!(numbers("a;.5"), [5.0]);
    }

    #[test]
    fn a_command_to_a_terminal_is_one_sign() {
        assert_eq!(kinds("\u{1b}[1;31m50 g"), ["\u{1b}[1;31m", "50", "g"]);
        assert_eq!(kinds("\u{1b}[m50"), ["\u{1b}[m", "50"]);
    }

    #[test]
    fn fractions_belong_to_the_number_before_them() {
        assert_eq!(numbers("1 3/4 oz"), [1.75]);
        assert_eq!(numbers("10½"), [10.5]);
        assert_eq!(numbers("1 ½"), [1.5]);
        assert_eq!(numbers("3 5/8"), [3.625]);
        assert_eq!(numbers("½ hank"), [0.5]);
        assert_eq!(numbers("10 2/3XL 11"), [10.0, 2.0, 3.0, 11.0]);
        assert_eq!(numbers("2/14"), [2.0, 14.0]);
        assert_eq!(numbers("6,7,8 skeins"), [6.0, 7.0, 8.0]);
    }

    #[test]
    fn damage_and_exponents_are_refused_as_one_piece() {
        for text in ["4‚5", "10\u{FFFD}", "10Â½", "1e9", "1E-3"] {
            let tokens = lex(text);
            assert!(
                matches!(
                    tokens.as_slice(),
                    [Token {
                        kind: TokenKind::Number(Number::Refused(_)),
                        ..
                    }]
                ),
                "{text}"
            );
        }
    }

    proptest! {
        #[test]
        fn prop_every_token_lies_on_character_boundaries_in_order(text in any::<String>()) {
            let mut end = 0;
            for token in lex(&text) {
                prop_assert!(token.span.start >= end && token.span.end > token.span.start);
                prop_assert_eq!(text.get(token.span.clone()), Some(token.text));
                end = token.span.end;
            }
        }
    }
}
