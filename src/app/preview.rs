//! An import tried out: everything is done in one transaction that is then taken
//! back, so that what is told is what an import does.

use super::{
    AppError, Records,
    bad_rows::BadRows,
    imported::{ImportRow, Imported},
};
use crate::store::{StoreError, Writer};

/// What an import would do.
#[derive(Debug, Clone, Default)]
pub struct Preview {
    /// What becomes of each row, in the order of the file.
    pub rows: Vec<ImportRow>,
    /// How many would be added.
    pub added: usize,
    /// How many would be changed.
    pub changed: usize,
    /// How many are kept already.
    pub unchanged: usize,
    /// What to know.
    pub warnings: Vec<String>,
    /// Whether the file can be taken.
    pub good: bool,
}

/// Why a trial ended.
enum Ended {
    /// It went through and was taken back.
    Tried(Box<(Imported, BadRows)>),
    /// It failed.
    Failed(AppError),
}

impl From<StoreError> for Ended {
    fn from(error: StoreError) -> Self {
        Self::Failed(error.into())
    }
}

fn counted(count: u64) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX)
}

/// Does `work` and takes it back.
pub(super) fn tried(
    records: &mut Records,
    work: impl FnOnce(&Writer<'_>) -> Result<(Imported, BadRows), AppError>,
) -> Result<Preview, AppError> {
    let ended = records.store_mut()?.write(|writer| match work(writer) {
        Ok(done) => Err::<(), Ended>(Ended::Tried(Box::new(done))),
        Err(error) => Err(Ended::Failed(error)),
    });
    match ended {
        Err(Ended::Tried(done)) => Ok(preview(done.0, &done.1)),
        Err(Ended::Failed(error)) => Err(error),
        Ok(()) => Ok(Preview::default()),
    }
}

fn preview(done: Imported, bad: &BadRows) -> Preview {
    Preview {
        added: counted(done.added),
        changed: counted(done.changed),
        unchanged: counted(done.unchanged),
        rows: done.rows.unwrap_or_default(),
        warnings: done.warnings,
        good: bad.is_empty(),
    }
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
        assert!(list_yarns(&records, None, 9).unwrap().rows.is_empty());
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
