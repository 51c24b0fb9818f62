//! The sizes of a pattern as its text lists them: behind a word for them, behind what
//! the body measures, or in a list of their own.

use super::{
    reading::NotRead,
    token::{Token, TokenKind, Words, is_skein_word, lex, words},
};
use std::ops::Range;

const LEADS: Words = words! {
    size, sizes, taille, tailles, talla, tallas, taglia, taglie, maat, maten, storrelse,
    storrelser, storlek, storlekar, grosse, grossen, große, großen, størrelse, størrelser,
};
/// Words before what the body of a size measures, or how old who wears it is.
const OF_BODY: Words = words! { chest, bust, age, ages, aged, alter, alder, brystvidde, leeftijd };
/// Words before `size` that make it one of a tool.
const OF_TOOLS: Words = words! { needle, needles, hook, us, uk, ndl, ndls, circular, ball };
const SIZE_WORDS: Words = words! {
    xxxs, xxs, xs, s, m, l, xl, xxl, xxxl, xxxxl, small, medium, large, petite, newborn, one,
    adult, adults, child, children, toddler, baby, infant, preemie, teen, youth, kids, women,
    woman, ladies, men, man, unisex, womens, mens, extra,
};
/// Those that say for whom: a size may follow, as in `adult S` or `women 34`.
const OF_WHOM: Words = words! {
    adult, adults, child, children, toddler, baby, infant, teen, youth, kids, women, woman,
    ladies, men, man, unisex, womens, mens,
};
/// What may stand behind the name of a size.
const TAILS: Words = words! {
    in, inch, inches, cm, month, months, mths, mos, mo, year, years, yrs, yr, size, small, large,
};
/// What sizes are measured in.
const UNITS: Words = words! {
    in, inch, inches, ins, cm, month, months, mths, mos, mo, year, years, yrs, yr, monate, jahre,
    mois, ans, maanden, jaar, meses, anos, mdr, ar, år,
};

/// Sizes that a text lists.
pub struct SizePhrase {
    /// Their names.
    pub names: Vec<String>,
    /// Bytes of the whole.
    pub span: Range<usize>,
    /// Whether they say whom they fit: `to fit chest 81 (86) cm`.
    pub of_body: bool,
}

impl SizePhrase {
    /// The same where other sizes count.
    pub fn not_read(&self, text: &str) -> NotRead {
        NotRead {
            text: text.get(self.span.clone()).unwrap_or("").to_owned(),
            span: self.span.clone(),
            why: "the sizes have other names already".to_owned(),
            unknown: true,
        }
    }
}

/// The first sizes behind a word for them, and the first behind a word for whom they fit.
pub fn size_phrases(text: &str) -> Vec<SizePhrase> {
    let tokens = lex(text);
    let mut found: Vec<SizePhrase> = Vec::new();
    for place in 0..tokens.len() {
        let Some(phrase) = size_phrase(&tokens, place, text) else {
            continue;
        };
        let is_told =
            |told: &SizePhrase| phrase.span.start < told.span.end || phrase.of_body == told.of_body;
        if !found.iter().any(is_told) {
            found.push(phrase);
        }
    }
    found
}

