//! One yarn or one lot, field by field: the columns of the tables are the fields
//! of a form, and read alike.

use super::{
    STOCK_COLUMNS, StockRow, YARN_COLUMNS,
    columns::Column,
    guard::guard,
    read_stock, read_yarns,
    rows::Rows,
    write::{stock_cells, yarn_cells},
};
use crate::{
    files::{CellError, CellNote, ExchangeError},
    record::Yarn,
};

/// What one row gave: the record with what to know about it, or all its faults.
pub type One<T> = Result<(T, Vec<CellNote>), Vec<CellError>>;

/// Reads one yarn; `text` gives the text of each column of [`YARN_COLUMNS`].
pub fn read_one_yarn<'t>(text: impl Fn(&'static str) -> &'t str) -> One<Yarn> {
    let table = table_of(YARN_COLUMNS, text)?;
    one(read_yarns("the form", table.as_slice(), |_| ()))
}

/// Reads one lot; `text` gives the text of each column of [`STOCK_COLUMNS`].
pub fn read_one_lot<'t>(text: impl Fn(&'static str) -> &'t str) -> One<StockRow> {
    let table = table_of(STOCK_COLUMNS, text)?;
    one(read_stock("the form", table.as_slice(), |_| ()))
}

/// The text of each column of a yarn, as it reads back to the same yarn.
pub fn yarn_texts(yarn: &Yarn) -> Vec<(&'static str, String)> {
    named(YARN_COLUMNS, yarn_cells(yarn))
}

/// The text of each column of a lot, as it reads back to the same lot.
pub fn lot_texts(row: &StockRow) -> Vec<(&'static str, String)> {
    named(STOCK_COLUMNS, stock_cells(row))
}

fn named<const N: usize>(columns: &[Column], cells: [String; N]) -> Vec<(&'static str, String)> {
    columns
        .iter()
        .map(|column| column.name)
        .zip(cells)
        .collect()
}

fn table_of<'t>(
    columns: &[Column],
    text: impl Fn(&'static str) -> &'t str,
) -> Result<Vec<u8>, Vec<CellError>> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let heads = columns.iter().map(|column| column.name);
    let cells = columns.iter().map(|column| guard(text(column.name).trim()));
    let written = writer
        .write_record(heads)
        .and_then(|()| writer.write_record(cells.map(|cell| cell.into_owned())));
    written.map_err(|error| whole(&error))?;
    writer.into_inner().map_err(|error| whole(&error))
}

fn one<T: Send + 'static>(rows: Result<Rows<'_, T>, ExchangeError>) -> One<T> {
    let mut rows = rows.map_err(|error| whole(&error))?;
    let row = rows.next().transpose().map_err(|error| whole(&error))?;
    let row = row.ok_or_else(|| whole(&"nothing stands here"))?;
    let warnings = row.warnings;
    row.record.map(|record| (record, warnings))
}

fn whole(error: &impl ToString) -> Vec<CellError> {
    vec![CellError::row(
        1,
        "",
        error.to_string(),
        "shorten the texts",
    )]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn yarn(pairs: &[(&str, &str)]) -> One<Yarn> {
        read_one_yarn(|column| {
            let found = pairs.iter().find(|(name, _)| *name == column);
            found.map_or("", |(_, text)| text)
        })
    }

    #[test]
    fn a_yarn_goes_into_its_fields_and_comes_back() {
        let (kept, _) = yarn(&[
            ("maker", "Quenby"),
            ("name", "=Sandgate"),
            ("length", "125 m"),
            ("mass", "50 g"),
            ("fibre", "75% wool 25% nylon"),
            ("notes", "line one\nline two"),
        ])
        .unwrap();
        let texts = yarn_texts(&kept);
        let again = read_one_yarn(|column| {
            let found = texts.iter().find(|(name, _)| *name == column);
            found.map_or("", |(_, text)| text.as_str())
        });
        assert_eq!(again.unwrap().0, kept);
        assert_eq!(kept.name.as_str(), "=Sandgate");
    }

    #[test]
    fn every_bad_field_is_told_at_once() {
        let faults = yarn(&[("maker", "Quenby"), ("length", "long"), ("mass", "50 g")]);
        let fields: Vec<String> = faults.unwrap_err().into_iter().map(|f| f.field).collect();
        assert_eq!(fields, ["name", "length"]);
    }
}
