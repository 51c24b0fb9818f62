//! A pattern as the fields of a form, and back: what stands once, a row of fields for
//! each yarn, and a row for each size with an amount of each yarn. The texts are read
//! as those of a pattern file are, so that both make the same record.

use crate::{
    app::{
        AppError, FaultKind, FormData, InputReader, KeptFields, MOST_STRANDS, RecordChange,
        Records, TextFault,
        read::{facts_of, texts_of},
    },
    files::{CellNote, pattern_file::one_need},
    label::cells::{self, Cell, written},
    matching::usual_fit,
    measure::Length,
    record::{Id, Name, Need, Pattern, PatternYarn, Printed, Size, YarnFacts},
    words::{fold, joined},
};
use std::collections::HashSet;

/// The name of a field of a yarn; the first yarn is 1.
pub fn yarn_field(yarn: usize, field: &str) -> String {
    format!("yarn-{yarn}-{field}")
}

/// The name of a field of a size; the first size is 1.
pub fn size_field(size: usize, field: &str) -> String {
    format!("size-{size}-{field}")
}

/// The name of the field for how much of a yarn a size takes.
pub fn need_field(size: usize, yarn: usize) -> String {
    format!("size-{size}-yarn-{yarn}")
}

/// How many yarns a form has fields for.
pub fn yarns_of_form(typed: &FormData) -> usize {
    rows(typed, |yarn| yarn_field(yarn, KEY))
}

/// How many sizes a form has fields for.
pub fn sizes_of_form(typed: &FormData) -> usize {
    rows(typed, |size| size_field(size, NAME))
}

fn rows(typed: &FormData, field: impl Fn(usize) -> String) -> usize {
    let there = (1..).take_while(|place| typed.has(&field(*place)));
    there.count().max(1)
}

const KEY: &str = "key";
const NAME: &str = "name";
const HELD_WITH: &str = "held-with";

/// The fields with those of one more size or yarn, where a button asked for it.
pub fn with_another(typed: &FormData) -> Option<FormData> {
    let field = match typed.text(ANOTHER) {
        "size" => size_field(sizes_of_form(typed) + 1, NAME),
        "yarn" => yarn_field(yarns_of_form(typed) + 1, KEY),
        _ => return None,
    };
    let mut more = typed.clone();
    more.set(&size_field(1, NAME), typed.text(&size_field(1, NAME)));
    more.set(&yarn_field(1, KEY), typed.text(&yarn_field(1, KEY)));
    more.set(&field, "");
    more.set(ANOTHER, "");
    Some(more)
}

/// The button that asks for one more row.
pub const ANOTHER: &str = "another";

/// The pattern with this number in its fields.
pub fn pattern_fields(records: &Records, number: i64) -> Result<KeptFields, AppError> {
    let kept = records.store()?.reader()?.pattern(Id::new(number))?;
    Ok(KeptFields {
        version: kept.version,
        title: kept.record.name.to_string(),
        typed: fields_of(&kept.record)?,
    })
}

/// Saves the pattern that the fields say: a new one, or one that was read at a
/// version; gives its number.
pub fn save_pattern_fields(
    records: &mut Records,
    read: Option<(i64, i64)>,
    typed: &FormData,
) -> Result<(i64, RecordChange), AppError> {
    let entered = entered(typed)?;
    let number = records.store_mut()?.write(|writer| match read {
        None => writer.add_pattern(&entered.pattern).map(Id::number),
        Some((number, version)) => writer
            .update_pattern(Id::new(number), version, &entered.pattern)
            .map(|_| number),
    })?;
    Ok((number, entered.into()))
}

/// A pattern from its fields.
#[derive(Debug, Clone)]
pub(in crate::app) struct Entered {
    pub(in crate::app) pattern: Pattern,
    /// Whether its fit follows from what it is for.
    pub(in crate::app) fit_assumed: bool,
    pub(in crate::app) notes: Vec<CellNote>,
}

impl From<Entered> for RecordChange {
    fn from(entered: Entered) -> Self {
        Self::PatternEntered {
            pattern: Box::new(entered.pattern),
            fit_assumed: entered.fit_assumed,
            notes: entered.notes,
        }
    }
}

