//! The words for one fibre: `extra fine superwash merino wool`,
//! `viscose from bamboo`, `bamboo (viscose)`.

use crate::{
    label::{
        gauge::is_gauge_word,
        reading::Note,
        token::{
            ParseResult, Tokens, Words, any_word, is_skein_word, require, symbol, word, words,
        },
    },
    record::FibreName,
    trade::{Family, Fibre, SHARED_CODES, fibre, fibre_of_code, fibre_of_word},
};
use std::ops::Range;
use winnow::{
    Parser,
    combinator::{opt, preceded, repeat},
    error::EmptyError,
};

/// One fibre in words.
#[derive(Debug, Clone, PartialEq)]
pub struct FibrePhrase {
    /// The fibre.
    pub fibre: FibreName,
    /// Whether it is called superwash.
    pub superwash: bool,
    /// Notes about it.
    pub notes: Vec<Note>,
    /// Why its code may be two fibres.
    pub shared_code: Option<String>,
}

/// What the words so far say.
#[derive(Default)]
struct PhraseBuilder {
    fibre: Option<&'static Fibre>,
    bamboo: bool,
    superwash: bool,
    other: Vec<String>,
    /// Words beside a known fibre that are not known here.
    unknown: Vec<String>,
    shared: Option<String>,
}

/// A fibre of the table, in words.
pub fn fibre_phrase(input: &mut Tokens<'_>) -> ParseResult<FibrePhrase> {
    built(input, false)
}

/// A fibre beside a share: codes and unknown words are fibres there too.
pub fn fibre_beside_share(input: &mut Tokens<'_>) -> ParseResult<FibrePhrase> {
    built(input, true)
}

fn built(input: &mut Tokens<'_>, beside_share: bool) -> ParseResult<FibrePhrase> {
    let mut builder = PhraseBuilder::default();
    let next = |input: &mut Tokens<'_>| builder.word(input, beside_share);
    let ((), span) = repeat(1..=10, next).with_span().parse_next(input)?;
    builder.finish(&span).ok_or(EmptyError)
}

impl FibrePhrase {
    /// Whether its fibre is in the table.
    pub fn is_known(&self) -> bool {
        matches!(self.fibre, FibreName::Known(_))
    }
}

impl PhraseBuilder {
    /// Takes the next word where it still belongs to this fibre.
    fn word(&mut self, input: &mut Tokens<'_>, beside_share: bool) -> ParseResult<()> {
        if opt(symbol("(")).parse_next(input)?.is_some() {
            return self.in_brackets(input);
        }
        if self.fibre.is_some() || self.bamboo {
            opt(symbol("-")).parse_next(input)?;
        }
        let first = any_word(input)?;
        let behind = |words| preceded(opt(symbol("-")), word(words)).void();
        if first == "non" || first == "not" {
            return behind(SUPERWASH).parse_next(input);
        }
        if FREE_OF.contains(first) {
            return behind(words! { free }).parse_next(input);
        }
        require(self.takes(first, beside_share))?;
        if self.fibre.is_none() {
            opt(symbol("-")).parse_next(input)?;
        }
        Ok(())
    }

    fn in_brackets(&mut self, input: &mut Tokens<'_>) -> ParseResult<()> {
        for _ in 0..5 {
            if opt(symbol(")")).parse_next(input)?.is_some() {
                return Ok(());
            }
            let word = any_word(input)?;
            if !self.takes(word, false) {
                require(self.fibre.is_some() && fibre_of_word(word).is_none())?;
                self.unknown.push(word.to_owned());
            }
        }
        Err(EmptyError)
    }

    fn takes(&mut self, word: &str, beside_share: bool) -> bool {
        if SUPERWASH.contains(word) {
            self.superwash = true;
            return true;
        }
        if BAMBOO.contains(word) {
            let fits = self.fibre.is_none_or(is_regenerated);
            self.bamboo |= fits;
            return fits;
        }
        if let Some(fibre) = fibre_of_word(word) {
            return self.takes_fibre(fibre);
        }
        if QUALITIES.contains(word) && self.other.is_empty() {
            return true;
        }
        if MADE_FROM.contains(word) {
            return self.fibre.is_some_and(is_regenerated);
        }
        beside_share && self.fibre.is_none() && !self.bamboo && self.takes_unknown(word)
    }

    /// `alpaca wool` is alpaca, `bamboo viscose` is viscose; `merino silk` are two.
    fn takes_fibre(&mut self, fibre: &'static Fibre) -> bool {
        let of_animal = |known: &Fibre| known.family == Family::Animal && known.name != "silk";
        let fits = match self.fibre {
            None => !self.bamboo || is_regenerated(fibre),
            Some(known) => known == fibre || fibre.name == "wool" && of_animal(known),
        };
        let named_before = match self.other.as_slice() {
            [] => true,
            [word] => self.shared.is_none() && !UNREAL.contains(word),
            _ => false,
        };
        if fits && named_before {
            self.fibre = self.fibre.or(Some(fibre));
            self.unknown.append(&mut self.other);
        }
        fits && named_before
    }

