//! What was read of a text and then corrected field by field.

use super::{
    AppError, FormData,
    candidate::Candidate,
    fields::{FieldFault, FieldFaults},
    heard::Heard,
    read::facts_of,
};
use crate::label::band::BandReading;

/// What is wanted, from its fields.
pub(super) fn wanted(typed: &FormData, heard: &mut Heard) -> Result<BandReading, AppError> {
    let (facts, notes) = facts_of(typed, "wanted-")?;
    heard.warnings.extend(notes);
    Ok(BandReading {
        facts,
        strands_held: strands("wanted-strands", typed.text("strands"))?,
        ..BandReading::default()
    })
}

/// A candidate from the fields of its band.
pub(super) fn offered(
    title: &str,
    typed: &FormData,
    warnings: &mut Vec<String>,
) -> Result<Candidate, AppError> {
    let (facts, notes) = facts_of(typed, "offered-")?;
    warnings.extend(notes);
    Ok(Candidate {
        title: format!("\"{}\"", title.trim()),
        facts,
        ..Candidate::default()
    })
}

/// Strands held together, as typed; nothing where nothing is.
pub fn strands(field: &str, text: &str) -> Result<Option<u8>, AppError> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    match text.trim().parse() {
        Ok(strands @ 1..=9) => Ok(Some(strands)),
        _ => Err(AppError::Fields(FieldFaults(vec![FieldFault {
            field: field.to_owned(),
            message: format!(
                "`{}` is no number of strands: write a whole number from 1 to 9",
                crate::words::safe(text.trim())
            ),
        }]))),
    }
}
