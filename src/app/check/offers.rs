//! What each role of the pattern is offered: one yarn for all of them, several held
//! together, or a yarn for each.

use super::CheckRequest;
use crate::{
    app::{
        AppError, FaultKind, FormData, InputReader, QuestionFault, Records,
        corrected::offered,
        input::filled,
        question::{
            ResolvedQuestion, Role,
            candidate::{Candidate, MOST_ENDS, one_strand},
            lookup::own_yarn,
            role_yarn::RoleYarn,
        },
    },
    store::Store,
};

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
        let ends = ends(records, request, &yarns, reader)?;
        let Some((ends, asked)) = ends.zip(asked) else {
            return Ok(None);
        };
        let terms = &request.question.terms;
        let each = asked.roles.iter().map(|role| match role.only_end {
            None => Ok(one_strand("yarn", ends.clone(), reader)),
            place => {
                let named = ends.iter().map(|yarn| (place, yarn.clone())).collect();
                in_place_of_each(records, terms.with_reserved, role, &named).map(Some)
            }
        });
        let yarns: Option<Vec<Candidate>> = each.collect::<Result<_, _>>()?;
        return Ok(yarns.map(|yarns| Offers {
            yarns,
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

/// The yarns that are asked about: one, or several to be held together.
fn ends(
    records: &Records,
    request: &CheckRequest,
    texts: &[&str],
    reader: &mut InputReader,
) -> Result<Option<Vec<Candidate>>, AppError> {
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
    Ok(Some(ends))
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

/// What is named for one role: each yarn, and which of those that the role holds together
/// it stands for.
type Named = Vec<(Option<usize>, Candidate)>;

/// A yarn for each role: of a role that is named twice, yarns held together.
fn for_each_role(
    records: &Records,
    request: &CheckRequest,
    asked: &mut ResolvedQuestion,
    reader: &mut InputReader,
    texts: &[&str],
) -> Result<Option<Offers>, AppError> {
    let with_reserved = request.question.terms.with_reserved;
    let mut named: Vec<Named> = vec![Vec::new(); asked.roles.len()];
    for text in texts {
        let mut read = RoleYarn::read(text, asked);
        // Where yarns are held together it has to be said which of them is meant.
        let is_one = matches!(asked.roles.as_slice(), [only] if only.each_yarn().len() == 1);
        let only = is_one.then_some(0);
        if read.role.is_none() {
            let role = asked.roles.first().filter(|_| is_one);
            read.end = role.and_then(|role| role.only_end);
        }
        let Some(named) = read.role.or(only).and_then(|role| named.get_mut(role)) else {
            reader.fault("with", yarn_for_no_role(text, asked));
            continue;
        };
        if named
            .iter()
            .any(|(end, _)| end.is_some() != read.end.is_some())
        {
            reader.fault("with", yarn_for_no_role(text, asked));
        }
        let found = records.candidate_in_shade(("with", read.yarn), with_reserved, reader);
        named.extend(reader.keep(found)?.map(|yarn| (read.end, yarn)));
    }
    let mut offers = Offers {
        yarns: Vec::new(),
        unnamed: Vec::new(),
    };
    let mut roles = Vec::new();
    for (role, named) in std::mem::take(&mut asked.roles).into_iter().zip(named) {
        if named.is_empty() {
            offers.unnamed.push(role.key);
            continue;
        }
        let yarn = match named.iter().all(|(end, _)| end.is_some()) {
            true => Some(in_place_of_each(records, with_reserved, &role, &named)?),
            false => one_strand("with", yarns_of(named), reader),
        };
        if let Some(yarn) = yarn {
            offers.yarns.push(yarn);
            roles.push(role);
        }
    }
    asked.roles = roles;
    Ok(Some(offers))
}

fn yarns_of(named: Named) -> Vec<Candidate> {
    named.into_iter().map(|(_, yarn)| yarn).collect()
}

/// The strand of what is named for each yarn that the role holds together; of one that
/// nothing is named for, the pattern's own yarn. One yarn is held with as many strands as
/// the one that it stands for.
fn in_place_of_each(
    records: &Records,
    with_reserved: bool,
    role: &Role,
    named: &Named,
) -> Result<Candidate, AppError> {
    let mut strand = Vec::new();
    for (place, end) in role.ends.iter().enumerate() {
        let meant = named.iter().filter(|(of, _)| *of == Some(place));
        let mut yarns: Vec<Candidate> = meant.map(|(_, yarn)| yarn.clone()).collect();
        if yarns.is_empty() {
            let reader = records.maybe().map(Store::reader).transpose()?;
            yarns.push(own_yarn(reader.as_ref(), end, with_reserved)?);
        }
        let strands = match yarns.as_slice() {
            [_] => end.wanted.strands,
            _ => 1,
        };
        let yarns = yarns.into_iter().map(|yarn| yarn.in_place_of(place));
        for yarn in yarns {
            strand.extend(std::iter::repeat_n(yarn, usize::from(strands)));
        }
    }
    Ok(Candidate::held_together(strand))
}

fn yarn_for_no_role(text: &str, asked: &ResolvedQuestion) -> QuestionFault {
    let keys = asked.roles.iter().flat_map(Role::each_yarn);
    let keys = keys.map(|role| role.key.clone());
    QuestionFault::YarnForNoRole {
        pattern: asked.title.clone(),
        given: text.to_owned(),
        keys: keys.collect(),
    }
}
