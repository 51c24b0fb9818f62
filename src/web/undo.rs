//! Taking changes back: the button beside what was done and on the page of its record,
//! and the list of the last changes.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::Form,
    visit::{PageResult, Visit},
};
use crate::{
    app::{self, Action, ChangePart, FormData, RecordChange, RecordKind, Records},
    report::{NOTHING_TO_UNDO, Page, Role, change_words},
};

const HERE: &str = "/undo";

/// The button that takes a change back.
pub(super) fn button(change: i64) -> Form {
    let form = Form::post("undo", HERE, "Undo").once();
    form.hidden("change", change)
}

/// The last change of a record with its button, where it can be taken back and the page
/// does not offer so already.
pub(super) async fn offer(
    visit: &Visit,
    body: &mut Body,
    kind: RecordKind,
    record: i64,
) -> Result<(), ErrorPage> {
    if visit.offers_undo() {
        return Ok(());
    }
    let last = visit.read(move |records| app::undo_of(records, kind, record));
    if let Some(change) = last.await? {
        body.text(&format!("Last change: {}.", change_words(&change)));
        body.form(&button(change.number));
    }
    Ok(())
}

/// The last changes, each with its button.
pub(super) async fn page(visit: Visit) -> PageResult {
    let title = "Undo";
    let changes = visit.read(app::list_undo).await?.0;
    let mut body = visit.body();
    body.heading(title);
    if changes.is_empty() {
        body.text(NOTHING_TO_UNDO);
    }
    // What was removed since has no page.
    let mut gone: Vec<&ChangePart> = Vec::new();
    for (change, nth) in changes.iter().zip(1..) {
        let when = change
            .at
            .as_deref()
            .map_or_else(String::new, |at| format!("{at}: "));
        let mut said = Page::default();
        said.text(Role::Plain, format!("{when}{}.", change_words(change)));
        let parts = change.parts.iter();
        gone.extend(parts.clone().filter(|part| part.action == Action::Removed));
        let is_there = |part: &&ChangePart| {
            let mut gone = gone.iter();
            !gone.any(|it| (it.kind, it.record) == (part.kind, part.record))
        };
        let there = parts.filter(|part| part.count == 1).filter(is_there);
        let names: Vec<_> = there
            .map(|part| (part.title.clone(), place_of(part, true)))
            .collect();
        body.linked(&said, &names);
        let id = format!("undo-{nth}");
        body.form(&Form {
            id,
            ..button(change.number)
        });
    }
    Ok(visit.page((title, HERE), body))
}

/// Takes a change back and goes on to the record.
pub(super) async fn undo(visit: Visit, typed: FormData) -> PageResult {
    let Some(number) = typed.number("change") else {
        return Err(ErrorPage::wrong("Choose the change to undo."));
    };
    let undoing = move |records: &mut Records, _: &FormData| {
        let change = app::undo(records, Some(number))?;
        Ok((place(&change), change))
    };
    Ok(visit.keep(&typed, undoing).await??)
}

/// The page that shows what is there again.
fn place(change: &RecordChange) -> String {
    match change {
        RecordChange::Undone { change, .. } => match change.only_part() {
            Some(part) => place_of(part, part.action != Action::Added),
            None => HERE.to_owned(),
        },
        _ => HERE.to_owned(),
    }
}

/// The page of a record, or the list that it was in.
fn place_of(part: &ChangePart, is_there: bool) -> String {
    let record = Some(part.record).filter(|_| is_there);
    let (list, number) = match part.kind {
        _ if part.count > 1 => (HERE, None),
        RecordKind::Yarn => ("/yarns", record),
        RecordKind::Lot => ("/stock", record),
        RecordKind::Pattern => ("/patterns", record),
        RecordKind::Project => ("/plan", None),
        RecordKind::Shade | RecordKind::Swatch => ("/yarns", part.yarn),
    };
    number.map_or_else(|| list.to_owned(), |number| format!("{list}/{number}"))
}
