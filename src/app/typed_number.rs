//! Counts of a form, as typed.

use super::AppError;
use crate::label::cells;

/// The number in a field; nothing where nothing is typed. `field` is what
/// messages are about.
pub fn typed_number(field: &str, text: &str) -> Result<Option<f64>, AppError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let read = cells::plain_number(text).map_err(|source| AppError::Reading {
        what: field.to_owned(),
        source,
    })?;
    Ok(Some(read.value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_as_people_write_it_and_nothing_else_is() {
        let read = |text| typed_number("rows", text).unwrap();
        assert_eq!(read(" 40 "), Some(40.0));
        assert_eq!(read("0"), Some(0.0));
        assert_eq!(read("40,5"), Some(40.5));
        assert_eq!(read("40 1/2"), Some(40.5));
        assert_eq!(read(""), None);
        for bad in ["forty", "4 x", "-4", "2000000", "1e9", "inf"] {
            assert!(typed_number("rows", bad).is_err(), "{bad}");
        }
    }
}
