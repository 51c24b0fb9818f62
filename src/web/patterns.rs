//! Patterns: listed, looked at, and written as the text of their file for those who
//! want that; their fields have a page of their own.

use super::{
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    form_data::SentForm,
    history,
    kept_record::{KeptRecord, Removal, form_page},
    links::{download, encoded, yarn_link},
    list::List,
    refusal::{FieldError, Refusal, TEXT},
    undo,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{
        self, AppError, FormData, KeptFields, ListPage, PATTERN_TEXT, PatternChoice, RecordKind,
        Records,
    },
    report::{pattern_page, pattern_rows},
    words::fold,
};
use axum::{extract::Path, response::Response};

pub(super) const HERE: &str = "/patterns";

pub(super) async fn list(visit: Visit, sent: FormData) -> PageResult {
    let list = List {
        heading: "Patterns",
        one: "pattern",
        here: HERE,
        links: &[("/patterns/new", "Add a pattern")],
        below: &[("/undo", "Undo a change")],
        search: "Name",
        of_yarns: false,
        orders: &[],
        empty: (
            "You have no patterns yet.",
            &[("/patterns/new", "Paste the materials of one")],
        ),
        none: "No pattern is called that.",
        browse,
        number: |pattern| pattern.number,
        rows: pattern_rows,
    };
    list.page(visit, sent).await
}

/// All of them on one page.
fn browse(
    records: &Records,
    sent: &FormData,
    _: usize,
    _: usize,
) -> Result<ListPage<PatternChoice>, AppError> {
    let wanted = fold(sent.text("q"));
    let mut entries = app::pattern_choices(records)?;
    entries.retain(|pattern| fold(&pattern.name).contains(&wanted));
    Ok(ListPage {
        total: Some(entries.len()),
        entries,
        from: 0,
        more: false,
    })
}

pub(super) async fn show(visit: Visit, Path(number): Path<i64>) -> PageResult {
    let view = move |records: &Records| {
        let pattern = app::view_pattern(records, number)?;
        let maps = app::pattern_maps(records, number)?;
        let called = pattern
            .0
            .yarns
            .iter()
            .filter_map(|yarn| yarn.called.clone());
        let kept = called.filter(|name| app::yarn_number(records, name).is_ok());
        let names: Vec<_> = kept.map(|name| yarn_link(&name)).collect();
        Ok((pattern, maps, names))
    };
    let (pattern, maps, mut names) = visit.read(view).await?;
    let mapped = maps.iter().flat_map(|(_, map)| &map.yarns);
    names.extend(mapped.map(|yarn| yarn_link(&yarn.title)));
    let mut body = visit.body();
    let page = pattern_page(&pattern, &maps, &visit.style());
    let first = [
        (format!("/?pattern={number}"), "Will it work?"),
        (
            format!("/answer?pattern={number}&offered=stash"),
            "What in my stash would work?",
        ),
        (format!("/plan?pattern={number}:0#add"), "Plan it"),
        (format!("/sheet?pattern={number}"), "Materials sheet"),
        (format!("/patterns/{number}/edit"), "Edit"),
    ];
    body.titled(&page, &first, &names);
    body.links(&[
        (
            format!("/gauge?pattern={number}"),
            "My gauge is not the pattern's",
        ),
        (format!("/lint?pattern={number}"), "Check this pattern"),
        (format!("/patterns/text/{number}/edit"), "Edit as text"),
        (format!("/patterns/{number}/file"), "Export (pattern file)"),
    ]);
    undo::offer(&visit, &mut body, RecordKind::Pattern, number).await?;
    history::part(&visit, &mut body, RecordKind::Pattern, number).await?;
    Ok(visit.page((pattern.0.name.as_str(), HERE), body))
}

/// A pattern in its form: the text of its file.
pub(super) struct PatternText;

impl KeptRecord for PatternText {
    const HERE: &'static str = HERE;
    const PATH: &'static str = "/patterns/text";
    const REMOVAL: Option<Removal> = None;

    fn form(action: String) -> Form {
        let text = Field::new(
            PATTERN_TEXT,
            "The pattern as text",
            "One line for each thing that the pattern says; the example shows how.",
            Kind::Area(24),
        );
        Form::get("pattern", action, "Save")
            .once()
            .with(Head::None, vec![text.needed()])
            .replaced(&[(TEXT, PATTERN_TEXT)])
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::pattern_to_edit(records, number)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        save(records, Some(read), typed.text(PATTERN_TEXT))
    }
}

/// Keeps a pattern as its text says it.
pub(super) fn save(records: &mut Records, read: Option<(i64, i64)>, text: &str) -> Saved {
    let (number, change) = app::save_pattern(records, read, text)?;
    Ok((format!("{HERE}/{number}"), change))
}

fn upload_form() -> Form {
    let file = Field::new(
        "file",
        "A pattern file",
        "Its text appears in the form; check it before you save.",
        Kind::File,
    );
    let form = Form::post("send", "/patterns/upload", "Send the file").with_upload();
    form.with(Head::None, vec![file])
}

fn text_page(visit: &Visit, text: &str, refused: Option<Refusal>) -> Response {
    let typed = [(PATTERN_TEXT, text)].into_iter().collect();
    let form = PatternText::form(PatternText::PATH.to_owned()).filled(&typed);
    form_page(
        visit,
        ("Add a pattern as text", HERE),
        form,
        refused,
        |body| {
            body.part("From a file");
            body.form(&upload_form());
        },
    )
}

/// What a new pattern may look like.
const EXAMPLE: &str = include_str!("../../sample-stash/patterns/hobplate.toml");

pub(super) async fn new_text(visit: Visit) -> Response {
    text_page(&visit, EXAMPLE, None)
}

pub(super) async fn upload(visit: Visit, sent: SentForm) -> PageResult {
    let Some((_, bytes)) = sent.file else {
        let fault = FieldError::new("file", "no file was chosen: choose one and send again");
        let place = ("A pattern from a file", HERE);
        let refused = Some(fault.into());
        return Ok(form_page(&visit, place, upload_form(), refused, |_| ()));
    };
    let text = String::from_utf8(bytes.to_vec()).map_err(|_| {
        ErrorPage::wrong("The file is not UTF-8 text: save it as UTF-8 and send it again.")
    })?;
    Ok(text_page(&visit, &text.replace("\r\n", "\n"), None))
}

pub(super) async fn add_text(visit: Visit, typed: FormData) -> PageResult {
    let kept = visit.keep(&typed, |records, typed| {
        save(records, None, typed.text(PATTERN_TEXT))
    });
    let again = |refusal| text_page(&visit, typed.text(PATTERN_TEXT), Some(refusal));
    Ok(kept.await?.unwrap_or_else(again))
}

pub(super) async fn file(visit: Visit, Path(number): Path<i64>) -> PageResult {
    let kept = visit
        .read(move |records| app::pattern_to_edit(records, number))
        .await?;
    let name = format!("{}.toml", encoded(&kept.title));
    let text = kept.typed.text(PATTERN_TEXT);
    Ok(download("application/toml; charset=utf-8", &name, text))
}
