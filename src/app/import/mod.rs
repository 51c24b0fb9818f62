//! Tables taken into the records: all of a table or nothing. Yarns, stock, swatches,
//! projects and reservations go one way: a row is read, held against what is kept, and added, changed
//! or refused. A trial does the same and takes it back.

mod any_table;
mod near_names;
mod outcome;
mod projects;
mod reservations;
mod row;
mod stock;
mod swatches;
mod yarns;

pub use any_table::{
    KeptLayout, LEAVE_OUT, LayoutList, MOST_TABLE_BYTES, TableLook, TableRequest, forget_layout,
    import_any_table, list_layouts, look_at_table,
};
pub use near_names::{NearName, NearNames};
pub use outcome::{ImportAnswer, ImportNote, Listed, MissingKind, MissingName, Preview};
pub(super) use projects::row_of as project_row;
pub(super) use reservations::rows_of as reservation_rows;
pub use row::{
    BadRows, Difference, FieldChange, ImportRow, RowChange, RowFate, RowFault, RowFaultKind,
};

use super::{AppError, Records};
use crate::{
    files::{
        FileError,
        csv::{
            ProjectRow, ReservationRow, Row, Rows, StockRow, SwatchRow, TableRecord, read_table,
        },
        sheet::as_text,
    },
    record::{Name, Printed, Yarn},
    store::{NewYarns, StoreError, Writer},
    trade::Colour,
    words::did_you_mean,
};
use outcome::Outcome;
use std::{
    collections::{HashMap, HashSet},
    convert::Infallible,
    io::Read,
};

/// What one table holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableKind {
    /// Yarns.
    Yarns,
    /// Lots; their yarns must be kept.
    Stock,
    /// Swatches; their yarns must be kept.
    Swatches,
    /// Projects, the one that matters most first.
    Projects,
    /// What of which lot is reserved for what; the lots must be kept.
    Reservations,
}

impl TableKind {
    /// What one row is.
    pub fn row(self) -> &'static str {
        match self {
            Self::Yarns => "yarn",
            Self::Stock => "lot",
            Self::Swatches => "swatch",
            Self::Projects => "project",
            Self::Reservations => "reservation",
        }
    }
}

/// Why what is kept cannot be replaced; nothing where it was.
type Replaced = Result<Option<RowFaultKind>, AppError>;

/// A kind of record that is imported from a table of its own.
trait Import: TableRecord {
    /// What is kept of it already.
    type KeptRecord;

    /// What people call a record.
    fn title(&self) -> String;

    /// Holds a record against what is kept, and adds it where it is new.
    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::KeptRecord>, AppError>;

    /// Puts a record in the place of what is kept and differs; why not, where it cannot.
    fn replace(&self, kept: Self::KeptRecord, batch: &Batch<'_>) -> Replaced;
}

/// What all rows of one import share.
struct Batch<'w> {
    writer: &'w Writer<'w>,
    yarns: NewYarns<'w>,
    /// Kept records for which a row was taken.
    seen: IdSet,
    /// Lots, and what they are reserved for, for which a row was taken.
    reserved: HashSet<(i64, String)>,
    /// What a row names and is not there.
    missing: Vec<MissingName>,
    /// Colours of shades, as rows say them.
    colours: HashMap<(i64, String), Printed<Colour>>,
    /// Whether what is kept may be replaced.
    update: bool,
    /// Names of yarns that were added.
    names: near_names::NewNames,
}

/// How a row stands to what is kept.
enum Standing<K> {
    /// It was new and is added, beside another like it of this yarn where one is
    /// named.
    Added(Option<String>),
    /// It is kept already and says the same.
    Same,
    /// It is kept already and says something else.
    Differs(K, RowChange),
    /// It cannot be taken.
    Refused(RowFaultKind),
}

impl<K> Standing<K> {
    /// Of a row whose record is there, with what it would change.
    fn of_kept(
        kept: K,
        title: String,
        changes: Vec<FieldChange>,
        difference: fn(Vec<FieldChange>) -> Difference,
    ) -> Self {
        if changes.is_empty() {
            return Self::Same;
        }
        let difference = difference(changes);
        Self::Differs(kept, RowChange { title, difference })
    }
}

