//! Will what is left of the yarn last?

use super::calculator_page::CalculatorPage;
use crate::{
    app::{self, FormData, LastRequest},
    web::{form::Form, preferences::Preferences},
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Will it last?",
    intro: "Weigh the yarn, work some rows, weigh it again. From that follows how many rows are left in it, and where to stop.",
    main: "",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    let form = Form::asking::<LastRequest>("last", "/last", "Will it last?")
        .unfolded(&["What was weighed", "What is still to work"]);
    PAGE.answered(&prefs, &sent, form, app::last)
}
