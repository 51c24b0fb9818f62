//! Yarns from a table: all of them or none.

use super::{AppError, Records, bad_rows::BadRows, imported::Imported, near_names::near_names};
use crate::{
    exchange::{
        CellError,
        csv::{Row, read_yarns},
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
    let mut rows = read_yarns(file, source, progress)?;
    let mut done = Imported::of(file, update);
    done.warnings
        .extend(rows.warnings().iter().map(ToString::to_string));
    records.store_mut()?.write(|writer| {
        let mut bad = BadRows::of(file);
        let mut seen = HashSet::new();
        for row in &mut rows {
            take(row?, writer, &mut done, &mut bad, &mut seen)?;
        }
        match bad.is_empty() {
            true => Ok(()),
            false => Err(AppError::BadRows(bad)),
        }
    })?;
    tell_near_names(records, &mut done)?;
    Ok(done.notice("yarn"))
}

fn take(
    row: Row<Yarn>,
    writer: &Writer<'_>,
    done: &mut Imported,
    bad: &mut BadRows,
    seen: &mut HashSet<Id<Yarn>>,
) -> Result<(), AppError> {
    done.note(&row.warnings);
    match row.record {
        Err(faults) => bad.add(faults),
        Ok(yarn) => bad.add(keep(row.line, &yarn, writer, done, seen)?),
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
