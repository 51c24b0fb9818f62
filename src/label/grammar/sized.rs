//! Numbers with the names of their sizes: `XS/S 7 M 8`, `34 (36, 38): 7 (8, 9)`.

use super::{
    numbers::{Counted, Entry, Of, list, unit},
    size_names::any_size_name,
};
use crate::label::reading::{Parsed, Token, Tokens, number_range, symbol};
use winnow::{
    Parser,
    combinator::{alt, opt, repeat},
    error::EmptyError,
    token::any,
};

/// `XS/S 7 M 8 L 9 XL 10 balls`.
pub fn named(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let one = |input: &mut Tokens<'_>| {
        let size = size_label(input)?;
        let range = number_range(input)?;
        let size_follows = (size_label, number_range)
            .parse_next(&mut input.clone())
            .is_ok();
        let unit = match size_follows {
            true => None,
            false => opt(unit).parse_next(input)?,
        };
        repeat::<_, _, (), _, _>(0..2, symbol(",;/|")).parse_next(input)?;
        Ok((
            Entry {
                size: Some(size),
                range,
            },
            unit,
        ))
    };
    let entries: Vec<(Entry, Option<Of>)> = repeat(2..40, one).parse_next(input)?;
    let of = entries
        .iter()
        .rev()
        .find_map(|(_, of)| *of)
        .unwrap_or(Of::Nothing);
    let numeric = |(entry, _): &(Entry, Option<Of>)| {
        let size = entry.size.as_deref().unwrap_or("");
        size.chars().all(|c| c.is_ascii_digit())
    };
    if of == Of::Nothing && entries.iter().any(numeric) {
        return Err(EmptyError);
    }
    Ok(Counted {
        entries: entries.into_iter().map(|(entry, _)| entry).collect(),
        of,
        unclear: None,
    })
}

/// `XS`, `M:`, or a size of figures, which wants its colon: `34:`.
fn size_label(input: &mut Tokens<'_>) -> Parsed<String> {
    let figures = |input: &mut Tokens<'_>| {
        let token = any
            .verify(|token: &&Token<'_>| token.text.chars().all(|c| c.is_ascii_digit()))
            .parse_next(input)?;
        symbol(":").parse_next(input)?;
        Ok(token.text.to_owned())
    };
    let letters = |input: &mut Tokens<'_>| {
        let name = any_size_name(input)?;
        opt(symbol(":=-")).parse_next(input)?;
        Ok(name)
    };
    alt((letters, figures)).parse_next(input)
}

fn name_or_figures(input: &mut Tokens<'_>) -> Parsed<String> {
    let figures = |input: &mut Tokens<'_>| {
        any.verify(|token: &&Token<'_>| token.text.chars().all(|c| c.is_ascii_digit()))
            .map(|token: &Token<'_>| token.text.to_owned())
            .parse_next(input)
    };
    alt((any_size_name, figures)).parse_next(input)
}

/// `S (M, L): 5 (6, 7) balls`, `34 (36, 38): 7 (8, 9) balls`.
pub fn headed(input: &mut Tokens<'_>) -> Parsed<Counted> {
    let by_figures = any_size_name(&mut input.clone()).is_err();
    let first = name_or_figures(input)?;
    let more: Vec<String> = repeat(1..40, |input: &mut Tokens<'_>| {
        repeat::<_, _, (), _, _>(1..3, symbol("(),[]-;")).parse_next(input)?;
        name_or_figures(input)
    })
    .parse_next(input)?;
    let parted: Vec<char> = repeat(0..3, symbol(")]:=-")).parse_next(input)?;
    if by_figures && !parted.contains(&':') {
        return Err(EmptyError);
    }
    let mut counted = list(input)?;
    if counted.entries.len() != more.len() + 1 {
        return Err(EmptyError);
    }
    for (entry, size) in counted
        .entries
        .iter_mut()
        .zip(std::iter::once(first).chain(more))
    {
        entry.size = Some(size);
    }
    Ok(counted)
}
