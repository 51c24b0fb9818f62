//! Anybody's table: looked at, as it would be taken, and taken into yarns and stock, all
//! of it or nothing.

mod layouts;
mod request;
mod rows;

pub use crate::files::sheet::MOST_BYTES as MOST_TABLE_BYTES;
pub use layouts::{KeptLayout, LayoutList, forget_layout, list_layouts};
pub use request::{LEAVE_OUT, TableRequest};

use super::{
    ImportAnswer, Outcome, Preview, RowFate, RowFault, RowFaultKind, TableKind, take_rows, try_out,
};
use crate::{
    app::{AppError, Records, SourceFile},
    files::{
        layout::{Answers, Layout, LeftOut, OurRow, Question, propose, translate},
        sheet::{Sheet, SheetForm, read_sheet},
    },
    record::Yarn,
    store::Writer,
};

/// Rows that are shown as they were read.
const SHOWN: usize = 10;

/// How a table would be taken, and what that would change.
#[derive(Debug)]
pub struct TableLook {
    /// The file.
    pub file: String,
    /// How it was read.
    pub form: SheetForm,
    /// What each column holds, and what must be said first.
    pub layout: Layout,
    /// The first rows, as cells of our tables.
    pub rows: Vec<OurRow>,
    /// How many rows there are.
    pub count: usize,
    /// Rows that are about no yarn.
    pub left_out: Vec<LeftOut>,
    /// What would change; nothing while something must be said first.
    pub changes: Vec<(TableKind, Preview)>,
}

impl TableLook {
    /// What must be said before it can be taken.
    pub fn questions(&self) -> &[Question] {
        &self.layout.questions
    }

    /// Whether it can be taken as it is.
    pub fn is_good(&self) -> bool {
        let mut changes = self.changes.iter();
        self.questions().is_empty() && changes.all(|(_, preview)| preview.good)
    }
}

/// A table read as far as it goes without the records.
struct Reading {
    sheet: Sheet,
    layout: Layout,
    rows: Vec<OurRow>,
    left_out: Vec<LeftOut>,
}

impl Reading {
    fn of(file: &SourceFile, request: &TableRequest) -> Result<Self, AppError> {
        let sheet = read_sheet(&file.name, &file.bytes)?;
        let first = propose(&sheet, &Answers::default());
        let heads: Vec<String> = first
            .columns
            .into_iter()
            .map(|column| column.head)
            .collect();
        let answers = request.read(&heads)?;
        let layout = propose(&sheet, &answers);
        let (rows, left_out) = translate(&sheet, &layout, &answers);
        Ok(Self {
            sheet,
            layout,
            rows,
            left_out,
        })
    }

    /// Takes the rows; what keeps them out is in the outcomes.
    fn take(&self, writer: &Writer<'_>, taking: &Taking<'_>) -> Result<Vec<Outcome>, AppError> {
        let found = rows::records(&self.rows, self.layout.has("amount"), writer)?;
        if !self.layout.has("maker") && found.lacks_maker() {
            return Err(AppError::TableAsks(vec![Question::Maker]));
        }
        let outcome = |kind: TableKind| {
            let outcome = Outcome::new(taking.file, kind.row());
            if taking.row_by_row {
                outcome.row_by_row()
            } else {
                outcome
            }
        };
        let mut yarns = outcome(TableKind::Yarns);
        yarns.note_others(found.notes);
        for (line, gtin) in found.unknown {
            let kind = RowFaultKind::NoSuchNumber(gtin);
            yarns.take(
                line,
                || None,
                RowFate::Refused(vec![RowFault { line, kind }]),
            );
        }
        let rows = found.yarns.into_iter().map(Ok);
        let mut outcomes = vec![take_rows::<Yarn>(rows, writer, yarns, taking.update)?];
        if !found.stock.is_empty() {
            let rows = found.stock.into_iter().map(Ok);
            outcomes.push(take_rows(
                rows,
                writer,
                outcome(TableKind::Stock),
                taking.update,
            )?);
        }
        Ok(outcomes)
    }
}

