//! The integer programme behind a plan: one variable for each role and each shade that
//! it may take, solved by `microlp` through `good_lp`. Lots do not matter here: those of a
//! shade are used together.

use super::supply::Limit;
use crate::measure::MeasureError;
use good_lp::{
    Constraint, Expression, ProblemVariables, ResolutionError, Solution, SolutionStatus,
    SolverModel, Variable, WithInitialSolution, WithTimeLimit, microlp, variable,
};
use std::time::Duration;

/// What is left of a shade and is less than this is a scrap, m.
pub const SCRAP_M: f64 = 10.0;

/// By so much a sum may pass what there is: what the numbers of the solver are good to.
pub(super) const SLACK: f64 = 1e-6;

/// More skeins of one shade are never bought for a role.
const MOST_SKEINS: f64 = 10_000.0;

/// Why a plan could not be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// The solver met something that it should never meet.
    #[error("the plan could not be computed: {0}")]
    Solver(String),
    /// A length that none can be.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}

impl From<ResolutionError> for PlanError {
    fn from(error: ResolutionError) -> Self {
        Self::Solver(error.to_string())
    }
}

/// One way to give a role its yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// Place of the shade among the shades.
    pub shade: usize,
    /// Place of the part of it that the role may take of; that of the shade for all of it.
    pub part: usize,
    /// What the role takes of it, m.
    pub takes_m: f64,
    /// Overall departure of the yarn for this role.
    pub departure: f64,
}

/// The choices of each role of a project.
pub type Roles = Vec<Vec<Choice>>;

/// For each project the choice of each role, where it is made.
pub type Made = Vec<Option<Vec<Choice>>>;

/// What one step says of a project.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Wish {
    Make,
    Leave,
    Either,
}

/// The variables, and what holds of them.
pub(super) struct Programme<'a> {
    variables: ProblemVariables,
    choices: Vec<Placed>,
    rules: Vec<Constraint>,
    projects: &'a [Roles],
}

/// A choice, where it belongs, and whether it is chosen.
#[derive(Clone, Copy)]
struct Placed {
    project: usize,
    role: usize,
    choice: Choice,
    is_taken: Variable,
}

/// What a solver found.
pub(super) struct Found {
    pub(super) made: Made,
    /// Whether nothing is better.
    pub(super) is_proved: bool,
}

impl<'a> Programme<'a> {
    /// Of the projects that are not left out; with fractions of choices unless
    /// `is_whole`.
    pub(super) fn new(projects: &'a [Roles], wishes: &[Wish], is_whole: bool) -> Self {
        let mut programme = Self {
            variables: ProblemVariables::new(),
            choices: Vec::new(),
            rules: Vec::new(),
            projects,
        };
        let meant = projects.iter().enumerate();
        let meant = meant.filter(|(at, _)| wishes.get(*at) != Some(&Wish::Leave));
        for (project, roles) in meant {
            programme.add_choices(project, roles, is_whole);
            programme.rule_roles(project, roles.len(), wishes.get(project));
            programme.rule_colours(project, roles);
        }
        programme
    }

    fn add_choices(&mut self, project: usize, roles: &Roles, is_whole: bool) {
        for (role, choices) in roles.iter().enumerate() {
            for choice in choices {
                let kind = variable().bounds(0.0..=1.0);
                let kind = if is_whole { variable().binary() } else { kind };
                self.choices.push(Placed {
                    project,
                    role,
                    choice: *choice,
                    is_taken: self.variables.add(kind),
                });
            }
        }
    }

    /// Each role has as many choices as the first: one where the project is made.
    fn rule_roles(&mut self, project: usize, roles: usize, wish: Option<&Wish>) {
        if roles == 0 {
            return;
        }
        let made = self.is_made(project);
        self.rules.push(match wish {
            Some(Wish::Make) => made.clone().eq(1.0),
            _ => made.clone().leq(1.0),
        });
        for role in 1..roles {
            let chosen = self.sum(|at| (at.project, at.role) == (project, role), |_| 1.0);
            self.rules.push(chosen.eq(made.clone()));
        }
    }

    /// Two roles of a project are two colours: they never take the same shade.
    fn rule_colours(&mut self, project: usize, roles: &Roles) {
        let all = roles.iter().flatten().map(|choice| choice.shade);
        let mut shades: Vec<usize> = all.collect();
        shades.sort_unstable();
        let twice = shades.chunk_by(|a, b| a == b).filter(|same| same.len() > 1);
        for shade in twice.filter_map(<[usize]>::first) {
            let taken = self.sum(
                |at| (at.project, at.choice.shade) == (project, *shade),
                |_| 1.0,
            );
            self.rules.push(taken.leq(1.0));
        }
    }

