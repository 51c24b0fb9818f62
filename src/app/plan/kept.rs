//! The projects in the records, as a plan asks for them: in order, each with its wishes
//! and the yarns that were chosen by hand; and those that no plan can make any more.

use super::{Asked, LeftOutProject, PlanRequest, Wanted, WhyLeftOut, stash::RoleChoices};
use crate::{
    app::{
        AppError, InputReader, ProjectFault,
        projects::{Reservation, pattern_of, reservations::Reservations, sizes_of, wishes},
        question::{candidate::Candidate, lookup::candidate_of, resolve},
    },
    record::{Id, Pattern, Pin, Printed, Project, Stored, Yarn},
    store::{Reader, StoreError},
    trade::Colour,
    words::fold,
};

/// A project in the records.
#[derive(Debug, Clone)]
pub struct KeptProject {
    /// Its number.
    pub number: i64,
    /// How often it was written.
    pub version: i64,
    /// What people call it.
    pub name: String,
    /// The number of its pattern, where that is there.
    pub pattern: Option<i64>,
    /// Its place among the projects, from 1 on.
    pub rank: usize,
    /// What is kept of it.
    pub project: Project,
    /// Each yarn of its pattern, and what it may take.
    pub roles: Vec<RoleOptions>,
    /// What of the stash is reserved for it.
    pub reserved: Vec<Reservation>,
}

/// What a role of a project may take.
#[derive(Debug, Clone)]
pub struct RoleOptions {
    /// Key of the role.
    pub key: String,
    /// What of the stash should or could work.
    pub options: Vec<YarnOption>,
    /// What was chosen by hand.
    pub pin: Option<YarnOption>,
}

impl From<&RoleChoices> for RoleOptions {
    fn from(role: &RoleChoices) -> Self {
        Self {
            key: role.key.clone(),
            options: role.options.clone(),
            pin: role.pin.as_ref().map(|(pin, _)| pin.clone()),
        }
    }
}

/// A yarn, and a shade of it.
#[derive(Debug, Clone, PartialEq)]
pub struct YarnOption {
    /// Number of the yarn.
    pub number: i64,
    /// Its name.
    pub yarn: String,
    /// The shade; any where none is named.
    pub shade: Option<String>,
    /// Its colour.
    pub colour: Option<Printed<Colour>>,
}

/// A yarn that was chosen by hand for a role.
pub(super) struct PinnedYarn {
    pub(super) yarn: Id<Yarn>,
    pub(super) shade: Option<String>,
    pub(super) role: String,
    pub(super) candidate: Candidate,
}

impl PinnedYarn {
    /// Whether any shade was meant, or this one.
    pub(super) fn is_shade(&self, name: &str) -> bool {
        let shade = self.shade.as_ref();
        shade.is_none_or(|shade| fold(shade) == fold(name))
    }
}

impl From<&Pin> for YarnOption {
    fn from(pin: &Pin) -> Self {
        Self {
            number: pin.yarn.number(),
            yarn: pin.yarn_name.to_string(),
            shade: pin.shade.clone(),
            colour: None,
        }
    }
}

impl From<&PinnedYarn> for YarnOption {
    fn from(pin: &PinnedYarn) -> Self {
        Self {
            number: pin.yarn.number(),
            yarn: pin.candidate.title.clone(),
            shade: pin.shade.clone(),
            colour: None,
        }
    }
}

/// Every project: as a question, or why no plan can make it.
pub(super) fn projects(
    reader: &Reader<'_>,
    request: &PlanRequest,
    reservations: &Reservations,
    input: &mut InputReader,
) -> Result<Vec<Asked>, AppError> {
    let all = reader.projects()?;
    if all.is_empty() {
        input.fault("projects", ProjectFault::None);
        input.check()?;
    }
    let mut asked = Vec::new();
    for (kept, rank) in all.into_iter().zip(1..) {
        let about = KeptProject {
            number: kept.id.number(),
            version: kept.version,
            name: kept.record.name.to_string(),
            pattern: None,
            rank,
            project: kept.record.clone(),
            roles: kept.record.pins.iter().map(pinned_only).collect(),
            reserved: reservations.of_project(kept.record.name.as_str()),
        };
        asked.push(project(reader, request, (kept, about), input)?);
    }
    Ok(asked)
}

/// A role of which nothing is known but what was chosen for it.
fn pinned_only(pin: &Pin) -> RoleOptions {
    RoleOptions {
        key: pin.role.to_string(),
        options: Vec::new(),
        pin: Some(pin.into()),
    }
}

fn project(
    reader: &Reader<'_>,
    request: &PlanRequest,
    (kept, about): (Stored<Project>, KeptProject),
    input: &mut InputReader,
) -> Result<Asked, AppError> {
    let project = kept.record;
    let pattern = pattern_of(reader, &project)?;
    let name = pattern.as_ref().map(|pattern| &pattern.record.name);
    let name = name.unwrap_or(&project.pattern_name).to_string();
    let impossible = |why, about| {
        Ok(Err(Box::new(LeftOutProject {
            pattern: name,
            size: project.size.clone(),
            kept: Some(about),
            is_of_one_yarn: false,
            why,
            buy: None,
            not_bought: None,
        })))
    };
    let Some(pattern) = pattern else {
        return impossible(WhyLeftOut::PatternGone, about);
    };
    let about = KeptProject {
        pattern: Some(pattern.id.number()),
        ..about
    };
    if let Some(why) = misfit(&project, &pattern.record) {
        return impossible(why, about);
    }
    let mut pins = Vec::new();
    for pin in &project.pins {
        match pinned(reader, pin)? {
            Some(pinned) => pins.push(pinned),
            None => return impossible(WhyLeftOut::PinGone(pin.into()), about),
        }
    }
    let asked = request.beside(wishes(&project));
    let question = resolve(input, &asked, Some(&pattern.record))?;
    let question = input.checked(question)?.each_yarn();
    Ok(Ok(Wanted {
        question,
        size: project.size,
        kept: Some(about),
        pins,
    }))
}

/// A size or a role of the project that its pattern no longer has.
fn misfit(project: &Project, pattern: &Pattern) -> Option<WhyLeftOut> {
    let sizes = sizes_of(pattern);
    if sizes.iter().all(|size| fold(size) != fold(&project.size)) {
        return Some(WhyLeftOut::SizeGone(sizes));
    }
    let keys: Vec<String> = pattern
        .yarns
        .iter()
        .map(|yarn| yarn.key.to_string())
        .collect();
    let mut pins = project.pins.iter();
    let astray = pins.find(|pin| keys.iter().all(|key| key != pin.role.as_str()))?;
    Some(WhyLeftOut::RoleGone(astray.role.to_string()))
}

/// The yarn of a pin; `None` where it is gone.
fn pinned(reader: &Reader<'_>, pin: &Pin) -> Result<Option<PinnedYarn>, AppError> {
    let yarn = match reader.yarn(pin.yarn) {
        Err(StoreError::Gone { .. }) => return Ok(None),
        found => found?,
    };
    Ok(Some(PinnedYarn {
        yarn: pin.yarn,
        shade: pin.shade.clone(),
        role: pin.role.to_string(),
        candidate: candidate_of(reader, yarn, false)?,
    }))
}
