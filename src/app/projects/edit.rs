//! Projects added, moved, removed, and yarns chosen for them by hand.

use super::{
    AddProjectRequest, MOST_PROJECTS, PinRequest, ProjectWishesRequest, Which, pattern_in_size,
    pattern_of, project_in,
    reservations::{Reservation, Reservations, release},
    sizes_of, wishes,
};
use crate::{
    app::{
        AppError, InputReader, ProjectChange, ProjectDeed, ProjectFault, QuestionFault,
        RecordChange, Records,
        input::filled,
        once::number_made,
        question::{lookup::yarn_in, resolve},
        records::today,
    },
    record::{Id, Name, Pattern, Pin, Project, Stored},
    store::{Reader, Writer},
    words::fold,
};

/// Keeps a project.
pub fn add_project(
    records: &mut Records,
    request: &AddProjectRequest,
) -> Result<RecordChange, AppError> {
    let text = |text: &Option<String>| filled(text).unwrap_or_default().to_owned();
    let AddProjectRequest {
        project,
        name,
        rank,
        without,
        only,
        care,
        wishes,
    } = request;
    let ProjectWishesRequest {
        max_cost, stash, ..
    } = wishes;
    let texts = [project, name, rank, without, only, care, max_cost];
    let what = texts.map(text).into_iter();
    let what = what.chain([&stash.shade, &stash.place].map(text));
    let what = what.chain([wishes.enough, wishes.one_lot].map(|it| it.to_string()));
    let what: Vec<String> = what.collect();
    let what = ["add", "project"]
        .into_iter()
        .chain(what.iter().map(String::as_str));
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => add(writer, request)?,
        };
        let change = kept(writer, id, ProjectDeed::Added)?;
        Ok((id.number().to_string(), change))
    })
}

fn add(writer: &Writer<'_>, request: &AddProjectRequest) -> Result<Id<Project>, AppError> {
    let mut input = InputReader::default();
    let all = writer.projects()?;
    let given = all.len() + 1;
    if given > MOST_PROJECTS {
        input.fault("project", ProjectFault::TooMany(MOST_PROJECTS));
    }
    input.must_fill("project", &request.project);
    let rank = rank(&mut input, request.rank.as_deref(), given);
    let found = match filled(&request.project) {
        Some(text) => pattern_in_size(writer, text, "project", &mut input)?,
        None => None,
    };
    let (pattern, size) = input.checked(found)?;
    let text = |text: &Option<String>| filled(text).unwrap_or_default().to_owned();
    let project = Project {
        name: match filled(&request.name) {
            Some(name) => Name::project(name)?,
            None => free_name(writer, &pattern.record, &size)?,
        },
        pattern: pattern.id,
        pattern_name: pattern.record.name.clone(),
        size,
        rank: all.last().map_or(1.0, |last| last.record.rank + 1.0),
        without: text(&request.without),
        only: text(&request.only),
        care: text(&request.care),
        max_cost: text(&request.wishes.max_cost),
        enough: request.wishes.enough,
        one_lot: request.wishes.one_lot,
        shade: text(&request.wishes.stash.shade),
        place: text(&request.wishes.stash.place),
        pins: Vec::new(),
    };
    // So that what is wanted of the yarn can be read whenever it is planned.
    resolve(&mut input, &wishes(&project), Some(&pattern.record))?;
    input.check()?;
    let id = writer.add_project(&project)?;
    if let Some(rank) = rank.filter(|rank| *rank < given) {
        put_at(writer, &writer.project(id)?, rank)?;
    }
    Ok(id)
}

/// The pattern's name with the size, where it has several; with a number where that
/// name is in use.
fn free_name(reader: &Reader<'_>, pattern: &Pattern, size: &str) -> Result<Name, AppError> {
    let pattern_name = pattern.name.to_string();
    let first = match pattern.sizes.as_slice() {
        [_] => pattern_name,
        _ => [pattern_name.as_str(), size].join(" "),
    };
    let numbered = (2..=MOST_PROJECTS + 1).map(|n| [first.clone(), n.to_string()].join(" "));
    for name in std::iter::once(first.clone()).chain(numbered) {
        if reader.project_named(&name)?.is_none() {
            return Ok(Name::project(&name)?);
        }
    }
    Ok(Name::project(&first)?)
}

fn rank(input: &mut InputReader, text: Option<&str>, count: usize) -> Option<usize> {
    let most = u16::try_from(count).unwrap_or(u16::MAX);
    let rank: Option<u16> = input.whole("rank", text, 1..=most);
    rank.map(usize::from)
}

