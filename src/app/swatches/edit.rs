//! A swatch as a form, and back.

use super::{SwatchRequest, read_swatch, swatch_kept, swatch_title, titles};
use crate::{
    app::{AppError, Fault, FaultKind, FieldNote, KeptFields, RecordChange, Records, from_form},
    label::cells::written,
    measure::Interval,
    record::{Id, StatedGauge, Swatch},
    store::{KeptSwatch, Reader, Writer},
    words::joined,
};

/// The swatch with this number and the number of its yarn.
pub fn swatch_to_edit(records: &Records, number: i64) -> Result<(i64, KeptFields), AppError> {
    kept(&records.store()?.reader()?, number)
}

fn kept(reader: &Reader<'_>, number: i64) -> Result<(i64, KeptFields), AppError> {
    let KeptSwatch { yarn, kept } = reader.swatch(Id::new(number))?;
    let measured = &kept.record;
    let held_with = titles(reader, &measured.held_with)?;
    let after = measured.after.map(StatedGauge::bare);
    let text = |gauge: Option<&StatedGauge>| gauge.map_or_else(String::new, written::gauge);
    let typed = [
        ("needle", written::needles(Interval::one(measured.needle))),
        ("before", text(measured.before.as_ref())),
        ("after", text(after.as_ref())),
        ("held-with", joined(held_with, "\n")),
        ("notes", measured.notes.clone()),
    ];
    let edit = KeptFields {
        version: kept.version,
        title: swatch_title(reader, kept.id)?,
        typed: typed.into_iter().collect(),
    };
    Ok((yarn.number(), edit))
}

/// Keeps a new swatch of the yarn with this number, or changes one of it that
/// was read at a version.
pub fn save_swatch(
    records: &mut Records,
    yarn: i64,
    read: Option<(i64, i64)>,
    request: &SwatchRequest,
) -> Result<RecordChange, AppError> {
    records.store_mut()?.write(|writer| {
        let (mut swatch, notes) = read_swatch(writer, request)?;
        let id = match read {
            None => writer.add_swatch(Id::new(yarn), &swatch)?,
            Some(read) => {
                save(writer, read, &mut swatch)?;
                Id::new(read.0)
            }
        };
        swatch_kept(writer, id, notes)
    })
}

/// Changes a swatch that was read at a version; the day on which it was measured stays.
fn save(
    writer: &Writer<'_>,
    (number, version): (i64, i64),
    swatch: &mut Swatch,
) -> Result<(), AppError> {
    swatch.measured_on = writer.swatch(Id::new(number))?.kept.record.measured_on;
    writer.update_swatch(Id::new(number), version, swatch)?;
    Ok(())
}

/// Changes what is given of a swatch; an empty text takes out what is there.
pub fn edit_swatch(
    records: &mut Records,
    number: i64,
    request: &SwatchRequest,
) -> Result<RecordChange, AppError> {
    if request.given().next().is_none() {
        let kind = FaultKind::OneNeeded(&SwatchRequest::FIELDS);
        return Err(AppError::Faults(vec![Fault::new("", kind)]));
    }
    let text = number.to_string();
    let given: Vec<(&str, String)> = request.given().collect();
    let given = given.iter().flat_map(|(field, text)| [*field, text]);
    let what = ["edit", "swatch", &text].into_iter().chain(given);
    records.change_once(what, |writer, made| {
        let notes = match made {
            Some(_) => Vec::new(),
            None => edit(writer, number, request)?,
        };
        let change = swatch_kept(writer, Id::new(number), notes)?;
        Ok((text.clone(), change))
    })
}

fn edit(
    writer: &Writer<'_>,
    number: i64,
    request: &SwatchRequest,
) -> Result<Vec<FieldNote>, AppError> {
    let (
        _,
        KeptFields {
            version, mut typed, ..
        },
    ) = kept(writer, number)?;
    request
        .given()
        .for_each(|(field, text)| typed.set(field, text));
    let (mut swatch, notes) = read_swatch(writer, &from_form(&typed)?)?;
    save(writer, (number, version), &mut swatch)?;
    Ok(notes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{FormData, YARN_COLUMNS, save_yarn};

    #[test]
    fn a_swatch_is_edited_and_the_second_editor_is_told() {
        let mut records = Records::in_memory().unwrap();
        let yarn: FormData = YARN_COLUMNS.iter().map(|f| (f.name, f.example)).collect();
        let (yarn, _) = save_yarn(&mut records, None, &yarn).unwrap();
        let mut typed = SwatchRequest {
            needle: Some("4 mm".to_owned()),
            before: Some("21 sts x 28 rows / 10 cm, garter, flat".to_owned()),
            after: Some("20 sts / 4 in".to_owned()),
            ..SwatchRequest::default()
        };
        save_swatch(&mut records, yarn, None, &typed).unwrap();
        let (of, read) = swatch_to_edit(&records, 1).unwrap();
        assert_eq!(of, yarn);
        typed.before = Some(read.typed.text("before").to_owned());
        typed.after = Some(read.typed.text("after").to_owned());
        typed.notes = Some("blocked".to_owned());
        let at = Some((1, read.version));
        save_swatch(&mut records, yarn, at, &typed).unwrap();
        let (_, again) = swatch_to_edit(&records, 1).unwrap();
        assert_eq!(again.typed.text("before"), read.typed.text("before"));
        assert_eq!(again.typed.text("notes"), "blocked");
        assert!(
            save_swatch(&mut records, yarn, at, &typed)
                .unwrap_err()
                .is_clash()
        );
    }
}
