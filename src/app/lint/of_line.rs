//! What one line of a sheet says of fibres, needles, gauge, needs and sizes, against
//! itself and the pattern.

use super::FindingKind;
use crate::{
    app::gauge_change::ratio_of,
    files::sheet_text::{SheetLine, Stated, StatedKind},
    label::{
        band::{BandReader, BandReading},
        needles::numbers_a_needle,
        reading::{Clash, Note},
    },
    quantity::GaugeRatio,
    record::{Pattern, PatternYarn},
    trade::fibre_of_word,
    words::fold,
};

/// How far shares may lie from 100 %: what a blend may as well.
const SHARES_APART: f64 = 3.0;

/// How far two gauges may lie apart and be one: 4 in named as 10 cm.
const GAUGES_APART: f64 = 2.54 / 2.5 - 1.0;

/// How far two needs may lie apart: rounding, as between a pair of units.
const NEEDS_APART: f64 = 0.015;

/// The most that a margin adds to a need: common practice, no source.
const MOST_MARGIN: f64 = 0.25;

/// Fibres, needles, gauge and sizes of a line.
pub(super) fn findings(
    line: &SheetLine,
    pattern: Option<&Pattern>,
    sizes: Option<usize>,
    reader: &mut BandReader,
) -> Vec<FindingKind> {
    let mut found = Vec::new();
    if needs_reading(&line.text) {
        let band = reader.read(&line.text);
        found.extend(shares(&band).chain(needles(&line.text, &band)));
        found.extend(pattern.and_then(|pattern| other_gauge(line, &band, pattern)));
    }
    found.extend(match pattern {
        Some(pattern) => size_not_named(line, pattern),
        None => other_count(line, sizes),
    });
    found
}

/// Whether a text may hold shares, a number of a needle or a gauge that is named: to
/// read all that it says takes most of the time, and most lines have none of them.
fn needs_reading(text: &str) -> bool {
    text.contains('%') || numbers_a_needle(text) || is_of_gauge(text)
}

/// Shares of fibres that make no whole.
fn shares(band: &BandReading) -> impl Iterator<Item = FindingKind> {
    band.not_read.iter().filter_map(|part| {
        let names_fibre = part.text.split(|c: char| !c.is_alphabetic());
        let mut names_fibre = names_fibre.map(fold);
        let shares = shares_of(&part.text);
        let sum: f64 = shares.iter().sum();
        // One share alone may be a blend that goes on in the next line.
        let is_blend = shares.len() > 1 && names_fibre.any(|word| fibre_of_word(&word).is_some());
        // Two blends in one line, where the second was not taken, make two wholes.
        let whole = (sum / 100.0).round().max(1.0) * 100.0;
        (is_blend && (sum - whole).abs() > SHARES_APART + 1e-9).then(|| FindingKind::Shares {
            given: part.text.clone(),
            sum,
        })
    })
}

/// The numbers before each `%`.
fn shares_of(text: &str) -> Vec<f64> {
    let mut parts: Vec<&str> = text.split('%').collect();
    parts.pop();
    let number = |part: &str| {
        let part = part.trim_end();
        let is_of_number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
        let digits = part.len() - part.trim_end_matches(is_of_number).len();
        let number = part.get(part.len() - digits..)?;
        number
            .trim_start_matches(',')
            .replace(',', ".")
            .parse::<f64>()
            .ok()
    };
    parts.into_iter().filter_map(number).collect()
}

/// Numbers of needles that name another one.
pub(super) fn needles(text: &str, band: &BandReading) -> impl Iterator<Item = FindingKind> {
    let needles = |note: &&Note| note.clash == Some(Clash::Needles);
    let apart = band.warnings.iter().filter(needles);
    apart.map(|note| FindingKind::NeedlesDisagree {
        given: text.get(note.span.clone()).unwrap_or(text).to_owned(),
        why: note.message.clone(),
    })
}

