//! What taking a table or pattern files changed, would change, or why it was refused.

use crate::{
    app::{
        BadRows, Difference, Exported, FieldChange, ImportAnswer, ImportNote, ImportRow,
        MissingKind, MissingName, NearName, NearNames, PatternFate, PatternsImport, Preview,
        RowChange, RowFate, RowFault, RowFaultKind,
    },
    files::{CellFault, Place},
    report::{Notice, Page, Role, Style, listing::ShortAnswer, record_change::MADE_BEFORE},
    words::{count_of, count_of_items, joined, or_list, safe},
};
use schemars::JsonSchema;
use serde::Serialize;

impl ShortAnswer for ImportAnswer {
    fn notice(&self, style: &Style) -> Notice {
        let count = |count| count_of_items(count, self.what);
        let changes = self.changes.shown.iter();
        let nothing = self.added + self.changed + self.unchanged == 0;
        let done = match nothing {
            true => format!("{} has no rows: nothing was imported", self.file),
            false => format!("{} imported", self.file),
        };
        let fates = [
            ("added", self.added),
            ("changed", self.changed),
            ("already there, unchanged", self.unchanged),
        ];
        let notice = fates
            .into_iter()
            .fold(Notice::of(done), |notice, fate| match fate {
                (what, 0) => notice.said_already(what, count(0)),
                (what, some) => notice.detail(what, count(some)),
            });
        notice
            .knowing(made_before_words(self.made_before))
            .knowing(self.notes.shown.iter().map(|note| note_words(note, style)))
            .knowing(near_words(&self.near))
            .knowing(and_more(self.notes.more, "like these"))
            .knowing(changes.map(|change| format!("changed: {}", change_words(change))))
            .knowing(and_more(self.changes.more, "changes"))
    }
}

fn made_before_words(made_before: bool) -> Option<String> {
    made_before.then(|| MADE_BEFORE.to_owned())
}

fn and_more(more: u64, what: &str) -> Option<String> {
    (more > 0).then(|| format!("and {more} more {what}"))
}

fn note_words(note: &ImportNote, style: &Style) -> String {
    match note {
        ImportNote::Cell(note) => style.cell_note(note),
        ImportNote::OtherRow {
            line,
            counts,
            field,
            texts: [used, unused],
        } => format!(
            "line {line}, {field}: `{}` is not used, since line {counts} of the same yarn says `{}`",
            safe(unused),
            safe(used)
        ),
        ImportNote::BesideAnother { line, yarn } => {
            let message = format!(
                "you already have a swatch of {yarn} on this needle and day: this one is added too"
            );
            format!("line {line}: {message}")
        }
        ImportNote::Missing { line, missing } => format!("line {line}: {}", missing_words(missing)),
    }
}

/// What a project names and is not there, and what comes of that.
fn missing_words(missing: &MissingName) -> String {
    let name = safe(&missing.name);
    let (what, then) = match missing.kind {
        MissingKind::Pattern => (
            format!("you have no pattern `{name}`"),
            "no plan can make this project before you have it",
        ),
        MissingKind::Size => (
            format!("the pattern has no size `{name}`"),
            "give the project another one with `project edit`",
        ),
        MissingKind::Role => (
            format!("the pattern has no yarn `{name}`"),
            "the yarn chosen for it is not used",
        ),
        MissingKind::Yarn => (
            format!("you have no yarn `{name}`"),
            "choose another one with `project pin`",
        ),
    };
    match or_list(&missing.near) {
        none if none.is_empty() => format!("{what}: {then}"),
        near => format!("{what}, or did you mean {near}? Else {then}"),
    }
}

fn near_words(near: &NearNames) -> Vec<String> {
    match near {
        NearNames::Found(names) => {
            let mut words: Vec<String> = names.iter().map(near_name_words).collect();
            words.sort();
            words
        }
        NearNames::TooMany { yarns, pairs } => vec![format!(
            "too many new yarns to compare their names with each other: that works for up to {yarns} new yarns and {pairs} pairs of names"
        )],
    }
}

fn near_name_words(near: &NearName) -> String {
    match near {
        NearName::Yarns {
            maker,
            names: [a, b],
        } => format!(
            "{maker} has both `{a}` and `{b}`: two yarns, or one written twice? Saved as two."
        ),
        NearName::Makers([a, b]) => format!(
            "makers `{a}` and `{b}` are nearly the same: two makers, or one written twice? Saved as two."
        ),
    }
}

