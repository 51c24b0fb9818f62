//! Several projects from one stash: what can be made, with which yarn of which lots, and
//! the least to buy for what cannot.

mod buying;
mod kept;
mod left_out;
mod request;
mod reserve;
mod stash;

pub use buying::MOST_NEW;
pub use kept::{KeptProject, RoleOptions, YarnOption};
pub use left_out::{LeastOf, LeftOutProject, NotBought, PlannedPurchase, ShoppingList, WhyLeftOut};
pub use request::PlanRequest;
pub use reserve::reserve_plan;

use super::{
    AppError, FaultKind, FieldNote, InputReader, Records,
    projects::{MOST_PROJECTS, pattern_in_size, reservations::Reservations},
    question::{
        ResolvedQuestion,
        answer::{CandidateAnswer, Working},
        candidate::StockLot,
        cover::Allotted,
        resolve,
    },
};
use crate::{
    measure::Length,
    planning::{Made, Roles, share_out},
    store::Reader,
};
use buying::Shopping;
use kept::PinnedYarn;
use reserve::is_reserved;
use stash::{Counted, LotsTaken, RoleChoices, Stash};
use std::time::{Duration, Instant};

/// How long the best plan is looked for.
const PATIENCE: Duration = Duration::from_secs(2);

/// Answer to [`plan`].
#[derive(Debug, Clone)]
pub struct PlanAnswer {
    /// What can be made, in the order that was asked.
    pub made: Vec<PlannedProject>,
    /// What cannot, in the order that was asked.
    pub left_out: Vec<LeftOutProject>,
    /// How much of each lot it uses.
    pub uses: Vec<LotUse>,
    /// Whether it is one of the projects in the records.
    pub is_of_kept: bool,
    /// Whether all that it takes is reserved for its projects, and nothing else for them.
    pub is_reserved: bool,
    /// How many projects can be made at most, as far as is proved.
    pub at_most: usize,
    /// Whether no plan is better.
    pub is_optimal: bool,
    /// How the answer was reached, each once.
    pub working: Vec<PlanWorking>,
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
    /// The project, where it is a kept one.
    pub kept: Option<KeptProject>,
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
    /// How much of it the role uses, with the margin.
    pub takes: Length,
    /// The lots, and how much of each is used.
    pub lots: Vec<(StockLot, Length)>,
}

/// How much of a lot a plan takes.
#[derive(Debug, Clone)]
pub struct LotUse {
    /// The yarn.
    pub yarn: String,
    /// The lot.
    pub lot: StockLot,
    /// How much of it is used, m.
    pub used_m: f64,
    /// What is left of what could be used, m.
    pub left_m: f64,
}

/// How some of the projects were settled.
#[derive(Debug, Clone)]
pub struct PlanWorking {
    /// How.
    pub working: Working,
    /// Those of which it holds; none where it holds for all.
    pub of: Vec<ProjectName>,
}

/// What tells a project from others.
#[derive(Debug, Clone, PartialEq)]
pub struct ProjectName {
    /// What people call it, where it is a kept one.
    pub kept: Option<String>,
    /// The pattern.
    pub pattern: String,
    /// The size.
    pub size: String,
}

/// One pattern in one size, asked.
pub(super) struct Wanted {
    question: ResolvedQuestion,
    size: String,
    kept: Option<KeptProject>,
    pins: Vec<PinnedYarn>,
}

/// The same, or why nobody can plan it.
type Asked = Result<Wanted, Box<LeftOutProject>>;

/// The same with what of the stash may be used for it.
pub(super) struct Project {
    question: ResolvedQuestion,
    size: String,
    kept: Option<KeptProject>,
    pins: Vec<PinnedYarn>,
    roles: Vec<RoleChoices>,
}

/// Plans the projects that are named, else those in the records, from the stash.
pub fn plan(records: &Records, request: &PlanRequest) -> Result<PlanAnswer, AppError> {
    plan_in(&records.store()?.reader()?, request)
}

fn plan_in(reader: &Reader<'_>, request: &PlanRequest) -> Result<PlanAnswer, AppError> {
    let mut input = InputReader::default();
    let is_of_kept = request.projects.is_empty();
    let reservations = match is_of_kept {
        true => Reservations::of(reader)?,
        false => Reservations::default(),
    };
    let asked = match is_of_kept {
        true => kept::projects(reader, request, &reservations, &mut input)?,
        false => named(reader, request, &mut input)?,
    };
    let counted = match (request.terms.with_reserved, is_of_kept) {
        (true, _) => Counted::All,
        (false, false) => Counted::Free,
        (false, true) => Counted::FreeAndOf(&reservations, names(&asked)),
    };
    let mut stash = match request.from.as_deref() {
        Some("catalogue") => Stash::default(),
        _ => Stash::of(reader, &counted)?,
    };
    let mut answer = planned(reader, asked, &mut stash)?;
    answer.is_of_kept = is_of_kept;
    answer.is_reserved = is_of_kept && is_reserved(reader, &answer, &reservations)?;
    answer.notes = input.notes;
    Ok(answer)
}

