//! The tokens that a text is cut into, and the small parsers over them that all
//! grammars share. Knows no fibre, class or needle number.

mod lexer;
mod number;
mod parser;
mod vocabulary;

pub(crate) use crate::words::{Words, words};
pub use lexer::lex;
pub use number::{Number, common_fraction};
pub use parser::{
    ParseResult, Tokens, any_word, exact, fraction, here, joined, longest, longest_among,
    longest_of, number, number_word, one_of, phrase, require, sign_or_word, skip, skip_fillers,
    small_number, symbol, upcoming, word,
};
pub use vocabulary::{is_sign, is_skein_word, says_nothing, skein_word};

use std::{cell::Cell, ops::Range};
use winnow::stream::Location;

/// One piece of the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Token<'t> {
    /// What it is.
    pub kind: TokenKind,
    /// The text it was cut from, as given.
    pub text: &'t str,
    /// Its bytes.
    pub span: Range<usize>,
    /// Whether it follows the piece before without a space.
    pub glued: bool,
    /// Whether a grammar looked at it, since somebody last asked.
    looked_at: Cell<bool>,
}

/// What a piece is.
#[derive(Debug, Clone, PartialEq)]
pub enum TokenKind {
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
            TokenKind::Word(word) => Some(word),
            _ => None,
        }
    }

    /// The number, of a number.
    pub fn number(&self) -> Option<&Number> {
        match &self.kind {
            TokenKind::Number(number) => Some(number),
            _ => None,
        }
    }

    /// Whether it is this symbol.
    pub fn is(&self, symbol: char) -> bool {
        self.kind == TokenKind::Symbol(symbol)
    }

    /// Whether it is one of these words.
    pub fn is_word(&self, words: Words) -> bool {
        self.word().is_some_and(|word| words.contains(word))
    }

    /// Whether a grammar has looked at it since the last such question.
    pub fn take_look(&self) -> bool {
        self.looked_at.take()
    }

    /// Whether it is digits and nothing else.
    pub fn is_digits(&self) -> bool {
        self.text.chars().all(|c| c.is_ascii_digit())
    }

    /// Whether it begins with a capital.
    pub fn is_capitalised(&self) -> bool {
        self.text.chars().next().is_some_and(char::is_uppercase)
    }
}

/// So that winnow knows the bytes that a grammar took.
impl Location for Token<'_> {
    fn previous_token_end(&self) -> usize {
        self.span.end
    }

    fn current_token_start(&self) -> usize {
        self.span.start
    }
}

/// The bytes that `tokens` cover; empty at 0 for none.
pub fn span_of(tokens: &[Token<'_>]) -> Range<usize> {
    match (tokens.first(), tokens.last()) {
        (Some(first), Some(last)) => first.span.start..last.span.end,
        _ => 0..0,
    }
}

/// The tokens as text, one space where there was any.
pub fn text_of(tokens: &[Token<'_>]) -> String {
    let mut text = String::new();
    for token in tokens {
        if !text.is_empty() && !token.glued {
            text.push(' ');
        }
        text.push_str(token.text);
    }
    text
}

/// How often grammars look at a token: the work that a text makes, whatever the machine.
#[cfg(test)]
pub(crate) mod work {
    use std::cell::Cell;

    thread_local! {
        static LOOKS: Cell<usize> = const { Cell::new(0) };
    }

    /// Counts one look.
    pub(super) fn count() {
        LOOKS.set(LOOKS.get() + 1);
    }

    /// How many looks something takes.
    pub fn of(done: impl FnOnce()) -> usize {
        LOOKS.set(0);
        done();
        LOOKS.get()
    }
}
