//! What the fuzz targets of `tests/fuzz` check, on what they found, on any bytes
//! and on words of labels in any order, alone and in the place of values of the
//! sample files: the same checks, so that none drifts.

mod file_faults;
mod read_band;
mod read_needs;
mod read_pattern;
mod read_sheet;
mod read_table;

use proptest::prelude::*;

/// Bands that were once read, printed and not read back, or told wrongly.
const FOUND_IN_BANDS: &[&str] = &[
    "100½p",
    "44 sts / 44 mm",
    "8 sts / 8.5 in",
    "1,3\"1,3249p\u{6}250p\"1,3250p\"1,3249p\u{6}\"1,3250p\"b",
    "1,3022211111111\"5p\"0,32ne5",
    "7*7777777777777 oz 3*7777777777777 oz",
];

/// Pattern files that were once read, printed and not read back as the same.
const FOUND_IN_PATTERNS: &[&str] = &[
    // A list of needs of which some are no numbers by themselves kept its whole text
    // for each size.
    r#"pattern = "A"
purpose = "garment"
fit = "fitted"

[[size]]
name = "1"

[[size]]
name = "2"

[[size]]
name = "3"

[[size]]
name = "4"

[[size]]
name = "5"

[[yarn]]
key = "A"
length = "120 m"
mass = "50 g"
needs = "8 (1,1,1 , 9) skeins"
"#,
    // A unit before its number is read in a pair of length and mass, not alone.
    r#"pattern = "A"
purpose = "accessory"
fit = "unfitted"

[[size]]
name = "one size"

[[yarn]]
key = "A"
put_up = "m024 / 100 g"
needs = "260 g"
"#,
];

/// Sheets of which a quantity was once told with another text than the line has.
const FOUND_IN_SHEETS: &[&str] = &[
    // A mark without width between number and unit.
    "c3 oz0100\u{ad} g",
];

/// Files with values in whose place others are put.
const PATTERN_FILES: [&str; 3] = [
    include_str!("../../../sample-stash/patterns/jotterhelm.toml"),
    include_str!("../../../sample-stash/patterns/mirrowhist.toml"),
    include_str!("../../../sample-stash/patterns/skerrablet.toml"),
];
const NEEDS_FILE: &str = include_str!("../../../sample-stash/weighed.toml");

/// The plain words that the fuzzer is given.
fn words() -> Vec<String> {
    let quoted = include_str!("../../fuzz/words.dict").lines();
    let inner = quoted.filter_map(|line| line.trim().strip_prefix('"')?.strip_suffix('"'));
    let plain = inner.filter(|word| !word.contains("\\x"));
    plain.map(|word| word.replace("\\\"", "\"")).collect()
}

fn text_of_words() -> impl Strategy<Value = String> {
    let word = prop::sample::select(words());
    let number = prop_oneof![
        (0_u32..2000).prop_map(|n| n.to_string()),
        (0.0_f64..50.0).prop_map(|n| format!("{n:.3}")),
        (0.0_f64..50.0).prop_map(|n| n.to_string()),
    ];
    let piece = prop_oneof![2 => word, 1 => number];
    let pieces = prop::collection::vec((piece, prop::sample::select(vec!["", " ", "\n"])), 0..14);
    pieces.prop_map(|all| all.into_iter().map(|(piece, gap)| piece + gap).collect())
}

/// `file`, in which a few values are words of labels in any order.
fn with_other_values(file: &'static str) -> impl Strategy<Value = String> {
    let lines: Vec<&str> = file.lines().collect();
    let changes = prop::collection::vec((0..lines.len(), text_of_words()), 1..4);
    changes.prop_map(move |changes| {
        let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        for (at, text) in changes {
            if let Some((key, _)) = lines[at].split_once(" = ") {
                lines[at] = format!("{key} = {text:?}");
            }
        }
        lines.join("\n")
    })
}

#[test]
fn what_fuzzing_found_holds() {
    assert!(words().len() > 50);
    for band in FOUND_IN_BANDS {
        read_band::check(band.as_bytes());
    }
    for pattern in FOUND_IN_PATTERNS {
        let read = understudy::files::pattern_file::read_pattern("p.toml", pattern.as_bytes());
        let sizes = pattern.matches("[[size]]").count();
        assert_eq!(read.unwrap().pattern.sizes.len(), sizes);
        read_pattern::check(pattern.as_bytes());
    }
    for sheet in FOUND_IN_SHEETS {
        read_sheet::check(sheet.as_bytes());
    }
}

proptest! {
    #[test]
    fn prop_any_bytes_hold(data in prop::collection::vec(any::<u8>(), 0..300)) {
        read_band::check(&data);
        read_table::check(&data);
        read_pattern::check(&data);
        read_needs::check(&data);
        read_sheet::check(&data);
    }

    #[test]
    fn prop_words_of_labels_hold_as_a_band(text in text_of_words()) {
        read_band::check(text.as_bytes());
    }

    #[test]
    fn prop_words_of_labels_hold_as_a_table(cells in prop::collection::vec(text_of_words(), 0..12)) {
        let cells: Vec<String> = cells.iter().map(|cell| cell.replace(['\n', '"'], " ")).collect();
        let table = format!("maker,name,length,mass,fibre,gauge,notes\nA,B,{}\n", cells.join(","));
        read_table::check(table.as_bytes());
    }

    #[test]
    fn prop_words_of_labels_hold_as_a_sheet(lines in prop::collection::vec(text_of_words(), 0..5)) {
        read_sheet::check(lines.join("\n").as_bytes());
        read_sheet::check(lines.join(",").as_bytes());
    }

    #[test]
    fn prop_words_of_labels_hold_in_a_pattern_file(
        file in prop::sample::select(PATTERN_FILES.to_vec()).prop_flat_map(with_other_values),
    ) {
        read_pattern::check(file.as_bytes());
    }

    #[test]
    fn prop_words_of_labels_hold_in_a_needs_file(file in with_other_values(NEEDS_FILE)) {
        read_needs::check(file.as_bytes());
    }
}
