//! A project with another name, size or wishes. What is reserved for it is reserved under
//! its name, so a new name takes the reservations along.

use super::{
    EditProjectRequest, Which,
    edit::changed,
    pattern_of,
    reservations::{Reservations, enter, release},
    sizes_of, wishes,
};
use crate::{
    app::{
        AppError, Fault, FaultKind, InputReader, ProjectDeed, QuestionFault, RecordChange, Records,
        question::{chosen_size, resolve},
        records::today,
    },
    label::cells,
    record::{EntryKind, Id, Name, Project, Stored},
    store::{Reader, Writer},
};

/// Changes what is given of a project.
pub fn edit_project(
    records: &mut Records,
    which: Which<'_>,
    request: &EditProjectRequest,
) -> Result<RecordChange, AppError> {
    if request.given().next().is_none() {
        let kind = FaultKind::OneNeeded(&EditProjectRequest::FIELDS);
        return Err(AppError::Faults(vec![Fault::new("", kind)]));
    }
    let said = request.given().flat_map(|(field, text)| [field, text]);
    let said: Vec<&str> = said.collect();
    changed(
        records,
        ("edit", which),
        said,
        ProjectDeed::Edited,
        |writer, kept| {
            let project = edited(writer, &kept.record, request)?;
            writer.update_project(kept.id, kept.version, &project)?;
            if project.name != kept.record.name {
                rename_reservations(writer, kept, &project.name)?;
            }
            Ok(())
        },
    )
}

fn edited(
    reader: &Reader<'_>,
    kept: &Project,
    request: &EditProjectRequest,
) -> Result<Project, AppError> {
    let mut project = kept.clone();
    let pattern = pattern_of(reader, kept)?;
    let mut input = InputReader::default();
    for (field, text) in request.given() {
        match field {
            "name" => project.name = Name::project(text)?,
            "size" if text == kept.size => {}
            "size" => {
                let sizes = pattern
                    .as_ref()
                    .map_or_else(Vec::new, |it| sizes_of(&it.record));
                match chosen_size(Some(text), &sizes)?.and_then(|place| sizes.get(place)) {
                    Some(size) => project.size.clone_from(size),
                    None => {
                        let pattern = kept.pattern_name.to_string();
                        input.fault(field, QuestionFault::SizeNeeded { pattern, sizes });
                    }
                }
            }
            "without" => project.without = text.to_owned(),
            "only" => project.only = text.to_owned(),
            "max-cost" => project.max_cost = text.to_owned(),
            "shade" => project.shade = text.to_owned(),
            "place" => project.place = text.to_owned(),
            "enough" => project.enough = is_yes(&mut input, field, text),
            "one-lot" => project.one_lot = is_yes(&mut input, field, text),
            _ => project.care = text.to_owned(),
        }
    }
    if let Some(pattern) = &pattern {
        // So that what is wanted of the yarn can be read whenever it is planned.
        resolve(&mut input, &wishes(&project), Some(&pattern.record))?;
    }
    input.check()?;
    Ok(project)
}

/// An empty text is no.
fn is_yes(input: &mut InputReader, field: &str, text: &str) -> bool {
    input.optional(field, Some(text), cells::yes_no) == Some(true)
}

fn rename_reservations(
    writer: &Writer<'_>,
    kept: &Stored<Project>,
    name: &Name,
) -> Result<(), AppError> {
    let today = today();
    for reserved in Reservations::of(writer)?.of_project(kept.record.name.as_str()) {
        let amount = release(writer, &reserved, &today)?;
        let lot = Id::new(reserved.lot);
        enter(
            writer,
            EntryKind::Reserved,
            (lot, amount),
            (name.as_str(), &today),
        )?;
    }
    Ok(())
}