/// The gauge of a line that begins with that word.
fn other_gauge(line: &SheetLine, band: &BandReading, pattern: &Pattern) -> Option<FindingKind> {
    if !is_of_gauge(&line.text) {
        return None;
    }
    let stated = band.facts.gauge.as_ref()?;
    let wanted = pattern.gauge.as_ref()?;
    let (own, wanted_gauge) = (stated.value.gauge, wanted.value.gauge);
    let ratio = ratio_of(&own, &wanted_gauge)?;
    is_another(ratio).then(|| FindingKind::OtherGauge {
        given: stated.text.clone(),
        pattern: wanted_gauge,
    })
}

fn is_of_gauge(text: &str) -> bool {
    ["gauge", "tension"].contains(&first_word(text).as_str())
}

fn is_another(ratio: GaugeRatio) -> bool {
    let off = |ratio: f64| (ratio - 1.0).abs() > GAUGES_APART + 1e-9;
    off(ratio.stitches) || ratio.rows.is_some_and(off)
}

/// Sizes of the pattern that a line of its sizes leaves out.
fn size_not_named(line: &SheetLine, pattern: &Pattern) -> Option<FindingKind> {
    if !is_of_sizes(line) {
        return None;
    }
    let text = format!(" {} ", fold(&line.text));
    let names = pattern.sizes.iter().map(|size| size.name.as_str());
    let is_named = |name: &&str| text.contains(&format!(" {} ", fold(name)));
    let (named, missing): (Vec<&str>, Vec<&str>) = names.partition(is_named);
    (!named.is_empty() && !missing.is_empty()).then(|| FindingKind::SizeNotNamed {
        missing: missing.into_iter().map(str::to_owned).collect(),
    })
}

/// A line of sizes with other than as many names as the lists of the sheet have values.
fn other_count(line: &SheetLine, sizes: Option<usize>) -> Option<FindingKind> {
    let after = line.text.split_once(char::is_whitespace)?.1;
    let names = after.split(|c: char| "(),;[]|".contains(c)).map(str::trim);
    let names: Vec<&str> = names.filter(|name| !name.is_empty()).collect();
    let is_list = is_of_sizes(line) && after.contains('(') && line.stated().is_empty();
    let sizes = sizes.filter(|sizes| is_list && *sizes != names.len())?;
    Some(FindingKind::SizeMissing {
        stated: line.text.clone(),
        values: names.len(),
        sizes: Some(sizes),
    })
}

fn is_of_sizes(line: &SheetLine) -> bool {
    ["sizes", "size"].contains(&first_word(&line.text).as_str())
}

/// Lengths of yarn for each size that are neither the needs of the pattern nor those
/// with a margin; a line that counts skeins may say what these hold.
pub(super) fn other_needs(
    stated: &[Stated],
    role: &PatternYarn,
    needs: &[f64],
) -> Vec<FindingKind> {
    if stated.iter().any(|stated| stated.of == StatedKind::Skeins) {
        return Vec::new();
    }
    let lists = stated
        .iter()
        .filter(|list| list.is_length_of_yarn() && needs.len() > 1);
    let others = lists.filter(|list| list.values().is_some_and(|values| is_other(&values, needs)));
    others
        .map(|list| FindingKind::OtherNeed {
            given: list.text.clone(),
            yarn: role.key.clone(),
            needs: needs.to_vec(),
        })
        .collect()
}

fn is_other(values: &[f64], needs: &[f64]) -> bool {
    if values.len() != needs.len() {
        return false;
    }
    let ratios: Vec<f64> = values
        .iter()
        .zip(needs)
        .map(|(value, need)| value / need)
        .collect();
    let least = ratios.iter().copied().fold(f64::INFINITY, f64::min);
    let most = ratios.iter().copied().fold(0.0, f64::max);
    let is_same = least >= 1.0 - NEEDS_APART && most <= 1.0 + NEEDS_APART;
    let has_margin = least >= 1.0 && most <= 1.0 + MOST_MARGIN && most / least <= 1.0 + NEEDS_APART;
    !is_same && !has_margin
}

