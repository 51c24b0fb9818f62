//! Swatches from a table.

use super::{
    Batch, IdSet, Import, RowFaultKind, Standing, no_such_title, no_such_yarn, yarn_title,
};
use crate::{
    app::{AppError, question::lookup::yarn_titled},
    files::csv::{SwatchRow, swatch_texts},
    record::{Id, Swatch, Yarn},
    store::{KeptSwatch, Reader},
};
use std::convert::Infallible;

impl Import for SwatchRow {
    /// A swatch is added beside those that are there; none is ever replaced.
    type KeptRecord = Infallible;

    fn title(&self) -> String {
        yarn_title(&self.maker, &self.name)
    }

    /// Each kept swatch stands for one row only: a table that has a swatch twice
    /// has two.
    fn add(&self, batch: &mut Batch<'_>) -> Result<Standing<Infallible>, AppError> {
        let writer = batch.writer;
        let Some(yarn) = writer.yarn_named(self.maker.as_str(), self.name.as_str())? else {
            let fault = no_such_yarn(&self.maker, &self.name, writer)?;
            return Ok(Standing::Refused(fault));
        };
        let swatch = match self.whole(writer)? {
            Ok(swatch) => swatch,
            Err(unknown) => return Ok(Standing::Refused(no_such_title(unknown, writer)?)),
        };
        let kept = writer.swatches_naming(yarn.id)?;
        let same = |kept: &&KeptSwatch| kept.strand() == swatch.strand(yarn.id);
        let kept: Vec<&KeptSwatch> = kept.iter().filter(same).collect();
        if let Some(same) = the_same(&kept, &swatch, &batch.seen) {
            batch.seen.insert(same.number());
            return Ok(Standing::Same);
        }
        let alike = kept.iter().any(|kept| is_alike(kept, &swatch, &batch.seen));
        let added = writer.add_swatch(yarn.id, &swatch)?;
        batch.seen.insert(added.number());
        Ok(Standing::Added(alike.then(|| yarn.record.title())))
    }

    fn replace(&self, kept: Infallible, _: &Batch<'_>) -> Result<Option<RowFaultKind>, AppError> {
        match kept {}
    }
}

impl SwatchRow {
    /// The swatch with the yarns that were held with its own; else the name of one that is
    /// not kept.
    fn whole(&self, reader: &Reader<'_>) -> Result<Result<Swatch, &str>, AppError> {
        let mut held_with: Vec<Id<Yarn>> = Vec::new();
        for title in &self.held_with {
            match yarn_titled(reader, title)? {
                Some(yarn) => held_with.push(yarn.id),
                None => return Ok(Err(title)),
            }
        }
        Ok(Ok(self.swatch.clone().held_with(held_with)?))
    }
}

/// A kept swatch of the same yarns that is written as this one is and stands for no row yet.
fn the_same(kept: &[&KeptSwatch], swatch: &Swatch, seen: &IdSet) -> Option<Id<Swatch>> {
    let texts = swatch_texts(swatch);
    let mut kept = kept.iter().map(|swatch| &swatch.kept);
    let is_same = |texts_kept: &Swatch| swatch_texts(texts_kept) == texts;
    let same = kept.find(|kept| !seen.contains(kept.id.number()) && is_same(&kept.record));
    same.map(|kept| kept.id)
}

