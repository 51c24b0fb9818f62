//! Any bytes as a table: no panic, every row tells its line, and a table that
//! is read, written and read again gives the same records.

use std::fmt::Debug;
use understudy::files::{
    ExchangeError,
    csv::{Rows, read_stock, read_yarns, write_stock, write_yarns},
};

/// Panics where `data` does not hold.
pub fn check(data: &[u8]) {
    twice(
        data,
        |bytes| read_yarns("y.csv", bytes, |_| {}),
        |target, yarns| write_yarns("y.csv", target, yarns),
    );
    twice(
        data,
        |bytes| read_stock("s.csv", bytes, |_| {}),
        |target, rows| write_stock("s.csv", target, rows),
    );
}

type Opened<'a, T> = Result<Rows<'a, T>, ExchangeError>;

fn twice<T: PartialEq + Debug + Send + 'static>(
    data: &[u8],
    read: impl for<'a> Fn(&'a [u8]) -> Opened<'a, T>,
    write: impl Fn(&mut Vec<u8>, &[T]) -> Result<u64, ExchangeError>,
) {
    let Ok(rows) = read(data) else { return };
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
    write(&mut bytes, &records).expect("memory takes all that is written");
    let again: Vec<T> = read(&bytes)
        .expect("what was written opens")
        .map(|row| row.expect("a row that was written").record)
        .map(|record| record.unwrap_or_else(|faults| panic!("{faults:?}")))
        .collect();
    assert_eq!(again, records);
}
