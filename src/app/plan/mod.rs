//! Several projects from one stash: what can be made, with which yarn of which lots, and
//! the least to buy for what cannot.

mod buying;
mod request;
mod stash;

pub use buying::{PlannedPurchase, ShoppingList};
pub use request::PlanRequest;

use super::{
    AppError, FaultKind, FieldNote, InputReader, QuestionFault, Records,
    question::{
        ResolvedQuestion, Role,
        answer::{CandidateAnswer, Working},
        candidate::StockLot,
        cover::Allotted,
        resolve,
    },
};
use crate::{
    measure::Length,
    planning::{Made, Roles, share_out},
};
use buying::Shopping;
use stash::{RoleChoices, Stash};
use std::time::{Duration, Instant};

/// How long the best plan is looked for.
const PATIENCE: Duration = Duration::from_secs(2);

/// The most projects of one plan.
const MOST_PROJECTS: usize = 40;

/// Answer to [`plan`].
#[derive(Debug, Clone)]
pub struct PlanAnswer {
    /// What can be made, in the order that was asked.
    pub made: Vec<PlannedProject>,
    /// What cannot, in the order that was asked.
    pub left_out: Vec<LeftOutProject>,
    /// How many projects can be made at most, as far as is proved.
    pub at_most: usize,
    /// Whether no plan is better.
    pub is_optimal: bool,
    /// How the answer was reached, each once.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// A project that can be made.
#[derive(Debug, Clone)]
pub struct PlannedProject {
    /// The pattern.
    pub pattern: String,
    /// The size.
    pub size: String,
    /// What each of its yarns is made of.
    pub yarns: Vec<PlannedYarn>,
}

/// What one yarn of a project is made of.
#[derive(Debug, Clone)]
pub struct PlannedYarn {
    /// Key of the role.
    pub role: String,
    /// The yarn, and what it comes to for the role.
    pub offered: CandidateAnswer,
    /// The shade.
    pub shade: String,
    /// What is taken of it, with the margin.
    pub takes: Length,
    /// The lots, and what is taken of each.
    pub lots: Vec<(StockLot, Length)>,
}

/// A project that cannot be made.
#[derive(Debug, Clone)]
pub struct LeftOutProject {
    /// The pattern.
    pub pattern: String,
    /// The size.
    pub size: String,
    /// Why.
    pub why: WhyLeftOut,
    /// The least to buy for it.
    pub buy: Option<ShoppingList>,
}

/// Why a project cannot be made from the stash.
#[derive(Debug, Clone, PartialEq)]
pub enum WhyLeftOut {
    /// The stash was not to be counted.
    StashNotCounted,
    /// How much this role takes is not known.
    NeedNotKnown(String),
    /// Nothing in the stash should or could work for this role.
    NothingFor(String),
    /// Of nothing that should or could work is there enough in one shade.
    NotEnough {
        /// The role.
        role: String,
        /// The yarn that comes nearest.
        yarn: String,
        /// Its shade.
        shade: String,
        /// What there is of it.
        holds: Length,
        /// What the role takes of it.
        takes: Length,
    },
    /// What it would take goes to others, of which more can be made, or which come first.
    OthersFirst,
}

/// One pattern in one size, asked.
pub(super) struct Project {
    question: ResolvedQuestion,
    size: String,
    roles: Vec<RoleChoices>,
}

/// Plans the projects from the stash.
pub fn plan(records: &Records, request: &PlanRequest) -> Result<PlanAnswer, AppError> {
    let mut input = InputReader::default();
    let asked = questions(records, request, &mut input)?;
    let asked = input.checked(asked)?;
    let reader = records.store()?.reader()?;
    let stash = match request.from.as_deref() {
        Some("catalogue") => Stash::default(),
        _ => Stash::of(&reader, request.with_reserved)?,
    };
    let projects = asked.into_iter().map(|(question, size)| {
        let of_role = |role: &Role| RoleChoices::of(&question, role, &stash);
        let roles = question.roles.iter().map(of_role);
        let roles = roles.collect::<Result<_, AppError>>()?;
        Ok(Project {
            question,
            size,
            roles,
        })
    });
    let projects: Vec<Project> = projects.collect::<Result<_, AppError>>()?;
    let choices: Vec<Roles> = projects.iter().map(Project::choices).collect();
    let begun = Instant::now();
    let time_left = || PATIENCE.saturating_sub(begun.elapsed());
    let shares = share_out(&choices, &stash.holds_m(), &time_left)?;
    let mut shopping = Shopping::new(&reader, &stash, &shares.made, &time_left);
    let left_out = projects.iter().zip(&shares.made);
    let left_out = left_out.filter(|(_, made)| made.is_none());
    let left_out = left_out.map(|(project, _)| shopping.left_out(project));
    let left_out = left_out.collect::<Result<_, AppError>>()?;
    Ok(PlanAnswer {
        made: made(&projects, &shares.made, &stash)?,
        left_out,
        at_most: shares.at_most,
        is_optimal: shares.is_optimal,
        working: working(&projects),
        notes: input.notes,
    })
}

/// Each project as a question about its pattern in its size; nothing where a fault was
/// found.
fn questions(
    records: &Records,
    request: &PlanRequest,
    input: &mut InputReader,
) -> Result<Option<Vec<(ResolvedQuestion, String)>>, AppError> {
    let (given, most) = (request.projects.len(), MOST_PROJECTS);
    if given == 0 {
        input.fault("projects", FaultKind::Missing);
    } else if given > most {
        input.fault("projects", FaultKind::TooMany { given, most });
        return Ok(None);
    }
    let mut all = Vec::new();
    for text in &request.projects {
        all.push(question(records, request, text, input)?);
    }
    Ok(all.into_iter().collect())
}

/// The whole text may name a pattern; else what stands behind its last colon is a size.
fn question(
    records: &Records,
    request: &PlanRequest,
    text: &str,
    input: &mut InputReader,
) -> Result<Option<(ResolvedQuestion, String)>, AppError> {
    let (name, size) = match (records.pattern_named(text), text.rsplit_once(':')) {
        (Err(AppError::Unknown { .. }), Some((name, size))) => (name.trim(), Some(size.trim())),
        (found, _) => {
            found?;
            (text, None)
        }
    };
    let pattern = records.pattern_named(name)?.record;
    let sizes: Vec<String> = pattern
        .sizes
        .iter()
        .map(|size| size.name.to_string())
        .collect();
    let size = match (size, sizes.as_slice()) {
        (Some(size), _) => Some(size),
        (None, [only]) => Some(only.as_str()),
        (None, _) => None,
    };
    let Some(size) = size else {
        let (pattern, sizes) = (pattern.name.to_string(), sizes);
        input.fault("projects", QuestionFault::SizeNeeded { pattern, sizes });
        return Ok(None);
    };
    let request = request.of_pattern(name, Some(size));
    let resolved = resolve(input, &request, Some(&pattern))?;
    Ok(resolved.map(|question| {
        let size = question
            .size
            .and_then(|place| question.sizes.get(place).cloned());
        (question, size.unwrap_or_default())
    }))
}

impl Project {
    fn choices(&self) -> Roles {
        let roles = self.roles.iter();
        roles.map(|role| role.choices.clone()).collect()
    }
}

/// What can be made, with the lots of each shade shared out.
fn made(projects: &[Project], made: &Made, stash: &Stash) -> Result<Vec<PlannedProject>, AppError> {
    let lots = stash.lots_taken(made)?;
    let all = projects.iter().zip(made).enumerate();
    let made = all.filter_map(|(at, (project, made))| Some((at, project, made.as_ref()?)));
    made.map(|(at, project, chosen)| {
        let roles = project.question.roles.iter().zip(&project.roles);
        let yarns = roles.zip(chosen).enumerate();
        let yarns = yarns.map(|(place, ((role, found), choice))| {
            let shade = stash.shade(choice.shade)?;
            let lots = lots.get(&(at, place)).cloned().unwrap_or_default();
            let offered = found.offered(shade.yarn)?;
            let asked = &project.question;
            let candidate = stash.candidate(shade.yarn)?.clone();
            Some((
                role,
                choice,
                shade,
                lots,
                (asked, candidate, offered.clone()),
            ))
        });
        let yarns =
            yarns
                .flatten()
                .map(|(role, choice, shade, lots, (asked, candidate, offered))| {
                    let none = &Allotted::default();
                    Ok(PlannedYarn {
                        role: role.key.clone(),
                        offered: CandidateAnswer::new(asked, role, candidate, offered, none)?,
                        shade: shade.name.clone(),
                        takes: Length::metres(choice.takes_m)?,
                        lots,
                    })
                });
        Ok(PlannedProject {
            pattern: project.question.title.clone(),
            size: project.size.clone(),
            yarns: yarns.collect::<Result<_, AppError>>()?,
        })
    })
    .collect()
}

/// How each question was settled, each thing once.
fn working(projects: &[Project]) -> Vec<Working> {
    let mut all: Vec<Working> = Vec::new();
    for working in projects
        .iter()
        .flat_map(|project| &project.question.working)
    {
        if !all.contains(working) {
            all.push(working.clone());
        }
    }
    all
}