    /// A plan uses no more than there is.
    pub(super) fn with_limits(mut self, limits: &[Limit]) -> Self {
        for limit in limits {
            let is_within = |at: &Placed| limit.parts.contains(&at.choice.part);
            let taken = self.sum(is_within, |choice| choice.takes_m);
            self.rules.push(taken.leq(limit.holds_m));
        }
        self
    }

    /// What a plan uses of a part beyond what there is has to be bought in whole skeins, of
    /// `(m, price)` each; without, no more is used than there is. Returns the price of
    /// all.
    pub(super) fn buy(&mut self, parts: &[(f64, Option<(f64, f64)>)]) -> Expression {
        let mut cost = Expression::default();
        for (part, (there, skein)) in parts.iter().enumerate() {
            let mut holds = Expression::from(*there);
            if let Some((metres, price)) = skein {
                let skeins = variable().integer().bounds(0.0..=MOST_SKEINS);
                let skeins = self.variables.add(skeins);
                holds += *metres * skeins;
                cost += *price * skeins;
            }
            let taken = self.sum(|at| at.choice.part == part, |choice| choice.takes_m);
            let rule = taken.leq(holds);
            self.rules.push(rule);
        }
        cost
    }

    /// What holds besides.
    pub(super) fn with(mut self, rule: Constraint) -> Self {
        self.rules.push(rule);
        self
    }

    fn sum(&self, meant: impl Fn(&Placed) -> bool, factor: impl Fn(&Choice) -> f64) -> Expression {
        let choices = self.choices.iter().filter(|placed| meant(placed));
        choices
            .map(|placed| factor(&placed.choice) * placed.is_taken)
            .sum()
    }

    pub(super) fn is_made(&self, project: usize) -> Expression {
        self.sum(|at| (at.project, at.role) == (project, 0), |_| 1.0)
    }
    pub(super) fn count(&self) -> Expression {
        self.sum(|at| at.role == 0, |_| 1.0)
    }

    pub(super) fn departure(&self) -> Expression {
        self.sum(|_| true, |choice| choice.departure)
    }

    /// m taken of a shade.
    fn taken_of(&self, shade: usize) -> Expression {
        self.sum(|at| at.choice.shade == shade, |choice| choice.takes_m)
    }

    /// m left in scraps: for each shade that may be taken of, what is left unless that is
    /// `SCRAP_M` or more.
    pub(super) fn scraps(&mut self, holds_m: &[f64]) -> Expression {
        let mut all = Expression::default();
        for (shade, holds) in holds_m.iter().enumerate() {
            if !self.choices.iter().any(|at| at.choice.shade == shade) {
                continue;
            }
            let left = *holds - self.taken_of(shade);
            let is_enough = self.variables.add(variable().binary());
            let scrap = self.variables.add(variable().min(0.0));
            self.rules.push(left.clone().geq(SCRAP_M * is_enough));
            self.rules.push((scrap + *holds * is_enough).geq(left));
            all += scrap;
        }
        all
    }

    /// The whole part of the most that a count can be.
    pub(super) fn most(self, count: Expression) -> Result<usize, PlanError> {
        let mut model = self.variables.maximise(count.clone()).using(microlp);
        for rule in self.rules {
            model.add_constraint(rule);
        }
        let most = model.solve()?.eval(count) + SLACK;
        let counts = 1..=self.projects.len();
        Ok(counts.take_while(|count| whole(*count) <= most).count())
    }

    /// The choices that make `goal` least, found from those of `start`; nothing where
    /// there are none, or none was found in time.
    pub(super) fn least(
        self,
        goal: Expression,
        time: Duration,
        start: &Made,
    ) -> Result<Option<Found>, PlanError> {
        let start = self.choices.iter().map(|at| {
            let made = start.get(at.project).and_then(Option::as_ref);
            let chosen = made.and_then(|chosen| chosen.get(at.role));
            (at.is_taken, f64::from(chosen == Some(&at.choice)))
        });
        let start: Vec<(Variable, f64)> = start.collect();
        let model = self.variables.minimise(goal).using(microlp);
        let model = model.with_time_limit(time.as_secs_f64());
        let mut model = model.with_initial_solution(start);
        for rule in self.rules {
            model.add_constraint(rule);
        }
        let found = match model.solve() {
            // So good_lp says that the time was over before anything was found.
            Err(ResolutionError::Infeasible | ResolutionError::Other(_)) => return Ok(None),
            found => found?,
        };
        let mut made: Made = vec![None; self.projects.len()];
        let taken = self.choices.iter();
        for at in taken.filter(|at| found.value(at.is_taken) > 0.5) {
            if let Some(made) = made.get_mut(at.project) {
                made.get_or_insert_default().push(at.choice);
            }
        }
        let is_proved = matches!(found.status(), SolutionStatus::Optimal);
        Ok(Some(Found { made, is_proved }))
    }
}

/// A count as a number.
pub(super) fn whole(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::INFINITY, f64::from)
}