fn change_words(change: &RowChange) -> String {
    format!("{}: {}", change.title, difference_words(&change.difference))
}

fn difference_words(difference: &Difference) -> String {
    match difference {
        Difference::Yarn(changes) | Difference::Lot(changes) | Difference::Project(changes) => {
            joined(changes.iter().map(field_words), ", ")
        }
        Difference::Held { kept, stated } | Difference::Reserved { kept, stated } => {
            format!("{kept} -> {stated}")
        }
    }
}

/// `length 125 m -> 120 m`.
fn field_words(change: &FieldChange) -> String {
    let Some([kept, stated]) = &change.texts else {
        return change.field.to_owned();
    };
    let shown = |text: &Option<String>| text.clone().unwrap_or_else(|| "not known".to_owned());
    format!("{} {} -> {}", change.field, shown(kept), shown(stated))
}

/// What keeps a table out, row by row, and what to do about it.
pub(in crate::report) fn bad_rows_words(bad: &BadRows, style: &Style) -> String {
    let rows = count_of(f64::from(bad.rows()), "row");
    let mut lines = vec![format!(
        "{}: {rows} with faults; nothing was imported:",
        bad.file()
    )];
    let faults = bad.faults().iter();
    lines.extend(faults.map(|fault| format!("  {}", row_fault_words(fault))));
    lines.extend(and_more(bad.more(), "faults").map(|more| format!("  {more}")));
    if bad.differing() {
        let update = style.field("update");
        lines.push(format!(
            "  to replace your records that differ, import again with {update}"
        ));
    }
    lines.join("\n")
}

/// Why a row is refused: "line 3, mass: `50`: it has no unit; write `50 g`".
fn row_fault_words(fault: &RowFault) -> String {
    let nothing = String::new();
    let (given, why, allowed) = match &fault.kind {
        RowFaultKind::Unread(fault) => return fault.to_string(),
        RowFaultKind::NoSuchNumber(number) => {
            let why = "you have no yarn with this number, and the row names none";
            (number, why.to_owned(), "add its maker and name".to_owned())
        }
        RowFaultKind::NoSuchYarn { yarn, near } => {
            let or = match or_list(near) {
                none if none.is_empty() => none,
                near => format!(", or did you mean {near}?"),
            };
            let allowed = format!("import the yarn first{or}");
            let why = "you have no yarn of this maker and name";
            (yarn, why.to_owned(), allowed)
        }
        RowFaultKind::RepeatedYarn(_)
        | RowFaultKind::RepeatedLot(_)
        | RowFaultKind::RepeatedProject(_)
        | RowFaultKind::RepeatedReservation(_) => return repeated_words(fault),
        RowFaultKind::TooManyProjects(most) => {
            let why = format!("you can have {most} projects");
            (&nothing, why, "remove some of yours first".to_owned())
        }
        RowFaultKind::NoSuchLot(lot) => {
            let why = "you have no such lot in this place";
            (lot, why.to_owned(), "import your stock first".to_owned())
        }
        RowFaultKind::NotReserved { lot, why } => {
            let allowed = "reserve less, or leave the row out";
            (lot, why.to_string(), allowed.to_owned())
        }
        RowFaultKind::LotRenamed { number, title } => {
            let why = format!(
                "{title}, lot number {number}, has the same amount, and one of the two has no dye lot: it may be the same yarn"
            );
            let allowed = format!(
                "write the dye lot that number {number} has, or correct it there; if it is more yarn, add it with `stock buy`"
            );
            (title, why, allowed)
        }
        RowFaultKind::OtherColour { shade, colours } => {
            let [known, stated] = colours;
            let why = format!("its colour is `{stated}` in this row and `{known}` elsewhere");
            let allowed = "a shade has one colour: write the same in each row, or use `--update`";
            (shade, why, allowed.to_owned())
        }
        RowFaultKind::Differs(change) => {
            let (why, allowed) = differing_words(&change.difference);
            (&change.title, why, allowed.to_owned())
        }
    };
    let fault_words = CellFault::new("", given, why, allowed);
    fault_words.at(Place::line(fault.line)).to_string()
}

