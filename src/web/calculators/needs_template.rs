//! Yarn for every size without writing a text: one kind of piece, weighed in one
//! size. The text that follows from it stands below the answer, to go on with.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage, is_asked},
    needs,
    text::{FIELD, pasted_text},
};
use crate::{
    app::{self, AppError, FormData, NeedsAnswer, NeedsTemplateRequest},
    web::{form::Form, preferences::Preferences},
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Yarn for every size, from one piece",
    intro: "You have knitted a piece, or several of one kind, in one size, and weighed it. A scarf, a shawl or a blanket is done with that; of other things it is a beginning that goes on as a text.",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    let typed = sent;
    if !is_asked(&typed) {
        return PAGE.asked(&prefs, &form().hidden(ASKED_FIELD, "yes").filled(&typed));
    }
    let (text, answer) = match answer(&typed) {
        Ok((text, answer)) => (text, Ok(answer)),
        Err(error) => (String::new(), Err(error)),
    };
    PAGE.written(&prefs, &typed, form(), answer, |body| {
        let typed = with_text(&typed, text);
        needs::offer_pattern(body, &typed);
        body.part_at("more", "Go on with more pieces and edges");
        body.form(&needs::form().filled(&typed));
    })
}

/// The text that the form amounts to, and what follows from it.
fn answer(typed: &FormData) -> Result<(String, NeedsAnswer), AppError> {
    let mut request: NeedsTemplateRequest = app::from_form(typed)?;
    let text = app::needs_template(&request)?;
    request.stated.file = pasted_text("The form", &text);
    Ok((text, app::needs(&request.stated)?))
}

/// What the form of the text holds.
fn with_text(typed: &FormData, text: String) -> FormData {
    let stated = ["margin", "step"].map(|field| (field, typed.text(field).to_owned()));
    stated.into_iter().chain([(FIELD, text)]).collect()
}

fn form() -> Form {
    let form =
        Form::asking::<NeedsTemplateRequest>("begin", "/needs/begin", "What does every size take?");
    form.unfolded(&["The pattern", "The piece", "What was weighed"])
        .replaced(&[(FIELD, "mass")])
}
