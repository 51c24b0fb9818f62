//! What is kept of a lot beside its ledger, as a form, and back.

use super::LotRequest;
use crate::{
    app::{
        AppError, Fault, FaultKind, FieldNote, FormData, KeptFields, RecordChange, Records,
        change::read_from_form,
    },
    files::csv::{StockRow, read_record, record_texts},
    label::cells,
    record::Id,
    store::{Reader, Writer},
};

/// The lot with this number, to be edited; its amount is for its ledger.
pub fn lot_to_edit(records: &Records, number: i64) -> Result<KeptFields, AppError> {
    kept(&records.store()?.reader()?, number)
}

fn kept(reader: &Reader<'_>, number: i64) -> Result<KeptFields, AppError> {
    let stock = reader.lot(Id::new(number))?;
    let yarn = reader.yarn(stock.yarn)?.record;
    let title = yarn.title();
    let row = StockRow {
        maker: yarn.maker,
        name: yarn.name,
        lot: stock.lot.record,
        amount: stock.opening.amount,
    };
    Ok(KeptFields {
        version: stock.lot.version,
        title,
        typed: record_texts(&row).into_iter().collect(),
    })
}

/// Changes shade, its colour, dye lot, place, weighed put-up, price and notes of a lot
/// that was read at `version`.
pub fn save_lot(
    records: &mut Records,
    number: i64,
    version: i64,
    typed: &FormData,
) -> Result<RecordChange, AppError> {
    let store = records.store_mut()?;
    store.write(|writer| save(writer, number, version, typed))
}

/// Changes what is given of a lot; an empty text takes out what is there.
pub fn edit_lot(
    records: &mut Records,
    number: i64,
    request: &LotRequest,
) -> Result<RecordChange, AppError> {
    if request.given().next().is_none() {
        let kind = FaultKind::OneNeeded(&LotRequest::FIELDS);
        return Err(AppError::Faults(vec![Fault::new("", kind)]));
    }
    let text = number.to_string();
    let given = request.given().flat_map(|(field, text)| [field, text]);
    let what = ["edit", "lot", &text].into_iter().chain(given);
    records.change_once(what, |writer, made| {
        let KeptFields {
            version,
            title: yarn,
            mut typed,
        } = kept(writer, number)?;
        let change = match made {
            Some(_) => RecordChange::LotChanged {
                number,
                yarn,
                notes: Vec::new(),
            },
            None => {
                request
                    .given()
                    .for_each(|(field, text)| typed.set(field, text));
                save(writer, number, version, &typed)?
            }
        };
        Ok((text.clone(), change))
    })
}

fn save(
    writer: &Writer<'_>,
    number: i64,
    version: i64,
    typed: &FormData,
) -> Result<RecordChange, AppError> {
    let kept = kept(writer, number)?;
    let read = read_record::<StockRow>(|column| match column {
        "maker" | "name" | "amount" => kept.typed.text(column),
        column => typed.text(column),
    });
    let (row, mut notes) = read_from_form(read)?;
    if row.lot.colour.is_none() {
        notes.extend(colour_in_name(&row.lot.shade));
    }
    writer.update_lot(Id::new(number), version, &row.lot)?;
    Ok(RecordChange::LotChanged {
        number,
        yarn: kept.title,
        notes,
    })
}

/// What a picker of colours shows for a text; a grey where the text is no colour.
pub fn colour_to_pick(text: &str) -> String {
    let read = cells::colour(text).ok();
    read.map_or_else(|| "#808080".to_owned(), |colour| colour.value.to_string())
}

/// Whether a shade has the name of a colour.
pub fn is_colour(shade: &str) -> bool {
    cells::colour_in_name(shade).is_some()
}

/// That a shade has the name of a colour, which nobody has said that it looks like.
pub(super) fn colour_in_name(shade: &str) -> Option<FieldNote> {
    let kind = cells::colour_in_name(shade)?.into();
    let field = "colour".to_owned();
    Some(FieldNote { field, kind })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{STOCK_COLUMNS, YARN_COLUMNS, save_yarn};

    #[test]
    fn a_lot_is_moved_once_and_the_second_mover_is_told() {
        let mut records = Records::in_memory().unwrap();
        let yarn: FormData = YARN_COLUMNS.iter().map(|f| (f.name, f.example)).collect();
        save_yarn(&mut records, None, &yarn).unwrap();
        let lot: FormData = STOCK_COLUMNS.iter().map(|f| (f.name, f.example)).collect();
        let bought = crate::app::BuyRequest {
            yarn: Some("Zellandine, Orrin DK".to_owned()),
            amount: lot.filled("amount"),
            lot: LotRequest {
                shade: Some("moss".to_owned()),
                ..Default::default()
            },
        };
        crate::app::buy(&mut records, &bought).unwrap();
        let read = lot_to_edit(&records, 1).unwrap();
        let mut moved = read.typed.clone();
        moved.set("place", "the shelf");
        save_lot(&mut records, 1, read.version, &moved).unwrap();
        assert_eq!(
            lot_to_edit(&records, 1).unwrap().typed.text("place"),
            "the shelf"
        );
        assert!(
            save_lot(&mut records, 1, read.version, &moved)
                .unwrap_err()
                .is_clash()
        );
    }
}
