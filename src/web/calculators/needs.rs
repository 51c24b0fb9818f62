//! Yarn for every size, from what was knitted and weighed.

use super::calculator_page::{CalculatorPage, QUESTIONS, is_asked};
use crate::{
    app::{
        self, AppError, Fault, FaultKind, FormData, NeedsAnswer, NeedsPatternRequest,
        NeedsProgressRequest, NeedsRequest, NeedsTemplateRequest,
    },
    report::needs_note,
    web::{
        body::Body,
        form::{Field, Form, Head, Kind},
        form_data::{PASTED, SentForm, Text, file_field, pasted_text, text_of},
        links::{download, encoded},
        patterns,
        refusal::TEXT,
        visit::{PageResult, Visit},
    },
};
use axum::response::Response;

const PAGE: CalculatorPage = CalculatorPage {
    title: "Yarn for every size, from what was weighed",
    here: QUESTIONS,
    intro: "You have knitted one size, or some pieces or swatches, and weighed them. With the measurements of the pieces in every size, the program works out the yarn for each size. Below is an example: replace its figures with your own.",
    links: &[("/needs/begin", "Begin with one piece, in a form")],
};

/// What such a text may look like.
const EXAMPLE: &str = include_str!("../../../sample-stash/weighed.toml");

/// The form with an example, and with what a link says of the yarn that is left.
pub(super) async fn open(visit: Visit, sent: FormData) -> Response {
    let mut typed = sent;
    if typed.filled(TEXT).is_none() {
        typed.set(TEXT, EXAMPLE.to_owned());
    }
    PAGE.show_form(&visit, &form().filled(&typed))
}

pub(super) async fn compute(visit: Visit, sent: SentForm) -> PageResult {
    let (text, typed) = text_of(sent)?;
    let asked = typed.clone();
    let answer = visit.state.compute(move || answer(text, &asked)).await?;
    let more = |body: &mut Body| offer_pattern(body, &typed);
    Ok(PAGE.show(&visit, &typed, (form(), &[]), Some(answer), more))
}

fn answer(text: Option<Text>, typed: &FormData) -> Result<NeedsAnswer, AppError> {
    let mut request: NeedsRequest = app::from_form(typed)?;
    let nothing = || AppError::Faults(vec![Fault::new(TEXT, FaultKind::Missing)]);
    request.file = text.ok_or_else(nothing)?.file;
    app::needs_in_progress(&request, &app::from_form(typed)?)
}

/// The needs as a pattern: kept here, or as a file.
pub(super) async fn pattern(visit: Visit, sent: FormData) -> PageResult {
    let again = |refusal| AS_PATTERN.show_refusal(&visit, as_pattern(&sent).filled(&sent), refusal);
    let asked = sent.clone();
    let made = visit.state.compute(move || pattern_of(&asked)).await?;
    let (text, answer) = match made {
        Ok(made) => made,
        Err(error) => return Ok(again(error.into())),
    };
    if sent.text("as") == "file" {
        let name = format!("{}.toml", encoded(answer.pattern.as_str()));
        return Ok(download("application/toml; charset=utf-8", &name, text));
    }
    let kept = visit.keep(&sent, move |records, _| {
        patterns::save(records, None, &text)
    });
    Ok(kept.await?.unwrap_or_else(again))
}

fn pattern_of(typed: &FormData) -> Result<(String, NeedsAnswer), AppError> {
    let mut request: NeedsRequest = app::from_form(typed)?;
    request.file = pasted_text(PASTED, typed.text(TEXT));
    app::needs_pattern(&request, &app::from_form(typed)?, needs_note)
}

const AS_PATTERN: CalculatorPage = CalculatorPage {
    title: "The result as a pattern",
    here: QUESTIONS,
    intro: "",
    links: &[],
};

