//! An answer stops at the first value that is not read. Here it is asked again
//! without that value, until nothing more is found, so that a form tells all that
//! is wrong with it at once.

use crate::app::{AppError, FieldFault, FieldFaults, FormData};

/// The answer, or every value that is not read.
pub(super) fn every_fault<T>(
    typed: &FormData,
    answer: impl Fn(&FormData) -> Result<T, AppError>,
) -> Result<T, AppError> {
    let first = match answer(typed) {
        Ok(answered) => return Ok(answered),
        Err(error) => error,
    };
    let mut found: Vec<FieldFault> = values_of(&first);
    let mut without = typed.clone();
    let mut seen = 0;
    while seen < found.len() {
        for fault in found.iter().skip(seen) {
            without.set(&fault.field, "");
        }
        seen = found.len();
        let more = answer(&without).err();
        let more = more.map(|error| values_of(&error)).unwrap_or_default();
        let is_typed = |fault: &FieldFault| !without.text(&fault.field).trim().is_empty();
        found.extend(more.into_iter().filter(is_typed));
    }
    match found.len() {
        0 | 1 => Err(first),
        _ => Err(AppError::Fields(FieldFaults(found))),
    }
}

/// Values that are not read; nothing for any other error.
fn values_of(error: &AppError) -> Vec<FieldFault> {
    match error {
        AppError::Reading { what, source } => vec![FieldFault {
            field: what.trim_start_matches('-').to_owned(),
            message: source.to_string(),
        }],
        AppError::Fields(faults) => faults.0.clone(),
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::typed_number;

    fn sum(typed: &FormData) -> Result<f64, AppError> {
        let mut sum = 0.0;
        for field in ["a", "b", "c"] {
            sum += typed_number(field, typed.text(field))?.unwrap_or(0.0);
        }
        Ok(sum)
    }

    fn fields(pairs: [(&str, &str); 3]) -> Result<f64, Vec<String>> {
        let typed: FormData = pairs.into_iter().collect();
        every_fault(&typed, sum).map_err(|error| {
            let faults = values_of(&error).into_iter();
            faults.map(|fault| fault.field).collect()
        })
    }

    #[test]
    fn all_values_that_are_not_read_are_found() {
        assert_eq!(fields([("a", "1"), ("b", ""), ("c", "2")]), Ok(3.0));
        let told = fields([("a", "x"), ("b", "1"), ("c", "y")]);
        assert_eq!(told, Err(vec!["a".to_owned(), "c".to_owned()]));
        let told = fields([("a", "x"), ("b", "y"), ("c", "z")]);
        assert_eq!(told.unwrap_err().len(), 3);
    }
}
