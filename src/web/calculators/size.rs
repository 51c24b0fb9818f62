//! Finished size from counts and a gauge.

use super::calculator_page::CalculatorPage;
use crate::{
    app::{self, FormData, SizeRequest},
    web::{form::Form, preferences::Preferences},
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "How big will it come out?",
    intro: "Stitches, rows and a gauge make a width and a height.",
    main: "",
    links: &[],
};

pub(super) async fn page(prefs: Preferences, sent: FormData) -> Response {
    let form = Form::asking::<SizeRequest>("size", "/size", "How big?");
    PAGE.answered(&prefs, &sent, form, app::size)
}
