//! The fields of the question, to a question of the app.

use super::{Refused, correct};
use crate::{
    app::{self, FormData, Keep, PatternChoice, Question},
    web::{field_errors::FieldError, pattern_choice::chosen},
};

/// The question that was asked.
pub(super) fn question(typed: &FormData, patterns: &[PatternChoice]) -> Result<Question, Refused> {
    let (pattern, size) = chosen(typed, patterns).map_err(Refused::ByForm)?;
    let wants = typed.filled("wants").filter(|_| pattern.is_none());
    if pattern.is_some() && typed.filled("wants").is_some() {
        return Err(Refused::ByForm(FieldError::new(
            "wants",
            "a pattern is chosen above as well: choose none there, or leave this empty",
        )));
    }
    if pattern.is_none() && wants.is_none() {
        return Err(Refused::ByForm(FieldError::new(
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
        need: typed.filled("need").filter(|_| wants.is_some()),
        wants_fields: correct::corrected(typed, "wanted").filter(|_| wants.is_some()),
        offered_fields: correct::corrected(typed, "offered"),
        pattern,
        wants,
        size,
        role: typed.filled("for"),
        tolerance: typed.filled("tolerance"),
        margin: typed.filled("margin"),
        fit: typed.filled("fit"),
        purpose: typed.filled("purpose"),
        care: typed.filled("care"),
        own_gauge: typed.filled("own-gauge"),
        keep,
        strands: app::strands("strands", typed.text("strands"))?,
        sure: typed.filled("sure"),
        own_use: typed.filled("own-use"),
        with_reserved: typed.filled("with-reserved").is_some(),
        ..Question::default()
    })
}
