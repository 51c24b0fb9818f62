//! Patterns: in, out, listed, shown.

mod edit;
mod fields;
mod materials;
mod request;

pub use edit::{
    PATTERN_TEXT, PatternChoice, pattern_choice, pattern_choices, pattern_to_edit, save_pattern,
};
pub use fields::{
    ANOTHER, need_field, pattern_fields, save_pattern_fields, size_field, sizes_of_form,
    with_another, yarn_field, yarns_of_form,
};
pub use materials::{ReadMaterials, add_pattern, read_pattern_text};
pub use request::AddPatternRequest;

use super::{
    AppError, Exported, RecordChange, Records, once::number_made, question::lookup::pattern_in,
};
use crate::{
    files::{
        CellNote, FileError,
        pattern_file::{read_pattern, write_pattern},
    },
    record::{Id, Name, Need, Pattern, PatternYarn, Project, Size},
    store::Writer,
};
use std::io::Write;

/// Answer to [`import_patterns`].
#[derive(Debug, Clone, Default)]
pub struct PatternsImport {
    /// What was done with each pattern, by its name.
    pub patterns: Vec<(Name, PatternFate)>,
    /// What was noticed in each file.
    pub notes: Vec<(String, CellNote)>,
    /// Whether this was done before under the same text, and is not done again.
    pub made_before: bool,
}

/// What was done with a pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PatternFate {
    /// It is new.
    Added,
    /// It is kept already and says the same.
    Unchanged,
    /// It replaced what was kept.
    Replaced,
}

/// Imports pattern files, all or none. A pattern that is in the records already stays as
/// it is; where the file says otherwise, that is an error unless `update`.
pub fn import_patterns(
    records: &mut Records,
    files: &[(String, Vec<u8>)],
    update: bool,
) -> Result<PatternsImport, AppError> {
    let mut notes = Vec::new();
    let mut read = Vec::new();
    for (file, bytes) in files {
        let reading = read_pattern(file, bytes)?;
        let warnings = reading.warnings.into_iter();
        notes.extend(warnings.map(|note| (file.clone(), note)));
        read.push(reading.pattern);
    }
    let names = read.iter().map(|pattern| pattern.name.as_str());
    let what = std::iter::once("import").chain(names);
    records.once_under_text(what, |writer, made| {
        let made_before = made.is_some();
        let kept = read.iter().map(|pattern| {
            let fate = match made_before {
                true => PatternFate::Unchanged,
                false => keep(writer, pattern, update)?,
            };
            Ok((pattern.name.clone(), fate))
        });
        let patterns = kept.collect::<Result<_, AppError>>()?;
        let answer = PatternsImport {
            patterns,
            notes,
            made_before,
        };
        Ok((String::new(), answer))
    })
}

fn keep(writer: &Writer<'_>, pattern: &Pattern, update: bool) -> Result<PatternFate, AppError> {
    let Some(kept) = writer.pattern_named(pattern.name.as_str())? else {
        writer.add_pattern(pattern)?;
        return Ok(PatternFate::Added);
    };
    if kept.record == *pattern {
        return Ok(PatternFate::Unchanged);
    }
    if !update {
        return Err(AppError::PatternDiffers(pattern.name.clone()));
    }
    writer.update_pattern(kept.id, kept.version, pattern)?;
    Ok(PatternFate::Replaced)
}

/// Writes a pattern as the text of its file.
pub fn export_pattern(
    records: &Records,
    name: &str,
    file: &str,
    mut target: impl Write,
) -> Result<Exported, AppError> {
    let pattern = records.pattern_named(name)?.record;
    let text = write_pattern(&pattern);
    target
        .write_all(text.as_bytes())
        .map_err(|source| FileError::Write {
            file: file.to_owned(),
            source,
        })?;
    Ok(Exported::Pattern(pattern.name))
}

/// Answer to [`list_patterns`].
#[derive(Debug, Clone)]
pub struct PatternList(pub Vec<Pattern>);

/// Every kept pattern.
pub fn list_patterns(records: &Records) -> Result<PatternList, AppError> {
    let patterns = records.store()?.reader()?.patterns()?.into_iter();
    Ok(PatternList(patterns.map(|kept| kept.record).collect()))
}

/// Answer to [`show_pattern`]: what is kept of one pattern.
#[derive(Debug, Clone)]
pub struct PatternAnswer(pub Pattern);

