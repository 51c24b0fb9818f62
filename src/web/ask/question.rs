//! The fields of the question, to a question of the app.

use super::{Refused, correct};
use crate::{
    app::{self, FormData, Keep, PatternChoice, Question},
    web::{faults::Fault, pattern_choice::chosen, sent::some},
};

/// The question that was asked.
pub(super) fn question(typed: &FormData, patterns: &[PatternChoice]) -> Result<Question, Refused> {
    let (pattern, size) = chosen(typed, patterns).map_err(Refused::ByForm)?;
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
        sure: some(typed, "sure"),
        own_use: some(typed, "own-use"),
        with_reserved: some(typed, "with-reserved").is_some(),
        ..Question::default()
    })
}
