//! The sample stash is read whole, and shows what it is there to show.

use crate::desk::{Desk, sample};
use std::{collections::BTreeSet, fs};
use understudy::{
    files::{
        csv::{Row, StockRow, read_table, write_records},
        pattern_file::{PatternReading, read_pattern, write_pattern},
    },
    record::{Pattern, Yarn},
    trade::{Construction, WeightClass},
};

fn bytes(file: &str) -> Vec<u8> {
    fs::read(sample(file)).unwrap()
}

/// Every row of a table, and all faults of it in one message.
fn records<T>(rows: impl Iterator<Item = Row<T>>) -> Vec<T> {
    let mut faults = Vec::new();
    let mut records = Vec::new();
    for row in rows {
        match row.record {
            Ok(record) => records.push(record),
            Err(bad) => faults.extend(bad.iter().map(ToString::to_string)),
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    records
}

fn yarns() -> Vec<Yarn> {
    let bytes = bytes("yarns.csv");
    let rows = read_table("yarns.csv", bytes.as_slice(), |_| {}).unwrap();
    assert!(rows.warnings().is_empty());
    records(rows.map(Result::unwrap))
}

fn stock() -> Vec<StockRow> {
    let bytes = bytes("stock.csv");
    let rows = read_table("stock.csv", bytes.as_slice(), |_| {}).unwrap();
    assert!(rows.warnings().is_empty());
    records(rows.map(Result::unwrap))
}

fn pattern_files() -> Vec<String> {
    let files = fs::read_dir(sample("patterns")).unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let names: BTreeSet<String> = names.collect();
    names
        .iter()
        .map(|name| format!("patterns/{name}"))
        .collect()
}

fn reading(file: &str) -> PatternReading {
    match read_pattern(file, &bytes(file)) {
        Ok(reading) => reading,
        Err(error) => panic!("{error}"),
    }
}

fn patterns() -> Vec<Pattern> {
    let files = pattern_files();
    files.iter().map(|file| reading(file).pattern).collect()
}

fn yarn<'y>(yarns: &'y [Yarn], name: &str) -> &'y Yarn {
    yarns
        .iter()
        .find(|yarn| yarn.name.as_str() == name)
        .unwrap()
}

#[test]
fn every_yarn_is_read_and_named_once() {
    let yarns = yarns();
    let titles: BTreeSet<String> = yarns.iter().map(Yarn::title).collect();
    assert_eq!((yarns.len(), titles.len()), (61, 61));
}

#[test]
fn all_classes_and_constructions_are_there() {
    let yarns = yarns();
    let classes: BTreeSet<u8> = yarns
        .iter()
        .filter_map(|yarn| yarn.facts.class.as_ref())
        .flat_map(|class| {
            class
                .value
                .as_slice()
                .iter()
                .map(|class| WeightClass::number(*class))
        })
        .collect();
    assert_eq!(classes, (0..=7).collect());
    let built: BTreeSet<Construction> = yarns
        .iter()
        .filter_map(|yarn| Some(yarn.facts.construction.as_ref()?.value))
        .collect();
    assert_eq!(built, Construction::ALL.into_iter().collect());
}

#[test]
fn labels_are_complete_incomplete_and_in_several_currencies() {
    let yarns = yarns();
    let lack = |lacks: fn(&Yarn) -> bool| yarns.iter().filter(|yarn| lacks(yarn)).count();
    assert!(lack(|yarn| yarn.facts.grist().is_none()) >= 1);
    assert!(lack(|yarn| yarn.facts.gauge.is_none()) >= 3);
    assert!(lack(|yarn| yarn.facts.blend.is_none()) >= 1);
    assert!(lack(|yarn| yarn.discontinued) >= 3);
    let currencies: BTreeSet<&str> = yarns
        .iter()
        .filter_map(|yarn| Some(yarn.facts.price.as_ref()?.value.money.currency.code()))
        .collect();
    assert!(currencies.len() >= 2, "{currencies:?}");
}

