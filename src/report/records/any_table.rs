//! How a table of others would be taken: what each column holds, the first rows as
//! they were read, what must be said first, and what would change.

use super::import::{RowLine, preview_note_words, row_line, table_fault_words};
use crate::{
    app::{KeptLayout, LayoutList, Preview, RowFate, TableKind, TableLook},
    files::{
        layout::{ColumnUse, FIELDS, Lack, OurRow, Question},
        sheet::SheetForm,
    },
    report::{
        Answer, Block, FieldNames, Page, Render, Role, Style, Table,
        json::{fields_of, list},
        listing::{ListFields, list_fields, list_page},
    },
    words::{and_list, count_of_items, joined, safe},
};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// Rows that were left out, and faults, of which more are counted and not told.
const TOLD: usize = 30;

/// A table that leaves something open: what to say.
pub(in crate::report) fn open_questions(questions: &[Question], style: &Style) -> Vec<String> {
    questions
        .iter()
        .map(|asked| question_words(*asked, style))
        .collect()
}

fn question_words(asked: Question, style: &Style) -> String {
    let field = |name| style.field(name);
    let write = |name: &str, values: &str| {
        let typed = format!("write {} {values}", style.field(name));
        let filled = format!("fill in {}", style.field(name));
        style.either(&typed, &filled).to_owned()
    };
    let column = |name: &str| {
        let typed = format!("{} HEAD={name}", field("column"));
        let chosen = format!("choose {name} for its column");
        style.either(&typed, &chosen).to_owned()
    };
    match asked {
        Question::Name => format!(
            "Which column holds the name of the yarn? Say it: {}.",
            column("name")
        ),
        Question::Maker => format!(
            "Who makes these yarns? Say it: {}, or {}.",
            write("maker", "NAME"),
            column("maker")
        ),
        Question::Unit(Lack::Currency) => format!(
            "Which currency do the prices have? Say it: {}.",
            write("currency", "EUR, GBP or another code")
        ),
        Question::Unit(Lack::Length) => format!(
            "Are the lengths metres or yards? Say it: {}.",
            write("lengths", "m or yd")
        ),
        Question::Unit(Lack::Mass) => format!(
            "Are the weights grams or ounces? Say it: {}.",
            write("weights", "g or oz")
        ),
        Question::Unit(Lack::Amount) => format!(
            "Do the amounts count skeins, or are they grams? Say it: {}.",
            write("amounts", "skeins or g")
        ),
    }
}

fields_of! {
    /// How a table would be imported.
    LookFields(look: &TableLook, style: &Style) {
        /// The file.
        file: String = look.file.clone(),
        /// As what it was read.
        read_as: String = read_as(&look.form),
        /// The answer in one sentence.
        headline: String = headline(look),
        /// What each column holds.
        columns: Vec<ColumnFields> = list(&look.layout.columns, ColumnFields::of),
        /// What to say first.
        questions: Vec<String> = open_questions(look.questions(), style),
        /// How many rows there are.
        row_count: usize = look.count,
        /// The first of them, as read.
        rows: Vec<RowFields> = list(&look.rows, RowFields::of),
        /// Rows that name no yarn.
        left_out: Vec<TextRow> =
            list(&look.left_out, |row| TextRow { line: row.line, text: row.text.clone() }),
        /// What importing would change.
        changes: Vec<ChangeFields> =
            list(&look.changes, |(kind, preview)| ChangeFields::of(*kind, preview)),
        /// What was noticed.
        warnings: Vec<String> = warnings(look, style),
    }
}

fields_of! {
    /// What a column holds.
    ColumnFields(column: &ColumnUse) {
        /// Its head.
        column: String = column.head.clone(),
        /// The field; `null` where it is left out.
        field: Option<&'static str> = column.field.map(|field| field.name),
        /// The unit of its cells, where they have none.
        unit: Option<String> = column.unit.clone(),
        /// Its first cell.
        first_cell: String = column.sample.clone(),
    }
}

