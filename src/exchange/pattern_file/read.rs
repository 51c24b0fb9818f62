//! A pattern file read.

use super::{
    PATTERN_KEYS, SIZE_KEYS, YARN_KEYS, keys::Keys, stated::read_gauge, syntax::Findings,
    yarn::read_yarn,
};
use crate::{
    exchange::{CellNote, ExchangeError, cells, text::text_of},
    record::{Fit, Name, Pattern, PatternYarn, Purpose, Size},
    words::{fold, or_list},
};

/// A pattern, and what was noticed while reading it.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternReading {
    /// The pattern.
    pub pattern: Pattern,
    /// What to know, in the order of the file.
    pub warnings: Vec<CellNote>,
}

/// Reads a pattern file, or says all that is wrong with it. `file` is what
/// messages call it.
pub fn read_pattern(file: &str, bytes: &[u8]) -> Result<PatternReading, ExchangeError> {
    let text = text_of(file, bytes)?;
    let mut found = Findings::new(text);
    let tree = found.tree();
    let pattern = match found.faults.is_empty() {
        true => pattern_of(&tree, &mut found),
        false => None,
    };
    found
        .faults
        .sort_by_key(|fault| (fault.line, fault.character));
    found.notes.sort_by_key(|note| note.line);
    match pattern {
        Some(pattern) if found.faults.is_empty() => Ok(PatternReading {
            pattern,
            warnings: found.notes,
        }),
        _ => Err(ExchangeError::Faults {
            file: file.to_owned(),
            faults: found.faults,
        }),
    }
}

fn pattern_of(tree: &toml::de::DeTable<'_>, found: &mut Findings<'_>) -> Option<Pattern> {
    let keys = Keys::new(tree, 0..0, String::new(), &PATTERN_KEYS, found);
    let name = keys.name("pattern", "write `pattern = \"...\"`, its name", found);
    let purposes = names(Purpose::ALL.map(Purpose::name));
    let purpose = keys.needed("purpose", &purposes, cells::purpose, found);
    let fits = names(Fit::ALL.map(Fit::name));
    let fit = keys.needed("fit", &fits, cells::fit, found);
    let sizes = read_sizes(&keys, found);
    let size_names: Vec<Name> = sizes
        .iter()
        .flatten()
        .map(|size| size.name.clone())
        .collect();
    let known_sizes = if size_names.len() == sizes.len() {
        size_names
    } else {
        Vec::new()
    };
    let yarns = read_yarns(&keys, &known_sizes, found);
    let pattern = Pattern {
        gauge: read_gauge(&keys, found),
        multiple: keys.value("multiple", cells::multiple, found),
        care: keys.value("care", cells::care, found),
        tolerance: keys.value("tolerance", cells::tolerance, found),
        margin_included: keys.yes_no("margin_included", cells::yes_no, found),
        notes: keys
            .text("notes", found)
            .map_or_else(String::new, |text| text.text),
        name: name?,
        purpose: purpose?.value,
        fit: fit?.value,
        sizes: sizes.into_iter().collect::<Option<_>>()?,
        yarns: yarns.into_iter().collect::<Option<_>>()?,
    };
    checked(pattern, &keys, found)
}

/// The last word of the record itself.
fn checked(pattern: Pattern, keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Option<Pattern> {
    if !found.faults.is_empty() {
        return None;
    }
    let checked = pattern.checked();
    if let Err(error) = &checked {
        let allowed = "each size begins with a line `[[size]]`, each yarn with a line `[[yarn]]`";
        found.fault(&keys.at, "", "", error.to_string(), allowed);
    }
    checked.ok()
}

fn names<const N: usize>(names: [&str; N]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    format!("write {}", or_list(&quoted))
}

fn read_sizes(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Vec<Option<Size>> {
    let tables = keys.tables("size", &SIZE_KEYS, found);
    let sizes: Vec<Option<Size>> = tables.iter().map(|size| read_size(size, found)).collect();
    let names = sizes
        .iter()
        .map(|size| size.as_ref().map(|size| &size.name));
    each_once(&tables, names, "name", found);
    sizes
}

fn read_size(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Option<Size> {
    let name = keys.name(
        "name",
        "write `name = \"M\"`, as the pattern calls the size",
        found,
    );
    Some(Size {
        width: keys.value("width", cells::length, found),
        height: keys.value("height", cells::length, found),
        cast_on: keys.whole("cast_on", found),
        rows: keys.whole("rows", found),
        name: name?,
    })
}

fn read_yarns(
    keys: &Keys<'_, '_>,
    sizes: &[Name],
    found: &mut Findings<'_>,
) -> Vec<Option<PatternYarn>> {
    let tables = keys.tables("yarn", &YARN_KEYS, found);
    let yarns: Vec<Option<PatternYarn>> = tables
        .iter()
        .map(|yarn| read_yarn(yarn, sizes, found))
        .collect();
    let names = yarns.iter().map(|yarn| yarn.as_ref().map(|yarn| &yarn.key));
    each_once(&tables, names, "key", found);
    yarns
}

/// Reports names that stood before, where they stand again.
fn each_once<'n>(
    tables: &[Keys<'_, '_>],
    names: impl Iterator<Item = Option<&'n Name>>,
    key: &str,
    found: &mut Findings<'_>,
) {
    let mut seen = std::collections::HashSet::new();
    for (table, name) in tables.iter().zip(names) {
        let Some(name) = name else { continue };
        if !seen.insert(fold(name.as_str())) {
            let at = table.get(key).map_or(table.at.clone(), toml::Spanned::span);
            let why = "this name stood before";
            found.fault(
                &at,
                &table.named(key),
                name.as_str(),
                why,
                "give each its own name",
            );
        }
    }
}
