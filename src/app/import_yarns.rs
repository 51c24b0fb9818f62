//! Yarns from a table: all of them or none.

use super::{
    AppError, Records,
    bad_rows::BadRows,
    imported::Imported,
    near_names::near_names,
    preview::{Preview, tried},
};
use crate::{
    exchange::{
        CellError,
        csv::{Row, Rows, read_yarns},
    },
    record::{Id, Yarn},
    report::Notice,
    store::Writer,
};
use std::{collections::HashSet, io::Read};

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
    let rows = read_yarns(file, source, progress)?;
    let mut done = records.store_mut()?.write(|writer| {
        match take_all(rows, writer, Imported::of(file, update))? {
            (done, bad) if bad.is_empty() => Ok(done),
            (_, bad) => Err(AppError::BadRows(bad)),
        }
    })?;
    tell_near_names(records, &mut done)?;
    Ok(done.notice("yarn"))
}

/// What importing a table of yarns would do, row by row; nothing is written.
pub fn preview_yarns(
    records: &mut Records,
    file: &str,
    source: impl Read,
    update: bool,
) -> Result<Preview, AppError> {
    let rows = read_yarns(file, source, |_| ())?;
    tried(records, |writer| {
        take_all(rows, writer, Imported::row_by_row(file, update))
    })
}

fn take_all(
    mut rows: Rows<'_, Yarn>,
    writer: &Writer<'_>,
    mut done: Imported,
) -> Result<(Imported, BadRows), AppError> {
    let mut bad = BadRows::of(&done.file);
    done.warnings
        .extend(rows.warnings().iter().map(ToString::to_string));
    let mut seen = HashSet::new();
    for row in &mut rows {
        take(row?, writer, &mut done, &mut bad, &mut seen)?;
    }
    Ok((done, bad))
}

fn take(
    row: Row<Yarn>,
    writer: &Writer<'_>,
    done: &mut Imported,
    bad: &mut BadRows,
    seen: &mut HashSet<Id<Yarn>>,
) -> Result<(), AppError> {
    let before = done.before();
    done.note(&row.warnings);
    match row.record {
        Err(faults) => {
            done.tell(row.line, "", before, &faults);
            bad.add(faults);
        }
        Ok(yarn) => {
            let fault = keep(row.line, &yarn, writer, done, seen)?;
            done.tell(row.line, &yarn.title(), before, fault.as_slice());
            bad.add(fault);
        }
    }
    Ok(())
}

/// Keeps one yarn; gives what stands against it.
fn keep(
    line: u64,
    yarn: &Yarn,
    writer: &Writer<'_>,
    done: &mut Imported,
    seen: &mut HashSet<Id<Yarn>>,
) -> Result<Option<CellError>, AppError> {
    let Some(kept) = writer.yarn_named(yarn.maker.as_str(), yarn.name.as_str())? else {
        seen.insert(writer.add_yarn(yarn)?);
        done.added
            .push((yarn.maker.to_string(), yarn.name.to_string()));
        return Ok(None);
    };
    if !seen.insert(kept.id) {
        return Ok(Some(CellError::row(
            line,
            &yarn.title(),
            "this yarn stands in the file twice",
            "keep one row of it",
        )));
    }
    let changes = differences(&kept.record, yarn);
    match (changes.is_empty(), done.update) {
        (true, _) => done.unchanged += 1,
        (false, true) => {
            writer.update_yarn(kept.id, kept.version, yarn)?;
            done.changed
                .push(format!("{}: {}", yarn.title(), changes.join(", ")));
        }
        (false, false) => return Ok(Some(differs(line, yarn, &changes))),
    }
    Ok(None)
}

fn differs(line: u64, yarn: &Yarn, changes: &[String]) -> CellError {
    let why = format!(
        "this yarn is kept already and differs: {}",
        changes.join(", ")
    );
    CellError::row(
        line,
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

fn tell_near_names(records: &Records, done: &mut Imported) -> Result<(), AppError> {
    let mut all = Vec::new();
    if done.added.is_empty() {
        return Ok(());
    }
    records.store()?.reader()?.yarns(|yarn| {
        all.push((yarn.record.maker.to_string(), yarn.record.name.to_string()));
        Ok::<(), AppError>(())
    })?;
    match near_names(&done.added, &all) {
        Some(told) => done.warnings.extend(told),
        None => done.warnings.push(
            "so many yarns were added that their names were not compared with each other"
                .to_owned(),
        ),
    }
    Ok(())
}
