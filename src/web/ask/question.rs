//! The fields of the question, to a question of the app.

use super::{Refused, correct};
use crate::{
    app::{self, Keep, PatternChoice, Question, Typed},
    web::{body::encoded, faults::Fault, sent::some},
};

/// The question that was asked.
pub(super) fn question(typed: &Typed, patterns: &[PatternChoice]) -> Result<Question, Refused> {
    let (pattern, size) = chosen(typed, patterns)?;
    let wants = some(typed, "wants").filter(|_| pattern.is_none());
    if pattern.is_some() && some(typed, "wants").is_some() {
        return Err(Refused::ByForm(Fault::of(
            "wants",
            "a pattern is chosen above as well: choose none there, or leave this empty",
        )));
    }
    if pattern.is_none() && wants.is_none() {
        return Err(Refused::ByForm(Fault::of(
            "wants",
            "nothing is asked yet: choose a pattern above, or write what it says of its yarn",
        )));
    }
    let keep = match typed.text("keep") {
        "counts" => Some(Keep::Counts),
        "size" => Some(Keep::Size),
        _ => None,
    };
    Ok(Question {
        need: some(typed, "need").filter(|_| wants.is_some()),
        wants_fields: correct::corrected(typed, "wanted").filter(|_| wants.is_some()),
        offered_fields: correct::corrected(typed, "offered"),
        pattern,
        wants,
        size,
        role: some(typed, "for"),
        tolerance: some(typed, "tolerance"),
        margin: some(typed, "margin"),
        fit: some(typed, "fit"),
        purpose: some(typed, "purpose"),
        care: some(typed, "care"),
        own_gauge: some(typed, "own-gauge"),
        keep,
        strands: app::strands("strands", typed.text("strands"))?,

        with_reserved: some(typed, "with-reserved").is_some(),
        ..Question::default()
    })
}

/// The pattern and the size of the list: `12`, or `12:3` for its fourth size.
fn chosen(
    typed: &Typed,
    patterns: &[PatternChoice],
) -> Result<(Option<String>, Option<String>), Refused> {
    let Some(choice) = some(typed, "pattern") else {
        return Ok((None, None));
    };
    let (number, size) = match choice.split_once(':') {
        Some((number, size)) => (number, Some(size)),
        None => (choice.as_str(), None),
    };
    let pattern = number
        .parse()
        .ok()
        .and_then(|number: i64| patterns.iter().find(|pattern| pattern.number == number));
    let size = size.map(|size| {
        let place: usize = size.parse().ok()?;
        pattern?.sizes.get(place)
    });
    match (pattern, size) {
        (Some(pattern), None) => Ok((Some(pattern.name.clone()), None)),
        (Some(pattern), Some(Some(size))) => Ok((Some(pattern.name.clone()), Some(size.clone()))),
        _ => Err(Refused::ByForm(Fault::of(
            "pattern",
            "this pattern or size is no longer kept: choose another",
        ))),
    }
}

/// The fields as the query of a link.
pub(super) fn query(typed: &Typed) -> String {
    query_without(typed, &[])
}

/// The same without some fields.
pub(super) fn query_without(typed: &Typed, without: &[&str]) -> String {
    let pairs: Vec<String> = typed
        .iter()
        .filter(|(name, text)| !without.contains(name) && !text.is_empty())
        .map(|(name, text)| format!("{}={}", encoded(name), encoded(text)))
        .collect();
    pairs.join("&")
}
