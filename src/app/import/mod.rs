//! Tables taken into the records: all of a table or nothing. Yarns, stock and
//! swatches go one way: a row is read, held against what is kept, and added, changed
//! or refused. A trial does the same and takes it back.

mod bad_rows;
mod id_set;
mod near_names;
mod outcome;
mod stock;
mod swatches;
mod yarns;

pub use bad_rows::BadRows;
pub use outcome::{ImportRow, Preview};
pub use stock::{import_stock, preview_stock};
pub use swatches::{import_swatches, preview_swatches};
pub use yarns::{import_yarns, preview_yarns};

use super::{AppError, Records};
use crate::{
    files::{
        CellFault, CellNote, Place,
        csv::{Rows, TableRecord, read_table},
    },
    record::Name,
    report::Notice,
    store::{NewYarns, StoreError, Writer},
    words::{did_you_mean, or_list},
};
use id_set::IdSet;
use outcome::Outcome;
use std::io::Read;

/// A kind of record that is taken from a table of its own.
trait Import: TableRecord {
    /// What one of it is called.
    const WHAT: &'static str;
    /// What is kept of it already.
    type Kept;

    /// What people call a record.
    fn title(&self) -> String;

    /// Holds a record against what is kept, and adds it where it is new.
    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::Kept>, AppError>;

    /// Puts a record in the place of what is kept and differs.
    fn replace(&self, kept: Self::Kept, batch: &Batch<'_>) -> Result<(), AppError>;
}

/// What all rows of one import share.
struct Batch<'w> {
    writer: &'w Writer<'w>,
    yarns: NewYarns<'w>,
    /// Kept records for which a row was taken.
    seen: IdSet,
    /// Names of yarns that were added.
    names: near_names::NewNames,
}

/// How a row stands to what is kept.
enum Standing<K> {
    /// It was new and is added, with what to know about it.
    Added(Option<String>),
    /// It is kept already and says the same.
    Same,
    /// It is kept already and says something else.
    Differs(Difference<K>),
    /// It cannot be taken.
    Refused(CellFault),
}

/// What is kept, and how a row differs from it.
struct Difference<K> {
    kept: K,
    /// What a change is told as.
    change: String,
    /// Why the row is refused where nothing may be changed.
    fault: CellFault,
}

/// Takes a table. A record that is kept already stays as it is; where the file says
/// otherwise, that is an error unless `update`. `progress` is told the bytes read.
fn import<T: Import>(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
    progress: impl FnMut(u64),
) -> Result<Notice, AppError> {
    let rows = read_table::<T>(file, source, progress)?;
    let store = records.store_mut()?;
    let mut outcome = store.write(|writer| {
        let outcome = take_rows(rows, writer, Outcome::new(file), update)?;
        if outcome.bad.is_empty() {
            Ok(outcome)
        } else {
            Err(AppError::BadRows(outcome.bad))
        }
    })?;
    outcome.compare_names(&records.store()?.reader()?)?;
    Ok(outcome.notice(T::WHAT))
}

/// Why a trial ended.
enum TrialEnd {
    /// It went through and is taken back.
    Tried(Box<Outcome>),
    /// It failed.
    Failed(AppError),
}

impl From<StoreError> for TrialEnd {
    fn from(error: StoreError) -> Self {
        Self::Failed(error.into())
    }
}

/// What taking a table would do, row by row; everything is done in one transaction
/// that is then taken back.
fn preview<T: Import>(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
) -> Result<Preview, AppError> {
    let rows = read_table::<T>(file, source, |_| ())?;
    let store = records.store_mut()?;
    let ended = store.write(|writer| {
        let taken = take_rows(rows, writer, Outcome::row_by_row(file), update);
        Err::<(), TrialEnd>(match taken {
            Ok(outcome) => TrialEnd::Tried(Box::new(outcome)),
            Err(error) => TrialEnd::Failed(error),
        })
    });
    match ended {
        Err(TrialEnd::Tried(outcome)) => Ok(outcome.preview()),
        Err(TrialEnd::Failed(error)) => Err(error),
        Ok(()) => Ok(Preview::default()),
    }
}

