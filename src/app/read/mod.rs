//! What is understood of a text, and the same field by field, to be corrected.

mod fields;
mod request;

pub use fields::{ReadFields, read_fields};
pub(super) use fields::{facts_of, texts_of};
pub use request::ReadRequest;

use crate::label::band::{BandReading, Title, read_titled};

/// Answer to [`read`].
#[derive(Debug, Clone)]
pub struct ReadAnswer {
    /// The text, as given.
    pub text: String,
    /// What it calls the yarn, where it says so before its facts.
    pub title: Option<Title>,
    /// What was understood of it.
    pub band: BandReading,
}

/// Reads a ball band, a materials line or any sentence about yarn.
pub fn read(request: &ReadRequest) -> ReadAnswer {
    let (title, band) = read_titled(&request.text);
    ReadAnswer {
        text: request.text.clone(),
        title,
        band,
    }
}