/// Puts a project at a place among the others: 1 matters most.
pub fn move_project(
    records: &mut Records,
    which: Which<'_>,
    to: &str,
) -> Result<RecordChange, AppError> {
    changed(
        records,
        ("move", which),
        [to],
        ProjectDeed::Moved,
        |writer, kept| {
            let mut input = InputReader::default();
            let rank = rank(&mut input, Some(to), writer.projects()?.len());
            let rank = input.checked(rank)?;
            put_at(writer, kept, rank)
        },
    )
}

/// Gives a project a rank between those of its new neighbours.
fn put_at(writer: &Writer<'_>, moved: &Stored<Project>, rank: usize) -> Result<(), AppError> {
    let mut others = writer.projects()?;
    others.retain(|other| other.id != moved.id);
    let at = |place: usize| others.get(place).map(|other| other.record.rank);
    let before = rank.checked_sub(2).and_then(at);
    let between = match (before, at(rank.saturating_sub(1))) {
        (Some(before), Some(after)) => (before + after) / 2.0,
        (Some(before), None) => before + 1.0,
        (None, Some(after)) => after - 1.0,
        (None, None) => 1.0,
    };
    let is_room = before.is_none_or(|before| before < between)
        && at(rank.saturating_sub(1)).is_none_or(|after| between < after);
    if is_room {
        return give_rank(writer, moved, between);
    }
    others.insert(rank.saturating_sub(1).min(others.len()), moved.clone());
    let ranks = std::iter::successors(Some(1.0), |rank| Some(rank + 1.0));
    let mut ranked = others.iter().zip(ranks);
    ranked.try_for_each(|(project, rank)| give_rank(writer, project, rank))
}

fn give_rank(writer: &Writer<'_>, kept: &Stored<Project>, rank: f64) -> Result<(), AppError> {
    if kept.record.rank == rank {
        return Ok(());
    }
    let project = Project {
        rank,
        ..kept.record.clone()
    };
    writer.update_project(kept.id, kept.version, &project)?;
    Ok(())
}

/// Chooses a yarn for a role of a project by hand.
pub fn pin_yarn(
    records: &mut Records,
    which: Which<'_>,
    request: &PinRequest,
) -> Result<RecordChange, AppError> {
    let said = [&request.yarn, &request.shade, &request.role];
    let said = said.map(|text| text.as_deref().unwrap_or_default());
    changed(
        records,
        ("pin", which),
        said,
        ProjectDeed::Pinned,
        |writer, kept| {
            let mut input = InputReader::default();
            input.must_fill("yarn", &request.yarn);
            input.check()?;
            let yarn = yarn_in(writer, request.yarn.as_deref().unwrap_or_default())?.yarn;
            let role = role(writer, &kept.record, request.role.as_deref())?;
            let mut project = kept.record.clone();
            project.pins.retain(|pin| pin.role != role);
            project.pins.push(Pin {
                role,
                yarn: yarn.id,
                yarn_name: yarn.record.title(),
                shade: filled(&request.shade).map(str::to_owned),
            });
            writer.update_project(kept.id, kept.version, &project)?;
            Ok(())
        },
    )
}

/// A role, and the number of the yarn for it with the shade that is meant; none where the
/// plan chooses.
pub type YarnChoice = (String, Option<(i64, Option<String>)>);

/// Chooses the yarns of these roles by hand, or leaves them to the plan, for the project
/// with this number that was read at a version.
pub fn choose_yarns(
    records: &mut Records,
    (number, version): (i64, i64),
    choices: &[YarnChoice],
) -> Result<RecordChange, AppError> {
    records.store_mut()?.write(|writer| {
        let found = writer.project(Id::new(number))?;
        let mut project = found.record.clone();
        for (key, chosen) in choices {
            let role = role(writer, &project, Some(key))?;
            project.pins.retain(|pin| pin.role != role);
            if let Some((yarn, shade)) = chosen {
                let yarn = writer.yarn(Id::new(*yarn))?;
                project.pins.push(Pin {
                    role,
                    yarn: yarn.id,
                    yarn_name: yarn.record.title(),
                    shade: shade.clone(),
                });
            }
        }
        let deed = match project.pins.as_slice() {
            [] => ProjectDeed::Unpinned,
            _ => ProjectDeed::Pinned,
        };
        writer.update_project(found.id, version, &project)?;
        kept(writer, found.id, deed)
    })
}

