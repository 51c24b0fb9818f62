//! The history of a record, as a part of its page.

use super::{body::Body, error_page::ErrorPage, visit::Visit};
use crate::{
    app::{self, RecordKind},
    report::{Page, history_table},
};

/// What was done with a record, folded away; nothing where only its adding is remembered.
pub(super) async fn part(
    visit: &Visit,
    body: &mut Body,
    kind: RecordKind,
    record: i64,
) -> Result<(), ErrorPage> {
    let history = visit
        .read(move |records| app::history_of(records, kind, record))
        .await?;
    if history.steps.len() > 1 {
        let mut steps = Page::default();
        steps.table(history_table(&history));
        let mut page = Page::default();
        page.details("History", steps);
        body.report(&page);
    }
    Ok(())
}
