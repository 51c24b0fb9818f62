//! Reading quantities as people write them.
//!
//! A text is cut into pieces ([`lex`]), grammars over the pieces recognise a
//! quantity, and only then its numbers are settled: what may mean two things is
//! refused with both meanings. Knows no fibre, class or needle number.

mod characters;
mod count;
mod digits;
mod fillers;
mod gauge;
mod gauge_length;
mod lexer;
mod measured;
mod money;
mod note;
mod number;
mod range;
mod refusal;
mod settled;
mod skein;
mod stream;
mod token;
mod unit_word;

pub use count::{COUNT_ALLOWED, count};
pub use fillers::{is_sign, says_nothing};
pub use gauge::{Counted, LEADS, counted, is_gauge_word};
pub use gauge_length::over_after;
pub use lexer::lex;
pub use measured::{Dual, Measured, dual, measured};
pub use money::{MONEY_ALLOWED, money};
pub use note::{NotRead, Note, ReadError, Reading};
pub use number::Number;
pub use range::{NumberRange, counted_range, fraction, number_range};
pub use refusal::{Refusal, shown, span_of};
pub use settled::Settled;
pub use skein::{SKEIN_WORDS, is_skein_word};
pub use stream::{
    Outcome, Parsed, Tokens, ahead, any_word, exact, longest, number, parted, phrase, piece, plain,
    skip_fillers, symbol, with_pieces, word,
};
pub use token::{Kind, Token};
pub use unit_word::unit_word;
