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
    let candidates = candidates(typed)?;
    if typed.filled("wants").is_none() {
        fields.set("need", "");
    }
    fields.set("top", TOP);
    let wants_fields = correct::corrected(typed, "wanted");
    match candidates {
        Candidates::One(yarn) => {
            fields.set("yarn", yarn);
            let mut request: CheckRequest = from_form(&fields)?;
            request.question.wants_fields = wants_fields;
            request.band_fields = correct::corrected(typed, "offered");
            Ok(Question::One(Box::new(request)))
        }
        Candidates::From(source) => {
            fields.set("from", source);
            let mut request: FindRequest = from_form(&fields)?;
            request.question.wants_fields = wants_fields;
            Ok(Question::Best(Box::new(request)))
        }
    }
}

/// What is offered: one yarn, or the best of a source.
enum Candidates {
    One(String),
    From(String),
}

/// What the fields offer. Two yarns at once are asked about.
fn candidates(typed: &FormData) -> Result<Candidates, FieldError> {
    let source = typed.text("offered");
    match (source, typed.filled("yarn"), typed.filled("band")) {
        ("stash" | "catalogue", None, None) => Ok(Candidates::From(source.to_owned())),
        ("stash" | "catalogue", ..) => Err(FieldError::new(
            "offered",
            "there is a yarn below as well: empty those fields, or choose `One yarn`",
        )),
        (_, Some(yarn), None) => Ok(Candidates::One(yarn)),
        (_, None, Some(band)) => Ok(Candidates::One(band)),
        (_, Some(_), Some(_)) => Err(FieldError::new(
            "band",
            "there is a yarn above as well: leave one of the two empty",
        )),
        (_, None, None) => Err(FieldError::new(
            "yarn",
            "the yarn is missing: write its name, scan its barcode, or write what its label says below",
        )),
    }
}