/// Why a row is refused that says again what one before it says.
fn repeated_words(fault: &RowFault) -> String {
    let (given, why, allowed) = match &fault.kind {
        RowFaultKind::RepeatedYarn(title) => {
            (title, "this yarn is in the file twice", "leave one row out")
        }
        RowFaultKind::RepeatedLot(title) => (
            title,
            "this lot of this shade is in the file twice in the same place",
            "add the amounts, or give them different places",
        ),
        RowFaultKind::RepeatedProject(name) => (
            name,
            "this project is in the file twice",
            "leave one row out, or give one another name",
        ),
        RowFaultKind::RepeatedReservation(lot) => (
            lot,
            "this lot is in the file twice, reserved for the same",
            "add the amounts",
        ),
        _ => return String::new(),
    };
    let fault_words = CellFault::new("", given, why, allowed);
    fault_words.at(Place::line(fault.line)).to_string()
}

/// Why a row that differs from what is kept is refused, and what to do.
fn differing_words(difference: &Difference) -> (String, &'static str) {
    match difference {
        Difference::Yarn(_) => {
            let changes = difference_words(difference);
            (
                format!("you already have this yarn, and it differs: {changes}"),
                "let the file replace it, or use another name",
            )
        }
        Difference::Lot(_) => {
            let changes = difference_words(difference);
            (
                format!("you already have this lot, and it differs: {changes}"),
                "let the file replace it",
            )
        }
        Difference::Project(_) => {
            let changes = difference_words(difference);
            (
                format!("you already have this project, and it differs: {changes}"),
                "let the file replace it, or use another name",
            )
        }
        Difference::Reserved { kept, .. } => (
            format!("{kept} of this lot are reserved for that already"),
            "let the file replace it",
        ),
        Difference::Held { kept, .. } => (
            format!("you already have this lot, with another amount: {kept}"),
            "let the file replace it",
        ),
    }
}

/// What becomes of one row, as a line of a page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RowLine {
    /// The line of the file on which it starts.
    pub line: u64,
    /// What it is of; empty where that is not read.
    pub title: String,
    /// What is done with it.
    pub fate: String,
    /// Whether it keeps the file out.
    pub bad: bool,
}

/// What becomes of a row.
pub fn row_line(row: &ImportRow) -> RowLine {
    let fate = match &row.fate {
        RowFate::Added => "will be added".to_owned(),
        RowFate::Unchanged => "already there, no change".to_owned(),
        RowFate::Changed(change) => format!("will be changed: {}", change_words(change)),
        RowFate::Refused(faults) => joined(faults.iter().map(row_fault_words), "; "),
    };
    RowLine {
        line: row.line,
        title: row.title.clone().unwrap_or_default(),
        fate,
        bad: row.is_bad(),
    }
}

/// Faults of rows, each with its line; those of one field and kind stand together.
pub(super) fn table_fault_words<'f>(faults: impl Iterator<Item = &'f RowFault>) -> Vec<String> {
    let mut faults: Vec<&RowFault> = faults.collect();
    faults.sort_by_key(|fault| match &fault.kind {
        RowFaultKind::Unread(cell) => (cell.field.as_str(), cell.why.as_str()),
        _ => ("", ""),
    });
    faults.into_iter().map(row_fault_words).collect()
}

/// What was noticed of a row.
pub(super) fn preview_note_words(note: &ImportNote, style: &Style) -> String {
    note_words(note, style)
}

/// What was noticed while an import was tried.
pub fn preview_notes(preview: &Preview, style: &Style) -> Page {
    let notes = preview.notes.iter().map(|note| note_words(note, style));
    let notes: Vec<String> = notes.collect();
    let mut page = Page::default();
    page.part("Notes", Role::Caution, &notes);
    page
}

impl ShortAnswer for PatternsImport {
    fn notice(&self, style: &Style) -> Notice {
        let notice = Notice::of("Patterns imported");
        let notice = self.patterns.iter().fold(notice, |notice, (name, fate)| {
            let done = match fate {
                PatternFate::Added => "added",
                PatternFate::Unchanged => "already there, unchanged",
                PatternFate::Replaced => "replaced",
            };
            notice.detail(name.to_string(), done)
        });
        let notes = self.notes.iter();
        notice
            .knowing(made_before_words(self.made_before))
            .knowing(notes.map(|(file, note)| format!("{file}: {}", style.cell_note(note))))
    }
}

