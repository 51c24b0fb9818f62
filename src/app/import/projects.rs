//! Projects from a table. A project is there already where one of its name is; its place
//! among the others is no part of a row, so that to move one is no difference.

use super::{
    Batch, Difference, FieldChange, Import, RowFaultKind, Standing,
    outcome::{MissingKind, MissingName},
};
use crate::{
    app::{
        AppError,
        projects::{MOST_PROJECTS, pattern_of},
        question::lookup::yarn_titled,
    },
    files::csv::{ChosenYarn, ProjectRow, TableRecord},
    record::{Id, Name, Pattern, Pin, Project, Stored},
    store::{Reader, StoreError},
    words::{did_you_mean, fold},
};

impl Import for ProjectRow {
    type KeptRecord = Stored<Project>;

    fn title(&self) -> String {
        self.name.to_string()
    }

    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::KeptRecord>, AppError> {
        let writer = batch.writer;
        let Some(kept) = writer.project_named(self.name.as_str())? else {
            let all = writer.projects()?;
            if all.len() >= MOST_PROJECTS {
                let fault = RowFaultKind::TooManyProjects(MOST_PROJECTS);
                return Ok(Standing::Refused(fault));
            }
            let rank = all.last().map_or(1.0, |last| last.record.rank + 1.0);
            let project = self.project(writer, rank, &mut batch.missing)?;
            batch.seen.insert(writer.add_project(&project)?.number());
            return Ok(Standing::Added(None));
        };
        if !batch.seen.insert(kept.id.number()) {
            let fault = RowFaultKind::RepeatedProject(self.name.to_string());
            return Ok(Standing::Refused(fault));
        }
        let rank = kept.record.rank;
        let stated = self.project(writer, rank, &mut batch.missing)?;
        let changes = differences(&row_of(writer, &kept.record)?, &row_of(writer, &stated)?);
        Ok(Standing::of_kept(
            kept,
            self.title(),
            changes,
            Difference::Project,
        ))
    }

    fn replace(
        &self,
        kept: Self::KeptRecord,
        batch: &Batch<'_>,
    ) -> Result<Option<RowFaultKind>, AppError> {
        // What is missing was told when the row was held against what is there.
        let project = self.project(batch.writer, kept.record.rank, &mut Vec::new())?;
        batch
            .writer
            .update_project(kept.id, kept.version, &project)?;
        Ok(None)
    }
}

impl ProjectRow {
    /// The project. A pattern or a yarn that is not there leaves its name, as one does that
    /// is removed later.
    fn project(
        &self,
        reader: &Reader<'_>,
        rank: f64,
        missing: &mut Vec<MissingName>,
    ) -> Result<Project, AppError> {
        let pattern = reader.pattern_named(self.pattern.as_str())?;
        let known = pattern.as_ref().map(|pattern| &pattern.record);
        if known.is_none() {
            let titles = reader.pattern_titles()?;
            let titles = titles.iter().map(|(_, title)| title.as_str());
            let name = self.pattern.as_str();
            missing.push(MissingName::new(MissingKind::Pattern, name, titles));
        }
        let pins = self.yarns.iter();
        let pins = pins.map(|chosen| pin(reader, known, chosen, missing));
        let pins = pins.collect::<Result<_, AppError>>()?;
        Ok(Project {
            name: self.name.clone(),
            pattern_name: known.map_or(&self.pattern, |known| &known.name).clone(),
            size: self.size_in(known, missing),
            pattern: pattern.map_or(Id::new(0), |pattern| pattern.id),
            rank,
            without: self.without.clone(),
            only: self.only.clone(),
            care: self.care.clone(),
            max_cost: self.max_cost.clone(),
            enough: self.enough,
            one_lot: self.one_lot,
            shade: self.shade.clone(),
            place: self.place.clone(),
            pins,
        })
    }

