//! A day.

use super::whole::Cell;
use crate::label::reading::{ReadError, Reading};

/// `2026-03-01`, as it is kept: year, month, day. Other orders are refused, since
/// `1/3/2026` is two days.
pub fn day(text: &str) -> Cell<String> {
    let read = text.parse::<jiff::civil::Date>().ok();
    match read.filter(|day| day.to_string() == text) {
        Some(_) => Ok(Reading {
            value: text.to_owned(),
            notes: Vec::new(),
        }),
        None => Err(ReadError {
            span: 0..text.len(),
            given: text.to_owned(),
            why: "this is no day that there is, written as a year, a month and a day".to_owned(),
            allowed: "as in `2026-03-01`".to_owned(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_a_year_a_month_and_a_day() {
        assert_eq!(day("2024-02-29").unwrap().value, "2024-02-29");
        for other in [
            "2026-02-29",
            "1/3/2026",
            "2026-3-1",
            "2026-03-01T10:00",
            "today",
            "",
        ] {
            assert!(day(other).is_err(), "{other}");
        }
    }
}