/// The sizes behind a word for them that stands at this place.
fn size_phrase(tokens: &[Token<'_>], place: usize, text: &str) -> Option<SizePhrase> {
    let lead = tokens.get(place)?;
    let of_body = lead.is_word(OF_BODY);
    let before = place.checked_sub(1).and_then(|before| tokens.get(before));
    let is_lead = of_body || lead.is_word(LEADS);
    if !is_lead || before.is_some_and(|token| token.is_word(OF_TOOLS)) {
        return None;
    }
    let colons = tokens
        .iter()
        .skip(place + 1)
        .take_while(|token| token.is(':') || token.is('='));
    let from = place + 1 + colons.count();
    let (mut names, count) = size_names(tokens.get(from..)?, text);
    let mut last = tokens.get((from + count).checked_sub(1)?)?;
    if names.is_empty() && !of_body && from > place + 1 {
        return free_names(text, (lead.span.start, last.span.end));
    }
    let behind = tokens.get(from + count..).unwrap_or(&[]);
    if let Some(unit) = unit_of_sizes(behind) {
        last = unit;
        let unit = unit.text.trim_end_matches('.');
        let bare = names
            .iter_mut()
            .filter(|name| !name.contains(char::is_alphabetic));
        bare.for_each(|name| *name = format!("{name} {unit}"));
    }
    let is_amount = names.len() == 1 && behind.first().is_some_and(|token| token.is(':'));
    let start = match before.filter(|before| of_body && before.is_word(words! { fit })) {
        Some(fit) => fit.span.start,
        None => lead.span.start,
    };
    (!names.is_empty() && !is_amount).then_some(SizePhrase {
        span: start..last.span.end,
        names,
        of_body,
    })
}

/// Names that are no usual ones of sizes, behind a colon: `Sizes: short (long)`. They end
/// with the sentence, and say nothing that is counted or measured.
fn free_names(text: &str, (start, from): (usize, usize)) -> Option<SizePhrase> {
    let rest = text.get(from..)?;
    let ends = [rest.find(['\n', ';']), rest.find(". ")];
    let end = ends.into_iter().flatten().min().unwrap_or(rest.len());
    let listed = rest.get(..end)?.trim_end().trim_end_matches('.');
    let brackets = ['(', ')', '[', ']', ',', '|'];
    let names = match listed.contains(brackets) {
        true => listed.split(&brackets[..]).collect::<Vec<_>>(),
        false => listed.split('/').collect(),
    };
    let names = names.into_iter().map(str::trim);
    let names: Vec<String> = names
        .filter(|name| !name.is_empty())
        .map(str::to_owned)
        .collect();
    let are_names = names.len() > 1 && names.iter().all(|name| is_free_name(name));
    are_names.then_some(SizePhrase {
        span: start..from + listed.len(),
        names,
        of_body: false,
    })
}

/// Whether a text of few words may name a size.
fn is_free_name(text: &str) -> bool {
    let tokens = lex(text);
    let counts = |pair: &[Token<'_>]| match pair {
        [number, word] => number.number().is_some() && word.word().is_some(),
        _ => false,
    };
    tokens.len() <= 6
        && text.chars().any(char::is_alphanumeric)
        && !text.contains([':', '=', '%'])
        && !tokens.windows(2).any(counts)
        && !tokens.iter().filter_map(Token::word).any(is_skein_word)
}

/// What all sizes before are measured in: `34 (36, 38) in`, `2 (4, 6) years`. Before a
/// further word `in` is none.
fn unit_of_sizes<'t>(behind: &'t [Token<'t>]) -> Option<&'t Token<'t>> {
    let (unit, next) = (behind.first()?, behind.get(1));
    let in_something = unit.is_word(words! { in })
        && !unit.text.ends_with('.')
        && next.is_some_and(|next| next.word().is_some());
    (unit.is_word(UNITS) && !in_something).then_some(unit)
}

/// The names of sizes alone, as in `S, M, L` or `S (M, L)`.
pub fn size_list(text: &str) -> Vec<String> {
    let tokens = lex(text);
    match size_names(&tokens, text) {
        (names, count) if count == tokens.len() => names,
        _ => {
            let names = text.split([',', ';', '|', '(', ')', '[', ']', '\n']);
            let names = names.map(str::trim).filter(|name| !name.is_empty());
            names.map(str::to_owned).collect()
        }
    }
}

/// Names of sizes from the first token on, and how many tokens they take.
fn size_names(tokens: &[Token<'_>], text: &str) -> (Vec<String>, usize) {
    let mut names = Vec::new();
    let (mut place, mut depth, mut taken) = (0, 0_usize, 0);
    while let Some(token) = tokens.get(place) {
        match token.kind {
            TokenKind::Symbol('(' | '[') => depth += 1,
            TokenKind::Symbol(')' | ']') if depth > 0 => {
                depth -= 1;
                taken = place + 1;
            }
            TokenKind::Symbol(',' | '|' | '/' | '-') => {}
            TokenKind::Symbol(';') if depth > 0 => {}
            TokenKind::Symbol(_) => break,
            _ => {
                let Some((name, next)) = size_name(tokens, place, depth > 0, text) else {
                    break;
                };
                let ends = name.ends_with('.');
                names.push(name.trim_end_matches('.').to_owned());
                (place, taken) = (next, next);
                if ends {
                    break;
                }
                continue;
            }
        }
        place += 1;
    }
    (names, taken)
}

/// The name of one size, and the place behind it; nothing where the words count or
/// measure something.
fn size_name(
    tokens: &[Token<'_>],
    place: usize,
    in_brackets: bool,
    text: &str,
) -> Option<(String, usize)> {
    let first = tokens.get(place)?;
    let named = first.is_word(SIZE_WORDS) || in_brackets && first.word().is_some();
    if !named && first.number().is_none() {
        return None;
    }
    let goes_on = |token: &&Token<'_>| {
        let parts = matches!(token.kind, TokenKind::Symbol(sign) if "()[],;:|".contains(sign));
        token.glued && !parts
    };
    let glued = tokens.iter().skip(place + 1).take_while(goes_on).count();
    let mut next = place + 1 + glued;
    let is_size = |token: &Token<'_>| {
        token.number().is_some() || token.is_word(SIZE_WORDS) && !token.is_word(OF_WHOM)
    };
    if first.is_word(OF_WHOM) && tokens.get(next).is_some_and(is_size) {
        let more = tokens.iter().skip(next + 1);
        next += 1 + more.take_while(goes_on).count();
    }
    if tokens.get(next).is_some_and(|token| token.is_word(TAILS)) {
        next += 1;
    }
    let behind = tokens.get(next).and_then(Token::word);
    let counted = behind.is_some_and(|word| is_skein_word(word) || first.number().is_some());
    let last = tokens.get(next.checked_sub(1)?)?;
    let name = text.get(first.span.start..last.span.end)?;
    (!counted).then(|| (name.to_owned(), next))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_of_sizes_alone_may_name_them_freely() {
        assert_eq!(size_list("S, M, L"), ["S", "M", "L"]);
        assert_eq!(size_list("S (M, L)"), ["S", "M", "L"]);
        assert_eq!(
            size_list("to the knee, to the ankle"),
            ["to the knee", "to the ankle"]
        );
        assert_eq!(size_list(" "), [""; 0]);
    }
}