#[test]
fn labels_that_contradict_themselves_are_read_with_a_warning() {
    let bytes = bytes("yarns.csv");
    let rows = read_table::<Yarn>("yarns.csv", bytes.as_slice(), |_| {}).unwrap();
    let warned: Vec<String> = rows
        .map(Result::unwrap)
        .filter(|row| !row.warnings.is_empty())
        .map(|row| row.record.unwrap().name.to_string())
        .collect();
    for name in ["Zibberlow DK", "Twoscale"] {
        assert!(warned.iter().any(|warned| warned == name), "{warned:?}");
    }
    let meant = [
        "Corvastelle",
        "Zibberlow DK",
        "Wrongabel Lace",
        "Twoscale",
        "Puzzledown",
    ];
    for name in &warned {
        assert!(meant.contains(&name.as_str()), "{warned:?}");
    }
}

#[test]
fn every_lot_is_of_a_yarn_that_is_there() {
    let yarns = yarns();
    for row in stock() {
        let found = yarns
            .iter()
            .any(|yarn| yarn.maker == row.maker && yarn.name == row.name);
        assert!(found, "{}, {}", row.maker, row.name);
    }
}

#[test]
fn stock_has_part_balls_mixed_lots_weighed_skeins_and_several_places() {
    let stock = stock();
    let places: BTreeSet<&str> = stock.iter().map(|row| row.lot.place.as_str()).collect();
    assert!(places.len() >= 3, "{places:?}");
    assert!(
        stock
            .iter()
            .any(|row| row.amount.value.skeins().fract() > 0.0)
    );
    assert!(stock.iter().any(|row| row.amount.value.grams() > 0.0));
    assert!(stock.iter().filter(|row| row.lot.weighed.is_some()).count() >= 4);
    assert!(stock.iter().filter(|row| row.lot.lot.is_none()).count() >= 3);
}

#[test]
fn every_pattern_is_read_without_a_warning() {
    let files = pattern_files();
    assert_eq!(files.len(), 4);
    for file in files {
        let warnings = reading(&file).warnings;
        assert!(warnings.is_empty(), "{file}: {warnings:?}");
    }
}

#[test]
fn the_yarn_that_a_pattern_calls_for_is_in_the_catalogue_with_the_same_put_up() {
    let yarns = yarns();
    for role in patterns().iter().flat_map(|pattern| &pattern.yarns) {
        let called = role.called.as_deref().unwrap();
        let found = yarns.iter().find(|yarn| yarn.title() == called).unwrap();
        assert_eq!(found.facts.grist(), role.reference.grist(), "{called}");
    }
}

#[test]
fn widths_heights_and_stitch_counts_of_the_patterns_agree_with_their_gauge() {
    for pattern in patterns() {
        let gauge = pattern.gauge.as_ref().unwrap().value.gauge;
        for size in &pattern.sizes {
            if let (Some(width), Some(stitches)) = (&size.width, size.cast_on) {
                let made = gauge.width_of(f64::from(stitches)).unwrap().unwrap();
                let off = (made.as_metres() - width.value.as_metres()).abs();
                assert!(off <= 0.0051, "{} {}", pattern.name, size.name);
            }
            if let (Some(height), Some(rows)) = (&size.height, size.rows) {
                let made = gauge.height_of(f64::from(rows)).unwrap().unwrap();
                let off = (made.as_metres() - height.value.as_metres()).abs();
                assert!(off <= 0.0051, "{} {}", pattern.name, size.name);
            }
        }
    }
}

/// What a fabric takes grows with its area; whole skeins make steps of up to
/// one skein. The whole sum with sleeves stands in the README of the folder.
#[test]
fn the_needs_of_the_jumper_grow_with_its_area() {
    let pattern = reading("patterns/skerrablet.toml").pattern;
    let role = &pattern.yarns[0];
    let per_area: Vec<f64> = pattern
        .sizes
        .iter()
        .zip(&role.needs)
        .map(|(size, need)| {
            let width = size.width.as_ref().unwrap().value.as_metres();
            let height = size.height.as_ref().unwrap().value.as_metres();
            let need = need
                .value
                .in_metres(role.reference.grist())
                .unwrap()
                .unwrap();
            need.buy_for.as_metres() / (width * height)
        })
        .collect();
    let mean = per_area.iter().sum::<f64>() / 6.0;
    for metres in &per_area {
        assert!((metres / mean - 1.0).abs() < 0.08, "{per_area:?}");
    }
}

