//! A yarn as a form, and back.

use super::{EditYarnRequest, merge::rename_in_patterns};
use crate::{
    app::{
        AppError, Fault, FaultKind, FormData, KeptFields, RecordChange, Records,
        change::read_from_form, once::number_made, question::lookup::yarn_in,
    },
    files::csv::{read_record, record_texts},
    record::{Id, Project, Stored, Yarn},
    store::Writer,
};

/// The yarn with this number, to be edited.
pub fn yarn_to_edit(records: &Records, number: i64) -> Result<KeptFields, AppError> {
    let yarn = records.store()?.reader()?.yarn(Id::new(number))?;
    Ok(KeptFields {
        version: yarn.version,
        title: yarn.record.title(),
        typed: record_texts(&yarn.record).into_iter().collect(),
    })
}

/// Keeps a new yarn, or changes one that was read at a version; gives its number.
pub fn save_yarn(
    records: &mut Records,
    read: Option<(i64, i64)>,
    typed: &FormData,
) -> Result<(i64, RecordChange), AppError> {
    let (yarn, notes) = read_from_form(read_record::<Yarn>(|column| typed.text(column)))?;
    let number = records.store_mut()?.write(|writer| match read {
        None => Ok::<i64, AppError>(writer.add_yarn(&yarn)?.number()),
        Some((number, version)) => {
            change(writer, (number, version), &yarn)?;
            Ok(number)
        }
    })?;
    let yarn = Box::new(yarn);
    Ok((number, RecordChange::YarnKept { yarn, notes }))
}

/// Changes a yarn that was read at a version. Where it has another name now, patterns
/// that call for it and projects for which it was chosen name it so.
fn change(writer: &Writer<'_>, (number, version): (i64, i64), yarn: &Yarn) -> Result<(), AppError> {
    let before = writer.yarn(Id::new(number))?;
    writer.update_yarn(before.id, version, yarn)?;
    if before.record.title() != yarn.title() {
        rename_in_patterns(writer, &before.record, yarn)?;
        rename_in_projects(writer, &before, yarn)?;
    }
    Ok(())
}

fn rename_in_projects(
    writer: &Writer<'_>,
    before: &Stored<Yarn>,
    after: &Yarn,
) -> Result<(), AppError> {
    for kept in writer.projects()? {
        let mut pins = kept.record.pins.clone();
        let own = pins.iter_mut().filter(|pin| pin.yarn == before.id);
        own.for_each(|pin| pin.yarn_name = after.title());
        if pins != kept.record.pins {
            let project = Project {
                pins,
                ..kept.record
            };
            writer.update_project(kept.id, kept.version, &project)?;
        }
    }
    Ok(())
}

/// Changes what is given of the yarn that a text names; an empty text takes out what is
/// there.
pub fn edit_yarn(
    records: &mut Records,
    text: &str,
    request: &EditYarnRequest,
) -> Result<RecordChange, AppError> {
    if request.given().next().is_none() {
        let kind = FaultKind::OneNeeded(EditYarnRequest::FIELDS);
        return Err(AppError::Faults(vec![Fault::new("", kind)]));
    }
    let given = request.given().flat_map(|(field, text)| [field, text]);
    let what = ["edit", "yarn", text].into_iter().chain(given);
    records.change_once(what, |writer, made| {
        let (number, notes) = match number_made(made) {
            Some(number) => (number, Vec::new()),
            None => {
                let kept = yarn_in(writer, text)?.yarn;
                let mut typed: FormData = record_texts(&kept.record).into_iter().collect();
                request
                    .given()
                    .for_each(|(field, text)| typed.set(field, text));
                let read = read_record::<Yarn>(|column| typed.text(column));
                let (yarn, notes) = read_from_form(read)?;
                let number = kept.id.number();
                change(writer, (number, kept.version), &yarn)?;
                (number, notes)
            }
        };
        let yarn = Box::new(writer.yarn(Id::new(number))?.record);
        Ok((number.to_string(), RecordChange::YarnKept { yarn, notes }))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{app::YARN_COLUMNS, store::StoreError};

    fn example() -> FormData {
        let fields = YARN_COLUMNS;
        fields
            .iter()
            .map(|field| (field.name, field.example))
            .collect()
    }

    #[test]
    fn of_two_who_edit_one_yarn_the_second_is_told() {
        let mut records = Records::in_memory().unwrap();
        let (number, _) = save_yarn(&mut records, None, &example()).unwrap();
        let read = yarn_to_edit(&records, number).unwrap();
        let at = Some((number, read.version));
        let mut first = read.typed.clone();
        first.set("notes", "the first");
        save_yarn(&mut records, at, &first).unwrap();
        let mut second = read.typed;
        second.set("notes", "the second");
        let told = save_yarn(&mut records, at, &second).unwrap_err();
        assert!(told.is_clash(), "{told}");
        assert!(matches!(
            told,
            AppError::Store(StoreError::ChangedMeanwhile { .. })
        ));
        let kept = yarn_to_edit(&records, number).unwrap();
        assert_eq!(kept.typed.text("notes"), "the first");
    }

    #[test]
    fn every_bad_field_is_told_and_nothing_is_kept() {
        let mut records = Records::in_memory().unwrap();
        let mut typed = example();
        typed.set("mass", "heavy");
        typed.set("maker", " ");
        let Err(AppError::Faults(faults)) = save_yarn(&mut records, None, &typed) else {
            panic!("kept")
        };
        let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
        assert_eq!(fields, ["maker", "mass"]);
    }
}
