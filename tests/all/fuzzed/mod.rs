//! What the fuzz targets of `tests/fuzz` check, on what they found, on any bytes
//! and on words of labels in any order: the same checks, so that none drifts.

mod read_band;
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

#[test]
fn what_fuzzing_found_holds() {
    assert!(words().len() > 50);
    for band in FOUND_IN_BANDS {
        read_band::check(band.as_bytes());
    }
}

proptest! {
    #[test]
    fn prop_any_bytes_hold(data in prop::collection::vec(any::<u8>(), 0..300)) {
        read_band::check(&data);
        read_table::check(&data);
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
}
