//! One length per mass in every unit.

mod request;

pub use request::ConvertRequest;

use super::{AppError, FaultKind, FieldNote, InputReader, MOST_STRANDS};
use crate::{
    label::cells,
    measure::{Grist, Mass},
};

/// Answer to [`convert`].
#[derive(Debug, Clone)]
pub struct ConvertAnswer {
    /// What was converted, as typed.
    pub values: Vec<String>,
    /// Strands of each.
    pub strands: u8,
    /// Length per mass of all held together.
    pub grist: Grist,
    /// A mass to give the length for.
    pub basis: Option<Mass>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// The length per mass of the values held together.
pub fn convert(request: &ConvertRequest) -> Result<ConvertAnswer, AppError> {
    let mut reader = InputReader::default();
    if request.values.is_empty() {
        reader.fault("value", FaultKind::Missing);
    }
    let grists: Vec<Grist> = reader
        .several("value", &request.values)
        .iter()
        .filter_map(|text| reader.required("value", Some(text.as_str()), cells::grist))
        .collect();
    let strands = reader.whole("strands", Some(request.strands.as_str()), 1..=MOST_STRANDS);
    let basis = reader.optional("basis", &request.basis, cells::mass);
    let strands = strands.unwrap_or(1);
    let ends: Vec<Grist> = grists
        .iter()
        .flat_map(|grist| std::iter::repeat_n(*grist, usize::from(strands)))
        .collect();
    Ok(ConvertAnswer {
        values: request.values.clone(),
        strands,
        grist: reader.checked(Grist::held_together(&ends))?,
        basis,
        notes: reader.notes,
    })
}
