//! My gauge is not the pattern's.

use super::calculator_page::{CalculatorPage, looked_up};
use crate::{
    app::{self, FormData, GaugeAnswer, GaugeRequest, PatternChoice, Records},
    web::{
        fields::{chosen_pattern, pattern_sizes},
        form::{Form, Kind},
        links::query_without,
        preferences::Preferences,
        refusal::{ErrorPage, Refusal},
        state::AppState,
    },
};
use axum::{extract::State, response::Response};
use std::sync::Arc;

const PAGE: CalculatorPage = CalculatorPage {
    title: "My gauge is not the pattern's",
    intro: "What each size comes out at, which size or which counts to knit instead, and how much yarn that takes.",
    links: &[],
};

pub(super) async fn page(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let typed = sent.clone();
    let (patterns, answer) = state
        .read(move |records| looked_up(records, &sent, answer))
        .await??;
    let rest = query_without(&typed, &["yarn"]);
    let link = |name: &str| format!("/gauge?{rest}&yarn={name}");
    let answer = answer.map(|answer| answer.map_err(|refusal| refusal.linked(link)));
    Ok(PAGE.about_records(&prefs, &typed, form(&patterns), answer, |_| ()))
}

/// One choice stands for pattern and size, and the yarn's swatches count where no
/// gauge is written beside its name.
fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<GaugeAnswer, Refusal> {
    let (pattern, size) = chosen_pattern(typed, patterns)?;
    let mut fields = typed.clone();
    fields.set("pattern", pattern.unwrap_or_else(String::new));
    fields.set("size", size.unwrap_or_else(String::new));
    if typed.filled("own-gauge").is_none() {
        fields.set("swatch-of", typed.text("yarn"));
        fields.set("yarn", "");
    }
    Ok(app::gauge(
        records,
        &app::from_form::<GaugeRequest>(&fields)?,
    )?)
}

fn form(patterns: &[PatternChoice]) -> Form {
    Form::asking::<GaugeRequest>("gauge", "/gauge", "What comes of it?")
        .replaced(&[("swatch-of", "yarn"), ("size", "pattern")])
        .change("pattern", |field| {
            field.label = "The pattern and size".to_owned();
            field.hint = hint_of(patterns).to_owned();
            field.kind = Kind::Choose(pattern_sizes("Choose one", patterns));
        })
        .change("yarn", |field| {
            field.label = "The yarn you knit with".to_owned();
            field.hint = "Its kept swatches count, unless you write a gauge below. Empty for a gauge of no particular yarn.".to_owned();
        })
}

/// What stands below a list of patterns.
pub(super) fn hint_of(patterns: &[PatternChoice]) -> &'static str {
    if patterns.is_empty() {
        "No pattern is kept yet: add one under Patterns first."
    } else {
        ""
    }
}
