//! The pieces a text is cut into.

use super::Number;
use std::ops::Range;

/// One piece of the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Token<'t> {
    /// What it is.
    pub kind: Kind,
    /// The text it was cut from, as given.
    pub text: &'t str,
    /// Its bytes.
    pub span: Range<usize>,
    /// Whether it follows the piece before without a space.
    pub glued: bool,
}

/// What a piece is.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// A number, with what it may mean.
    Number(Number),
    /// Letters, folded: no accents, lower case, without a closing dot.
    Word(String),
    /// Anything else; look-alikes are made one (dashes `-`, crosses `×`, `~`).
    Symbol(char),
}

impl Token<'_> {
    /// The folded word, of a word.
    pub fn word(&self) -> Option<&str> {
        match &self.kind {
            Kind::Word(word) => Some(word),
            _ => None,
        }
    }

    /// The number, of a number.
    pub fn number(&self) -> Option<&Number> {
        match &self.kind {
            Kind::Number(number) => Some(number),
            _ => None,
        }
    }

    /// Whether it is this symbol.
    pub fn is(&self, symbol: char) -> bool {
        self.kind == Kind::Symbol(symbol)
    }
}