/// A row, by the columns of our own tables.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RowFields {
    /// The line of the file.
    line: u64,
    #[serde(flatten)]
    #[schemars(with = "BTreeMap<String, String>")]
    cells: Map<String, Value>,
}

impl RowFields {
    fn of(row: &OurRow) -> Self {
        let cells = row.cells.iter();
        let cells = cells.map(|(column, text)| ((*column).to_owned(), text.as_str().into()));
        Self {
            line: row.line,
            cells: cells.collect(),
        }
    }
}

/// A row as it is written.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TextRow {
    /// The line of the file.
    line: u64,
    /// What it says.
    text: String,
}

fields_of! {
    /// What importing would change.
    ChangeFields(kind: TableKind, preview: &Preview) {
        /// `yarn` or `lot`.
        what: &'static str = kind.row(),
        /// How many would be added.
        added: usize = preview.added,
        /// How many would be changed.
        changed: usize = preview.changed,
        /// How many would stay as they are.
        unchanged: usize = preview.unchanged,
        /// What becomes of each row.
        rows: Vec<RowLine> = list(&preview.rows, row_line),
    }
}

impl Render for TableLook {
    type Fields = LookFields;

    fn fields(&self) -> Self::Fields {
        LookFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("{}, as it was read", self.file));
        page.blocks
            .push(Block::Answer(Answer::alone(headline(self))));
        page.items(Role::Plain, &open_questions(self.questions(), style));
        // On a page the menus below say it.
        if matches!(style.fields, FieldNames::Options) {
            page.section("What each column holds");
            let numbered: Vec<(usize, &ColumnUse)> = (1..).zip(&self.layout.columns).collect();
            let columns = Table::of(&numbered)
                .right("no", |(number, _)| format!("#{number}"))
                .left("column", |(_, column)| column.head.clone())
                .left("holds", |(_, column)| taken_as(column))
                .left("first cell", |(_, column)| column.sample.clone());
            page.table(columns);
        }
        let rows: Vec<String> = self.rows.iter().map(row_words).collect();
        let head = match self.count > rows.len() {
            true => format!("The first {} of {} rows, as read", rows.len(), self.count),
            false => "The rows, as read".to_owned(),
        };
        page.part(&head, Role::Plain, &rows);
        let faults: Vec<String> = faults(self).into_iter().take(TOLD).collect();
        page.part("Rows with faults", Role::Bad, &faults);
        page.part("What would change", Role::Plain, &changes(self));
        page.part("Notes", Role::Caution, &warnings(self, style));
        page
    }
}

fields_of! {
    /// What was said under a name.
    LayoutRow(layout: &KeptLayout) {
        /// The name.
        name: String = layout.name.clone(),
        /// What was said.
        said: Vec<SaidFields> = list(&layout.said, SaidFields::of),
    }
}

fields_of! {
    /// An answer about a table.
    SaidFields(said: &(String, String)) {
        /// Which answer.
        answer: String = said.0.clone(),
        /// Its text.
        text: String = said.1.clone(),
    }
}

impl Render for LayoutList {
    type Fields = ListFields<LayoutRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.0, LayoutRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.0)
            .left("layout", |layout| safe(&layout.name))
            .left("what you said", layout_words);
        let none =
            "No layout is remembered yet: --layout NAME remembers what you say about a table.";
        list_page("Layouts of tables", table, none)
    }
}

/// `column LL=length; currency EUR`.
pub fn layout_words(layout: &KeptLayout) -> String {
    let said = layout.said.iter();
    let said = said.map(|(answer, text)| format!("{answer} {}", safe(text)));
    joined(said, "; ")
}

fn read_as(form: &SheetForm) -> String {
    match form {
        SheetForm::Text(encoding) => format!("text in {encoding}"),
        SheetForm::Workbook { sheet, .. } => format!("the sheet {sheet}"),
    }
}