fn offer_pattern(body: &mut Body, typed: &FormData) {
    body.part_at("pattern", "Save the result as a pattern");
    body.hint("Then you can compare any yarn with it. Add the rest of the pattern in its text.");
    body.form(&as_pattern(typed));
}

fn as_pattern(typed: &FormData) -> Form {
    let choose = |words: &[&str]| {
        let choice = Kind::one_of("Choose one", words.iter().map(|word| (*word, *word)));
        |field: &mut Field| {
            field.kind = choice;
            field.needed = true;
        }
    };
    let how = Field::new(
        "as",
        "What to do with it",
        "",
        Kind::Radio(vec![
            ("kept", "Save it under Patterns"),
            ("file", "Export it (pattern file)"),
        ]),
    );
    let form = Form::get("as-pattern", "/needs/pattern", "Save").once();
    [TEXT, "margin", "step"]
        .into_iter()
        .fold(form, |form, name| form.hidden(name, typed.text(name)))
        .with_request::<NeedsPatternRequest>()
        .change("purpose", choose(&app::purposes()))
        .change("fit", choose(&app::fits()))
        .with(Head::None, vec![how.holding("kept")])
        .replaced(&[("", "as"), (TEXT, "as")])
}

/// The form of the text, but for what was typed in it.
fn form() -> Form {
    let text = Field::new(
        TEXT,
        "Samples and pieces",
        "What changes with the size is a list in the order of the sizes. A piece is a rectangle, trapezoid, triangle, circle segment, tube or ring, or rows with their stitches.",
        Kind::Area(20),
    );
    Form::post("needs", "/needs", "How much yarn for each size?")
        .with_upload()
        .with(Head::None, vec![text.needed(), file_field("Or a file")])
        .with_request::<NeedsRequest>()
        .with_request::<NeedsProgressRequest>()
}

const BEGINNING: CalculatorPage = CalculatorPage {
    title: "Yarn for every size, from one piece",
    here: QUESTIONS,
    intro: "You have knitted a piece, or several of one kind, in one size, and weighed it. That is enough for a scarf, a shawl or a blanket. For other things it is a start: go on as a text.",
    links: &[],
};

/// Needs without writing a text: one kind of piece, weighed in one size. The text
/// that follows from it stands below the answer, to go on with.
pub(super) async fn begin(visit: Visit, typed: FormData) -> PageResult {
    let asked = typed.clone();
    let answer = move || is_asked(&asked).then(|| beginning_answer(&asked));
    let (text, answer) = match visit.state.compute(answer).await? {
        Some(Ok((text, answer))) => (text, Some(Ok(answer))),
        Some(Err(error)) => (String::new(), Some(Err(error))),
        None => (String::new(), None),
    };
    let form_of_piece = (beginning(), &[][..]);
    Ok(
        BEGINNING.show(&visit, &typed, form_of_piece, answer, |body| {
            let typed = with_text(&typed, text);
            offer_pattern(body, &typed);
            body.part_at("more", "Add more pieces and edges");
            body.form(&form().filled(&typed));
        }),
    )
}

/// The text that the form amounts to, and what follows from it.
fn beginning_answer(typed: &FormData) -> Result<(String, NeedsAnswer), AppError> {
    let mut request: NeedsTemplateRequest = app::from_form(typed)?;
    let text = app::needs_template(&request)?;
    request.stated.file = pasted_text("The form", &text);
    Ok((text, app::needs(&request.stated)?))
}

/// What the form of the text holds.
fn with_text(typed: &FormData, text: String) -> FormData {
    let stated = ["margin", "step"].map(|field| (field, typed.text(field).to_owned()));
    stated.into_iter().chain([(TEXT, text)]).collect()
}

fn beginning() -> Form {
    let form = Form::asking::<NeedsTemplateRequest>(
        "begin",
        "/needs/begin",
        "How much yarn for each size?",
    );
    form.unfolded(&["The pattern", "The piece", "What was weighed"])
        .replaced(&[(TEXT, "mass")])
}
