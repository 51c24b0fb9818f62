//! Taking changes back: the button beside what was done and on the page of its record,
//! and the list of the last changes.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::Form,
    visit::{PageResult, Visit},
};
use crate::{
    app::{self, FormData, RecordChange, RecordKind, Records},
    report::{NOTHING_TO_UNDO, change_words},
};

const HERE: &str = "/undo";

/// The buttons of the list.
const BUTTONS: [&str; 10] = [
    "undo-1", "undo-2", "undo-3", "undo-4", "undo-5", "undo-6", "undo-7", "undo-8", "undo-9",
    "undo-10",
];

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
    for (change, id) in changes.iter().zip(BUTTONS) {
        let when = change
            .at
            .as_deref()
            .map_or_else(String::new, |at| format!("{at}: "));
        body.text(&format!("{when}{}.", change_words(change)));
        let button = button(change.number);
        body.form(&Form { id, ..button });
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
    let RecordChange::Undone { change, .. } = change else {
        return HERE.to_owned();
    };
    let [part] = change.parts.as_slice() else {
        return HERE.to_owned();
    };
    let is_there = part.action != app::Action::Added;
    let (list, number) = match part.kind {
        _ if part.count > 1 => (HERE, None),
        RecordKind::Yarn => ("/yarns", Some(part.record).filter(|_| is_there)),
        RecordKind::Lot => ("/stock", Some(part.record).filter(|_| is_there)),
        RecordKind::Pattern => ("/patterns", Some(part.record).filter(|_| is_there)),
        RecordKind::Swatch => ("/yarns", part.yarn),
    };
    number.map_or_else(|| list.to_owned(), |number| format!("{list}/{number}"))
}