fn first_word(text: &str) -> String {
    let mut words = text.split(|c: char| !c.is_alphabetic());
    words
        .find(|word| !word.is_empty())
        .map(fold)
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::work;
    use proptest::{prelude::*, sample::select};

    fn line(text: &str) -> SheetLine {
        SheetLine::new(1, vec![text.to_owned()], false)
    }

    #[test]
    fn shares_that_make_no_whole_are_found_and_other_per_cents_are_not() {
        let found = findings(
            &line("A: 70% wool, 20% nylon, 120 m / 50 g"),
            None,
            None,
            &mut BandReader::default(),
        );
        assert!(
            matches!(found.as_slice(), [FindingKind::Shares { sum, .. }] if *sum == 90.0),
            "{found:?}"
        );
        for fine in [
            "A: 75% wool, 25% nylon",
            "Margin 10 % of the wool",
            "33% wool, 33% silk, 33% linen",
            "fibre 0.57 (70% mohair,",
            "100% cotton or 50% wool 50% silk",
            "gauge 0.68, fibre 0.26 (100% wool; wanted 75% wool, 25% nylon)",
        ] {
            assert_eq!(
                findings(&line(fine), None, None, &mut BandReader::default()),
                [],
                "{fine}"
            );
        }
    }

    #[test]
    fn a_number_that_names_another_needle_is_found() {
        let found = findings(
            &line("Needles: US 8 / 5.5 mm"),
            None,
            None,
            &mut BandReader::default(),
        );
        assert!(
            matches!(found.as_slice(), [FindingKind::NeedlesDisagree { .. }]),
            "{found:?}"
        );
        assert_eq!(
            findings(
                &line("Needles: US 8 / 5 mm"),
                None,
                None,
                &mut BandReader::default()
            ),
            []
        );
    }

    proptest! {
        #[test]
        fn prop_what_needs_no_reading_has_no_shares_and_no_other_needle(
            words in prop::collection::vec(select(WORDS), 1..12),
            glue in select(&["", " "]),
        ) {
            let text = words.join(glue);
            let band = BandReader::default().read(&text);
            let found = shares(&band).chain(needles(&text, &band)).count();
            prop_assert!(found == 0 || needs_reading(&text), "{text}");
        }
    }

    #[test]
    fn a_line_without_shares_and_numbers_of_needles_is_not_read() {
        let looks = |text: &str| {
            let line = line(text);
            work::of(|| {
                findings(&line, None, Some(3), &mut BandReader::default());
            })
        };
        assert_eq!(looks("A | 8 balls | 9 balls | 10 balls | 4 mm"), 0);
        assert_ne!(looks("A | 8 balls | 9 balls | 10 balls | US 8"), 0);
    }

    const WORDS: &[&str] = &[
        "US",
        "usa",
        "UK",
        "old",
        "cdn",
        "size",
        "no.",
        "\u{2116}",
        "nr",
        "n\u{ba}",
        "#",
        "8",
        "6",
        "4",
        "2.5",
        "10\u{bd}",
        "mm",
        "4 mm",
        "(2.75 or 3.0?)",
        "5\u{53f7}",
        "\u{53f7}",
        "\u{d8}",
        "nadel",
        "aiguilles",
        "p.",
        "needles",
        "hook",
        "H",
        "/",
        "(",
        ")",
        "-",
        "=",
        ",",
        ":",
        "or",
        "and",
        "%",
        "70% wool",
        "20 nylon",
        "\u{ff35}\u{ff33}",
        "gauge",
        "22 sts",
        "50 g",
    ];

    #[test]
    fn a_line_of_sizes_names_as_many_as_the_lists_have_values() {
        let of =
            |text: &str| findings(&line(text), None, Some(4), &mut BandReader::default()).len();
        assert_eq!(of("Sizes: XS (S, M)"), 1);
        assert_eq!(of("Sizes XS (S, M, L)"), 0);
        assert_eq!(of("Size as you like"), 0);
    }

    #[test]
    fn a_margin_is_no_other_need() {
        let needs = [900.0, 1000.0, 1100.0];
        let is_other = |values: [f64; 3]| is_other(&values, &needs);
        assert!(!is_other([900.0, 1000.0, 1100.0]));
        assert!(!is_other([990.0, 1100.0, 1210.0]));
        assert!(is_other([800.0, 1000.0, 1100.0]));
        assert!(is_other([990.0, 1000.0, 1100.0]));
    }
}