/// What a file that was written holds.
pub fn exported_words(exported: &Exported) -> String {
    match exported {
        Exported::Table { rows, what } => {
            let rows = u32::try_from(*rows).unwrap_or(u32::MAX);
            count_of(f64::from(rows), what)
        }
        Exported::Pattern(name) => format!("pattern {name}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        app::{AppError, Records, TableKind, import_table, preview_table},
        report::error_words,
    };

    const TABLE: &str = "maker,name,length,mass\nQuenby,Sandgate,125 m,50 g\n";
    const SWATCHES: &str = "name,maker,needle,after\nSandgate,Quenby,4.5 mm,22 sts / 10 cm\n";

    fn shelf() -> Records {
        let mut records = Records::in_memory().unwrap();
        import_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            TABLE.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        records
    }

    fn taken(table: &str, update: bool) -> Result<Notice, String> {
        let done = import_table(
            &mut shelf(),
            TableKind::Yarns,
            "y.csv",
            table.as_bytes(),
            update,
            |_| (),
        );
        let told = |error: AppError| error_words(&error, &Style::default());
        done.map(|done| done.notice(&Style::default()))
            .map_err(told)
    }

    #[test]
    fn what_was_done_is_counted() {
        let notice = taken(TABLE, false).unwrap();
        assert_eq!(notice.done, "y.csv imported");
        let counts = notice.details.iter().map(|(_, count)| count.as_str());
        let counts: Vec<&str> = counts.collect();
        assert_eq!(counts, ["0 yarns", "0 yarns", "1 yarn"]);
    }

    #[test]
    fn a_change_is_told_with_both_texts() {
        let other = TABLE.replace("125", "120");
        let told = taken(&other, true).unwrap().warnings;
        let changed = "changed: Quenby, Sandgate: length 125 m -> 120 m";
        assert_eq!(told, [changed]);
        let told = taken(&other, false).unwrap_err();
        assert!(
            told.contains("line 2: `Quenby, Sandgate`: you already have this yarn, and it differs: length 125 m -> 120 m"),
            "{told}"
        );
        assert!(told.ends_with("import again with --update"), "{told}");
    }

    #[test]
    fn a_row_that_stands_twice_keeps_the_file_out() {
        let twice = format!("{TABLE}Quenby,sandgate,125 m,50 g\n");
        let told = taken(&twice, false).unwrap_err();
        assert!(
            told.starts_with("y.csv: 1 row with faults; nothing was imported:"),
            "{told}"
        );
        assert!(
            told.contains("line 3: `Quenby, sandgate`: this yarn is in the file twice"),
            "{told}"
        );
        assert!(!told.contains("--update"), "{told}");
    }

    #[test]
    fn a_trial_words_its_errors_as_the_import_does() {
        let bad = format!("{TABLE}Quenby,Moor,long,50 g\n");
        let tried = preview_table(
            &mut shelf(),
            TableKind::Yarns,
            "y.csv",
            bad.as_bytes(),
            false,
        )
        .unwrap();
        let line = row_line(&tried.rows[1]);
        assert!(line.bad);
        assert!(taken(&bad, false).unwrap_err().contains(&line.fate));
    }

    #[test]
    fn near_names_and_a_swatch_beside_another_are_told() {
        let near = format!("{TABLE}Quenby,Sandgaet,125 m,50 g\n");
        let told = taken(&near, false).unwrap().warnings;
        assert!(told[0].contains("has both `Sandgaet` and `Sandgate`"));
        let mut records = shelf();
        let mut add = |table: &str| {
            let done = import_table(
                &mut records,
                TableKind::Swatches,
                "w.csv",
                table.as_bytes(),
                false,
                |_| (),
            );
            done.unwrap().notice(&Style::default()).warnings
        };
        add(SWATCHES);
        let told = add(&SWATCHES.replace("22 sts", "21 sts"));
        assert!(
            told[0].starts_with("line 2: you already have a swatch of Quenby, Sandgate"),
            "{told:?}"
        );
    }

    #[test]
    fn a_swatch_of_an_unknown_yarn_asks_what_was_meant() {
        let bad = SWATCHES.replace("Sandgate", "Sandgote");
        let done = import_table(
            &mut shelf(),
            TableKind::Swatches,
            "w.csv",
            bad.as_bytes(),
            false,
            |_| (),
        );
        let told = error_words(&done.unwrap_err(), &Style::default());
        let why = "line 2: `Quenby, Sandgote`: you have no yarn of this maker and name; import the yarn first, or did you mean Quenby, Sandgate?";
        assert!(told.contains(why), "{told}");
    }
}
