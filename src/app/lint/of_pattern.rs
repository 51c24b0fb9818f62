//! What contradicts itself in a pattern.

use super::Gone;
use crate::{
    files::{CellFault, sheet_text::unit_pairs},
    measure::Length,
    quantity::{Misfit, misfits},
    record::Pattern,
    report::{Finding, metres_and_yards},
    words::{count_of, number},
};

/// Findings in a pattern, `text` being its file.
pub(super) fn findings(pattern: &Pattern, text: &str, gone: &[Gone]) -> Vec<Finding> {
    let told = misfits(pattern);
    let of_figures = told
        .iter()
        .filter_map(|misfit| of_misfit(misfit, pattern, text));
    let yarns = pattern.yarns.iter().enumerate();
    let of_yarns = yarns.filter_map(|(place, yarn)| {
        let called = yarn.called.as_deref()?;
        let gone = gone.iter().find(|gone| gone.is_named_in(called))?;
        Some(Finding {
            line: line_of(text, "yarn", place, "called"),
            place: format!("yarn {}, called", yarn.key),
            kind: "no longer made",
            given: called.to_owned(),
            should_be: format!(
                "a yarn that is made; {} is kept as no longer made",
                gone.title
            ),
        })
    });
    let mut findings: Vec<Finding> = of_lines(text).chain(of_figures).chain(of_yarns).collect();
    findings.sort_by_key(|finding| finding.line);
    findings
}

/// What keeps a pattern file from being read, a missing size among it.
pub(super) fn unreadable(fault: &CellFault) -> Finding {
    Finding {
        line: fault.place.map(|place| place.line),
        place: fault.field.clone(),
        kind: "not readable",
        given: match fault.given.is_empty() {
            true => fault.why.clone(),
            false => format!("{}: {}", fault.given, fault.why),
        },
        should_be: fault.allowed.clone(),
    }
}

/// Unit pairs, line by line.
fn of_lines(text: &str) -> impl Iterator<Item = Finding> {
    (1u64..).zip(text.lines()).flat_map(|(number, line)| {
        let (key, value) = line.split_once('=').unwrap_or(("", line));
        let place = key.trim().to_owned();
        let of_gauge = place == "gauge";
        let pairs = match of_gauge {
            true => unit_pairs(line),
            false => unit_pairs(value),
        };
        pairs.into_iter().map(move |pair| Finding {
            line: Some(number),
            place: place.clone(),
            kind: "units disagree",
            given: pair.given,
            should_be: pair.expected,
        })
    })
}

fn of_misfit(misfit: &Misfit, pattern: &Pattern, text: &str) -> Option<Finding> {
    match *misfit {
        Misfit::CastOn {
            size,
            stated,
            expected,
            measures,
        } => {
            let wanted = &pattern.sizes.get(size)?.width.as_ref()?.text;
            let found = at_size(pattern, text, size, "cast_on", "cast-on against width")?;
            Some(found.counting("stitch", stated, expected, measures, wanted))
        }
        Misfit::Rows {
            size,
            stated,
            expected,
            measures,
        } => {
            let wanted = &pattern.sizes.get(size)?.height.as_ref()?.text;
            let found = at_size(pattern, text, size, "rows", "rows against height")?;
            Some(found.counting("row", stated, expected, measures, wanted))
        }
        Misfit::Multiple {
            size,
            stated,
            expected,
        } => Some(Finding {
            given: count_of(f64::from(stated), "stitch"),
            should_be: format!(
                "a multiple of {}, nearest {expected}",
                pattern.multiple.as_ref()?.text
            ),
            ..at_size(pattern, text, size, "cast_on", "multiple")?
        }),
        Misfit::NotGrowing { yarn, size, before } => not_growing(pattern, text, yarn, size, before),
        Misfit::NotCovered {
            yarn,
            size,
            count,
            needed,
            held,
        } => Some(Finding {
            given: format!(
                "{} of the stated put-up, {}",
                count_of(count, "skein"),
                metres_and_yards(held)
            ),
            should_be: format!("at least {}", metres_and_yards(needed)),
            ..at_need(pattern, text, yarn, size, "not covered")?
        }),
    }
}

/// A finding at `key` of a size, its words still to come.
fn at_size(
    pattern: &Pattern,
    text: &str,
    size: usize,
    key: &str,
    kind: &'static str,
) -> Option<Finding> {
    let name = &pattern.sizes.get(size)?.name;
    Some(Finding {
        line: line_of(text, "size", size, key),
        place: format!("size {name}, {key}"),
        kind,
        given: String::new(),
        should_be: String::new(),
    })
}

/// A finding at the need of one size, its words still to come.
fn at_need(
    pattern: &Pattern,
    text: &str,
    yarn: usize,
    size: usize,
    kind: &'static str,
) -> Option<Finding> {
    let key = &pattern.yarns.get(yarn)?.key;
    Some(Finding {
        line: line_of(text, "yarn", yarn, "needs"),
        place: format!("yarn {key}, size {}", pattern.sizes.get(size)?.name),
        kind,
        given: String::new(),
        should_be: String::new(),
    })
}

impl Finding {
    /// With the words for a count that does not measure what it should.
    fn counting(
        self,
        what: &str,
        stated: u32,
        expected: u32,
        measures: Length,
        wanted: &str,
    ) -> Self {
        let given = format!(
            "{}, which measure {} cm at the stated gauge",
            count_of(f64::from(stated), what),
            number(measures.as_metres() * 100.0, 1)
        );
        Self {
            given,
            should_be: format!("{} for {wanted}", count_of(f64::from(expected), what)),
            ..self
        }
    }
}

fn not_growing(
    pattern: &Pattern,
    text: &str,
    yarn: usize,
    size: usize,
    before: usize,
) -> Option<Finding> {
    let role = pattern.yarns.get(yarn)?;
    let smaller = &pattern.sizes.get(before)?.name;
    Some(Finding {
        given: format!(
            "{}, as against {} for size {smaller}",
            role.needs.get(size)?.text,
            role.needs.get(before)?.text
        ),
        should_be: format!("more than size {smaller} takes"),
        ..at_need(pattern, text, yarn, size, "does not grow")?
    })
}

/// The line of `key` in the table `[[kind]]` number `place` (from 0); that of the
/// table where the key is not found.
fn line_of(text: &str, kind: &str, place: usize, key: &str) -> Option<u64> {
    let head = format!("[[{kind}]]");
    let mut lines = (1u64..).zip(text.lines());
    let (at, _) = lines
        .by_ref()
        .filter(|(_, line)| line.trim() == head)
        .nth(place)?;
    let is_key = |line: &str| {
        line.split_once('=')
            .is_some_and(|(found, _)| found.trim() == key)
    };
    let of_key = lines
        .take_while(|(_, line)| !line.trim_start().starts_with("[["))
        .find(|(_, line)| is_key(line));
    Some(of_key.map_or(at, |(number, _)| number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_found_in_its_own_table() {
        let text = "pattern = \"x\"\n\n[[size]]\nname = \"S\"\n[[size]]\nname = \"M\"\ncast_on = 9\n\n[[yarn]]\nkey = \"A\"\n";
        assert_eq!(line_of(text, "size", 1, "cast_on"), Some(7));
        assert_eq!(line_of(text, "size", 0, "cast_on"), Some(3));
        assert_eq!(line_of(text, "yarn", 0, "key"), Some(10));
        assert_eq!(line_of(text, "yarn", 1, "key"), None);
    }
}
