//! What each role of the pattern is offered: one yarn for all of them, several held
//! together, or a yarn for each.

use super::CheckRequest;
use crate::app::{
    AppError, FaultKind, FormData, InputReader, QuestionFault, Records,
    corrected::offered,
    input::filled,
    question::{ResolvedQuestion, candidate::Candidate, role_yarn::RoleYarn},
};

/// The most different yarns that are held together.
const MOST_ENDS: usize = 3;

/// What the roles are offered.
pub(super) struct Offers {
    /// One for each role that is left in the question, in order.
    pub(super) yarns: Vec<Candidate>,
    /// Keys of the roles for which no yarn is named.
    pub(super) unnamed: Vec<String>,
}

/// What is offered, where no fault was found in it; the question keeps the roles that
/// have a yarn.
pub(super) fn offers(
    records: &Records,
    request: &CheckRequest,
    asked: Option<&mut ResolvedQuestion>,
    reader: &mut InputReader,
) -> Result<Option<Offers>, AppError> {
    let with = reader.several("with", &request.with);
    let with = texts(with);
    let yarns = texts(&request.yarn);
    if with.is_empty() {
        let found = candidate(records, request, &yarns, reader)?;
        return Ok(found.zip(asked).map(|(yarn, asked)| Offers {
            yarns: vec![yarn; asked.roles.len()],
            unnamed: Vec::new(),
        }));
    }
    if !yarns.is_empty() {
        reader.fault("with", FaultKind::NotWith("yarn"));
    }
    if filled(request.have.as_deref()).is_some() {
        reader.fault("have", QuestionFault::HaveOfSeveral);
    }
    match asked {
        Some(asked) => for_each_role(records, request, asked, reader, &with),
        None => Ok(None),
    }
}

fn texts(typed: &[String]) -> Vec<&str> {
    let texts = typed.iter().map(|text| text.trim());
    texts.filter(|text| !text.is_empty()).collect()
}

/// The yarn that is asked about, or the strand that several are.
fn candidate(
    records: &Records,
    request: &CheckRequest,
    texts: &[&str],
    reader: &mut InputReader,
) -> Result<Option<Candidate>, AppError> {
    if texts.is_empty() {
        reader.fault("yarn", FaultKind::Missing);
        return Ok(None);
    }
    if texts.len() > 1 && filled(request.have.as_deref()).is_some() {
        reader.fault("have", QuestionFault::HaveOfSeveral);
    }
    let mut ends: Vec<Candidate> = Vec::new();
    for (place, text) in texts.iter().enumerate().take(MOST_ENDS + 1) {
        let corrected = request.band_fields.as_ref().filter(|_| place == 0);
        let Some(end) = end(records, (request, text, corrected), reader)? else {
            return Ok(None);
        };
        ends.push(end);
    }
    Ok(held_together("yarn", ends, reader))
}

/// One yarn that is named, or what its label says.
fn end(
    records: &Records,
    (request, text, corrected): (&CheckRequest, &str, Option<&FormData>),
    reader: &mut InputReader,
) -> Result<Option<Candidate>, AppError> {
    if let Some(typed) = corrected {
        return Ok(offered(text, typed, reader));
    }
    let found = records.candidate(text, request.question.terms.with_reserved, reader);
    reader.keep(found)
}

/// The yarn that is alone, or all as one strand; nothing where they are too many.
fn held_together(
    field: &str,
    mut ends: Vec<Candidate>,
    reader: &mut InputReader,
) -> Option<Candidate> {
    if ends.len() > MOST_ENDS {
        let (given, most) = (ends.len(), MOST_ENDS);
        reader.fault(field, FaultKind::TooMany { given, most });
        return None;
    }
    match ends.len() {
        1 => ends.pop(),
        _ => Some(Candidate::held_together(ends)),
    }
}

/// A yarn for each role: of a role that is named twice, yarns held together.
fn for_each_role(
    records: &Records,
    request: &CheckRequest,
    asked: &mut ResolvedQuestion,
    reader: &mut InputReader,
    texts: &[&str],
) -> Result<Option<Offers>, AppError> {
    let mut ends: Vec<Vec<Candidate>> = vec![Vec::new(); asked.roles.len()];
    for text in texts {
        let named = RoleYarn::read(text, asked);
        let only = (asked.roles.len() == 1).then_some(0);
        let Some(ends) = named.role.or(only).and_then(|role| ends.get_mut(role)) else {
            reader.fault("with", yarn_for_no_role(text, asked));
            continue;
        };
        let with_reserved = request.question.terms.with_reserved;
        let found = records.candidate_in_shade(("with", named.yarn), with_reserved, reader);
        ends.extend(reader.keep(found)?);
    }
    let mut offers = Offers {
        yarns: Vec::new(),
        unnamed: Vec::new(),
    };
    let mut roles = Vec::new();
    for (role, ends) in std::mem::take(&mut asked.roles).into_iter().zip(ends) {
        if ends.is_empty() {
            offers.unnamed.push(role.key);
        } else if let Some(yarn) = held_together("with", ends, reader) {
            offers.yarns.push(yarn);
            roles.push(role);
        }
    }
    asked.roles = roles;
    Ok(Some(offers))
}

fn yarn_for_no_role(text: &str, asked: &ResolvedQuestion) -> QuestionFault {
    let keys = asked.roles.iter().map(|role| role.key.clone());
    QuestionFault::YarnForNoRole {
        pattern: asked.title.clone(),
        given: text.to_owned(),
        keys: keys.collect(),
    }
}
