//! What is kept of a lot beside its ledger, as a form, and back.

use crate::{
    app::{AppError, FormData, KeptFields, RecordChange, Records, change::read_from_form},
    files::csv::{StockRow, read_record, record_texts},
    record::Id,
};

/// The lot with this number, to be edited; its amount is for its ledger.
pub fn lot_to_edit(records: &Records, number: i64) -> Result<KeptFields, AppError> {
    let reader = records.store()?.reader()?;
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

/// Changes shade, dye lot, place, weighed put-up, price and notes of a lot that
/// was read at `version`.
pub fn save_lot(
    records: &mut Records,
    number: i64,
    version: i64,
    typed: &FormData,
) -> Result<RecordChange, AppError> {
    let kept = lot_to_edit(records, number)?;
    let read = read_record::<StockRow>(|column| match column {
        "maker" | "name" | "amount" => kept.typed.text(column),
        column => typed.text(column),
    });
    let (row, notes) = read_from_form(read)?;
    records
        .store_mut()?
        .write(|writer| writer.update_lot(Id::new(number), version, &row.lot))?;
    Ok(RecordChange::LotChanged {
        number,
        yarn: kept.title,
        notes,
    })
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
            shade: Some("moss".to_owned()),
            ..Default::default()
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
