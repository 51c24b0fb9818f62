//! Projects: patterns in a size that someone means to make, in the order in which they
//! matter; listed, added, moved, removed, and yarns chosen for them by hand.

mod change;
mod edit;
mod request;
pub(super) mod reservations;

pub use change::edit_project;
pub use edit::{add_project, choose_yarns, move_project, pin_yarn, remove_project, unpin_yarn};
pub(super) use request::wishes;
pub use request::{AddProjectRequest, EditProjectRequest, PinRequest, ProjectWishesRequest};
pub use reservations::Reservation;

use super::{
    AppError, InputReader, QuestionFault, Records,
    question::{chosen_size, lookup::pattern_in},
};
use crate::{
    record::{Id, Pattern, Project, Stored},
    store::{Reader, StoreError},
    words::did_you_mean,
};
use reservations::Reservations;

/// The most projects, as one plan can hold so many.
pub(super) const MOST_PROJECTS: usize = 40;

/// How a project is named: by its number, or as typed, by its name or its rank.
#[derive(Debug, Clone, Copy)]
pub enum Which<'a> {
    /// By the number under which it is kept.
    Number(i64),
    /// By its name, or by its rank.
    Named(&'a str),
}

/// One project of a list.
#[derive(Debug, Clone)]
pub struct ProjectLine {
    /// Its number.
    pub number: i64,
    /// Its place among the projects, from 1 on.
    pub rank: usize,
    /// What is kept of it.
    pub project: Project,
    /// What its pattern is called now; `None` where it is gone.
    pub pattern: Option<String>,
    /// What of the stash is reserved for it.
    pub reserved: Vec<Reservation>,
}

/// Answer to [`list_projects`]: the one that matters most first.
#[derive(Debug, Clone)]
pub struct ProjectList(pub Vec<ProjectLine>);

/// Every project.
pub fn list_projects(records: &Records) -> Result<ProjectList, AppError> {
    let reader = records.store()?.reader()?;
    let reservations = Reservations::of(&reader)?;
    let lines = reader.projects()?.into_iter().zip(1..);
    let lines = lines.map(|(kept, rank)| line(&reader, kept, rank, &reservations));
    Ok(ProjectList(lines.collect::<Result<_, AppError>>()?))
}

fn line(
    reader: &Reader<'_>,
    kept: Stored<Project>,
    rank: usize,
    reservations: &Reservations,
) -> Result<ProjectLine, AppError> {
    let pattern = pattern_of(reader, &kept.record)?;
    Ok(ProjectLine {
        number: kept.id.number(),
        rank,
        pattern: pattern.map(|pattern| pattern.record.name.to_string()),
        reserved: reservations.of_project(kept.record.name.as_str()),
        project: kept.record,
    })
}

/// The pattern of a project: by its number, else the one that now has its name.
pub(super) fn pattern_of(
    reader: &Reader<'_>,
    project: &Project,
) -> Result<Option<Stored<Pattern>>, AppError> {
    match reader.pattern(project.pattern) {
        Err(StoreError::Gone { .. }) => Ok(reader.pattern_named(project.pattern_name.as_str())?),
        found => Ok(Some(found?)),
    }
}

/// The project that is meant, with its rank.
pub(super) fn project_in(
    reader: &Reader<'_>,
    which: Which<'_>,
) -> Result<(Stored<Project>, usize), AppError> {
    let all: Vec<(Stored<Project>, usize)> = reader.projects()?.into_iter().zip(1..).collect();
    let text = match which {
        Which::Number(number) => {
            let kept = reader.project(Id::new(number))?;
            let rank = all.iter().find(|(other, _)| other.id == kept.id);
            return Ok((kept, rank.map_or(1, |(_, rank)| *rank)));
        }
        Which::Named(text) => text,
    };
    let named = reader.project_named(text)?.map(|kept| kept.id);
    let rank: Option<usize> = text.trim().parse().ok();
    let is_meant = |(kept, at): &&(Stored<Project>, usize)| match named {
        Some(named) => kept.id == named,
        None => Some(*at) == rank,
    };
    if let Some(found) = all.iter().find(is_meant) {
        return Ok(found.clone());
    }
    let names = all.iter().map(|(kept, _)| kept.record.name.as_str());
    let near = did_you_mean(text, names.clone()).into_iter();
    Err(AppError::Unknown {
        what: "project",
        name: text.to_owned(),
        near: near.map(str::to_owned).collect(),
        all: names.map(str::to_owned).collect(),
    })
}

/// The pattern that a text names with a size behind a colon, or the size that is given
/// beside it. The whole text may name a pattern; else what stands behind its last colon is
/// a size. Nothing where a size is needed, which is a fault of `field`.
pub(super) fn pattern_in_size(
    reader: &Reader<'_>,
    text: &str,
    field: &str,
    input: &mut InputReader,
) -> Result<Option<(Stored<Pattern>, String)>, AppError> {
    let (name, size) = match (pattern_in(reader, text), text.rsplit_once(':')) {
        (Err(AppError::Unknown { .. }), Some((name, size))) => (name.trim(), Some(size.trim())),
        (found, _) => {
            found?;
            (text, None)
        }
    };
    let pattern = pattern_in(reader, name)?;
    let sizes = sizes_of(&pattern.record);
    let size = match (chosen_size(size, &sizes)?, sizes.as_slice()) {
        (Some(place), _) => sizes.get(place),
        (None, [only]) => Some(only),
        (None, _) => None,
    };
    let Some(size) = size.cloned() else {
        let pattern = pattern.record.name.to_string();
        input.fault(field, QuestionFault::SizeNeeded { pattern, sizes });
        return Ok(None);
    };
    Ok(Some((pattern, size)))
}

/// The names of its sizes.
pub(super) fn sizes_of(pattern: &Pattern) -> Vec<String> {
    let sizes = pattern.sizes.iter();
    sizes.map(|size| size.name.to_string()).collect()
}
