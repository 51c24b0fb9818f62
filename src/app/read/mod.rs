//! What is understood of a text, and the same field by field, to be corrected.

mod fields;
mod request;

pub(super) use fields::facts_of;
pub use fields::{ReadFields, read_fields};
pub use request::ReadRequest;

use crate::label::band::{BandReading, read_band};

/// Answer to [`read`].
#[derive(Debug, Clone)]
pub struct ReadAnswer {
    /// The text, as given.
    pub text: String,
    /// What was understood of it.
    pub band: BandReading,
}

/// Reads a ball band, a materials line or any sentence about yarn.
pub fn read(request: &ReadRequest) -> ReadAnswer {
    ReadAnswer {
        text: request.text.clone(),
        band: read_band(&request.text),
    }
}