fn take_rows<T: Import>(
    rows: Rows<'_, T>,
    writer: &Writer<'_>,
    mut outcome: Outcome,
    update: bool,
) -> Result<Outcome, AppError> {
    let mut batch = Batch {
        writer,
        yarns: writer.new_yarns()?,
        seen: IdSet::default(),
        names: near_names::NewNames::default(),
    };
    outcome.note(rows.warnings());
    for row in rows {
        let row = row?;
        outcome.note(&row.warnings);
        let place = Place::line(row.line);
        match row.record {
            Err(faults) => outcome.refuse(row.line, String::new, faults),
            Ok(record) => match record.add(&mut batch)? {
                Standing::Added(note) => {
                    outcome.note(note.map(|note| CellNote::new(place, "", note)).as_slice());
                    outcome.add(row.line, || record.title());
                }
                Standing::Same => outcome.leave(row.line, || record.title()),
                Standing::Differs(found) if update => {
                    record.replace(found.kept, &batch)?;
                    outcome.change(row.line, || record.title(), &found.change);
                }
                Standing::Differs(Difference { fault, .. }) => {
                    outcome.bad.note_difference();
                    outcome.refuse(row.line, || record.title(), vec![fault.at(place)]);
                }
                Standing::Refused(fault) => {
                    outcome.refuse(row.line, || record.title(), vec![fault.at(place)]);
                }
            },
        }
    }
    outcome.names = batch.names;
    Ok(outcome)
}

/// A row about a yarn that is not kept, with what was perhaps meant.
fn no_such_yarn(maker: &Name, name: &Name, writer: &Writer<'_>) -> Result<CellFault, AppError> {
    let titles = writer.yarn_titles()?;
    let given = format!("{maker}, {name}");
    let near = did_you_mean(&given, titles.iter().map(|(_, title)| title.as_str()));
    let allowed = if near.is_empty() {
        "import the yarn first".to_owned()
    } else {
        format!("import the yarn first, or did you mean {}?", or_list(&near))
    };
    let why = "no yarn of this maker and name is kept";
    Ok(CellFault::new("", &given, why, allowed))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{import_yarns, list_yarns, preview_yarns};

    const TABLE: &str = "maker,name,length,mass\nQuenby,Sandgate,125 m,50 g\n";

    #[test]
    fn a_trial_tells_what_an_import_would_do_and_writes_nothing() {
        let mut records = Records::in_memory().unwrap();
        let tried = preview_yarns(&mut records, "y.csv", TABLE.as_bytes(), false).unwrap();
        assert!(tried.good);
        assert_eq!((tried.added, tried.rows[0].line), (1, 2));
        assert_eq!(tried.rows[0].fate, "will be added");
        assert!(list_yarns(&records, None, 9).unwrap().yarns.is_empty());
    }

    #[test]
    fn a_trial_words_its_errors_as_the_import_does() {
        let mut records = Records::in_memory().unwrap();
        let bad = format!("{TABLE}Quenby,Moor,long,50 g\n");
        let tried = preview_yarns(&mut records, "y.csv", bad.as_bytes(), false).unwrap();
        assert!(!tried.good && !tried.rows[0].bad && tried.rows[1].bad);
        let told = import_yarns(&mut records, "y.csv", bad.as_bytes(), false, |_| ());
        assert!(told.unwrap_err().to_string().contains(&tried.rows[1].fate));
    }

    #[test]
    fn a_row_that_differs_is_bad_unless_it_may_replace() {
        let mut records = Records::in_memory().unwrap();
        import_yarns(&mut records, "y.csv", TABLE.as_bytes(), false, |_| ()).unwrap();
        let other = TABLE.replace("125", "120");
        let tried = preview_yarns(&mut records, "y.csv", other.as_bytes(), false).unwrap();
        assert!(!tried.good);
        let tried = preview_yarns(&mut records, "y.csv", other.as_bytes(), true).unwrap();
        assert!(tried.good && tried.rows[0].fate.contains("125 m -> 120 m"));
    }
}