/// Whether a row may be a kept swatch of the same yarns that was edited in the table.
fn is_alike(kept: &KeptSwatch, row: &Swatch, seen: &IdSet) -> bool {
    let one = &kept.kept.record;
    let other = row;
    !seen.contains(kept.kept.id.number())
        && (one.needle, &one.measured_on) == (other.needle, &other.measured_on)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{
        ImportNote, Records, RowFault, RowFaultKind, TableKind, export_table, import_table,
        list_swatches, preview_table,
    };

    const YARNS: &str =
        "maker,name,length,mass\nQuenby,Sandgate,125 m,50 g\nQuenby,=Moor,90 m,50 g\n";
    const SWATCHES: &str = "name,maker,needle,before,after,day,notes\n\
        Sandgate,Quenby,US 6,\"21 sts x 28 rows / 4 in, garter, flat\",20 sts / 10 cm,2026-03-01,grew\n\
        '=Moor,Quenby,3.1250 mm,,19-20.5 sts x 26 rows / 10 cm,,'=1+1\n\
        Sandgate,Quenby,4.5 mm,\"22 sts / 10 cm, 2 strands\",,,\n\
        Sandgate,Quenby,4.5 mm,\"22 sts / 10 cm, 2 strands\",,,\n";

    fn shelf() -> Records {
        let mut records = Records::in_memory().unwrap();
        import_table(
            &mut records,
            TableKind::Yarns,
            "y.csv",
            YARNS.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        records
    }

    fn taken(records: &mut Records, table: &[u8]) -> usize {
        import_table(records, TableKind::Swatches, "w.csv", table, false, |_| ())
            .unwrap()
            .added
    }

    fn exported(records: &Records) -> Vec<u8> {
        let mut bytes = Vec::new();
        export_table(records, TableKind::Swatches, "w.csv", &mut bytes).unwrap();
        bytes
    }

    fn kept(records: &Records) -> Vec<(i64, Swatch)> {
        let reader = records.store().unwrap().reader().unwrap();
        let yarns = reader.swatched_yarns().unwrap().into_iter();
        yarns
            .flat_map(|yarn| {
                let swatches = reader.swatches_naming(yarn).unwrap().into_iter();
                let own = swatches.filter(move |swatch| swatch.yarn == yarn);
                own.map(move |swatch| (yarn.number(), swatch.kept.record))
            })
            .collect()
    }

    #[test]
    fn swatches_out_and_in_again_are_the_same_records() {
        let mut records = shelf();
        taken(&mut records, SWATCHES.as_bytes());
        assert_eq!(kept(&records).len(), 4);
        let table = exported(&records);
        let mut other = shelf();
        taken(&mut other, &table);
        assert_eq!(kept(&other), kept(&records));
        assert_eq!(exported(&other), table);
    }

    #[test]
    fn importing_twice_adds_nothing() {
        let mut records = shelf();
        for added in [4, 0, 0] {
            assert_eq!(taken(&mut records, SWATCHES.as_bytes()), added);
        }
        assert_eq!(
            list_swatches(&records, "Sandgate").unwrap().swatches.len(),
            3
        );
    }

    #[test]
    fn a_swatch_that_was_edited_in_the_table_is_added_with_a_word() {
        let mut records = shelf();
        taken(&mut records, SWATCHES.as_bytes());
        let edited = SWATCHES.replacen("grew", "grew a lot", 1);
        let tried = preview_table(
            &mut records,
            TableKind::Swatches,
            "w.csv",
            edited.as_bytes(),
            false,
        )
        .unwrap();
        assert_eq!((tried.added, tried.unchanged), (1, 3));
        let answer = import_table(
            &mut records,
            TableKind::Swatches,
            "w.csv",
            edited.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        let beside = ImportNote::BesideAnother {
            line: 2,
            yarn: "Quenby, Sandgate".to_owned(),
        };
        assert_eq!(answer.notes.shown[0], beside);
    }

    const PAIR: &str = "maker,name,needle,after,day,held with\n\
        Quenby,Sandgate,6 mm,16 sts / 10 cm,2026-03-01,\"Quenby, =Moor\"\n";

    #[test]
    fn a_swatch_of_a_pair_is_the_same_whichever_is_named_first() {
        let mut records = shelf();
        assert_eq!(taken(&mut records, PAIR.as_bytes()), 1);
        let turned = "maker,name,needle,after,day,held with\n\
            Quenby,'=Moor,6 mm,16 sts / 10 cm,2026-03-01,\"Quenby, Sandgate\"\n";
        assert_eq!(taken(&mut records, turned.as_bytes()), 0);
        let alone = PAIR.replace("\"Quenby, =Moor\"", "");
        assert_eq!(taken(&mut records, alone.as_bytes()), 1);
        let table = exported(&records);
        let mut other = shelf();
        taken(&mut other, &table);
        assert_eq!(exported(&other), table);
        assert_eq!(kept(&other), kept(&records));
    }

    #[test]
    fn a_swatch_that_was_held_with_an_unknown_yarn_keeps_the_file_out() {
        let bad = PAIR.replace("=Moor", "=Mooor");
        let told = import_table(
            &mut shelf(),
            TableKind::Swatches,
            "w.csv",
            bad.as_bytes(),
            false,
            |_| (),
        );
        let Err(AppError::BadRows(bad)) = told else {
            panic!("{told:?}");
        };
        let fault = RowFaultKind::NoSuchYarn {
            yarn: "Quenby, =Mooor".to_owned(),
            near: vec!["Quenby, =Moor".to_owned()],
        };
        assert_eq!(bad.faults()[0].kind, fault);
    }

    #[test]
    fn a_swatch_of_an_unknown_yarn_keeps_the_file_out() {
        let mut records = shelf();
        let bad = format!("{SWATCHES}Sandgote,Quenby,4 mm,20 sts / 10 cm,,,\n");
        let told = import_table(
            &mut records,
            TableKind::Swatches,
            "w.csv",
            bad.as_bytes(),
            false,
            |_| (),
        )
        .unwrap_err();
        let AppError::BadRows(bad) = told else {
            panic!("{told:?}");
        };
        let fault = RowFault {
            line: 6,
            kind: RowFaultKind::NoSuchYarn {
                yarn: "Quenby, Sandgote".to_owned(),
                near: ["Quenby, Sandgate", "Quenby, =Moor"]
                    .map(str::to_owned)
                    .into(),
            },
        };
        assert_eq!(bad.faults(), [fault]);
        assert!(kept(&records).is_empty());
    }
}
