//! The materials paragraph of a pattern: its yarns by colour key, its sizes, its
//! gauge. Each yarn's part is read as a label is ([`super::band`]); here it is only
//! found out where the sizes stand and where one yarn ends and the next begins.

use super::{
    amount::{Amount, colour_key},
    band::{BandReading, Title, read_titled},
    held_together::{HeldPhrase, held_phrases},
    reading::{NotRead, Note, capped, left_out},
    size_list::size_phrases,
    token::{Token, Tokens, lex, words},
};
use crate::{
    record::{Fit, Printed, Purpose, StatedGauge},
    words::fold,
};
use std::ops::Range;

/// What a materials paragraph says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Materials {
    /// Names of the sizes, in order; empty where it names none.
    pub sizes: Vec<String>,
    /// Its yarns, in order.
    pub yarns: Vec<MaterialsYarn>,
    /// The gauge to work to.
    pub gauge: Option<Printed<StatedGauge>>,
    /// What it is for.
    pub purpose: Option<Purpose>,
    /// How close it sits.
    pub fit: Option<Fit>,
    /// Notes, and what was not understood in one line.
    pub notes: Vec<Note>,
}

/// One yarn of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MaterialsYarn {
    /// Its key, where it has one.
    pub key: Option<String>,
    /// What it is called, where that is said.
    pub title: Option<Title>,
    /// What is said of it.
    pub band: BandReading,
    /// Key of the yarn before it that it is held together with.
    pub held_with: Option<String>,
}

/// Reads a materials paragraph as far as it can be understood.
pub fn read_materials(text: &str) -> Materials {
    let phrases = size_phrases(text);
    let rest = phrases
        .iter()
        .rev()
        .fold(text.to_owned(), |rest, phrase| without(&rest, &phrase.span));
    let of_pattern = phrases
        .iter()
        .position(|phrase| !phrase.of_body)
        .unwrap_or(0);
    let unused = phrases
        .iter()
        .enumerate()
        .filter(|(place, _)| *place != of_pattern);
    let unused: Vec<NotRead> = unused.map(|(_, phrase)| phrase.not_read(text)).collect();
    let sizes = phrases
        .into_iter()
        .nth(of_pattern)
        .map_or_else(Vec::new, |phrase| phrase.names);
    let (rest, held) = without_held(keys_first(&keys_of_two(rest)));
    let (common, yarns) = parts(&rest);
    let parts: Vec<&MaterialsYarn> = common.iter().chain(&yarns).collect();
    let mut found = Materials {
        sizes,
        gauge: parts.iter().find_map(|part| part.band.facts.gauge.clone()),
        purpose: parts.iter().find_map(|part| part.band.purpose),
        fit: parts.iter().find_map(|part| part.band.fit),
        notes: notes(&parts, unused),
        yarns: Vec::new(),
    };
    found.yarns = match common {
        Some(common) if yarns.is_empty() => of_each_colour(common),
        Some(common) => yarns
            .into_iter()
            .map(|yarn| of_both(yarn, &common))
            .collect(),
        None => yarns,
    };
    found.yarns = with_facts_of_others(found.yarns);
    for yarn in &mut found.yarns {
        yarn.band.facts.gauge = None;
    }
    for phrase in &held {
        hold_together(&mut found.yarns, phrase);
    }
    found
}

/// The text of two yarns without keys, one held together with the other, with keys before
/// both: `Umberlin DK (120 m/50 g) held together with Hathrel Lace (400 m/50 g)`.
fn keys_of_two(text: String) -> String {
    let is_a_yarn = |part: &str| read_titled(part).1.facts.grist().is_some();
    if !prefixed_keys(&lex(&text)).is_empty() {
        return text;
    }
    let phrases = held_phrases(&text, &[]).into_iter();
    let mut halves = phrases.filter_map(|phrase| {
        let before = text.get(..phrase.span.start)?;
        let after = text.get(phrase.span.end..)?;
        let said = text.get(phrase.span)?;
        (is_a_yarn(before) && is_a_yarn(after)).then(|| format!("A: {before}; B: {after}; {said}"))
    });
    halves.next().unwrap_or(text)
}

/// The text without what it says of yarns that are held together, and that; a yarn in
/// whose part it stands is one of those that it names.
fn without_held(text: String) -> (String, Vec<HeldPhrase>) {
    let keys = prefixed_keys(&lex(&text));
    let names: Vec<String> = keys.iter().map(|(key, _)| key.clone()).collect();
    if names.len() < 2 {
        return (text, Vec::new());
    }
    let mut held = held_phrases(&text, &names);
    let rest = held.iter().rev();
    let rest = rest.fold(text.clone(), |rest, phrase| without(&rest, &phrase.span));
    for phrase in &mut held {
        let mut before = keys.iter().rev();
        let own = before.find(|(_, span)| span.end <= phrase.span.start);
        if let (Some((own, _)), [(other, _)]) = (own, phrase.named.as_slice())
            && own != other
        {
            phrase.named.push((own.clone(), None));
        }
    }
    (rest, held)
}