/// The names of the projects that can be planned.
fn names(asked: &[Asked]) -> Vec<String> {
    let kept = asked
        .iter()
        .flatten()
        .filter_map(|wanted| wanted.kept.as_ref());
    kept.map(|kept| kept.name.clone()).collect()
}

fn planned(
    reader: &Reader<'_>,
    asked: Vec<Asked>,
    stash: &mut Stash,
) -> Result<PlanAnswer, AppError> {
    let (mut projects, mut left_out) = (Vec::new(), Vec::new());
    for (place, asked) in asked.into_iter().enumerate() {
        match asked {
            Ok(wanted) => projects.push((place, Project::of(wanted, stash)?)),
            Err(impossible) => left_out.push((place, *impossible)),
        }
    }
    let roles: Vec<Roles> = projects
        .iter()
        .map(|(_, project)| project.choices())
        .collect();
    let begun = Instant::now();
    let time_left = || PATIENCE.saturating_sub(begun.elapsed());
    let shares = share_out(&roles, &stash.supply, &time_left)?;
    let stash = &*stash;
    let lots = stash.lots_taken(&shares.made)?;
    let mut shopping = Shopping::new(reader, stash, &lots, &time_left);
    for ((place, project), made) in projects.iter().zip(&shares.made) {
        if made.is_none() {
            left_out.push((*place, shopping.left_out(project)?));
        }
    }
    left_out.sort_by_key(|(place, _)| *place);
    let projects: Vec<Project> = projects.into_iter().map(|(_, project)| project).collect();
    Ok(PlanAnswer {
        made: made(&projects, &shares.made, (stash, &lots))?,
        left_out: left_out.into_iter().map(|(_, left)| left).collect(),
        uses: stash.use_of(&lots),
        at_most: shares.at_most,
        is_optimal: shares.is_optimal,
        is_of_kept: false,
        is_reserved: false,
        working: working(&projects),
        notes: Vec::new(),
    })
}

/// The patterns that are named, each as a question in its size; nothing where a fault was
/// found.
fn named(
    reader: &Reader<'_>,
    request: &PlanRequest,
    input: &mut InputReader,
) -> Result<Vec<Asked>, AppError> {
    let (given, most) = (request.projects.len(), MOST_PROJECTS);
    if given > most {
        input.fault("projects", FaultKind::TooMany { given, most });
        input.check()?;
    }
    let mut all = Vec::new();
    for text in &request.projects {
        let Some((pattern, size)) = pattern_in_size(reader, text, "projects", input)? else {
            continue;
        };
        let asked = request.of_pattern(pattern.record.name.as_str(), Some(&size));
        let question = resolve(input, &asked, Some(&pattern.record))?;
        all.extend(question.map(|question| {
            Ok(Wanted {
                question: question.each_yarn(),
                size,
                kept: None,
                pins: Vec::new(),
            })
        }));
    }
    input.check()?;
    Ok(all)
}

impl Project {
    fn of(wanted: Wanted, stash: &mut Stash) -> Result<Self, AppError> {
        let Wanted {
            question,
            size,
            kept,
            pins,
        } = wanted;
        let roles = question.roles.iter();
        let roles = roles.map(|role| RoleChoices::of(&question, role, stash, &pins));
        let roles: Vec<RoleChoices> = roles.collect::<Result<_, AppError>>()?;
        let kept = kept.map(|kept| KeptProject {
            roles: roles.iter().map(RoleOptions::from).collect(),
            ..kept
        });
        Ok(Self {
            question,
            size,
            kept,
            pins,
            roles,
        })
    }

    fn name(&self) -> ProjectName {
        ProjectName {
            kept: self.kept.as_ref().map(|kept| kept.name.clone()),
            pattern: self.question.title.clone(),
            size: self.size.clone(),
        }
    }

    fn choices(&self) -> Roles {
        let roles = self.roles.iter();
        roles.map(|role| role.choices.clone()).collect()
    }
}

/// What can be made, with the lots of each shade shared out.
fn made(
    projects: &[Project],
    made: &Made,
    (stash, lots): (&Stash, &LotsTaken),
) -> Result<Vec<PlannedProject>, AppError> {
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
            kept: project.kept.clone(),
            yarns: yarns.collect::<Result<_, AppError>>()?,
        })
    })
    .collect()
}

/// How each question was settled, each thing once.
fn working(projects: &[Project]) -> Vec<PlanWorking> {
    let mut all: Vec<PlanWorking> = Vec::new();
    for project in projects {
        for working in &project.question.working {
            let working = match working {
                Working::Wishes(wishes) => Working::ProjectWishes(wishes.clone()),
                other => other.clone(),
            };
            match all.iter_mut().find(|known| known.working == working) {
                Some(known) => known.of.push(project.name()),
                None => all.push(PlanWorking {
                    working,
                    of: vec![project.name()],
                }),
            }
        }
    }
    for known in &mut all {
        if known.of.len() == projects.len() {
            known.of.clear();
        }
    }
    all
}
