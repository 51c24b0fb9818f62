//! A pattern or a sheet, looked over before it goes out.

use super::calculator_page::{CalculatorPage, QUESTIONS};
use crate::{
    app::{self, AppError, FormData, LintAnswer, LintRequest, PatternChoice, Records},
    web::{
        fields::{pattern_choice, pattern_link, with_pattern},
        form::{Field, Form, Head, Kind},
        form_data::{SentForm, Text, file_field, text_of},
        refusal::{Refusal, TEXT},
        visit::{PageResult, Visit},
    },
};

const PAGE: CalculatorPage = CalculatorPage {
    title: "Check a pattern or a sheet",
    here: QUESTIONS,
    intro: "Finds mistakes before readers do: inches that do not match centimetres, too few balls, a missing size, a discontinued yarn, an amount that does not grow with size.",
    links: &[],
};

/// The form, perhaps with a pattern chosen by a link.
pub(super) async fn open(visit: Visit, sent: FormData) -> PageResult {
    let patterns = visit.read(app::pattern_choices).await?;
    Ok(PAGE.show_form(&visit, &form(&patterns).filled(&sent)))
}

pub(super) async fn look(visit: Visit, sent: SentForm) -> PageResult {
    let (text, typed) = text_of(sent)?;
    let found = visit.answer(&typed, |records, typed| {
        let patterns = app::pattern_choices(records)?;
        let answer = answer(records, &patterns, text, typed);
        Ok::<_, AppError>((patterns, answer))
    });
    let (patterns, answer) = found.await?;
    let names: Vec<_> = pattern_link(&typed, &patterns).into_iter().collect();
    let form = (form(&patterns), names.as_slice());
    Ok(PAGE.show(&visit, &typed, form, Some(answer), |_| ()))
}

fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    text: Option<Text>,
    typed: &FormData,
) -> Result<LintAnswer, Refusal> {
    let request = LintRequest {
        pattern: with_pattern(typed, patterns)?.filled("pattern"),
        is_pattern: text.as_ref().and_then(|text| is_pattern(text, typed)),
        file: text.map(|text| text.file),
    };
    Ok(app::lint(records, &request)?)
}

/// A file goes by its own name; of a pasted text it is said what it is.
fn is_pattern(text: &Text, typed: &FormData) -> Option<bool> {
    (!text.is_file).then(|| typed.text("of") == "pattern")
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
    let text = Field::new(TEXT, "The text", "", Kind::Area(12));
    let choice = pattern_choice("None", patterns, false);
    Form::post("lint", "/lint", "Check it")
        .with_upload()
        .with(
            Head::None,
            vec![text, of.holding("sheet"), file_field("Or a file")],
        )
        .with_request::<LintRequest>()
        .change("pattern", |field| field.kind = choice)
}