/// Notes which yarns a phrase holds together.
fn hold_together(yarns: &mut [MaterialsYarn], phrase: &HeldPhrase) {
    let named = |yarn: &MaterialsYarn| {
        let mut named = phrase.named.iter();
        named.find(|(key, _)| yarn.key.as_ref() == Some(key))
    };
    let mut first: Option<String> = None;
    for yarn in yarns.iter_mut() {
        let said = named(yarn);
        if !phrase.of_all && said.is_none() {
            continue;
        }
        let strands = said.and_then(|(_, strands)| *strands);
        yarn.band.strands_held = strands.or(yarn.band.strands_held);
        match &first {
            None => first.clone_from(&yarn.key),
            with => yarn.held_with.clone_from(with),
        }
    }
}

fn notes(parts: &[&MaterialsYarn], unused: Vec<NotRead>) -> Vec<Note> {
    let warnings = parts.iter().flat_map(|part| part.band.warnings.clone());
    let unread = parts.iter().flat_map(|part| part.band.not_read.clone());
    let unread: Vec<NotRead> = unused.into_iter().chain(unread).collect();
    capped(warnings.collect())
        .into_iter()
        .chain(left_out(&unread))
        .collect()
}

impl MaterialsYarn {
    fn read(key: Option<String>, text: &str) -> Self {
        let (title, band) = read_titled(text);
        Self {
            key,
            band: band.without_name(title.as_ref()),
            title,
            held_with: None,
        }
    }

    fn says_nothing_of_a_skein(&self) -> bool {
        let facts = &self.band.facts;
        facts.grist().is_none()
            && facts.length.is_none()
            && facts.mass.is_none()
            && facts.blend.is_none()
    }

    fn is_called_as(&self, other: &Self) -> bool {
        let names = |yarn: &Self| yarn.title.as_ref().map(|title| fold(&title.name));
        names(self) == names(other)
    }
}

/// A yarn with what is said of all of them, where it says nothing of its own. One word
/// that it is called by is its shade then: `Umberlin DK, 120 m/50 g: MC = Moss, 5 balls`.
fn of_both(mut yarn: MaterialsYarn, common: &MaterialsYarn) -> MaterialsYarn {
    if !yarn.says_nothing_of_a_skein() {
        return yarn;
    }
    yarn.band.facts = common.band.facts.clone();
    let is_word = |title: &Title| title.maker.is_none() && !title.name.contains(' ');
    if let Some(shade) = yarn
        .title
        .take_if(|title| common.title.is_some() && is_word(title))
    {
        yarn.band.shade.get_or_insert(shade.name);
    }
    yarn.title = yarn.title.or_else(|| common.title.clone());
    yarn
}

/// The yarns, where of several that are called alike, or have no name of their own beside
/// the only one that has, one alone says what it is: `CC: 2 balls`.
fn with_facts_of_others(mut yarns: Vec<MaterialsYarn>) -> Vec<MaterialsYarn> {
    let told = yarns
        .iter()
        .filter(|yarn| yarn.band.facts.grist().is_some());
    let mut told: Vec<MaterialsYarn> = told.cloned().collect();
    told.dedup_by(|yarn, before| yarn.is_called_as(before));
    for yarn in yarns
        .iter_mut()
        .filter(|yarn| yarn.says_nothing_of_a_skein())
    {
        let same = match (&yarn.title, told.as_slice()) {
            (None, [only]) => Some(only),
            (None, _) => None,
            (Some(_), told) => told.iter().find(|told| told.is_called_as(yarn)),
        };
        if let Some(same) = same {
            yarn.band.facts = same.band.facts.clone();
            yarn.title.clone_from(&same.title);
        }
    }
    yarns
}

/// One yarn for each colour that a text without keys names beside its amounts:
/// `700 yd in MC and 180 yd in CC`.
fn of_each_colour(yarn: MaterialsYarn) -> Vec<MaterialsYarn> {
    let amounts: Vec<&Amount> = yarn
        .band
        .amount
        .iter()
        .chain(&yarn.band.other_colours)
        .collect();
    let keyed: Vec<MaterialsYarn> = amounts
        .iter()
        .flat_map(|amount| amount.each_of.iter().map(move |key| (key, *amount)))
        .map(|(key, amount)| MaterialsYarn {
            key: Some(key.clone()),
            held_with: None,
            title: yarn.title.clone(),
            band: BandReading {
                amount: Some(amount.clone()),
                other_colours: Vec::new(),
                ..yarn.band.clone()
            },
        })
        .collect();
    if keyed.is_empty() { vec![yarn] } else { keyed }
}