/// How rows are imported.
struct Taking<'f> {
    file: &'f str,
    update: bool,
    row_by_row: bool,
}

/// How a table would be taken, and what that would change; nothing is changed. With
/// `layout` what was remembered under that name counts where nothing else is said.
pub fn look_at_table(
    records: &mut Records,
    file: &SourceFile,
    request: &TableRequest,
    layout: Option<&str>,
    update: bool,
) -> Result<TableLook, AppError> {
    let request = remembered(records, request, layout)?;
    let mut reading = Reading::of(file, &request)?;
    let mut changes = Vec::new();
    if reading.layout.questions.is_empty() {
        let taking = Taking {
            file: &file.name,
            update,
            row_by_row: true,
        };
        match try_out(records, |writer| reading.take(writer, &taking)) {
            Err(AppError::TableAsks(asked)) => reading.layout.questions = asked,
            outcomes => {
                let previews = outcomes?.into_iter().map(Outcome::preview);
                let kinds = [TableKind::Yarns, TableKind::Stock];
                changes = kinds.into_iter().zip(previews).collect();
            }
        }
    }
    let mut rows = reading.rows;
    let count = rows.len();
    rows.truncate(SHOWN);
    Ok(TableLook {
        file: file.name.clone(),
        form: reading.sheet.form,
        layout: reading.layout,
        rows,
        count,
        left_out: reading.left_out,
        changes,
    })
}

/// Takes a table into yarns and stock, all of it or nothing; with `layout` what was said
/// about it is remembered under that name.
pub fn import_any_table(
    records: &mut Records,
    file: &SourceFile,
    request: &TableRequest,
    layout: Option<&str>,
    update: bool,
) -> Result<Vec<ImportAnswer>, AppError> {
    let request = remembered(records, request, layout)?;
    let reading = Reading::of(file, &request)?;
    if !reading.layout.questions.is_empty() {
        return Err(AppError::TableAsks(reading.layout.questions));
    }
    let taking = Taking {
        file: &file.name,
        update,
        row_by_row: false,
    };
    let replacing = if update { "update" } else { "" };
    records.once_under_text(
        ["import", "table", &file.name, replacing],
        |writer, made| {
            if let Some(counts) = made {
                let kinds = [TableKind::Yarns, TableKind::Stock];
                let answers = counts.split(';').zip(kinds);
                let answers = answers
                    .map(|(counts, kind)| ImportAnswer::before(&file.name, kind.row(), counts));
                return Ok((counts.to_owned(), answers.collect()));
            }
            let mut outcomes = reading.take(writer, &taking)?;
            if outcomes.iter().any(|outcome| !outcome.bad.is_empty()) {
                let mut all = outcomes.drain(..).map(|outcome| outcome.bad);
                let mut bad = all.next().unwrap_or_default();
                all.for_each(|more| bad.add(more.faults()));
                return Err(AppError::BadRows(bad));
            }
            if let Some(name) = layout {
                writer.remember_layout(name, &request.said())?;
            }
            let answers = outcomes.into_iter().map(|outcome| outcome.answer(writer));
            let answers = answers.collect::<Result<Vec<_>, _>>()?;
            let counts: Vec<String> = answers.iter().map(ImportAnswer::counts).collect();
            Ok((counts.join(";"), answers))
        },
    )
}

/// What was said, and what was remembered under the name.
fn remembered(
    records: &Records,
    request: &TableRequest,
    layout: Option<&str>,
) -> Result<TableRequest, AppError> {
    let kept = layout.zip(records.maybe());
    let kept = kept.map(|(name, store)| store.reader()?.layout(name));
    let kept = kept.transpose()?.unwrap_or_default();
    Ok(request.clone().or(TableRequest::of_said(kept)))
}
