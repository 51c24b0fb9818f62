//! A pattern or a sheet, looked over before it goes out.

use super::{
    calculator_page::{ASKED_FIELD, CalculatorPage, Outcome, by_form, wrong},
    text::{FIELD, Text, file_field, sending, text_of},
};
use crate::{
    app::{self, AppError, FormData, LintRequest, PatternChoice, Records},
    report::{Page, Report},
    web::{
        error_page::ErrorPage,
        form::{Field, Form, Group, Kind},
        labels::Labels,
        pattern_choice::{chosen, whole},
        preferences::Preferences,
        state::AppState,
    },
};
use axum::{
    extract::{Multipart, State},
    response::Response,
};
use std::sync::Arc;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Look over a pattern or a sheet",
    intro: "Finds what disagrees before readers do: inches against centimetres, counts that do not cover the need, a size that is missing, a yarn that is no longer made, an amount that does not grow with size.",
    main: FIELD,
    links: &[],
};

/// The form, perhaps with a pattern chosen by a link.
pub(super) async fn open(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let patterns = state.read(app::pattern_choices).await??;
    let form = form(&patterns).filled(&sent);
    let labels = Labels::of(&form);
    Ok(PAGE.page(&prefs, (form, &labels), Outcome::Nothing, |_| ()))
}

pub(super) async fn look(
    State(state): State<Arc<AppState>>,
    prefs: Preferences,
    mut sent: Multipart,
) -> Result<Response, ErrorPage> {
    let (text, typed) = text_of(&mut sent).await?;
    let asked = typed.clone();
    let (patterns, answer) = state
        .read(move |records| {
            let patterns = app::pattern_choices(records)?;
            let answer = answer(records, &patterns, text, &asked);
            Ok::<_, AppError>((patterns, answer))
        })
        .await??;
    let form = form(&patterns).filled(&typed);
    let labels = Labels::of(&form);
    Ok(PAGE.page(&prefs, (form, &labels), Outcome::new(answer), |_| ()))
}

fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    text: Option<Text>,
    typed: &FormData,
) -> Result<Page, AppError> {
    let (pattern, _) = chosen(typed, patterns).map_err(by_form)?;
    if text.is_none() && pattern.is_none() {
        return Err(wrong(
            FIELD,
            "nothing is written: write a text here, or send a file, or choose a kept pattern",
        ));
    }
    let request = LintRequest {
        is_pattern: text.as_ref().and_then(|text| is_pattern(text, typed)),
        file: text.map(|text| (text.name, text.bytes)),
        pattern,
    };
    Ok(app::lint(records, &request)?.page())
}

/// A file goes by its own name; of a pasted text it is said what it is.
fn is_pattern(text: &Text, typed: &FormData) -> Option<bool> {
    (!text.sent).then(|| typed.text("of") == "pattern")
}

fn form(patterns: &[PatternChoice]) -> Form {
    let of = Field::new(
        "of",
        "What it is",
        "A file whose name ends in .toml is a pattern file, any other a sheet.",
        Kind::Radio(vec![
            (
                "sheet",
                "A materials sheet: text, Markdown or a table (CSV)",
            ),
            ("pattern", "A pattern file"),
        ]),
    );
    let text = Field::new(FIELD, "The text", "", Kind::Area(12));
    let pattern = Field::new(
        "pattern",
        "A kept pattern",
        "The one that the sheet belongs to. With no text and no file, the pattern itself is looked over.",
        Kind::Choose(whole("None", patterns)),
    );
    sending(Form::post("lint", "/lint", "Look it over"))
        .hidden(ASKED_FIELD, "yes")
        .with(Group::plain(vec![
            text,
            of.holding("sheet"),
            file_field("Or a file"),
            pattern,
        ]))
}
