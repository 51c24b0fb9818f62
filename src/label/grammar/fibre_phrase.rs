//! The words for one fibre: `extra fine superwash merino wool`,
//! `viscose from bamboo`, `bamboo (viscose)`.

use super::fibre_qualities::{FREE_OF, MATERIAL, OTHER, QUALITIES, STOPS, SUPERWASH};
use crate::{
    label::reading::{
        Note, Parsed, Tokens, any_word, is_gauge_word, is_skein_word, span_of, symbol, with_pieces,
    },
    record::FibreName,
    trade::{Family, Fibre, SHARED_CODES, fibre, fibre_of_code, fibre_of_word},
};
use winnow::{Parser, combinator::opt, error::EmptyError};

/// One fibre in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Phrase {
    /// The fibre.
    pub fibre: FibreName,
    /// Whether it is called superwash.
    pub superwash: bool,
    /// What to know about it.
    pub notes: Vec<Note>,
    /// Why its code may be two fibres.
    pub shared_code: Option<String>,
}

#[derive(Default)]
struct Heard {
    fibre: Option<&'static Fibre>,
    bamboo: bool,
    superwash: bool,
    other: Vec<String>,
    shared: Option<String>,
}

/// A fibre of the table, in words.
pub fn phrase(input: &mut Tokens<'_>) -> Parsed<Phrase> {
    heard(input, false)
}

/// A fibre beside a share: codes and unknown words are fibres there too.
pub fn phrase_beside_share(input: &mut Tokens<'_>) -> Parsed<Phrase> {
    heard(input, true)
}

fn heard(input: &mut Tokens<'_>, beside_share: bool) -> Parsed<Phrase> {
    let (heard, pieces) = with_pieces(|input| {
        let mut heard = Heard::default();
        for _ in 0..10 {
            if opt(|input: &mut Tokens<'_>| heard.word(input, beside_share))
                .parse_next(input)?
                .is_none()
            {
                break;
            }
        }
        Ok(heard)
    })
    .parse_next(input)?;
    heard.settled(span_of(pieces)).ok_or(EmptyError)
}

impl Heard {
    /// Takes the next word where it still belongs to this fibre.
    fn word(&mut self, input: &mut Tokens<'_>, beside_share: bool) -> Parsed<()> {
        if opt(symbol("(")).parse_next(input)?.is_some() {
            return self.in_brackets(input);
        }
        if self.fibre.is_some() || self.bamboo {
            opt(symbol("-")).parse_next(input)?;
        }
        let word = any_word(input)?;
        if word == "non" || word == "not" {
            opt(symbol("-")).parse_next(input)?;
            return any_word
                .verify(|word: &str| SUPERWASH.contains(&word))
                .void()
                .parse_next(input);
        }
        if FREE_OF.contains(&word) {
            opt(symbol("-")).parse_next(input)?;
            return any_word
                .verify(|word: &str| word == "free")
                .void()
                .parse_next(input);
        }
        match self.takes(word, beside_share) {
            true => {
                if self.fibre.is_none() {
                    opt(symbol("-")).parse_next(input)?;
                }
                Ok(())
            }
            false => Err(EmptyError),
        }
    }

    fn in_brackets(&mut self, input: &mut Tokens<'_>) -> Parsed<()> {
        for _ in 0..5 {
            if opt(symbol(")")).parse_next(input)?.is_some() {
                return Ok(());
            }
            let word = any_word(input)?;
            if !self.takes(word, false) {
                return Err(EmptyError);
            }
        }
        Err(EmptyError)
    }

    fn takes(&mut self, word: &str, beside_share: bool) -> bool {
        if SUPERWASH.contains(&word) {
            self.superwash = true;
            return true;
        }
        if word == "bamboo"
            || word == "bambus"
            || word == "bambou"
            || word == "bambu"
            || word == "bamboe"
        {
            let fits = self.fibre.is_none_or(regenerated);
            self.bamboo |= fits;
            return fits;
        }
        if let Some(fibre) = fibre_of_word(word) {
            return self.takes_fibre(fibre);
        }
        if QUALITIES.contains(&word) && self.other.is_empty() {
            return true;
        }
        if word == "from" || word == "made" || word == "ex" {
            return self.fibre.is_some_and(regenerated);
        }
        beside_share && self.fibre.is_none() && !self.bamboo && self.takes_unknown(word)
    }

    /// `alpaca wool` is alpaca, `bamboo viscose` is viscose; `merino silk` are two.
    fn takes_fibre(&mut self, fibre: &'static Fibre) -> bool {
        let fits = match self.fibre {
            None => !self.bamboo || regenerated(fibre),
            Some(known) => {
                known == fibre
                    || fibre.name == "wool"
                        && known.family == Family::Animal
                        && known.name != "silk"
            }
        };
        if fits && self.other.is_empty() {
            self.fibre = self.fibre.or(Some(fibre));
        }
        fits && self.other.is_empty()
    }

    fn takes_unknown(&mut self, word: &str) -> bool {
        if let Some((_, one, two)) = SHARED_CODES.iter().find(|(code, _, _)| *code == word) {
            self.shared = Some(format!(
                "`{}` stands for {one} and for {two}",
                word.to_uppercase()
            ));
            self.other.push(word.to_owned());
            return self.other.len() == 1;
        }
        if let Some(fibre) = fibre_of_code(word).filter(|_| self.other.is_empty()) {
            self.fibre = Some(fibre);
            return true;
        }
        let fits = match self.other.as_slice() {
            [] => !STOPS.contains(&word) && !is_gauge_word(word) && !is_skein_word(word),
            [first] => OTHER.contains(&first.as_str()) || MATERIAL.contains(&word),
            _ => false,
        };
        if fits {
            self.other.push(word.to_owned());
        }
        fits
    }

    fn settled(self, span: std::ops::Range<usize>) -> Option<Phrase> {
        let note = |message: &str| Note {
            span: span.clone(),
            message: message.to_owned(),
        };
        let mut notes = Vec::new();
        let named = match (self.fibre, self.bamboo) {
            (Some(fibre), false) => FibreName::Known(fibre),
            (Some(fibre), true) => {
                notes.push(note("yarn made from bamboo is a regenerated fibre: bamboo is only what it was made of"));
                FibreName::Known(fibre)
            }
            (None, true) => {
                notes.push(note(
                    "bamboo yarn is nearly always viscose: viscose is taken",
                ));
                FibreName::Known(fibre("viscose")?)
            }
            (None, false) if self.other.is_empty() => return None,
            (None, false) => FibreName::Other(self.other.join(" ")),
        };
        Some(Phrase {
            fibre: named,
            superwash: self.superwash,
            notes,
            shared_code: self.shared,
        })
    }
}

fn regenerated(fibre: &'static Fibre) -> bool {
    matches!(fibre.name, "viscose" | "lyocell" | "modal")
}
