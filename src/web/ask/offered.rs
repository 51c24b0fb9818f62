//! What is offered: one yarn, a band, the stash, or everything kept.

use super::Refused;
use crate::{
    app::{FormData, From},
    web::field_errors::FieldError,
};

/// What is offered.
pub(super) enum Offered {
    /// One yarn: its name, its article number, or what its band says.
    One(String),
    /// The best of many.
    From(From),
}

/// What the fields offer. Two yarns at once are asked about.
pub(super) fn offered(typed: &FormData) -> Result<Offered, Refused> {
    let wrong = |field: &str, message: &str| Err(Refused::ByForm(FieldError::new(field, message)));
    match (
        typed.text("offered"),
        typed.filled("yarn"),
        typed.filled("band"),
    ) {
        ("stash", None, None) => Ok(Offered::From(From::Stash)),
        ("catalogue", None, None) => Ok(Offered::From(From::Catalogue)),
        ("stash" | "catalogue", ..) => wrong(
            "offered",
            "a yarn is named below as well: empty those fields, or choose `One yarn`",
        ),
        (_, Some(yarn), None) => Ok(Offered::One(yarn)),
        (_, None, Some(band)) => Ok(Offered::One(band)),
        (_, Some(_), Some(_)) => wrong(
            "band",
            "a yarn is named above as well: leave one of the two empty",
        ),
        (_, None, None) => wrong(
            "yarn",
            "no yarn is named: write its name, scan its barcode, or write what its band says below",
        ),
    }
}
