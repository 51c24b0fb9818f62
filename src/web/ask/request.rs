//! What only this page has, a choice among the patterns and of what is offered, as
//! the fields of a request.

use super::correct;
use crate::{
    app::{CheckRequest, FindRequest, FormData, PatternChoice, from_form},
    web::{
        fields::with_pattern,
        refusal::{FieldError, Refusal},
    },
};

/// How many candidates a list shows.
const TOP: &str = "8";

/// The question of the form.
pub(super) enum Question {
    /// About one yarn: its name, its article number, or what its band says.
    One(Box<CheckRequest>),
    /// For the best of many.
    Best(Box<FindRequest>),
}

/// Reads the question of the form.
pub(super) fn question(typed: &FormData, patterns: &[PatternChoice]) -> Result<Question, Refusal> {
    let mut fields = with_pattern(typed, patterns)?;
    let (offered, value) = offered(typed)?;
    fields.set(offered, value);
    if typed.filled("wants").is_none() {
        fields.set("need", "");
    }
    fields.set("top", TOP);
    let wants_fields = correct::corrected(typed, "wanted");
    if offered == "from" {
        let mut request: FindRequest = from_form(&fields)?;
        request.question.wants_fields = wants_fields;
        return Ok(Question::Best(Box::new(request)));
    }
    let mut request: CheckRequest = from_form(&fields)?;
    request.question.wants_fields = wants_fields;
    request.band_fields = correct::corrected(typed, "offered");
    Ok(Question::One(Box::new(request)))
}

/// The field of a request that says what is offered, one `yarn` or the best `from` a
/// source, and its text. Two yarns at once are asked about.
fn offered(typed: &FormData) -> Result<(&'static str, String), FieldError> {
    let source = typed.text("offered");
    let (field, said) = match (source, typed.filled("yarn"), typed.filled("band")) {
        ("stash" | "catalogue", None, None) => return Ok(("from", source.to_owned())),
        ("stash" | "catalogue", ..) => (
            "offered",
            "there is a yarn below as well: empty those fields, or choose `One yarn`",
        ),
        (_, Some(one), None) | (_, None, Some(one)) => return Ok(("yarn", one)),
        (_, Some(_), Some(_)) => (
            "band",
            "there is a yarn above as well: leave one of the two empty",
        ),
        (_, None, None) => (
            "yarn",
            "the yarn is missing: write its name, scan its barcode, or write what its label says below",
        ),
    };
    Err(FieldError::new(field, said))
}