/// The pattern that the fields say, or all that is wrong with them.
pub(in crate::app) fn entered(typed: &FormData) -> Result<Entered, AppError> {
    let mut reader = InputReader::default();
    let name = name(&mut reader, NAME, typed.text(NAME))?;
    let purpose = reader.required("purpose", Some(typed.text("purpose")), cells::purpose);
    let fit = reader.optional("fit", Some(typed.text("fit")), cells::fit);
    let margin = Some(typed.text("margin-included"));
    let margin_included = reader.optional("margin-included", margin, cells::yes_no);
    let gauge = printed(&mut reader, "gauge", typed, cells::gauge);
    let multiple = printed(&mut reader, "multiple", typed, cells::multiple);
    let care = printed(&mut reader, "care", typed, cells::care);
    let tolerance = printed(&mut reader, "tolerance", typed, cells::tolerance);
    let places = used(sizes_of_form(typed), |size| {
        typed.below(&size_field(size, "")).is_filled()
    });
    let sizes = sizes(&mut reader, typed, &places)?;
    let yarns = yarns(&mut reader, typed, &places)?;
    let notes = std::mem::take(&mut reader.notes).into_iter();
    let notes = notes.map(|note| CellNote::new(None, "", note.kind));
    let (name, (purpose, (sizes, yarns))) =
        reader.checked(name.zip(purpose.zip(sizes.zip(yarns))))?;
    let pattern = Pattern {
        fit: fit.unwrap_or_else(|| usual_fit(Some(purpose))),
        notes: typed.text("notes").trim().to_owned(),
        name,
        purpose,
        gauge,
        multiple,
        care,
        tolerance,
        margin_included,
        sizes,
        yarns,
    };
    Ok(Entered {
        pattern: pattern.checked()?,
        fit_assumed: fit.is_none(),
        notes: notes.collect(),
    })
}

/// Places of the rows that hold something, or the first where none does.
fn used(rows: usize, is_used: impl Fn(usize) -> bool) -> Vec<usize> {
    let used: Vec<usize> = (1..=rows).filter(|place| is_used(*place)).collect();
    if used.is_empty() { vec![1] } else { used }
}

fn name(reader: &mut InputReader, field: &str, text: &str) -> Result<Option<Name>, AppError> {
    if text.trim().is_empty() {
        reader.fault(field, FaultKind::Missing);
        return Ok(None);
    }
    Ok(Some(Name::new(NAME, text)?))
}

/// A name that no row before it has.
fn own_name(
    reader: &mut InputReader,
    (field, text): (&str, &str),
    seen: &mut HashSet<String>,
) -> Result<Option<Name>, AppError> {
    let name = name(reader, field, text)?;
    if name
        .as_ref()
        .is_some_and(|name| !seen.insert(fold(name.as_str())))
    {
        let twice = TextFault::RepeatedName(text.trim().to_owned());
        reader.fault(field, twice);
        return Ok(None);
    }
    Ok(name)
}

fn printed<T>(
    reader: &mut InputReader,
    field: &str,
    typed: &FormData,
    read: impl Fn(&str) -> Cell<T>,
) -> Option<Printed<T>> {
    let text = typed.filled(field)?;
    let value = reader.read(field, read(&text))?;
    Some(Printed::new(text, value))
}

/// One for each place; nothing where something in them is wrong.
fn sizes(
    reader: &mut InputReader,
    typed: &FormData,
    places: &[usize],
) -> Result<Option<Vec<Size>>, AppError> {
    let mut seen = HashSet::new();
    let mut sizes = Vec::new();
    for place in places {
        let field = |name: &str| size_field(*place, name);
        let name_field = field(NAME);
        let name = own_name(reader, (&name_field, typed.text(&name_field)), &mut seen)?;
        let count = |reader: &mut InputReader, name: &str| {
            let text = typed.filled(&field(name));
            reader
                .whole(&field(name), &text, 1..=u16::MAX)
                .map(u32::from)
        };
        let size = Size {
            width: printed(reader, &field("width"), typed, cells::length),
            height: printed(reader, &field("height"), typed, cells::length),
            cast_on: count(reader, "cast-on"),
            rows: count(reader, "rows"),
            name: match name {
                Some(name) => name,
                None => continue,
            },
        };
        sizes.push(size);
    }
    Ok((sizes.len() == places.len()).then_some(sizes))
}