/// Imports a table. A record that is in the records already stays as it is, stock also when some
/// of it was used since; where the file says otherwise, that is an error unless
/// `update`: then an amount of stock is entered as weighed. A swatch that is not kept is
/// added beside those of its yarn, since one may knit several. `progress` gets the
/// bytes read.
pub fn import_table(
    records: &mut Records,
    kind: TableKind,
    file: &str,
    source: impl Read,
    update: bool,
    progress: impl FnMut(u64),
) -> Result<ImportAnswer, AppError> {
    let replacing = if update { "update" } else { "" };
    let source = as_text(file, source)?;
    // The answer is made before the rows are committed: what is reported as failed
    // was not taken.
    let what = ["import", kind.row(), file, replacing];
    records.once_under_text(what, |writer, made| {
        if let Some(counts) = made {
            let answer = ImportAnswer::before(file, kind.row(), counts);
            return Ok((counts.to_owned(), answer));
        }
        let outcome = Outcome::new(file, kind.row());
        let outcome = take(kind, writer, outcome, source, update, progress)?;
        if !outcome.bad.is_empty() {
            return Err(AppError::BadRows(outcome.bad));
        }
        let answer = outcome.answer(writer)?;
        Ok((answer.counts(), answer))
    })
}

/// Why a trial ended.
enum TrialEnd<T> {
    /// It went through and is undone.
    Tried(T),
    /// It failed.
    Failed(AppError),
}

impl<T> From<StoreError> for TrialEnd<T> {
    fn from(error: StoreError) -> Self {
        Self::Failed(error.into())
    }
}

/// What importing a table would change, row by row; nothing is changed.
pub fn preview_table(
    records: &mut Records,
    kind: TableKind,
    file: &str,
    source: impl Read,
    update: bool,
) -> Result<Preview, AppError> {
    let outcome = Outcome::new(file, kind.row()).row_by_row();
    let source = as_text(file, source)?;
    let tried = try_out(records, |writer| {
        take(kind, writer, outcome, source, update, |_| ())
    });
    Ok(tried?.preview())
}

