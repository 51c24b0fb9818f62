//! A yarn as a form, and back.

use crate::{
    app::{AppError, FormData, KeptFields, RecordChange, Records, change::read_from_form},
    files::csv::{read_record, record_texts},
    record::{Id, Yarn},
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
        None => writer.add_yarn(&yarn).map(Id::number),
        Some((number, version)) => writer
            .update_yarn(Id::new(number), version, &yarn)
            .map(|_| number),
    })?;
    let yarn = Box::new(yarn);
    Ok((number, RecordChange::YarnKept { yarn, notes }))
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
