//! What is said beside an answer: of each yarn, of amounts that are not known, and of
//! wishes that are not met.

use super::{RoleAnswer, given};
use crate::{
    app::question::{
        ResolvedQuestion,
        answer::{CandidateAnswer, Remark},
        candidate::Candidate,
        wishes::UnmetWish,
    },
    label::measured::measured_range,
};

pub(super) fn remarks(
    asked: &ResolvedQuestion,
    yarns: &[Candidate],
    roles: &[RoleAnswer],
) -> Vec<Remark> {
    let is_counted = |role: &RoleAnswer| {
        let mut yarns = role.offered.each_yarn().iter();
        yarns.any(|yarn| !yarn.skeins.is_empty())
    };
    let counted = roles.iter().any(is_counted);
    let mut found = Vec::new();
    for yarn in yarns {
        let of_yarn = remarks_of(yarn, counted).into_iter();
        found.extend(of_yarn.map(|remark| of(&yarn.title, yarns.len(), remark)));
    }
    let unknown = roles.iter().filter(|role| !is_counted(role));
    let unknown: Vec<&RoleAnswer> = unknown.filter(|role| role.estimates.is_empty()).collect();
    if yarns.len() > 1 || unknown.len() == roles.len() {
        found.extend(unknown.iter().map(|role| {
            let remark = missing_amount(asked, &role.offered.candidate);
            of(&role.key, yarns.len(), remark)
        }));
        found.dedup();
    }
    found
}

/// What is said of one of several yarns names it.
fn of(name: &str, yarns: usize, remark: Remark) -> Remark {
    match yarns {
        0 | 1 => remark,
        _ => Remark::Of(name.to_owned(), Box::new(remark)),
    }
}

fn remarks_of(candidate: &Candidate, counted: bool) -> Vec<Remark> {
    let has_lots = |candidate: &Candidate| !candidate.lots.is_empty();
    let in_stock = has_lots(candidate) || candidate.ends.iter().any(has_lots);
    let not_in_stock = candidate.kept && !in_stock && counted;
    let discontinued = candidate.discontinued.then_some(Remark::Discontinued);
    let measured = measured_range(&candidate.facts).map(Remark::AsMeasured);
    let stock = not_in_stock.then_some(Remark::NotInStock);
    discontinued
        .into_iter()
        .chain(measured)
        .chain(stock)
        .collect()
}

/// What of the wishes the yarns do not meet: where no lot is as wished, nothing is said
/// of how much of it there is. What all of them cost counts together.
pub(super) fn unmet(
    asked: &ResolvedQuestion,
    roles: &[RoleAnswer],
    other_lots: &[(String, UnmetWish)],
) -> Vec<Remark> {
    let each = roles.iter().flat_map(|role| role.offered.each_yarn());
    let each: Vec<&CandidateAnswer> = each.collect();
    let names = given(roles);
    let names = names
        .iter()
        .filter(|name| Some(*name) != names.first())
        .count();
    let mut found = Vec::new();
    for yarn in &each {
        let title = &yarn.candidate.title;
        let known = other_lots.iter().find(|(name, _)| name == title);
        let why = known.map(|(_, why)| why.clone()).or_else(|| {
            let wishes = &asked.wishes;
            wishes.unmet_amount(&yarn.candidate, &yarn.skeins, &yarn.cover)
        });
        let why = why.map(|why| of(title, names + 1, Remark::Unmet(why)));
        found.extend(why.filter(|why| !found.contains(why)));
    }
    let bought = each
        .iter()
        .map(|yarn| (&yarn.candidate, yarn.skeins.clone()));
    let cost = asked.wishes.unmet_cost_of_each(&bought.collect::<Vec<_>>());
    found.extend(cost.map(Remark::Unmet));
    found
}

fn missing_amount(asked: &ResolvedQuestion, candidate: &Candidate) -> Remark {
    if asked.roles.iter().all(|role| role.needs.is_empty()) {
        Remark::NeedNotStated
    } else if candidate.ends.is_empty() && candidate.facts.skein_length().is_none() {
        Remark::SkeinNotKnown
    } else {
        Remark::NeedInMass
    }
}