    fn takes_unknown(&mut self, word: &str) -> bool {
        if let Some((_, one, two)) = SHARED_CODES.iter().find(|(code, _, _)| *code == word) {
            self.shared = Some(format!("`{}` can mean {one} or {two}", word.to_uppercase()));
            self.other.push(word.to_owned());
            return self.other.len() == 1;
        }
        if let Some(fibre) = fibre_of_code(word).filter(|_| self.other.is_empty()) {
            self.fibre = Some(fibre);
            return true;
        }
        let fits = match self.other.as_slice() {
            [] => !STOPS.contains(word) && !is_gauge_word(word) && !is_skein_word(word),
            [first] => OTHER.contains(first) || MATERIAL.contains(word),
            _ => false,
        };
        if fits {
            self.other.push(word.to_owned());
        }
        fits
    }

    fn finish(self, span: &Range<usize>) -> Option<FibrePhrase> {
        let (named, note) = match (self.fibre, self.bamboo) {
            (Some(fibre), false) => (FibreName::Known(fibre), None),
            (Some(fibre), true) => (
                FibreName::Known(fibre),
                Some(
                    "yarn made from bamboo is a regenerated fibre: bamboo is only its raw material",
                ),
            ),
            (None, true) => (
                FibreName::Known(fibre("viscose")?),
                Some("bamboo yarn is nearly always viscose: assumed viscose"),
            ),
            (None, false) if self.other.is_empty() => return None,
            (None, false) => (FibreName::Other(self.other.join(" ")), None),
        };
        let unknown = self.unknown.join(" ");
        let unknown = (!unknown.is_empty())
            .then(|| format!("`{unknown}` beside {named} is not known: used {named}"));
        let notes = note.map(str::to_owned).into_iter().chain(unknown);
        Some(FibrePhrase {
            superwash: self.superwash,
            notes: notes.map(|note| Note::new(span, note)).collect(),
            fibre: named,
            shared_code: self.shared,
        })
    }
}

fn is_regenerated(fibre: &'static Fibre) -> bool {
    matches!(fibre.name, "viscose" | "lyocell" | "modal")
}

/// Words around a fibre that do not change what it is.
pub const QUALITIES: Words = words! {
    organic, extra, extrafine, fine, superfine, ultrafine, pure, new, virgin, recycled, soft,
    combed, carded, mercerised, mercerized, egyptian, peruvian, highland, falkland, premium,
    bio, kbt, gots, baby, kid, royal, british, australian, english, irish, norwegian, scottish,
    wild, raw, long, staple, longstaple, undyed, natural, all, reine, vierge, vergine, virgen,
    pura, puro, pur, merinos, peignee, biologique, biologisch, organico, okologisk, økologisk,
    ekologisk, superkid, super, tops, hair, spun, filament, high, bulk, anti, pilling, peigne,
    żywa, zywa, dziewicza, owcza, down, czysta, strizni, merynosow, merynos, чистая, натуральная, saf,
    mercerise, microfibre, microfiber, micro, fein, feine, ren, rein, fin, fibre,
    fiber, fibres, fibers,
};
/// What a fibre may be free of, and be that fibre still.
pub const FREE_OF: Words = words! { mulesing, chlorine };
/// Words that say that it was treated for the machine.
pub const SUPERWASH: Words = words! { superwash, sw, superlavage };
/// Words beside a number that name no fibre.
pub const STOPS: Words = words! {
    and, und, et, of, off, margin, more, less, extra, y, e, or, discount, ply, plys, plies,
};
/// Words that make a known fibre behind them another: `soy silk`.
pub const UNREAL: Words = words! {
    soy, soya, milk, art, artificial, faux, vegan, banana, imitation, mock, rose, pineapple, corn,
    fake, kunst, other, autres, andere, altre, otras, outras, andre, muut,
};
/// Words after which another word completes the name of an unknown fibre.
pub const OTHER: Words = words! { other, autres, andere, altre, otras, outras, andre, muut };
/// Words that complete the name of an unknown fibre.
pub const MATERIAL: Words = words! {
    fibre, fibres, fiber, fibers, thread, yarn, sequins, glitter,
};
/// What viscose is often named after.
pub const BAMBOO: Words = words! { bamboo, bambus, bambou, bambu, bamboe };
/// Words between a regenerated fibre and what it was made from.
pub const MADE_FROM: Words = words! { from, made, ex };
