//! Yarns from a table.

use super::{Batch, Difference, FieldChange, Import, RowFaultKind, Standing};
use crate::{
    app::AppError,
    record::{Stored, Yarn},
    store::InsertOutcome,
};
impl Import for Yarn {
    type KeptRecord = Stored<Yarn>;

    fn title(&self) -> String {
        self.title()
    }

    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Self::KeptRecord>, AppError> {
        let id = match batch.yarns.add(self)? {
            InsertOutcome::New(id) => {
                batch.seen.insert(id.number());
                batch.names.add(self);
                return Ok(Standing::Added(None));
            }
            InsertOutcome::Before(id) => id,
        };
        if !batch.seen.insert(id.number()) {
            let fault = RowFaultKind::RepeatedYarn(self.title());
            return Ok(Standing::Refused(fault));
        }
        let kept = batch.writer.yarn(id)?;
        let changes = differences(&kept.record, self);
        Ok(Standing::of_kept(
            kept,
            self.title(),
            changes,
            Difference::Yarn,
        ))
    }

    fn replace(
        &self,
        kept: Self::KeptRecord,
        batch: &Batch<'_>,
    ) -> Result<Option<RowFaultKind>, AppError> {
        batch.writer.update_yarn(kept.id, kept.version, self)?;
        Ok(None)
    }
}

/// What differs between two records of one yarn.
fn differences(kept: &Yarn, new: &Yarn) -> Vec<FieldChange> {
    let mut found = Vec::new();
    macro_rules! compare {
        ($($field:ident)*) => {$(
            let text = |yarn: &Yarn| yarn.facts.$field.as_ref().map(|printed| printed.text.clone());
            if kept.facts.$field != new.facts.$field {
                let texts = Some([text(kept), text(new)]);
                found.push(FieldChange { field: stringify!($field), texts });
            }
        )*};
    }
    compare! { length mass count class blend construction gauge needles care price }
    let differ = [
        ("plies", kept.facts.plies != new.facts.plies),
        ("gtin", !kept.gtins().eq(new.gtins())),
        ("low", kept.low != new.low),
        ("shades", kept.shades != new.shades),
        ("discontinued", kept.discontinued != new.discontinued),
        ("notes", kept.notes != new.notes),
    ];
    let differ = differ.into_iter().filter(|(_, differs)| *differs);
    found.extend(differ.map(|(field, _)| FieldChange { field, texts: None }));
    if (&kept.maker, &kept.name) != (&new.maker, &new.name) {
        found.push(FieldChange {
            field: "name",
            texts: Some([Some(kept.title()), Some(new.title())]),
        });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{super::RowChange, *};
    use crate::app::{Records, RowFault, TableKind, import_table};
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

    /// How many were added, changed and left.
    fn import(records: &mut Records, table: &str) -> Result<[usize; 3], Box<RowFault>> {
        match import_table(
            records,
            TableKind::Yarns,
            "y.csv",
            table.as_bytes(),
            false,
            |_| (),
        ) {
            Ok(done) => Ok([done.added, done.changed, done.unchanged]),
            Err(AppError::BadRows(bad)) => Err(bad.faults()[0].clone().into()),
            Err(other) => panic!("{other}"),
        }
    }

    #[test]
    fn a_large_import_keeps_to_the_rules_of_a_small_one() {
        let mut records = Records::in_memory().unwrap();
        let first = import(&mut records, &table(0, MANY)).unwrap();
        assert_eq!(first, [10_100, 0, 0]);
        let again = import(&mut records, &table(0, MANY)).unwrap();
        assert_eq!(again, [0, 0, 10_100]);
        let twice = table(MANY, 3 * MANY) + "Quenby,dune 20150,125 m,50 g\n";
        let told = import(&mut records, &twice).unwrap_err();
        assert_eq!(told.line, 20_202);
        assert!(
            matches!(told.kind, RowFaultKind::RepeatedYarn(_)),
            "{told:?}"
        );
        let differs = table(MANY, 3 * MANY) + "Quenby,Dune 7,120 m,50 g\n";
        let told = import(&mut records, &differs).unwrap_err();
        assert_eq!(told.line, 20_202);
        let RowFaultKind::Differs(RowChange {
            difference: Difference::Yarn(changes),
            ..
        }) = told.kind
        else {
            panic!("{told:?}");
        };
        let length = FieldChange {
            field: "length",
            texts: Some(["125 m", "120 m"].map(|text| Some(text.to_owned()))),
        };
        assert_eq!(changes, [length]);
        let more = import(&mut records, &table(7, 3 * MANY)).unwrap();
        assert_eq!(more, [20_200, 0, 10_093]);
        let count = |records: &Records| {
            let store = records.store().unwrap();
            assert_eq!(store.check().unwrap(), []);
            store.reader().unwrap().count_yarns().unwrap()
        };
        assert_eq!(count(&records), 30_300);
        let undone: Result<(), AppError> = records.store_mut().unwrap().write(|writer| {
            let last = writer.undoable_changes(1)?.remove(0);
            Ok(writer.undo(last.number, "2026-04-01")?)
        });
        undone.unwrap();
        assert_eq!(count(&records), 10_100);
    }
}
