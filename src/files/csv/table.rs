//! Any table of an answer written as CSV.

use super::guard::guard;
use crate::files::ExchangeError;
use std::io::{self, Write};

/// Writes a head and rows; a cell that a spreadsheet would take for a formula is
/// guarded. `file` is what messages call it.
pub fn write_table(
    file: &str,
    target: impl Write,
    columns: &[String],
    rows: &[Vec<String>],
) -> Result<(), ExchangeError> {
    let write = || -> io::Result<()> {
        let mut writer = csv::Writer::from_writer(target);
        for row in std::iter::once(columns).chain(rows.iter().map(Vec::as_slice)) {
            writer.write_record(row.iter().map(|cell| guard(cell).into_owned()))?;
        }
        writer.flush()
    };
    write().map_err(|source| ExchangeError::Write {
        file: file.to_owned(),
        source,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_where_they_must_be_and_formulas_are_guarded() {
        let mut text = Vec::new();
        let columns = ["yarn", "skeins S"].map(str::to_owned);
        let rows = vec![["=1+1, a", "4"].map(str::to_owned).to_vec()];
        write_table("x.csv", &mut text, &columns, &rows).unwrap();
        assert_eq!(
            String::from_utf8(text).unwrap(),
            "yarn,skeins S\n\"'=1+1, a\",4\n"
        );
    }
}
