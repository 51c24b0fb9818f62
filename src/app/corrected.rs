//! What was read of a text and then corrected field by field.

use super::{
    FormData, InputReader,
    question::{candidate::Candidate, lookup::doubts_of},
    read::facts_of,
};
use crate::label::band::BandReading;

/// What is wanted, from its fields; nothing where a fault was found in them.
pub(super) fn wanted(typed: &FormData, reader: &mut InputReader) -> Option<BandReading> {
    Some(BandReading {
        strands_held: reader.whole("wanted-strands", Some(typed.text("strands")), 1..=9),
        facts: facts_of(typed, "wanted-", reader)?,
        ..BandReading::default()
    })
}

/// A candidate from the fields of its band; nothing where a fault was found in them.
pub(super) fn offered(
    title: &str,
    typed: &FormData,
    reader: &mut InputReader,
) -> Option<Candidate> {
    let facts = facts_of(typed, "offered-", reader)?;
    Some(Candidate {
        title: format!("\"{}\"", title.trim()),
        doubts: doubts_of(&facts),
        facts,
        ..Candidate::default()
    })
}
