//! Yarns from a table.

use super::{Batch, Difference, Import, Preview, Standing};
use crate::{
    app::{AppError, Records},
    files::CellFault,
    record::{Stored, Yarn},
    report::Notice,
    store::Added,
};
use std::io::Read;

/// Imports a table of yarns. A yarn that is kept already stays as it is; where
/// the file says otherwise, that is an error unless `update`. `progress` is told
/// the bytes read.
pub fn import_yarns(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
    progress: impl FnMut(u64),
) -> Result<Notice, AppError> {
    super::import::<Yarn>(records, file, source, update, progress)
}

/// What importing a table of yarns would do, row by row; nothing is written.
pub fn preview_yarns(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
) -> Result<Preview, AppError> {
    super::preview::<Yarn>(records, file, source, update)
}

impl Import for Yarn {
    const WHAT: &'static str = "yarn";
    type Kept = Stored<Yarn>;

    fn title(&self) -> String {
        self.title()
    }

    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::Kept>, AppError> {
        let id = match batch.yarns.add(self)? {
            Added::New(id) => {
                batch.seen.insert(id.number());
                batch.names.add(self);
                return Ok(Standing::Added(None));
            }
            Added::Before(id) => id,
        };
        if !batch.seen.insert(id.number()) {
            let why = "this yarn stands in the file twice";
            let fault = CellFault::new("", &self.title(), why, "keep one row of it");
            return Ok(Standing::Refused(fault));
        }
        let kept = batch.writer.yarn(id)?;
        let changes = differences(&kept.record, self).join(", ");
        if changes.is_empty() {
            return Ok(Standing::Same);
        }
        let why = format!("this yarn is kept already and differs: {changes}");
        let allowed = "let it replace what is kept, or give it another name";
        Ok(Standing::Differs(Difference {
            kept,
            change: format!("{}: {changes}", self.title()),
            fault: CellFault::new("", &self.title(), why, allowed),
        }))
    }

    fn replace(&self, kept: Self::Kept, batch: &Batch<'_>) -> Result<(), AppError> {
        batch.writer.update_yarn(kept.id, kept.version, self)?;
        Ok(())
    }
}

/// What differs between two records of one yarn, as `length 125 m -> 120 m`.
fn differences(kept: &Yarn, new: &Yarn) -> Vec<String> {
    let mut found = Vec::new();
    macro_rules! compare {
        ($($field:ident),*) => {$(
            let text = |yarn: &Yarn| yarn.facts.$field.as_ref().map_or("not known".to_owned(), |printed| printed.text.clone());
            if kept.facts.$field != new.facts.$field {
                found.push(format!("{} {} -> {}", stringify!($field), text(kept), text(new)));
            }
        )*};
    }
    compare!(
        length,
        mass,
        count,
        class,
        blend,
        construction,
        gauge,
        needles,
        care,
        price
    );
    if kept.facts.plies != new.facts.plies {
        found.push("plies".to_owned());
    }
    if kept.gtin != new.gtin {
        found.push("gtin".to_owned());
    }
    if kept.shades != new.shades {
        found.push("shades".to_owned());
    }
    if kept.discontinued != new.discontinued {
        found.push("discontinued".to_owned());
    }
    if kept.notes != new.notes {
        found.push("notes".to_owned());
    }
    if (&kept.maker, &kept.name) != (&new.maker, &new.name) {
        found.push(format!("name {} -> {}", kept.title(), new.title()));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fmt::Write as _;

    /// More rows than after which the indexes are built at the end.
    const MANY: usize = 10_100;

    fn table(from: usize, to: usize) -> String {
        let mut table = "maker,name,length,mass\n".to_owned();
        for number in from..to {
            let _ = writeln!(table, "Quenby,Dune {number},125 m,50 g");
        }
        table
    }

    fn import(records: &mut Records, table: &str) -> Result<Vec<String>, String> {
        let done = import_yarns(records, "y.csv", table.as_bytes(), false, |_| ());
        let counts = done.map_err(|error| error.to_string())?.details;
        Ok(counts.into_iter().map(|(_, count)| count).collect())
    }

    #[test]
    fn a_large_import_keeps_to_the_rules_of_a_small_one() {
        let mut records = Records::in_memory().unwrap();
        let first = import(&mut records, &table(0, MANY)).unwrap();
        assert_eq!(first, ["10100 yarns", "0 yarns", "0 yarns"]);
        let again = import(&mut records, &table(0, MANY)).unwrap();
        assert_eq!(again, ["0 yarns", "0 yarns", "10100 yarns"]);
        let twice = table(MANY, 3 * MANY) + "Quenby,dune 20150,125 m,50 g\n";
        let told = import(&mut records, &twice).unwrap_err();
        assert!(told.contains("line 20202"), "{told}");
        assert!(told.contains("stands in the file twice"), "{told}");
        let differs = table(MANY, 3 * MANY) + "Quenby,Dune 7,120 m,50 g\n";
        let told = import(&mut records, &differs).unwrap_err();
        assert!(
            told.contains("line 20202") && told.contains("125 m -> 120 m"),
            "{told}"
        );
        let more = import(&mut records, &table(7, 3 * MANY)).unwrap();
        assert_eq!(more, ["20200 yarns", "0 yarns", "10093 yarns"]);
        let store = records.store().unwrap();
        assert_eq!(store.reader().unwrap().count_yarns().unwrap(), 30_300);
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
    }
}
