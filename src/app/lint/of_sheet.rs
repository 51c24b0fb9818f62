//! What contradicts itself, its pattern or the records in a materials sheet.

use super::Gone;
use crate::{
    files::sheet_text::{SheetLine, Stated, StatedOf},
    measure::Length,
    quantity::falls_short,
    record::{Pattern, PatternYarn},
    report::{Finding, metres_and_yards},
    words::{count_of, number},
};

/// Findings in the lines of a sheet, held against `pattern` where there is one.
pub(super) fn findings(
    lines: &[SheetLine],
    pattern: Option<&Pattern>,
    gone: &[Gone],
) -> Vec<Finding> {
    let sizes = pattern.map_or_else(|| usual_sizes(lines), |pattern| Some(pattern.sizes.len()));
    let mut found = Vec::new();
    let mut headed = None;
    for line in lines {
        if line.is_heading {
            headed = pattern.and_then(|pattern| named_role(pattern, &line.text));
        }
        let stated = line.stated();
        let at = At { line };
        found.extend(at.pairs());
        found.extend(at.sizes_missing(&stated, sizes));
        found.extend(at.not_growing(&stated));
        let role = pattern.and_then(|pattern| role_of(pattern, line).or(headed));
        found.extend(at.not_covered(&stated, role));
        found.extend(at.gone(gone));
    }
    found
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
    let needle = matches!(stated.of, StatedOf::Unit(unit) if unit.symbol == "mm");
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

/// The line that is looked at.
struct At<'l> {
    line: &'l SheetLine,
}

impl At<'_> {
    fn finding(&self, kind: &'static str, given: String, should_be: String) -> Finding {
        Finding {
            line: Some(self.line.number),
            place: String::new(),
            kind,
            given,
            should_be,
        }
    }

    fn pairs(&self) -> Vec<Finding> {
        let pairs = self.line.pairs().into_iter();
        pairs
            .map(|pair| self.finding("units disagree", pair.given, pair.expected))
            .collect()
    }

    fn sizes_missing(&self, stated: &[Stated], sizes: Option<usize>) -> Vec<Finding> {
        let wrong = |stated: &&Stated| is_list(stated) && sizes != Some(stated.readings.len());
        let told = |stated: &Stated| {
            self.finding(
                "size missing",
                format!("{}: {}", stated.text, of_sizes(stated.readings.len())),
                sizes.map_or_else(String::new, of_sizes),
            )
        };
        stated.iter().filter(wrong).map(told).collect()
    }

    fn not_growing(&self, stated: &[Stated]) -> Vec<Finding> {
        let lists = stated
            .iter()
            .filter(|stated| is_list(stated) && stated.is_of_yarn());
        let stuck = lists.filter(|stated| {
            let skeins = stated.of == StatedOf::Skeins;
            stated.values().is_some_and(|values| {
                let pairs = values.iter().zip(values.iter().skip(1));
                // Whole skeins may stay the same: rounding hides the growth.
                pairs
                    .into_iter()
                    .any(|(before, now)| now < before || !skeins && now <= before)
            })
        });
        stuck
            .map(|stated| {
                self.finding(
                    "does not grow",
                    stated.text.clone(),
                    "more for each larger size".to_owned(),
                )
            })
            .collect()
    }

    /// Counts x the put-up of the line against the need of the role, else
    /// against the lengths that the line itself states.
    fn not_covered(&self, stated: &[Stated], role: Option<&PatternYarn>) -> Vec<Finding> {
        let of_line = stated
            .iter()
            .filter(|stated| is_list(stated) && stated.is_length_of_yarn())
            .find_map(Stated::values);
        let needs = role.map_or(of_line, role_needs);
        let (Some(needs), Some(skein)) = (needs, self.line.skein()) else {
            return Vec::new();
        };
        let counts = stated
            .iter()
            .filter(|stated| stated.of == StatedOf::Skeins && stated.readings.len() == needs.len());
        counts
            .filter_map(Stated::values)
            .flat_map(|counts| self.short(&counts, &needs, skein))
            .collect()
    }

    fn short(&self, counts: &[f64], needs: &[f64], skein: Length) -> Vec<Finding> {
        let sizes = (1..).zip(counts.iter().zip(needs));
        sizes
            .filter_map(|(size, (count, need))| {
                let need = Length::metres(*need).ok()?;
                let held = Length::metres(count * skein.as_metres()).ok()?;
                let enough = (need.as_metres() / skein.as_metres()).ceil();
                falls_short(held, need).then(|| {
                    self.finding(
                        "not covered",
                        format!(
                            "size {size}: {} of {}, {}",
                            count_of(*count, "skein"),
                            metres_and_yards(skein),
                            metres_and_yards(held)
                        ),
                        format!(
                            "{} for {}, without a margin",
                            count_of(enough, "skein"),
                            metres_and_yards(need)
                        ),
                    )
                })
            })
            .collect()
    }

    fn gone(&self, gone: &[Gone]) -> Vec<Finding> {
        let named = gone.iter().filter(|gone| gone.is_named_in(&self.line.text));
        named
            .map(|gone| {
                self.finding(
                    "no longer made",
                    gone.title.clone(),
                    "a yarn that readers can buy, or a word that this one is gone".to_owned(),
                )
            })
            .collect()
    }
}

fn of_sizes(count: usize) -> String {
    let count = f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    format!(
        "{} {}",
        number(count, 0),
        crate::words::plural(count, "size")
    )
}

/// What each size of a role needs, m; `None` where that is not known of all.
fn role_needs(role: &PatternYarn) -> Option<Vec<f64>> {
    let grist = role.reference.grist();
    let needs = role.needs.iter();
    needs
        .map(|need| Some(need.value.in_metres(grist)?.ok()?.buy_for.as_metres()))
        .collect()
}