/// The same of yarns, with one need for each size.
fn yarns(
    reader: &mut InputReader,
    typed: &FormData,
    sizes: &[usize],
) -> Result<Option<Vec<PatternYarn>>, AppError> {
    let is_used = |yarn: usize| {
        let needed = |size: &usize| typed.filled(&need_field(*size, yarn)).is_some();
        typed.below(&yarn_field(yarn, "")).is_filled() || sizes.iter().any(needed)
    };
    let places = used(yarns_of_form(typed), is_used);
    let mut seen = HashSet::new();
    let mut first = Vec::new();
    let mut yarns = Vec::new();
    for place in &places {
        let said = typed.below(&yarn_field(*place, ""));
        let key = own_name(
            reader,
            (&yarn_field(*place, KEY), said.text(KEY)),
            &mut seen,
        )?;
        let facts = facts_of(&said, &yarn_field(*place, ""), reader);
        let strands = yarn_field(*place, "strands");
        let held = reader.whole(&strands, &said.filled("strands"), 1..=MOST_STRANDS);
        let held_with = held_with(reader, typed, *place, &first)?;
        if held_with.is_none() {
            first.extend(key.clone());
        }
        let needs: Vec<Option<_>> = sizes
            .iter()
            .map(|size| need(reader, typed, &need_field(*size, *place), facts.as_ref()))
            .collect();
        let needs: Option<Vec<_>> = needs.into_iter().collect();
        if let (Some(key), Some(reference), Some(needs)) = (key, facts, needs) {
            yarns.push(PatternYarn {
                called: called(&said),
                strands: held.unwrap_or(1),
                held_with,
                key,
                reference,
                needs,
            });
        }
    }
    Ok((yarns.len() == places.len()).then_some(yarns))
}

/// The key of one of the yarns before it that it is held together with.
fn held_with(
    reader: &mut InputReader,
    typed: &FormData,
    place: usize,
    first: &[Name],
) -> Result<Option<Name>, AppError> {
    let field = yarn_field(place, HELD_WITH);
    let Some(given) = typed.filled(&field) else {
        return Ok(None);
    };
    let is_known = first.iter().any(|key| fold(key.as_str()) == fold(&given));
    if !is_known {
        let allowed = first.iter().map(ToString::to_string).collect();
        let given = given.clone();
        reader.fault(&field, FaultKind::NotOneOf { given, allowed });
    }
    Ok(Some(Name::new(HELD_WITH, &given)?))
}

/// The need in a field; without facts only whether there is one.
fn need(
    reader: &mut InputReader,
    typed: &FormData,
    field: &str,
    facts: Option<&YarnFacts>,
) -> Option<Printed<Need>> {
    reader.must_fill(field, Some(typed.text(field)));
    let facts = facts?;
    printed(reader, field, typed, |text| one_need(text, facts))
}

/// `maker, name`.
fn called(said: &FormData) -> Option<String> {
    let said = [said.filled("maker"), said.filled(NAME)];
    let said = joined(said.into_iter().flatten(), ", ");
    (!said.is_empty()).then_some(said)
}

/// The fields of a pattern.
pub(in crate::app) fn fields_of(pattern: &Pattern) -> Result<FormData, AppError> {
    let mut typed = texts_of(YarnFacts {
        gauge: pattern.gauge.clone(),
        care: pattern.care.clone(),
        ..YarnFacts::default()
    })?;
    typed.set(NAME, pattern.name.as_str());
    typed.set("purpose", pattern.purpose.name());
    typed.set("fit", pattern.fit.name());
    typed.set("notes", pattern.notes.as_str());
    if let Some(multiple) = &pattern.multiple {
        let text = written::text_of(multiple, cells::multiple, written::multiple);
        typed.set("multiple", text);
    }
    if let Some(tolerance) = &pattern.tolerance {
        let text = written::text_of(tolerance, cells::tolerance, written::tolerance);
        typed.set("tolerance", text);
    }
    if let Some(included) = pattern.margin_included {
        typed.set("margin-included", if included { "yes" } else { "no" });
    }
    for (place, size) in (1..).zip(&pattern.sizes) {
        fill_size(&mut typed, place, size);
    }
    for (place, yarn) in (1..).zip(&pattern.yarns) {
        fill_yarn(&mut typed, place, yarn)?;
    }
    Ok(typed)
}

fn fill_size(typed: &mut FormData, place: usize, size: &Size) {
    let mut put = |field: &str, text: Option<String>| {
        if let Some(text) = text {
            typed.set(&size_field(place, field), text);
        }
    };
    let length = |length: &Printed<Length>| {
        written::text_of(length, cells::length, |length| written::length(*length))
    };
    put(NAME, Some(size.name.to_string()));
    put("width", size.width.as_ref().map(length));
    put("height", size.height.as_ref().map(length));
    put("cast-on", size.cast_on.map(|count| count.to_string()));
    put("rows", size.rows.map(|count| count.to_string()));
}