    /// The size as the pattern calls it; its only one where none is named.
    fn size_in(&self, pattern: Option<&Pattern>, missing: &mut Vec<MissingName>) -> String {
        let Some(pattern) = pattern else {
            return self.size.clone();
        };
        let names = || pattern.sizes.iter().map(|size| size.name.as_str());
        let mut same = names().filter(|name| fold(name) == fold(&self.size));
        if let Some(size) = same.next() {
            return size.to_owned();
        }
        match (names().next(), names().count(), self.size.as_str()) {
            (Some(only), 1, "") => only.to_owned(),
            (_, _, size) => {
                missing.push(MissingName::new(MissingKind::Size, size, names()));
                size.to_owned()
            }
        }
    }
}

fn pin(
    reader: &Reader<'_>,
    pattern: Option<&Pattern>,
    chosen: &ChosenYarn,
    missing: &mut Vec<MissingName>,
) -> Result<Pin, AppError> {
    let keys = || {
        pattern
            .iter()
            .flat_map(|pattern| &pattern.yarns)
            .map(|yarn| &yarn.key)
    };
    let mut same = keys().filter(|key| fold(key.as_str()) == fold(chosen.role.as_str()));
    let role = same.next();
    if role.is_none() && pattern.is_some() {
        let (kind, name) = (MissingKind::Role, chosen.role.as_str());
        missing.push(MissingName::new(kind, name, keys().map(Name::as_str)));
    }
    let yarn = yarn_titled(reader, &chosen.yarn)?;
    if yarn.is_none() {
        let titles = reader.yarn_titles()?;
        let titles = titles.iter().map(|(_, title)| title.as_str());
        missing.push(MissingName::new(MissingKind::Yarn, &chosen.yarn, titles));
    }
    Ok(Pin {
        role: role.unwrap_or(&chosen.role).clone(),
        yarn_name: match &yarn {
            Some(yarn) => yarn.record.title(),
            None => chosen.yarn.clone(),
        },
        yarn: yarn.map_or(Id::new(0), |yarn| yarn.id),
        shade: chosen.shade.clone(),
    })
}

/// The row of a project: pattern and yarns as they are called now, else as they were.
pub(in crate::app) fn row_of(
    reader: &Reader<'_>,
    project: &Project,
) -> Result<ProjectRow, AppError> {
    let pattern = pattern_of(reader, project)?;
    let chosen = |pin: &Pin| {
        let yarn = match reader.yarn(pin.yarn) {
            Err(StoreError::Gone { .. }) => pin.yarn_name.clone(),
            found => found?.record.title(),
        };
        Ok(ChosenYarn {
            role: pin.role.clone(),
            yarn,
            shade: pin.shade.clone(),
        })
    };
    let yarns = project.pins.iter().map(chosen);
    Ok(ProjectRow {
        name: project.name.clone(),
        pattern: pattern.map_or(project.pattern_name.clone(), |found| found.record.name),
        size: project.size.clone(),
        without: project.without.clone(),
        only: project.only.clone(),
        care: project.care.clone(),
        max_cost: project.max_cost.clone(),
        enough: project.enough,
        one_lot: project.one_lot,
        shade: project.shade.clone(),
        place: project.place.clone(),
        yarns: yarns.collect::<Result<_, AppError>>()?,
    })
}

/// The columns in which two rows differ.
fn differences(kept: &ProjectRow, stated: &ProjectRow) -> Vec<FieldChange> {
    let columns = ProjectRow::COLUMNS.iter().map(|column| column.name);
    let texts = kept.texts().into_iter().zip(stated.texts());
    let differ = columns
        .zip(texts)
        .filter(|(_, (kept, stated))| kept != stated);
    let text = |text: String| Some(text).filter(|text| !text.is_empty());
    differ
        .map(|(field, (kept, stated))| FieldChange {
            field,
            texts: Some([text(kept), text(stated)]),
        })
        .collect()
}

impl MissingName {
    fn new<'n>(kind: MissingKind, name: &str, all: impl Iterator<Item = &'n str>) -> Self {
        let near = did_you_mean(name, all).into_iter();
        Self {
            kind,
            name: name.to_owned(),
            near: near.map(str::to_owned).collect(),
        }
    }
}