#[test]
fn substitutes_near_misses_and_traps_are_where_the_readme_says() {
    let yarns = yarns();
    let grist = |name| {
        yarn(&yarns, name)
            .facts
            .grist()
            .unwrap()
            .as_metres_per_gram()
    };
    let jumper = grist("Grundlin DK");
    let off = |name| (grist(name) / jumper - 1.0).abs();
    assert!(off("Palvetta DK") < 0.08 && off("Hathrel DK") < 0.08);
    assert!(off("Ostrick DK") > 0.08 && off("Umberlin DK") > 0.2);
    assert!((grist("Drindle") / 2.0 / jumper - 1.0).abs() < 0.08);
    assert!((grist("Brockavane") / grist("Oskirry Aran") - 1.0).abs() < 0.08);
    assert!((grist("Pazzuli Sock") / grist("Kettrine Sock") - 1.0).abs() < 0.08);
    assert!((grist("Cottomel Eight") / grist("Plattenock Cotton") - 1.0).abs() < 0.08);
}

#[test]
fn all_of_it_comes_back_after_it_was_written() {
    let mut bytes = Vec::new();
    write_records("yarns.csv", &mut bytes, &yarns()).unwrap();
    let again = read_table::<Yarn>("yarns.csv", bytes.as_slice(), |_| {}).unwrap();
    assert_eq!(records(again.map(Result::unwrap)), yarns());
    let mut bytes = Vec::new();
    write_records("stock.csv", &mut bytes, &stock()).unwrap();
    let again = read_table::<StockRow>("stock.csv", bytes.as_slice(), |_| {}).unwrap();
    assert_eq!(records(again.map(Result::unwrap)), stock());
    for pattern in patterns() {
        let text = write_pattern(&pattern);
        assert_eq!(read_pattern("p", text.as_bytes()).unwrap().pattern, pattern);
    }
}

#[test]
fn the_readme_says_that_all_is_invented_and_how_many_yarns_there_are() {
    let readme = fs::read_to_string(sample("README.md")).unwrap();
    assert!(readme.contains("Everything in this folder is invented"));
    assert!(readme.contains(&format!("{} yarns", yarns().len())));
}

/// Yarns, stock and swatches come through workbooks to the letter.
#[test]
fn everything_that_a_table_holds_goes_through_workbooks_and_back() {
    let desk = Desk::with_sample();
    desk.text(&[
        "yarn",
        "edit",
        "Umberlin DK",
        "--low",
        "6",
        "--notes",
        "a < b & \"c\"; =1+1",
    ]);
    desk.text(&[
        "swatch",
        "add",
        "Umberlin DK",
        "--needle",
        "4 mm",
        "--after",
        "21 sts / 10 cm",
    ]);
    let other = Desk::empty();
    for kind in ["yarns", "stock", "swatches"] {
        let book = desk.path(&format!("{kind}.xlsx")).display().to_string();
        desk.text(&["export", kind, &book]);
        assert!(std::fs::read(&book).unwrap().starts_with(b"PK"));
        other.text(&["import", kind, &book]);
        let both = [&desk, &other].map(|desk| desk.text(&["export", kind]));
        assert_eq!(both[0], both[1], "{kind}");
    }
    other.text(&["verify"]);
    let bad = other.write("bad.xlsx", b"PK\x03\x04 and no archive");
    other
        .run(&["import", "yarns", &bad])
        .code(1)
        .stderr("bad.xlsx");
}

/// What a page of the yarn shows, in the terminal too.
#[test]
fn a_yarn_is_shown_with_its_lots_and_its_swatches() {
    let desk = Desk::with_sample();
    let alone = desk.json(&["yarn", "show", "Mizzlet"]);
    let lots = alone["lots"].as_array().unwrap();
    let listed = desk.json(&["stock", "list", "Mizzlet"]);
    assert_eq!(Some(lots), listed["rows"].as_array());
    assert!(!lots.is_empty());
    assert_eq!(alone["swatches"], serde_json::json!([]));
    let swatch = ["swatch", "add", "Kettrine Sock", "--held-with", "Mizzlet"];
    let measured = ["--needle", "5 mm", "--after", "19 sts / 10 cm"];
    desk.text(&[&swatch[..], &measured].concat());
    let told = desk.json(&["yarn", "show", "Mizzlet"]);
    let swatches = desk.json(&["swatch", "list", "Mizzlet"]);
    assert_eq!(told["swatches"], swatches["rows"]);
    assert!(!swatches["rows"].as_array().unwrap().is_empty());
    let text = desk.text(&["yarn", "show", "Mizzlet"]);
    for part in ["In your stash", "Swatches", "Kettrine Sock"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}
