//! What contradicts itself, its pattern or the records in a materials sheet.

use super::{DiscontinuedYarns, Finding, FindingKind, of_line};
use crate::{
    files::sheet_text::{SheetLine, Stated, StatedKind},
    label::band::BandReader,
    measure::Length,
    quantity::falls_short,
    record::{Pattern, PatternYarn},
};

/// Findings in the lines of a sheet, held against `pattern` where there is one.
pub(super) fn findings(
    lines: &[SheetLine],
    pattern: Option<&Pattern>,
    discontinued: &DiscontinuedYarns,
) -> Vec<Finding> {
    let sizes = pattern.map_or_else(|| usual_sizes(lines), |pattern| Some(pattern.sizes.len()));
    let mut found = Vec::new();
    let mut headed = None;
    let mut reader = BandReader::default();
    for line in lines {
        if line.is_heading {
            headed = pattern.and_then(|pattern| named_role(pattern, &line.text));
        }
        let role = pattern.and_then(|pattern| role_of(pattern, line).or(headed));
        let kinds = of_line(line, sizes, role, discontinued, &mut reader);
        let facts = of_line::findings(line, pattern, sizes, &mut reader);
        for kind in kinds.into_iter().chain(facts) {
            let finding = Finding {
                line: Some(line.number),
                kind,
            };
            let mut of_line = found
                .iter()
                .rev()
                .take_while(|known: &&Finding| known.line == finding.line);
            if !of_line.any(|known| is_same_size(known, &finding)) {
                found.push(finding);
            }
        }
    }
    found
}

/// Whether both findings of a line tell of a size that is missing: all columns of a table lack
/// the row that one lacks.
fn is_same_size(one: &Finding, other: &Finding) -> bool {
    let is_missing = |it: &Finding| matches!(it.kind, FindingKind::SizeMissing { .. });
    is_missing(one) && is_missing(other)
}

/// How many sizes most lists of the sheet have; of equals the larger.
fn usual_sizes(lines: &[SheetLine]) -> Option<usize> {
    let mut counts = std::collections::BTreeMap::new();
    for stated in lines.iter().flat_map(SheetLine::stated).filter(is_list) {
        *counts.entry(stated.readings.len()).or_insert(0_usize) += 1;
    }
    counts
        .into_iter()
        .max_by_key(|(sizes, lists)| (*lists, *sizes))
        .map(|(sizes, _)| sizes)
}

/// Whether it gives one value a size; millimetres are needles.
fn is_list(stated: &Stated) -> bool {
    let needle = matches!(stated.of, StatedKind::Unit(unit) if unit.symbol == "mm");
    stated.readings.len() > 1 && !needle
}

/// The role whose key begins the line or is its first cell; the only one of a
/// pattern with one.
fn role_of<'p>(pattern: &'p Pattern, line: &SheetLine) -> Option<&'p PatternYarn> {
    if let [only] = pattern.yarns.as_slice() {
        return Some(only);
    }
    let first = line.cells.first()?;
    let first = first.trim_start_matches(['-', '*', ' ']);
    let begins = |key: &str| {
        first == key
            || first
                .strip_prefix(key)
                .is_some_and(|rest| rest.starts_with(':'))
    };
    pattern.yarns.iter().find(|yarn| begins(yarn.key.as_str()))
}

/// The role that a heading names, as in `In place of MC, ...`.
fn named_role<'p>(pattern: &'p Pattern, heading: &str) -> Option<&'p PatternYarn> {
    let words: Vec<&str> = heading
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let names = |key: &str| {
        let pairs = words.iter().zip(words.iter().skip(1));
        pairs
            .into_iter()
            .any(|(before, word)| *word == key && ["of", "yarn", "Yarn"].contains(before))
    };
    pattern.yarns.iter().find(|yarn| names(yarn.key.as_str()))
}

/// Everything in one line, whose yarn has this `role`.
fn of_line(
    line: &SheetLine,
    sizes: Option<usize>,
    role: Option<&PatternYarn>,
    discontinued: &DiscontinuedYarns,
    reader: &mut BandReader,
) -> Vec<FindingKind> {
    let stated = line.stated();
    let pairs = line.pairs().into_iter();
    let units = pairs.map(|pair| FindingKind::UnitsDisagree {
        key: String::new(),
        pair,
    });
    let lists = || stated.iter().filter(|stated| is_list(stated));
    let other = lists().filter(|list| sizes != Some(list.readings.len()));
    let missing = other.map(|list| FindingKind::SizeMissing {
        stated: list.text.clone(),
        values: list.readings.len(),
        sizes,
    });
    let stuck = lists().filter(|list| list.is_of_yarn() && !grows(list));
    let stuck = stuck.map(|list| FindingKind::NotGrowing {
        stated: list.text.clone(),
    });
    let named = discontinued.named_in(&line.text).into_iter();
    let discontinued = named.map(|title| FindingKind::NamedNoLongerMade {
        title: title.to_owned(),
    });
    let short = not_covered(line, &stated, role, reader);
    let found = units.chain(missing).chain(stuck);
    let needs = role.and_then(|role| Some((role, role_needs(role)?)));
    let other = needs.map(|(role, needs)| of_line::other_needs(&stated, role, &needs));
    let found = found.chain(short).chain(other.into_iter().flatten());
    found.chain(discontinued).collect()
}

/// Whether each size takes more than the one before. Whole skeins may stay the
/// same: rounding hides the growth.
fn grows(list: &Stated) -> bool {
    let skeins = list.of == StatedKind::Skeins;
    let Some(values) = list.values() else {
        return true;
    };
    let mut pairs = values.iter().zip(values.iter().skip(1));
    pairs.all(|(before, now)| now > before || skeins && now >= before)
}

/// Counts x the put-up of the line against the need of the role, else against the
/// lengths that the line itself states.
fn not_covered(
    line: &SheetLine,
    stated: &[Stated],
    role: Option<&PatternYarn>,
    reader: &mut BandReader,
) -> Vec<FindingKind> {
    let mut lengths = stated
        .iter()
        .filter(|stated| is_list(stated) && stated.is_length_of_yarn());
    let needs = match role {
        Some(role) => role_needs(role),
        None => lengths.find_map(Stated::values),
    };
    let Some(needs) = needs else {
        return Vec::new();
    };
    let counts: Vec<&Stated> = stated
        .iter()
        .filter(|stated| stated.of == StatedKind::Skeins && stated.readings.len() == needs.len())
        .collect();
    if counts.is_empty() {
        return Vec::new();
    }
    let Some(skein) = line.skein(reader) else {
        return Vec::new();
    };
    let sizes = counts
        .into_iter()
        .filter_map(Stated::values)
        .flat_map(|counts| (1..).zip(counts.into_iter().zip(&needs)));
    sizes
        .filter_map(|(size, (skeins, need))| short(size, skeins, *need, skein))
        .collect()
}

fn short(size: usize, skeins: f64, need: f64, skein: Length) -> Option<FindingKind> {
    let need = Length::metres(need).ok()?;
    let held = Length::metres(skeins * skein.as_metres()).ok()?;
    falls_short(held, need).then_some(FindingKind::NotCovered {
        size,
        skeins,
        skein,
        held,
        need,
    })
}

/// What each size of a role needs, m; `None` where that is not known of all.
fn role_needs(role: &PatternYarn) -> Option<Vec<f64>> {
    let grist = role.reference.grist();
    let needs = role.needs.iter();
    needs
        .map(|need| Some(need.value.in_metres(grist)?.ok()?.buy_for.as_metres()))
        .collect()
}