/// What `work` comes to: everything is done in one transaction that is then taken back.
fn try_out<T>(
    records: &mut Records,
    work: impl FnOnce(&Writer<'_>) -> Result<T, AppError>,
) -> Result<T, AppError> {
    let ended: Result<Infallible, TrialEnd<T>> = records.store_mut()?.write(|writer| {
        Err(match work(writer) {
            Ok(tried) => TrialEnd::Tried(tried),
            Err(error) => TrialEnd::Failed(error),
        })
    });
    match ended {
        Err(TrialEnd::Tried(tried)) => Ok(tried),
        Err(TrialEnd::Failed(error)) => Err(error),
        Ok(never) => match never {},
    }
}

fn take(
    kind: TableKind,
    writer: &Writer<'_>,
    outcome: Outcome,
    source: impl Read,
    update: bool,
    progress: impl FnMut(u64),
) -> Result<Outcome, AppError> {
    let file = outcome.file().to_owned();
    match kind {
        TableKind::Yarns => {
            let rows = read_table::<Yarn>(&file, source, progress)?;
            take_noted(rows, writer, outcome, update)
        }
        TableKind::Stock => {
            let rows = read_table::<StockRow>(&file, source, progress)?;
            take_noted(rows, writer, outcome, update)
        }
        TableKind::Swatches => {
            let rows = read_table::<SwatchRow>(&file, source, progress)?;
            take_noted(rows, writer, outcome, update)
        }
        TableKind::Projects => {
            let rows = read_table::<ProjectRow>(&file, source, progress)?;
            take_noted(rows, writer, outcome, update)
        }
        TableKind::Reservations => {
            let rows = read_table::<ReservationRow>(&file, source, progress)?;
            take_noted(rows, writer, outcome, update)
        }
    }
}

fn take_noted<T: Import>(
    rows: Rows<'_, T>,
    writer: &Writer<'_>,
    mut outcome: Outcome,
    update: bool,
) -> Result<Outcome, AppError> {
    outcome.note(rows.warnings());
    take_rows(rows, writer, outcome, update)
}

/// Takes rows one after the other; what becomes of each is put to the outcome.
fn take_rows<T: Import>(
    rows: impl Iterator<Item = Result<Row<T>, FileError>>,
    writer: &Writer<'_>,
    mut outcome: Outcome,
    update: bool,
) -> Result<Outcome, AppError> {
    let mut batch = Batch {
        writer,
        yarns: writer.new_yarns()?,
        seen: IdSet::default(),
        reserved: HashSet::new(),
        missing: Vec::new(),
        colours: HashMap::new(),
        update,
        names: near_names::NewNames::default(),
    };
    for row in rows {
        let row = row?;
        outcome.note(&row.warnings);
        let line = row.line;
        let fault = |kind| vec![RowFault { line, kind }];
        let record = match row.record {
            Err(faults) => {
                let unread = |fault| RowFault {
                    line,
                    kind: RowFaultKind::Unread(fault),
                };
                let faults = faults.into_iter().map(unread).collect();
                outcome.take(line, || None, RowFate::Refused(faults));
                continue;
            }
            Ok(record) => record,
        };
        let standing = record.add(&mut batch)?;
        outcome.note_missing(line, &mut batch.missing);
        let fate = match standing {
            Standing::Added(beside) => {
                outcome.note_beside(line, beside);
                RowFate::Added
            }
            Standing::Same => RowFate::Unchanged,
            Standing::Differs(kept, change) if update => match record.replace(kept, &batch)? {
                None => RowFate::Changed(change),
                Some(why) => RowFate::Refused(fault(why)),
            },
            Standing::Differs(_, change) => RowFate::Refused(fault(RowFaultKind::Differs(change))),
            Standing::Refused(why) => RowFate::Refused(fault(why)),
        };
        outcome.take(line, || Some(record.title()), fate);
    }
    outcome.names = batch.names;
    Ok(outcome)
}

/// Why a row about a yarn that is not kept is refused, with what was perhaps meant.
fn no_such_yarn(maker: &Name, name: &Name, writer: &Writer<'_>) -> Result<RowFaultKind, AppError> {
    no_such_title(&yarn_title(maker, name), writer)
}

fn no_such_title(yarn: &str, writer: &Writer<'_>) -> Result<RowFaultKind, AppError> {
    let titles = writer.yarn_titles()?;
    let yarn = yarn.to_owned();
    let near = did_you_mean(&yarn, titles.iter().map(|(_, title)| title.as_str()));
    let near = near.into_iter().map(str::to_owned).collect();
    Ok(RowFaultKind::NoSuchYarn { yarn, near })
}

/// `maker, name`, as people say it.
fn yarn_title(maker: &Name, name: &Name) -> String {
    [maker.as_str(), name.as_str()].join(", ")
}

/// A set of numbers.
#[derive(Debug, Default)]
pub(super) struct IdSet(HashMap<i64, u64>);

impl IdSet {
    /// Adds a number; whether it is new.
    pub(super) fn insert(&mut self, number: i64) -> bool {
        let bits = self.0.entry(number.div_euclid(64)).or_default();
        let bit = 1_u64 << number.rem_euclid(64);
        let is_new = *bits & bit == 0;
        *bits |= bit;
        is_new
    }

    /// Whether a number is in it.
    pub(super) fn contains(&self, number: i64) -> bool {
        let bits = self.0.get(&number.div_euclid(64));
        bits.is_some_and(|bits| bits & (1_u64 << number.rem_euclid(64)) != 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::list_yarns;
    use proptest::prelude::*;

    const TABLE: &str = "maker,name,length,mass\nQuenby,Sandgate,125 m,50 g\n";

    #[test]
    fn a_trial_tells_what_an_import_would_do_and_writes_nothing() {
        let mut records = Records::in_memory().unwrap();
        let tried = preview_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            TABLE.as_bytes(),
            false,
        )
        .unwrap();
        assert!(tried.good);
        assert_eq!((tried.added, tried.rows[0].line), (1, 2));
        assert_eq!(tried.rows[0].fate, RowFate::Added);
        assert!(list_yarns(&records, None, 9).unwrap().yarns.is_empty());
    }

    #[test]
    fn a_trial_tells_the_errors_of_the_import() {
        let mut records = Records::in_memory().unwrap();
        let bad = format!("{TABLE}Quenby,Moor,long,50 g\n");
        let tried = preview_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            bad.as_bytes(),
            false,
        )
        .unwrap();
        assert!(!tried.good && !tried.rows[0].is_bad() && tried.rows[1].is_bad());
        let told = import_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            bad.as_bytes(),
            false,
            |_| (),
        );
        let Err(AppError::BadRows(bad)) = told else {
            panic!("{told:?}");
        };
        assert_eq!(tried.rows[1].fate, RowFate::Refused(bad.faults().to_vec()));
    }

    #[test]
    fn a_row_that_differs_is_bad_unless_it_may_replace() {
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
        let other = TABLE.replace("125", "120");
        let tried = preview_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            other.as_bytes(),
            false,
        )
        .unwrap();
        assert!(!tried.good);
        let tried = preview_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            other.as_bytes(),
            true,
        )
        .unwrap();
        let length = FieldChange {
            field: "length",
            texts: Some(["125 m", "120 m"].map(|text| Some(text.to_owned()))),
        };
        let change = RowChange {
            title: "Quenby, Sandgate".to_owned(),
            difference: Difference::Yarn(vec![length]),
        };
        assert!(tried.good);
        assert_eq!(tried.rows[0].fate, RowFate::Changed(change));
    }

    proptest! {
        #[test]
        fn prop_it_is_a_set(numbers in prop::collection::vec(-200_i64..200, 0..300)) {
            let (mut seen, mut set) = (IdSet::default(), HashSet::new());
            for number in numbers {
                prop_assert_eq!(seen.insert(number), set.insert(number));
                prop_assert!(seen.contains(number));
                prop_assert_eq!(seen.contains(201), false);
            }
        }
    }
}
