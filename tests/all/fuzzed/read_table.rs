//! Any bytes as a table: no panic, every row tells its line, and a table that
//! is read, written and read again gives the same records.

use std::fmt::Debug;
use understudy::{
    files::csv::{StockRow, TableRecord, read_table, write_records},
    record::Yarn,
};

/// Panics where `data` does not hold.
pub fn check(data: &[u8]) {
    twice::<Yarn>(data);
    twice::<StockRow>(data);
}

fn twice<T: TableRecord + PartialEq + Debug>(data: &[u8]) {
    let Ok(rows) = read_table::<T>("t.csv", data, |_| {}) else {
        return;
    };
    let mut records = Vec::new();
    let mut last = 0;
    for row in rows {
        let Ok(row) = row else { break };
        assert!(row.line > last, "line {} after {last}", row.line);
        last = row.line;
        match row.record {
            Ok(record) => records.push(record),
            Err(faults) => assert!(!faults.is_empty(), "refused without a reason"),
        }
    }
    let mut bytes = Vec::new();
    write_records("t.csv", &mut bytes, &records).expect("memory takes all that is written");
    let again: Vec<T> = read_table("t.csv", bytes.as_slice(), |_| {})
        .expect("what was written opens")
        .map(|row| row.expect("a row that was written").record)
        .map(|record| record.unwrap_or_else(|faults| panic!("{faults:?}")))
        .collect();
    assert_eq!(again, records);
}
