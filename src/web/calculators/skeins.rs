//! How many skeins a need takes, and how sure they are to be enough.

use super::{calculator_page::CalculatorPage, chance};
use crate::{
    app::{self, FormData, SkeinsRequest},
    web::{form::Form, preferences::Preferences},
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "How many skeins?",
    intro: "From what it takes and what one skein holds. Buy by length, not by balls or grams.",
    main: "",
    links: &[],
};

pub(super) async fn page(preferences: Preferences, sent: FormData) -> Response {
    let form = Form::asking::<SkeinsRequest>("skeins", "/skeins", "How many?");
    let form = form.change("sure", chance::as_choice);
    PAGE.answered(&preferences, &sent, form, app::skeins)
}
