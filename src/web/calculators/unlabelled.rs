//! A ball without a label.

use super::calculator_page::CalculatorPage;
use crate::{
    app::{self, FormData, UnlabelledRequest},
    web::{form::Form, preferences::Preferences},
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "A ball without a label",
    intro: "How long it is, how thick, and which weight class it may be. Any one of these ways will do; two that agree are better.",
    main: "length",
    links: &[],
};

/// The parts of the form that are not folded away.
const OPEN: [&str; 3] = [
    "The ball",
    "A length, measured off and weighed",
    "Or another way",
];

pub(super) async fn page(preferences: Preferences, sent: FormData) -> Response {
    let form = Form::asking::<UnlabelledRequest>("unlabelled", "/unlabelled", "What may it be?");
    PAGE.answered(&preferences, &sent, form.unfolded(&OPEN), app::unlabelled)
}