/// `60 yarns and 12 lots would be added. Nothing is imported yet.`
fn headline(look: &TableLook) -> String {
    let rows = count_of_items(look.count, "row");
    if !look.questions().is_empty() {
        let open = look.questions().len();
        let questions = count_of_items(open, "question");
        return format!("{rows} read. Answer {questions} first.");
    }
    let bad = faults(look).len();
    if bad > 0 {
        let faults = count_of_items(bad, "fault");
        return format!("{rows} read, with {faults}: nothing can be imported yet.");
    }
    let said = look.changes.iter().map(|(kind, preview)| {
        let row = kind.row();
        let added = count_of_items(preview.added, row);
        let changed = count_of_items(preview.changed, row);
        match (preview.added, preview.changed) {
            (0, 0) => format!("leave your {row}s as they are"),
            (_, 0) => format!("add {added}"),
            (0, _) => format!("change {changed}"),
            _ => format!("add {added} and change {}", preview.changed),
        }
    });
    format!(
        "Importing it will {}. Nothing is imported yet.",
        and_list(said)
    )
}

/// `length, in m`, `left out`.
fn taken_as(column: &ColumnUse) -> String {
    match (column.field, &column.unit) {
        (None, _) => "left out".to_owned(),
        (Some(field), Some(unit)) => format!("{}, in {unit}", field_words(field.name)),
        (Some(field), None) => field_words(field.name).to_owned(),
    }
}

/// What people call a field.
pub fn field_words(name: &str) -> &str {
    match name {
        "put_up" => "length and weight",
        "mass" => "weight",
        "class" => "weight class",
        "gtin" => "number under the barcode",
        "construction" => "build",
        "lot" => "dye lot",
        "colour" => "colour of the shade",
        other => other,
    }
}

/// A row in the order of our columns: `line 4: Quenby, Moor, 125 m, 50 g`.
fn row_words(row: &OurRow) -> String {
    let texts = FIELDS.iter().map(|field| row.text(field.name));
    let said: Vec<&str> = texts.filter(|text| !text.is_empty()).collect();
    format!("line {}: {}", row.line, said.join("; "))
}

/// All faults, those of one kind together.
fn faults(look: &TableLook) -> Vec<String> {
    let rows = look.changes.iter().flat_map(|(_, preview)| &preview.rows);
    let refused = rows.filter_map(|row| match &row.fate {
        RowFate::Refused(faults) => Some(faults),
        _ => None,
    });
    table_fault_words(refused.flatten())
}

/// Which kept records would change, and how.
fn changes(look: &TableLook) -> Vec<String> {
    let rows = look.changes.iter().flat_map(|(_, preview)| &preview.rows);
    let changed = rows.filter(|row| matches!(row.fate, RowFate::Changed(_)));
    let lines = changed.map(|row| {
        let said = row_line(row);
        format!("line {}: {}", said.line, said.fate)
    });
    let mut lines: Vec<String> = lines.collect();
    let more = lines.len().saturating_sub(TOLD);
    lines.truncate(TOLD);
    lines.extend((more > 0).then(|| format!("and {more} more")));
    lines
}

fn warnings(look: &TableLook, style: &Style) -> Vec<String> {
    let mut said = Vec::new();
    match &look.form {
        SheetForm::Workbook { sheet, others } if *others > 0 => said.push(format!(
            "only the sheet {sheet} was read, not {} of this workbook",
            count_of_items(*others, "other sheet")
        )),
        SheetForm::Text(encoding) if *encoding != "UTF-8" => said.push(format!(
            "read as {encoding}: look whether letters with accents are right"
        )),
        _ => {}
    }
    let left_out = look.left_out.iter().take(TOLD);
    said.extend(left_out.map(|row| {
        format!(
            "line {} is left out, it names no yarn: {}",
            row.line, row.text
        )
    }));
    let notes = look.changes.iter().flat_map(|(_, preview)| &preview.notes);
    said.extend(notes.take(TOLD).map(|note| preview_note_words(note, style)));
    said
}