/// What the sizes of a pattern take of each of its yarns, where all of it is known in
/// one measure.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternAmounts {
    /// Whether amounts are metres; else they are grams.
    pub in_metres: bool,
    /// Each size, with an amount for each yarn in the order of the pattern.
    pub sizes: Vec<(String, Vec<f64>)>,
}

impl PatternAnswer {
    /// What each size takes of each yarn: in metres, else in grams; of a range what to
    /// buy for.
    pub fn amounts(&self) -> Option<PatternAmounts> {
        let in_metres = |yarn: &PatternYarn, need: &Need| {
            let metres = need.in_metres(yarn.reference.grist())?.ok()?;
            Some(metres.buy_for.as_metres())
        };
        let in_grams = |_: &PatternYarn, need: &Need| match need {
            Need::Mass(mass) => Some(mass.high().as_grams()),
            Need::Length(_) | Need::Skeins { .. } => None,
        };
        let metres = self.amounts_in(in_metres).map(|sizes| (true, sizes));
        let known = metres.or_else(|| Some((false, self.amounts_in(in_grams)?)));
        known.map(|(in_metres, sizes)| PatternAmounts { in_metres, sizes })
    }

    fn amounts_in(
        &self,
        amount: impl Fn(&PatternYarn, &Need) -> Option<f64>,
    ) -> Option<Vec<(String, Vec<f64>)>> {
        let sizes = self.0.sizes.iter().enumerate();
        let of_size = |(place, size): (usize, &Size)| {
            let yarns = self.0.yarns.iter();
            let amounts = yarns.map(|yarn| amount(yarn, &yarn.needs.get(place)?.value));
            Some((size.name.to_string(), amounts.collect::<Option<_>>()?))
        };
        sizes.map(of_size).collect()
    }
}

/// What is kept of one pattern.
pub fn show_pattern(records: &Records, name: &str) -> Result<PatternAnswer, AppError> {
    Ok(PatternAnswer(records.pattern_named(name)?.record))
}

/// What is kept of the pattern with this number.
pub fn view_pattern(records: &Records, number: i64) -> Result<PatternAnswer, AppError> {
    let kept = records.store()?.reader()?.pattern(Id::new(number))?;
    Ok(PatternAnswer(kept.record))
}

/// Gives a pattern another name; its projects name it so.
pub fn rename_pattern(
    records: &mut Records,
    name: &str,
    to: &str,
) -> Result<RecordChange, AppError> {
    records.change_once(["rename", "pattern", name, to], |writer, made| {
        let (number, from) = match number_made(made) {
            Some(number) => (number, name.to_owned()),
            None => {
                let kept = pattern_in(writer, name)?;
                let pattern = Pattern {
                    name: Name::pattern(to)?,
                    ..kept.record.clone()
                };
                writer.update_pattern(kept.id, kept.version, &pattern)?;
                rename_in_projects(writer, kept.id, &pattern.name)?;
                (kept.id.number(), kept.record.name.to_string())
            }
        };
        let to = writer.pattern(Id::new(number))?.record.name.to_string();
        let change = RecordChange::PatternRenamed { from, to };
        Ok((number.to_string(), change))
    })
}

fn rename_in_projects(
    writer: &Writer<'_>,
    pattern: Id<Pattern>,
    name: &Name,
) -> Result<(), AppError> {
    for kept in writer.projects()? {
        if kept.record.pattern == pattern {
            let project = Project {
                pattern_name: name.clone(),
                ..kept.record
            };
            writer.update_project(kept.id, kept.version, &project)?;
        }
    }
    Ok(())
}

/// Removes a pattern from the records.
pub fn remove_pattern(records: &mut Records, name: &str) -> Result<RecordChange, AppError> {
    records.change_once(["remove", "pattern", name], |writer, made| {
        let name = match made {
            Some(name) => name.to_owned(),
            None => {
                let kept = pattern_in(writer, name)?;
                writer.remove_pattern(kept.id)?;
                kept.record.name.to_string()
            }
        };
        Ok((name.clone(), RecordChange::PatternRemoved { name }))
    })
}

/// Removes the pattern with this number.
pub fn remove_pattern_numbered(
    records: &mut Records,
    number: i64,
) -> Result<RecordChange, AppError> {
    records.store_mut()?.write(|writer| {
        let kept = writer.pattern(Id::new(number))?;
        writer.remove_pattern(kept.id)?;
        let name = kept.record.name.to_string();
        Ok(RecordChange::PatternRemoved { name })
    })
}
