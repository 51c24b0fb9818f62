//! The other way round: the patterns that a yarn would work for, judged as [`check`]
//! judges each of them.
//!
//! [`check`]: crate::app::check()

mod replace;
mod request;

pub use replace::{ReplaceAnswer, Replacement, replace};
pub use request::{ReplaceRequest, SuitsRequest};

use super::{
    AppError, FieldNote, InputReader, QuestionRequest, Records, RoleAnswer,
    candidate_search::held_together::Beside,
    check::roles,
    input::filled,
    question::{
        ResolvedQuestion,
        amounts::SizePurchase,
        answer::Working,
        candidate::Candidate,
        cover::SizeCover,
        resolve,
        wishes::{LeftOutReason, UnmetWish},
    },
};
use crate::{
    app::FaultKind,
    record::{Pattern, Stored},
    store::Reader,
};
use ordered_float::OrderedFloat;
use replace::LeftOutCounts;

/// Answer to [`suits`].
#[derive(Debug, Clone)]
pub struct SuitsAnswer {
    /// The yarn.
    pub candidate: Candidate,
    /// How many patterns there are.
    pub patterns: usize,
    /// What it comes to for each yarn of each pattern, the best first.
    pub rows: Vec<SuitedRole>,
    /// What was assumed.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// What a yarn comes to for one yarn of a pattern.
#[derive(Debug, Clone)]
pub struct SuitedRole {
    /// The pattern.
    pub pattern: String,
    /// Whether the pattern has no other yarn.
    pub is_only: bool,
    /// What it comes to.
    pub role: RoleAnswer,
}

/// Judges a yarn for every yarn of every pattern. Within a pattern one yarn comes after
/// the other, so that nothing of the stash is counted twice.
pub fn suits(records: &Records, request: &SuitsRequest) -> Result<SuitsAnswer, AppError> {
    let mut input = InputReader::default();
    let Some(yarn) = filled(request.yarn.as_deref()) else {
        input.fault("yarn", FaultKind::Missing);
        return input.checked(None);
    };
    let candidate = records.candidate(yarn, request.terms.with_reserved, &mut input)?;
    let reader = records.store()?.reader()?;
    let patterns = reader.patterns()?;
    let question = request.question();
    let (mut rows, mut working) = (Vec::new(), Vec::new());
    let mut left_out: LeftOutCounts = Vec::new();
    for pattern in &patterns {
        let asked = asked_of(pattern, &question)?;
        keep_assumed(&mut working, &asked);
        // In place of a whole strand, and of each yarn of it.
        let ends = asked.only_ends();
        add_rows(&reader, &asked, &candidate, (&mut rows, &mut left_out))?;
        add_rows(&reader, &ends, &candidate, (&mut rows, &mut left_out))?;
    }
    rows.sort_by_key(order);
    if !left_out.is_empty() {
        working.push(Working::LeftOut(left_out));
    }
    Ok(SuitsAnswer {
        candidate,
        patterns: patterns.len(),
        rows,
        working,
        notes: input.notes,
    })
}

/// What it comes to for each role of one pattern that is as wished; the others are counted.
fn add_rows(
    reader: &Reader<'_>,
    asked: &ResolvedQuestion,
    candidate: &Candidate,
    (rows, left_out): (&mut Vec<SuitedRole>, &mut LeftOutCounts),
) -> Result<(), AppError> {
    let mut meant = candidate.clone();
    let other_lots = asked.wishes.keep_lots(&mut meant);
    let beside = asked.roles.iter();
    let beside = beside.map(|role| Beside::of((reader, false), role));
    let beside: Vec<Option<Beside>> = beside.collect::<Result<_, _>>()?;
    let offered = beside.iter().map(|beside| match beside {
        Some(beside) => beside.strand(meant.clone()),
        None => meant.clone(),
    });
    let offered: Vec<Candidate> = offered.collect();
    let each = asked.roles.iter().zip(&beside);
    let each = each.map(|(role, beside)| match beside {
        Some(_) => role.clone(),
        None => role.alone().clone(),
    });
    let asked = &ResolvedQuestion {
        roles: each.collect(),
        ..asked.clone()
    };
    let is_only = matches!(asked.roles.as_slice(), [only] if only.ends.is_empty());
    for (mut role, beside) in roles(asked, &offered, 1)?.into_iter().zip(beside) {
        if let Some(beside) = beside {
            role.offered = beside.own(role.offered);
        }
        let mut asks = asked.roles.iter();
        if asks.any(|it| it.key == role.key && it.holds(&candidate.title)) {
            continue;
        }
        if let Some(why) = unwished(asked, &meant, &mut role, other_lots.clone()) {
            match left_out.iter_mut().find(|(known, _)| *known == why) {
                Some((_, count)) => *count += 1,
                None => left_out.push((why, 1)),
            }
            continue;
        }
        rows.push(SuitedRole {
            pattern: asked.title.clone(),
            is_only,
            role,
        });
    }
    Ok(())
}

/// Leaves a role the sizes that are as wished; why none is.
fn unwished(
    asked: &ResolvedQuestion,
    candidate: &Candidate,
    role: &mut RoleAnswer,
    other_lots: Option<UnmetWish>,
) -> Option<LeftOutReason> {
    let blend = candidate.facts.blend.as_ref().map(|blend| &blend.value);
    if let Some(excluded) = asked.settings.limits.exclusion(blend) {
        return Some(LeftOutReason::Fibre(excluded));
    }
    if let Some(why) = other_lots {
        return Some(LeftOutReason::Wish(why));
    }
    let unmet = |skeins: &[SizePurchase], covers: &[SizeCover]| {
        let amount = asked.wishes.unmet_amount(candidate, skeins, covers);
        amount.or_else(|| asked.wishes.unmet_cost(candidate.price(), skeins))
    };
    let offered = &mut role.offered;
    if offered.skeins.is_empty() {
        return unmet(&[], &[]).map(LeftOutReason::Wish);
    }
    let covers = &mut offered.cover;
    let mut why = None;
    offered.skeins.retain(|bought| {
        let of_size = covers.iter().filter(|cover| cover.size == bought.size);
        let of_size: Vec<SizeCover> = of_size.cloned().collect();
        let found = unmet(std::slice::from_ref(bought), &of_size);
        why = why.take().or_else(|| found.clone());
        found.is_none()
    });
    let skeins = &offered.skeins;
    covers.retain(|cover| skeins.iter().any(|bought| bought.size == cover.size));
    why.filter(|_| skeins.is_empty()).map(LeftOutReason::Wish)
}

/// The verdict, then how far it differs; patterns and their yarns stay in order.
fn order(row: &SuitedRole) -> impl Ord + use<> {
    let judgement = &row.role.offered.judgement;
    let overall = judgement.overall.unwrap_or(f64::INFINITY);
    (judgement.verdict, OrderedFloat(overall))
}

/// The question about one pattern; what is typed wrongly is refused at the first.
fn asked_of(
    pattern: &Stored<Pattern>,
    question: &QuestionRequest,
) -> Result<ResolvedQuestion, AppError> {
    let mut input = InputReader::default();
    let asked = resolve(&mut input, question, Some(&pattern.record))?;
    input.checked(asked)
}

/// What was assumed, each thing once; the rest differs from pattern to pattern.
fn keep_assumed(working: &mut Vec<Working>, asked: &ResolvedQuestion) {
    let is_assumed = |it: &&Working| {
        matches!(
            it,
            Working::UsualTolerance(_)
                | Working::MarginNotStated(_)
                | Working::FibreLimits(_)
                | Working::Wishes(_)
        )
    };
    for assumed in asked.working.iter().filter(is_assumed) {
        if !working.contains(assumed) {
            working.push(assumed.clone());
        }
    }
}
