//! What was read of a text and then corrected field by field.

use super::{AppError, FormData, InputReader, question::candidate::Candidate, read::facts_of};
use crate::{
    label::{band::BandReading, reading::Note},
    record::YarnFacts,
};

/// What is wanted, from its fields.
pub(super) fn wanted(typed: &FormData, reader: &mut InputReader) -> Result<BandReading, AppError> {
    Ok(BandReading {
        facts: facts(typed, "wanted-", reader)?,
        strands_held: reader.whole("wanted-strands", Some(typed.text("strands")), 1..=9),
        ..BandReading::default()
    })
}

/// A candidate from the fields of its band.
pub(super) fn offered(
    title: &str,
    typed: &FormData,
    reader: &mut InputReader,
) -> Result<Candidate, AppError> {
    Ok(Candidate {
        title: format!("\"{}\"", title.trim()),
        facts: facts(typed, "offered-", reader)?,
        ..Candidate::default()
    })
}

fn facts(typed: &FormData, prefix: &str, reader: &mut InputReader) -> Result<YarnFacts, AppError> {
    let (facts, notes) = facts_of(typed, prefix)?;
    let note = |message| Note {
        span: 0..0,
        message,
    };
    reader.note("", notes.into_iter().map(note));
    Ok(facts)
}
