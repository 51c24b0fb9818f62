//! My gauge is not the pattern's.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage, Outcome, by_form, wrong},
    of_pattern::looked_up,
};
use crate::{
    app::{self, AppError, FormData, GaugeRequest, PatternChoice, Records},
    report::{Page, Report},
    web::{
        error_page::ErrorPage,
        form::{Field, Form, Group, Head, Kind},
        labels::Labels,
        pattern_choice::{chosen, with_sizes},
        preferences::Preferences,
        state::AppState,
    },
};
use axum::{extract::State, response::Response};
use std::sync::Arc;

const PAGE: CalculatorPage = CalculatorPage {
    title: "My gauge is not the pattern's",
    intro: "What each size comes out at, which size or which counts to knit instead, and how much yarn that takes.",
    main: "",
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
    let form = form(&patterns).filled(&typed);
    let labels = Labels::of(&form).also("swatch-of", "yarn");
    let outcome = answer.map_or(Outcome::Nothing, |answer| {
        Outcome::named(answer, "/gauge", &typed, "yarn")
    });
    Ok(PAGE.page(&prefs, (form, &labels), outcome, |_| ()))
}

fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<Page, AppError> {
    let request = request(patterns, typed)?;
    Ok(app::gauge(records, &request)?.page())
}

/// A yarn's swatches count where no gauge is written beside its name.
fn request(patterns: &[PatternChoice], typed: &FormData) -> Result<GaugeRequest, AppError> {
    let (pattern, size) = chosen(typed, patterns).map_err(by_form)?;
    let Some(pattern) = pattern else {
        return Err(wrong("pattern", "no pattern is chosen: choose one"));
    };
    let (yarn, own_gauge) = (typed.filled("yarn"), typed.filled("own-gauge"));
    let needle = typed.filled("needle");
    if own_gauge.is_some() && needle.is_some() {
        return Err(wrong(
            "needle",
            "this chooses among kept swatches, and a gauge is written as well: empty one of the two",
        ));
    }
    if own_gauge.is_none() && yarn.is_none() {
        return Err(wrong(
            "own-gauge",
            "no gauge is known yet: write yours, or name a yarn above of which you keep a swatch",
        ));
    }
    let (swatch_of, yarn) = match own_gauge {
        Some(_) => (None, yarn),
        None => (yarn, None),
    };
    Ok(GaugeRequest {
        pattern,
        swatch_of,
        needle,
        own_gauge,
        yarn,
        role: typed.filled("for"),
        size,
        margin: typed.filled("margin"),
        own_tendency: typed.filled("own-tendency").is_some(),
    })
}

fn form(patterns: &[PatternChoice]) -> Form {
    let pattern = Field::new(
        "pattern",
        "The pattern and size",
        hint_of(patterns),
        Kind::Choose(with_sizes("Choose one", patterns)),
    );
    let yarn = Field::new(
        "yarn",
        "The yarn you knit with",
        "Its kept swatches count, unless you write a gauge below. Empty for a gauge of no particular yarn.",
        Kind::Names,
    );
    let own = Field::line(
        "own-gauge",
        "The gauge you measured",
        "Instead of kept swatches, as in: 21 sts x 28 rows / 10 cm. Add ‘before washing’ where it was not washed yet.",
    );
    Form::get("gauge", "/gauge", "What comes of it?")
        .hidden(ASKED_FIELD, "yes")
        .with(Group::plain(vec![pattern.needed(), yarn, own]))
        .with(Group::new(
            Head::Folded("Which swatch, margin, one yarn only, your habit".to_owned()),
            further(),
        ))
}

/// What stands below a list of patterns.
pub(super) fn hint_of(patterns: &[PatternChoice]) -> &'static str {
    match patterns.is_empty() {
        true => "No pattern is kept yet: add one under Patterns first.",
        false => "",
    }
}

fn further() -> Vec<Field> {
    vec![
        Field::line("needle", "The needle of the swatch", "As in: 4 mm, or US 6"),
        Field::line("for", "Only this yarn of the pattern", "Its key, as in: MC"),
        Field::line(
            "margin",
            "What to buy beyond the need",
            "10 % where it is empty, or none where the pattern includes one",
        ),
        Field::new(
            "own-tendency",
            "Let the label's gauge and my own tendency stand in for a swatch",
            "Where none is kept. The tendency is learned from your washed swatches; a swatch is always better.",
            Kind::Tick,
        ),
    ]
}