/// The role of a project's pattern with this key, or its only one.
fn role(reader: &Reader<'_>, project: &Project, key: Option<&str>) -> Result<Name, AppError> {
    let mut input = InputReader::default();
    let pattern = pattern_of(reader, project)?;
    let keys = pattern.iter().flat_map(|pattern| &pattern.record.yarns);
    let keys: Vec<&Name> = keys.map(|yarn| &yarn.key).collect();
    let found = match (filled(key), keys.as_slice()) {
        (None, [only]) => Some(*only),
        (key, all) => {
            let is_meant = |it: &&&Name| key.is_some_and(|key| fold(it.as_str()) == fold(key));
            let found = all.iter().find(is_meant);
            if found.is_none() {
                input.fault("for", no_role(project, key, all));
            }
            found.copied()
        }
    };
    input.checked(found.cloned())
}

fn no_role(project: &Project, key: Option<&str>, all: &[&Name]) -> QuestionFault {
    let pattern = project.pattern_name.to_string();
    let keys = all.iter().map(ToString::to_string).collect();
    match key {
        None => QuestionFault::RoleNeeded { pattern, keys },
        Some(given) => QuestionFault::NoSuchRole {
            pattern,
            given: given.to_owned(),
            keys,
        },
    }
}

/// Leaves the choice of the yarn for a role, or for all, to the plan again.
pub fn unpin_yarn(
    records: &mut Records,
    which: Which<'_>,
    key: Option<&str>,
) -> Result<RecordChange, AppError> {
    let said = [key.unwrap_or_default()];
    changed(
        records,
        ("unpin", which),
        said,
        ProjectDeed::Unpinned,
        |writer, kept| {
            let mut project = kept.record.clone();
            let key = filled(key).map(fold);
            let is_other = |pin: &Pin| {
                key.as_ref()
                    .is_some_and(|key| fold(pin.role.as_str()) != *key)
            };
            project.pins.retain(is_other);
            if project.pins.len() < kept.record.pins.len() {
                writer.update_project(kept.id, kept.version, &project)?;
            }
            Ok(())
        },
    )
}

/// Changes a project once under the text of this command.
pub(super) fn changed<'s>(
    records: &mut Records,
    (verb, which): (&'static str, Which<'_>),
    said: impl IntoIterator<Item = &'s str>,
    deed: ProjectDeed,
    change: impl FnOnce(&Writer<'_>, &Stored<Project>) -> Result<(), AppError>,
) -> Result<RecordChange, AppError> {
    let text = text_of(which);
    let said: Vec<&str> = said.into_iter().collect();
    let what = [verb, "project", &text].into_iter().chain(said);
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => {
                let (found, _) = project_in(writer, which)?;
                change(writer, &found)?;
                found.id
            }
        };
        Ok((id.number().to_string(), kept(writer, id, deed)?))
    })
}

fn text_of(which: Which<'_>) -> String {
    match which {
        Which::Number(number) => number.to_string(),
        Which::Named(text) => text.to_owned(),
    }
}

/// The project as it is now.
fn kept(reader: &Reader<'_>, id: Id<Project>, deed: ProjectDeed) -> Result<RecordChange, AppError> {
    let (kept, rank) = project_in(reader, Which::Number(id.number()))?;
    let pattern = pattern_of(reader, &kept.record)?;
    let sizes = pattern.map_or(0, |pattern| sizes_of(&pattern.record).len());
    Ok(RecordChange::Project(ProjectChange::Kept {
        deed,
        rank,
        of: reader.projects()?.len(),
        has_sizes: sizes > 1,
        project: Box::new(kept.record),
    }))
}

/// Removes a project, and releases what is reserved for it.
pub fn remove_project(records: &mut Records, which: Which<'_>) -> Result<RecordChange, AppError> {
    let text = text_of(which);
    records.change_once(["remove", "project", &text], |writer, made| {
        let (name, released) = match made {
            Some(name) => (name.to_owned(), Vec::new()),
            None => {
                let (kept, _) = project_in(writer, which)?;
                let name = kept.record.name.to_string();
                let released = release_all(writer, &name)?;
                writer.remove_project(kept.id)?;
                (name, released)
            }
        };
        let change = ProjectChange::Removed {
            name: name.clone(),
            released,
        };
        Ok((name, RecordChange::Project(change)))
    })
}

fn release_all(writer: &Writer<'_>, name: &str) -> Result<Vec<Reservation>, AppError> {
    let all = Reservations::of(writer)?.of_project(name);
    let today = today();
    for reservation in &all {
        release(writer, reservation, &today)?;
    }
    Ok(all)
}