/// What stands before the first key, and what stands behind each.
fn parts(text: &str) -> (Option<MaterialsYarn>, Vec<MaterialsYarn>) {
    let tokens = lex(text);
    let keys = prefixed_keys(&tokens);
    let first = keys.first().map_or(text.len(), |(_, span)| span.start);
    let before = text.get(..first).unwrap_or("");
    let common = (!before.trim().is_empty()).then(|| MaterialsYarn::read(None, before));
    let ends = keys
        .iter()
        .skip(1)
        .map(|(_, span)| span.start)
        .chain([text.len()]);
    let yarns = keys.iter().zip(ends).map(|((key, span), end)| {
        MaterialsYarn::read(Some(key.clone()), text.get(span.end..end).unwrap_or(""))
    });
    let yarns = yarns.collect();
    (common, yarns)
}

/// Keys with a colon behind them, `MC:` or `Yarn A:`, and their bytes.
fn prefixed_keys(tokens: &[Token<'_>]) -> Vec<(String, Range<usize>)> {
    let mut found: Vec<(String, Range<usize>)> = Vec::new();
    for (place, token) in tokens.iter().enumerate() {
        let Some((key, next)) = key_at(tokens, place) else {
            continue;
        };
        let Some(colon) = tokens
            .get(next)
            .filter(|token| token.is(':') || token.is('='))
        else {
            continue;
        };
        if found
            .last()
            .is_some_and(|(_, before)| token.span.start < before.end)
        {
            continue;
        }
        let lead = place.checked_sub(1).and_then(|before| tokens.get(before));
        let lead = lead.filter(|lead| lead.is_word(words! { yarn, colour, color, shade }));
        let start = lead.unwrap_or(token).span.start;
        found.push((key, start..colon.span.end));
    }
    found
}

/// A key at a place of the text, and the place behind it.
fn key_at(tokens: &[Token<'_>], place: usize) -> Option<(String, usize)> {
    let rest = tokens.get(place..)?;
    let mut input = Tokens::new(rest);
    let key = colour_key(&mut input).ok()?;
    Some((key, tokens.len() - input.len()))
}

/// The text with each key that stands in brackets behind a name, `Umberlin DK (MC)`,
/// put before that name, unless keys stand first already.
fn keys_first(text: &str) -> String {
    let tokens = lex(text);
    if !prefixed_keys(&tokens).is_empty() {
        return text.to_owned();
    }
    let mut moved = String::with_capacity(text.len());
    let mut done = 0;
    for (place, open) in tokens.iter().enumerate().filter(|(_, token)| token.is('(')) {
        let Some((key, next)) = key_at(&tokens, place + 1) else {
            continue;
        };
        let Some(close) = tokens.get(next).filter(|token| token.is(')')) else {
            continue;
        };
        let before = tokens.get(..place).unwrap_or(&[]).iter().rev();
        let name = before.take_while(|token| token.word().is_some() && token.span.start >= done);
        let start = name
            .last()
            .map_or(open.span.start, |first| first.span.start);
        let part = |from, to| text.get(from..to).unwrap_or("");
        moved.push_str(part(done, start));
        moved.push_str(&format!("; {key}: {}", part(start, open.span.start)));
        done = close.span.end;
    }
    moved.push_str(text.get(done..).unwrap_or(""));
    moved
}

/// The text without a part of it.
fn without(text: &str, span: &Range<usize>) -> String {
    let before = text.get(..span.start).unwrap_or("");
    let after = text.get(span.end..).unwrap_or("");
    format!("{before};{after}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sizes(text: &str) -> Vec<String> {
        read_materials(text).sizes
    }

    #[test]
    fn sizes_are_found_behind_their_word_and_nowhere_else() {
        assert_eq!(sizes("Sizes S (M, L, XL)"), ["S", "M", "L", "XL"]);
        assert_eq!(sizes("sizes: XS, S, M, 10 balls"), ["XS", "S", "M"]);
        assert_eq!(
            sizes("Sizes 34 (36, 38) in; 4 mm"),
            ["34 in", "36 in", "38 in"]
        );
        assert_eq!(sizes("Sizes 34 (36) in Umberlin DK"), ["34", "36"]);
        assert_eq!(sizes("To fit chest 81 (86) cm"), ["81 cm", "86 cm"]);
        assert_eq!(
            sizes("Age 2 (4) years; 5 (6) balls"),
            ["2 years", "4 years"]
        );
        assert_eq!(sizes("Größe: S (M)"), ["S", "M"]);
        assert_eq!(sizes("Size S: 5 balls, M: 6 balls"), [""; 0]);
        assert_eq!(sizes("Sizes: 2XL (3XL). MC: 5 balls"), ["2XL", "3XL"]);
        assert_eq!(sizes("Sizes S M L"), ["S", "M", "L"]);
        assert_eq!(sizes("Sizes: Women's 34 (36)"), ["Women's 34", "36"]);
        assert_eq!(sizes("Sizes: child (adult S)"), ["child", "adult S"]);
        assert_eq!(sizes("Sizes XS/S (M/L)"), ["XS/S", "M/L"]);
        assert_eq!(sizes("needle size 4, 120 m"), [""; 0]);
        assert_eq!(sizes("size 4 mm needles"), [""; 0]);
        assert_eq!(sizes("in five sizes, 120 m"), [""; 0]);
    }

    #[test]
    fn any_names_of_sizes_are_read_behind_a_colon_and_nothing_that_counts_or_measures() {
        assert_eq!(sizes("5 (9) balls; Sizes: short (long)"), ["short", "long"]);
        assert_eq!(
            sizes("Sizes: short (long). Umberlin DK, 5 (9) balls"),
            ["short", "long"]
        );
        assert_eq!(
            sizes("Sizes: to the knee, to the ankle\n5 (9) balls"),
            ["to the knee", "to the ankle"]
        );
        assert_eq!(sizes("Sizes: sock 36/37 (38/39)"), ["sock 36/37", "38/39"]);
        assert_eq!(sizes("Sizes: narrow/wide"), ["narrow", "wide"]);
        for none in [
            "Sizes short (long)",
            "Sizes: see page 3",
            "Sizes: hat, 2 balls",
            "Sizes: hat, 60 m",
            "Sizes: hat: 60 m, scarf: 200 m",
            "Sizes: , ()",
        ] {
            assert_eq!(sizes(none), [""; 0], "{none}");
        }
    }

    #[test]
    fn yarns_are_told_apart_by_keys_before_or_behind_their_names() {
        for text in [
            "MC: Umberlin DK (100% wool, 120 m/50 g), 5 (6) balls. CC1: Hathrel DK (75% wool 25% nylon, 125 m/50 g), 1 (2) balls.",
            "Umberlin DK (MC), 100% wool, 120 m/50 g, 5 (6) balls; Hathrel DK (CC1), 75% wool 25% nylon, 125 m/50 g, 1 (2) balls",
        ] {
            let found = read_materials(text);
            let told: Vec<(&str, &str, f64, &str)> = found
                .yarns
                .iter()
                .map(|yarn| {
                    (
                        yarn.key.as_deref().unwrap(),
                        yarn.title.as_ref().unwrap().name.as_str(),
                        yarn.band.facts.length.as_ref().unwrap().value.as_metres(),
                        yarn.band
                            .amount
                            .as_ref()
                            .unwrap()
                            .text
                            .trim_end_matches('.'),
                    )
                })
                .collect();
            assert_eq!(
                told,
                [
                    ("MC", "Umberlin DK", 120.0, "5 (6) balls"),
                    ("CC1", "Hathrel DK", 125.0, "1 (2) balls")
                ],
                "{text}"
            );
            assert_eq!(found.notes, [], "{text}");
        }
    }

    #[test]
    fn what_is_said_once_before_the_keys_holds_for_each() {
        let found =
            read_materials("Umberlin DK (100% wool, 120 m/50 g): MC: 5 balls, CC1: 2 balls");
        let metres =
            |yarn: &MaterialsYarn| yarn.band.facts.length.as_ref().unwrap().value.as_metres();
        assert_eq!(
            found.yarns.iter().map(metres).collect::<Vec<_>>(),
            [120.0, 120.0]
        );
        let found = read_materials("120 m/50 g, 700 m in MC and 180 m in CC");
        let keys: Vec<&str> = found
            .yarns
            .iter()
            .filter_map(|yarn| yarn.key.as_deref())
            .collect();
        assert_eq!(keys, ["MC", "CC"]);
    }

    #[test]
    fn what_is_not_understood_is_one_line_without_the_name() {
        let found = read_materials("Umberlin DK (100% wool; 120 m / 50 g), 10 balls, zorp, frim");
        let notes: Vec<&str> = found
            .notes
            .iter()
            .map(|note| note.message.as_str())
            .collect();
        assert_eq!(notes, ["Not understood, left out: `zorp`, `frim`."]);
    }
}
