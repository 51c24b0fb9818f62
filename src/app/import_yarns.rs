//! Yarns from a table: all of them or none.

use super::{
    AppError, Records,
    id_set::IdSet,
    imported::Imported,
    preview::{Preview, tried},
    take_rows::{Taken, all_or_none, take_rows},
};
use crate::{
    files::{
        CellFault,
        csv::{Rows, read_table},
    },
    record::{Id, Yarn},
    report::Notice,
    store::{Added, NewYarns, Writer},
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
    let rows = read_table(file, source, progress)?;
    let mut done = all_or_none(records, |writer| {
        take_all(rows, writer, Imported::of(file, update))
    })?;
    let names = std::mem::take(&mut done.names);
    let near = names.near(&records.store()?.reader()?)?;
    done.warnings.extend(near);
    Ok(done.notice("yarn"))
}

/// What importing a table of yarns would do, row by row; nothing is written.
pub fn preview_yarns(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
) -> Result<Preview, AppError> {
    let rows = read_table(file, source, |_| ())?;
    tried(records, |writer| {
        take_all(rows, writer, Imported::row_by_row(file, update))
    })
}

fn take_all(rows: Rows<'_, Yarn>, writer: &Writer<'_>, done: Imported) -> Result<Taken, AppError> {
    let mut taking = Taking {
        writer,
        yarns: writer.new_yarns()?,
        seen: IdSet::default(),
    };
    take_rows(rows, done, Yarn::title, |_, yarn, done| {
        taking.keep(yarn, done)
    })
}

/// Rows on their way into the records.
struct Taking<'w> {
    writer: &'w Writer<'w>,
    yarns: NewYarns<'w>,
    /// Yarns for which a row was taken.
    seen: IdSet,
}

impl Taking<'_> {
    /// Keeps one yarn; gives what stands against it.
    fn keep(&mut self, yarn: &Yarn, done: &mut Imported) -> Result<Option<CellFault>, AppError> {
        match self.yarns.add(yarn)? {
            Added::New(id) => {
                self.seen.insert(id.number());
                done.added += 1;
                done.names.add(yarn);
                Ok(None)
            }
            Added::Before(id) if !self.seen.insert(id.number()) => Ok(Some(CellFault::new(
                "",
                &yarn.title(),
                "this yarn stands in the file twice",
                "keep one row of it",
            ))),
            Added::Before(id) => self.compare(yarn, id, done),
        }
    }

    fn compare(
        &mut self,
        yarn: &Yarn,
        id: Id<Yarn>,
        done: &mut Imported,
    ) -> Result<Option<CellFault>, AppError> {
        let kept = self.writer.yarn(id)?;
        let changes = differences(&kept.record, yarn);
        match (changes.is_empty(), done.update) {
            (true, _) => done.unchanged += 1,
            (false, true) => {
                self.writer.update_yarn(kept.id, kept.version, yarn)?;
                let change = format!("{}: {}", yarn.title(), changes.join(", "));
                done.note_change(&change);
            }
            (false, false) => return Ok(Some(differs(yarn, &changes))),
        }
        Ok(None)
    }
}

fn differs(yarn: &Yarn, changes: &[String]) -> CellFault {
    let why = format!(
        "this yarn is kept already and differs: {}",
        changes.join(", ")
    );
    CellFault::new(
        "",
        &yarn.title(),
        why,
        "import again with --update to replace what is kept, or give it another name",
    )
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