fn fill_yarn(typed: &mut FormData, place: usize, yarn: &PatternYarn) -> Result<(), AppError> {
    let facts = texts_of(yarn.reference.clone())?;
    for (field, text) in facts.iter() {
        typed.set(&yarn_field(place, field), text);
    }
    typed.set(&yarn_field(place, KEY), yarn.key.as_str());
    typed.set(&yarn_field(place, "strands"), yarn.strands.to_string());
    if let Some(with) = &yarn.held_with {
        typed.set(&yarn_field(place, HELD_WITH), with.as_str());
    }
    if let Some(called) = &yarn.called {
        let (maker, name) = called.split_once(", ").unwrap_or(("", called));
        typed.set(&yarn_field(place, "maker"), maker);
        typed.set(&yarn_field(place, NAME), name);
    }
    for (size, need) in (1..).zip(&yarn.needs) {
        let read = |text: &str| one_need(text, &yarn.reference);
        let text = written::text_of(need, read, written::need);
        typed.set(&need_field(size, place), text);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        app::Fault,
        files::pattern_file::{read_typed_pattern, write_pattern},
    };

    const SAMPLES: [&str; 5] = [
        include_str!("../../../sample-stash/patterns/hobplate.toml"),
        include_str!("../../../sample-stash/patterns/skerrablet.toml"),
        include_str!("../../../sample-stash/patterns/jotterhelm.toml"),
        include_str!("../../../sample-stash/patterns/mirrowhist.toml"),
        include_str!("../../../sample-stash/wetherlin.toml"),
    ];

    #[test]
    fn a_pattern_of_a_file_is_the_same_from_its_fields_and_from_a_file_again() {
        for text in SAMPLES {
            let kept = read_typed_pattern(text).unwrap().pattern;
            let from_form = entered(&fields_of(&kept).unwrap()).unwrap().pattern;
            let exported = read_typed_pattern(&write_pattern(&from_form))
                .unwrap()
                .pattern;
            assert_eq!(exported, from_form, "{}", kept.name);
            let again = entered(&fields_of(&from_form).unwrap()).unwrap().pattern;
            assert_eq!(again, from_form, "{}", kept.name);
            let meant = |pattern: &Pattern| {
                let needs = pattern.yarns.iter().flat_map(|yarn| &yarn.needs);
                let needs: Vec<_> = needs.map(|need| need.value).collect();
                let gauge = pattern.gauge.as_ref().map(|gauge| gauge.value.clone());
                (
                    needs,
                    gauge,
                    pattern.sizes.clone(),
                    pattern.fit,
                    pattern.margin_included,
                )
            };
            assert_eq!(meant(&from_form), meant(&kept));
        }
    }

    #[test]
    fn a_yarn_is_held_together_with_one_above_it() {
        let kept = read_typed_pattern(SAMPLES[4]).unwrap().pattern;
        let mut typed = fields_of(&kept).unwrap();
        assert_eq!(typed.text("yarn-2-held-with"), "A");
        for wrong in ["B", "C"] {
            typed.set("yarn-2-held-with", wrong);
            assert_eq!(faults(&typed), ["yarn-2-held-with"]);
        }
    }

    fn faults(typed: &FormData) -> Vec<String> {
        match entered(typed) {
            Err(AppError::Faults(faults)) => {
                faults.into_iter().map(|fault: Fault| fault.field).collect()
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn everything_that_is_wrong_is_a_fault_of_its_field_at_once() {
        let kept = read_typed_pattern(SAMPLES[1]).unwrap().pattern;
        let mut typed = fields_of(&kept).unwrap();
        let twice = typed.text("size-1-name").to_owned();
        typed.set("size-2-name", twice);
        typed.set("yarn-1-mass", "heavy");
        typed.set("size-1-yarn-1", "");
        typed.set("gauge", "tight");
        typed.set("purpose", "hat stand");
        assert_eq!(
            faults(&typed),
            [
                "purpose",
                "gauge",
                "size-2-name",
                "yarn-1-mass",
                "size-1-yarn-1"
            ]
        );
        let nothing = faults(&FormData::default());
        assert_eq!(
            nothing,
            [
                "name",
                "purpose",
                "size-1-name",
                "yarn-1-key",
                "size-1-yarn-1"
            ]
        );
    }

    #[test]
    fn rows_that_were_added_and_left_empty_are_no_rows() {
        let kept = read_typed_pattern(SAMPLES[0]).unwrap().pattern;
        let mut typed = fields_of(&kept).unwrap();
        for more in ["size", "yarn", "size"] {
            typed.set(ANOTHER, more);
            typed = with_another(&typed).unwrap();
        }
        let rows = (sizes_of_form(&typed), yarns_of_form(&typed));
        assert_eq!(rows, (kept.sizes.len() + 2, kept.yarns.len() + 1));
        let again = entered(&typed).unwrap().pattern;
        assert_eq!(
            (again.sizes, again.yarns.len()),
            (kept.sizes, kept.yarns.len())
        );
        assert_eq!(with_another(&typed), None);
    }
}
