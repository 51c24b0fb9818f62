//! The counts of a form. All that are not read are told at once.

use crate::app::{self, AppError, FieldFault, FieldFaults, FormData};

/// Counts by the names of their fields.
pub(super) struct Numbers(Vec<(&'static str, Option<f64>)>);

impl Numbers {
    pub(super) fn of(typed: &FormData, names: &[&'static str]) -> Result<Self, AppError> {
        let (mut read, mut faults) = (Vec::new(), Vec::new());
        for name in names {
            match app::typed_number(name, typed.text(name)) {
                Ok(number) => read.push((*name, number)),
                Err(AppError::Reading { what, source }) => faults.push(FieldFault {
                    field: what,
                    message: source.to_string(),
                }),
                Err(other) => return Err(other),
            }
        }
        match faults.is_empty() {
            true => Ok(Self(read)),
            false => Err(AppError::Fields(FieldFaults(faults))),
        }
    }

    /// The count of a field; nothing where it is empty.
    pub(super) fn get(&self, name: &str) -> Option<f64> {
        let known = self.0.iter().find(|(known, _)| *known == name);
        known.and_then(|(_, number)| *number)
    }
}
