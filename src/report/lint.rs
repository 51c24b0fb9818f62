//! What was found in a pattern file or a materials sheet.

use super::{
    Page, Render, Role, Style, gauge_words, json::fields_of, sizes_as_patterns_write_them,
};
use crate::{
    app::{Finding, FindingKind, LintAnswer, LintSubject},
    quantity::{CountMisfit, Misfit},
    record::Pattern,
    words::{and_list, count_of, count_of_items, joined, number},
};

/// What does not agree: which part of the file, where that has a name, what kind of
/// finding, what was given, and what it should be.
type Words = (String, &'static str, String, String);

fields_of! {
    /// What was found in a pattern file or a materials sheet.
    LintFields(answer: &LintAnswer) where (of, against, _) = subject(answer); {
        /// The file or the pattern.
        of: String = of,
        /// The pattern that a sheet was compared with.
        against: Option<String> = against,
        /// The findings, in the order of the lines.
        findings: Vec<FindingFields> = findings(answer, &Style::default())
            .into_iter()
            .map(|(line, words)| FindingFields::of(line, words))
            .collect(),
        /// Faults that are counted only.
        more: usize = answer.more,
    }
}

fields_of! {
    /// What does not agree.
    FindingFields(line: Option<u64>, words: Words)
    where (place, kind, given, should_be) = words; {
        /// The line, from 1.
        line: Option<u64> = line,
        /// Which part of the file.
        place: String = place,
        /// What kind of finding.
        kind: &'static str = kind,
        /// What was given.
        given: String = given,
        /// What it should be.
        should_be: String = should_be,
    }
}

impl Render for LintAnswer {
    type Fields = LintFields;

    fn fields(&self) -> Self::Fields {
        LintFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let (of, against, _) = subject(self);
        let findings = findings(self, style);
        let against = against.map(|pattern| format!(", compared with {pattern}"));
        let mut page = Page::titled(format!("{of}{}", against.unwrap_or_default()));
        if findings.is_empty() {
            page.text(Role::Good, "No mistakes found.");
        } else {
            page.text(
                Role::Bad,
                count_of_items(findings.len() + self.more, "finding"),
            );
        }
        let findings = findings.iter();
        let sentences: Vec<String> = findings
            .map(|(line, words)| sentence(&of, *line, words))
            .collect();
        page.items(Role::Plain, &sentences);
        if self.more > 0 {
            let more = count_of_items(self.more, "more finding");
            page.text(Role::Plain, format!("And {more}: correct these first."));
        }
        page
    }
}

/// What was looked through, the pattern that a sheet was held against, and the
/// pattern that was looked through.
fn subject(answer: &LintAnswer) -> (String, Option<String>, Option<&Pattern>) {
    match &answer.subject {
        LintSubject::KeptPattern(pattern) => {
            (format!("pattern {}", pattern.name), None, Some(pattern))
        }
        LintSubject::PatternFile { file, pattern } => (file.clone(), None, pattern.as_deref()),
        LintSubject::Sheet { file, against } => {
            let against = against.as_ref().map(ToString::to_string);
            (file.clone(), against, None)
        }
    }
}

fn findings(answer: &LintAnswer, style: &Style) -> Vec<(Option<u64>, Words)> {
    let (_, _, pattern) = subject(answer);
    let findings = answer.findings.iter();
    findings
        .filter_map(|finding| Some((finding.line, finding_words(finding, pattern, style)?)))
        .collect()
}

/// The kind as programs read it; people read `discontinued`.
const NO_LONGER_MADE: &str = "no longer made";

fn sentence(of: &str, line: Option<u64>, (place, kind, given, should_be): &Words) -> String {
    let kind = match *kind {
        NO_LONGER_MADE => "discontinued",
        kind => kind,
    };
    let line = line.map(|line| format!("{of}, line {line}"));
    let place = (!place.is_empty()).then(|| place.clone());
    let at = joined(line.into_iter().chain(place), ", ");
    format!("{at}: {kind}: given {given}; should be {should_be}")
}

/// A finding in words; `None` of a figure that the pattern does not have.
fn finding_words(finding: &Finding, pattern: Option<&Pattern>, style: &Style) -> Option<Words> {
    Some(match &finding.kind {
        FindingKind::Unreadable(fault) => {
            let given = match fault.given.as_str() {
                "" => fault.why.clone(),
                given => format!("{given}: {}", fault.why),
            };
            let place = fault.field.clone();
            (place, "not readable", given, fault.allowed.clone())
        }
        FindingKind::UnitsDisagree { key, pair } => {
            let (given, expected) = (pair.given.clone(), pair.expected.clone());
            (key.clone(), "units disagree", given, expected)
        }
        FindingKind::Misfit(misfit) => misfit_words(misfit, pattern?, style)?,
        FindingKind::CalledNoLongerMade {
            yarn,
            called,
            title,
        } => (
            format!("yarn {yarn}, called"),
            NO_LONGER_MADE,
            called.clone(),
            format!("a yarn that readers can buy; {title} is discontinued"),
        ),
        of_sheet => {
            let (kind, given, should_be) = sheet_words(of_sheet, style)?;
            (String::new(), kind, given, should_be)
        }
    })
}

/// What was found in a sheet: kind, what was given, what it should be.
fn sheet_words(kind: &FindingKind, style: &Style) -> Option<(&'static str, String, String)> {
    Some(match kind {
        FindingKind::SizeMissing {
            stated,
            values,
            sizes,
        } => (
            "size missing",
            format!("{stated}: {}", count_of_items(*values, "size")),
            sizes.map_or_else(String::new, |sizes| count_of_items(sizes, "size")),
        ),
        FindingKind::SizeNotNamed { missing } => (
            "size missing",
            "a line of sizes".to_owned(),
            format!("{} as well", and_list(missing)),
        ),
        FindingKind::Shares { given, sum } => (
            "shares of fibres",
            format!("{given}: {} % together", number(*sum, 1)),
            "100 % together".to_owned(),
        ),
        FindingKind::NeedlesDisagree { given, why } => (
            "needles disagree",
            given.clone(),
            format!("one needle ({why})"),
        ),
        FindingKind::OtherGauge { given, pattern } => {
            ("another gauge", given.clone(), gauge_words(pattern))
        }
        FindingKind::OtherNeed { given, yarn, needs } => {
            let needs: Vec<String> = needs.iter().map(|need| number(*need, 0)).collect();
            let needs = sizes_as_patterns_write_them(&needs);
            (
                "another need",
                given.clone(),
                format!("{needs} m of {yarn}"),
            )
        }
        other => return yarn_words(other, style),
    })
}

/// The same of what is said of needs and alternatives.
fn yarn_words(kind: &FindingKind, style: &Style) -> Option<(&'static str, String, String)> {
    Some(match kind {
        FindingKind::NotGrowing { stated } => (
            "does not grow",
            stated.clone(),
            "more for each larger size".to_owned(),
        ),
        FindingKind::NotCovered {
            size,
            skeins,
            skein,
            held,
            need,
        } => (
            "not covered",
            format!(
                "size {size}: {} of {}, {}",
                count_of(*skeins, "skein"),
                style.length(*skein),
                style.length(*held)
            ),
            format!(
                "{} for {}, without spare",
                count_of((need.as_metres() / skein.as_metres()).ceil(), "skein"),
                style.length(*need)
            ),
        ),
        FindingKind::NamedNoLongerMade { title } => (
            NO_LONGER_MADE,
            title.clone(),
            "a yarn that readers can buy, or a note that this one is discontinued".to_owned(),
        ),
        _ => return None,
    })
}

/// What contradicts itself in a pattern: place, kind, what was given, what it
/// should be.
fn misfit_words(misfit: &Misfit, pattern: &Pattern, style: &Style) -> Option<Words> {
    let size_name = |size: usize| Some(&pattern.sizes.get(size)?.name);
    let at_size = |size: usize, key: &str| Some(format!("size {}, {key}", size_name(size)?));
    let at_need = |yarn: usize, size: usize| {
        let key = &pattern.yarns.get(yarn)?.key;
        Some(format!("yarn {key}, size {}", size_name(size)?))
    };
    Some(match *misfit {
        Misfit::CastOn { size, counts } => {
            let wanted = &pattern.sizes.get(size)?.width.as_ref()?.text;
            let (given, should_be) = counts_words("stitch", counts, wanted);
            let place = at_size(size, "cast_on")?;
            (place, "cast-on against width", given, should_be)
        }
        Misfit::Rows { size, counts } => {
            let wanted = &pattern.sizes.get(size)?.height.as_ref()?.text;
            let (given, should_be) = counts_words("row", counts, wanted);
            let place = at_size(size, "rows")?;
            (place, "rows against height", given, should_be)
        }
        Misfit::Multiple {
            size,
            stated,
            expected,
        } => {
            let multiple = &pattern.multiple.as_ref()?.text;
            let given = count_of(f64::from(stated), "stitch");
            let should_be = format!("a multiple of {multiple}, nearest {expected}");
            (at_size(size, "cast_on")?, "multiple", given, should_be)
        }
        Misfit::NotGrowing { yarn, size, before } => {
            let needs = &pattern.yarns.get(yarn)?.needs;
            let (larger, less) = (&needs.get(size)?.text, &needs.get(before)?.text);
            let smaller = size_name(before)?;
            let given = format!("{larger}, as against {less} for size {smaller}");
            let should_be = format!("more than for size {smaller}");
            (at_need(yarn, size)?, "does not grow", given, should_be)
        }
        Misfit::NotCovered {
            yarn,
            size,
            count,
            needed,
            held,
        } => {
            let skeins = count_of(count, "skein");
            let given = format!("{skeins} of the length given, {}", style.length(held));
            let should_be = format!("at least {}", style.length(needed));
            (at_need(yarn, size)?, "not covered", given, should_be)
        }
    })
}

/// A count that does not measure what it should, and the one that does.
fn counts_words(what: &str, counts: CountMisfit, wanted: &str) -> (String, String) {
    let count = |count: u32| count_of(f64::from(count), what);
    let given = format!(
        "{}, which measure {} cm at the gauge given",
        count(counts.stated),
        number(counts.measures.as_metres() * 100.0, 1)
    );
    (given, format!("{} for {wanted}", count(counts.expected)))
}
