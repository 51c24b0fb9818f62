//! Tables taken into the records: all of a table or nothing. Yarns, stock and
//! swatches go one way: a row is read, held against what is kept, and added, changed
//! or refused. A trial does the same and takes it back.

mod id_set;
mod near_names;
mod outcome;
mod row;
mod stock;
mod swatches;
mod yarns;

pub use near_names::{NearName, NearNames};
pub use outcome::{ImportAnswer, ImportNote, Listed, Preview};
pub use row::{
    BadRows, Difference, FieldChange, ImportRow, RowChange, RowFate, RowFault, RowFaultKind,
};
pub use stock::{import_stock, preview_stock};
pub use swatches::{import_swatches, preview_swatches};
pub use yarns::{import_yarns, preview_yarns};

use super::{AppError, Records};
use crate::{
    files::csv::{Rows, TableRecord, read_table},
    record::Name,
    store::{NewYarns, StoreError, Writer},
    words::did_you_mean,
};
use id_set::IdSet;
use outcome::Outcome;
use std::io::Read;

/// A kind of record that is taken from a table of its own.
trait Import: TableRecord {
    /// What one of it is called.
    const WHAT: &'static str;
    /// What is kept of it already.
    type KeptRecord;

    /// What people call a record.
    fn title(&self) -> String;

    /// Holds a record against what is kept, and adds it where it is new.
    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::KeptRecord>, AppError>;

    /// Puts a record in the place of what is kept and differs.
    fn replace(&self, kept: Self::KeptRecord, batch: &Batch<'_>) -> Result<(), AppError>;
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
    /// It was new and is added, beside another like it of this yarn where one is
    /// named.
    Added(Option<String>),
    /// It is kept already and says the same.
    Same,
    /// It is kept already and says something else.
    Differs(Differing<K>),
    /// It cannot be taken.
    Refused(RowFaultKind),
}

/// What is kept, and how a row differs from it.
struct Differing<K> {
    kept: K,
    change: RowChange,
}

/// Takes a table. A record that is kept already stays as it is; where the file says
/// otherwise, that is an error unless `update`. `progress` is told the bytes read.
fn import<T: Import>(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
    progress: impl FnMut(u64),
) -> Result<ImportAnswer, AppError> {
    let rows = read_table::<T>(file, source, progress)?;
    let store = records.store_mut()?;
    let outcome = store.write(|writer| {
        let outcome = take_rows(rows, writer, Outcome::new(file, T::WHAT), update)?;
        if outcome.bad.is_empty() {
            Ok(outcome)
        } else {
            Err(AppError::BadRows(outcome.bad))
        }
    })?;
    outcome.answer(&records.store()?.reader()?)
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
        let outcome = Outcome::new(file, T::WHAT).row_by_row();
        let taken = take_rows(rows, writer, outcome, update);
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
        let line = row.line;
        let fault = |kind| vec![RowFault { line, kind }];
        let record = match row.record {
            Err(faults) => {
                let unread = |fault| RowFault {
                    line,
                    kind: RowFaultKind::Unread(fault),
                };
                outcome.refuse(line, || None, faults.into_iter().map(unread).collect());
                continue;
            }
            Ok(record) => record,
        };
        let title = || record.title();
        match record.add(&mut batch)? {
            Standing::Added(beside) => outcome.add(line, title, beside),
            Standing::Same => outcome.leave(line, title),
            Standing::Differs(found) if update => {
                record.replace(found.kept, &batch)?;
                outcome.change(line, title, found.change);
            }
            Standing::Differs(found) => {
                let why = RowFaultKind::Differs(found.change);
                outcome.refuse(line, || Some(title()), fault(why));
            }
            Standing::Refused(why) => outcome.refuse(line, || Some(title()), fault(why)),
        }
    }
    outcome.names = batch.names;
    Ok(outcome)
}

/// Why a row about a yarn that is not kept is refused, with what was perhaps meant.
fn no_such_yarn(maker: &Name, name: &Name, writer: &Writer<'_>) -> Result<RowFaultKind, AppError> {
    let titles = writer.yarn_titles()?;
    let yarn = yarn_title(maker, name);
    let near = did_you_mean(&yarn, titles.iter().map(|(_, title)| title.as_str()));
    let near = near.into_iter().map(str::to_owned).collect();
    Ok(RowFaultKind::NoSuchYarn { yarn, near })
}

/// `maker, name`, as people say it.
fn yarn_title(maker: &Name, name: &Name) -> String {
    [maker.as_str(), name.as_str()].join(", ")
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
        assert_eq!(tried.rows[0].fate, RowFate::Added);
        assert!(list_yarns(&records, None, 9).unwrap().yarns.is_empty());
    }

    #[test]
    fn a_trial_tells_the_errors_of_the_import() {
        let mut records = Records::in_memory().unwrap();
        let bad = format!("{TABLE}Quenby,Moor,long,50 g\n");
        let tried = preview_yarns(&mut records, "y.csv", bad.as_bytes(), false).unwrap();
        assert!(!tried.good && !tried.rows[0].is_bad() && tried.rows[1].is_bad());
        let told = import_yarns(&mut records, "y.csv", bad.as_bytes(), false, |_| ());
        let Err(AppError::BadRows(bad)) = told else {
            panic!("{told:?}");
        };
        assert_eq!(tried.rows[1].fate, RowFate::Refused(bad.faults().to_vec()));
    }

    #[test]
    fn a_row_that_differs_is_bad_unless_it_may_replace() {
        let mut records = Records::in_memory().unwrap();
        import_yarns(&mut records, "y.csv", TABLE.as_bytes(), false, |_| ()).unwrap();
        let other = TABLE.replace("125", "120");
        let tried = preview_yarns(&mut records, "y.csv", other.as_bytes(), false).unwrap();
        assert!(!tried.good);
        let tried = preview_yarns(&mut records, "y.csv", other.as_bytes(), true).unwrap();
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
}
