//! Undo as a command: what it takes back, what comes first, once under a text.

use crate::desk::{Desk, sample};
use std::fs;

const TABLES: [&str; 3] = ["yarns", "stock", "swatches"];

fn exported(desk: &Desk) -> Vec<String> {
    TABLES.map(|table| desk.text(&["export", table])).into()
}

/// A lot of seven skeins of the sample stash.
fn lot(desk: &Desk) -> String {
    let lots = desk.json(&["stock", "list"]);
    let lots = lots["rows"].as_array().unwrap().iter();
    let mut sevens = lots.filter(|lot| lot["held"] == "7 skeins");
    sevens.next().unwrap()["number"].to_string()
}

#[test]
fn a_use_is_undone_and_the_ledger_shows_both() {
    let desk = Desk::with_sample();
    let (lot, before) = (lot(&desk), exported(&desk));
    desk.text(&["stock", "use", &lot, "2 balls", "--for", "a hat"]);
    let trial = desk.text(&["undo", "--dry-run"]);
    assert!(
        trial.contains(
            "This would be undone: 2 balls used of Quandrow, Palvetta DK, ember, lot P-07 (a\nhat)."
        ),
        "{trial}"
    );
    assert_ne!(exported(&desk), before);
    let told = desk.text(&["undo"]);
    let words: Vec<&str> = told.split_whitespace().collect();
    let words = words.join(" ");
    assert!(
        words.contains("Undone: 2 balls used of Quandrow, Palvetta DK, ember, lot P-07 (a hat)."),
        "{told}"
    );
    assert!(words.contains("Left again: 7 balls ("), "{told}");
    assert_eq!(exported(&desk), before);
    let ledger = desk.json(&["stock", "ledger", &lot]);
    let kinds = ledger["rows"].as_array().unwrap().iter();
    let kinds: Vec<&str> = kinds.map(|line| line["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["bought", "used", "undone"]);
    desk.text(&["verify"]);
}

#[test]
fn a_change_that_others_depend_on_names_what_comes_first() {
    let desk = Desk::with_sample();
    let lot = lot(&desk);
    desk.text(&["stock", "use", &lot, "2 skeins"]);
    let listed = desk.json(&["undo", "--list"]);
    let used = listed["rows"][0]["number"].to_string();
    desk.text(&["stock", "weigh", &lot, "4 skeins"]);
    let why = "undo number";
    let refused = desk.run(&["undo", &used]).code(1).stderr(why);
    assert!(
        refused
            .err
            .contains("weighing of Quandrow, Palvetta DK, ember, lot P-07 at 4 skeins"),
        "{}",
        refused.err
    );
    // The yarns of the sample came as one table, and its lots are of them.
    let first = desk
        .run(&["undo", "1"])
        .code(1)
        .stderr("later changes depend on this one");
    assert!(
        first.err.contains("lots added") || first.err.contains("more change"),
        "{}",
        first.err
    );
    desk.text(&["undo"]);
    desk.text(&["undo", &used]);
    desk.run(&["undo", &used])
        .code(1)
        .stderr("was undone before");
    desk.run(&["undo", "999"])
        .code(1)
        .stderr("there is no change with the number 999");
}

#[test]
fn an_imported_table_goes_as_one_change_and_all_of_it_back_to_nothing() {
    let desk = Desk::empty();
    desk.text(&["import", "yarns", &sample("yarns.csv")]);
    let before = exported(&desk);
    desk.text(&["import", "stock", &sample("stock.csv")]);
    let told = desk.text(&["undo"]);
    assert!(told.contains("lots added"), "{told}");
    assert_eq!(exported(&desk), before);
    let edited = desk.path("edited.csv");
    let yarns = fs::read_to_string(sample("yarns.csv")).unwrap();
    fs::write(&edited, yarns.replace("machine wash", "hand wash")).unwrap();
    desk.text(&["import", "yarns", edited.to_str().unwrap(), "--update"]);
    assert_ne!(exported(&desk), before);
    let told = desk.text(&["undo"]);
    assert!(told.contains("yarns changed"), "{told}");
    assert_eq!(exported(&desk), before);
    let told = desk.text(&["undo"]);
    assert!(told.contains("yarns added"), "{told}");
    assert_eq!(
        desk.json(&["yarn", "list"])["rows"]
            .as_array()
            .unwrap()
            .len(),
        0
    );
    desk.run(&["undo"])
        .code(1)
        .stderr("there is nothing to undo");
    desk.text(&["verify"]);
}

#[test]
fn what_was_removed_is_there_again_and_a_text_undoes_once() {
    let desk = Desk::with_sample();
    let before = desk.text(&["export", "pattern", "Hobplate"]);
    desk.text(&["pattern", "remove", "Hobplate"]);
    desk.text(&["stock", "use", &lot(&desk), "1 skein"]);
    for times in 0..2 {
        let told = desk.text(&["undo", "--once", "till 7"]);
        assert!(told.contains("Undone: 1 skein used"), "{told}");
        assert_eq!(told.contains("nothing was changed"), times > 0, "{told}");
    }
    let told = desk.text(&["undo"]);
    assert!(told.contains("pattern Hobplate removed"), "{told}");
    assert_eq!(desk.text(&["export", "pattern", "Hobplate"]), before);
}

#[test]
fn a_backup_holds_what_can_be_undone() {
    let desk = Desk::with_sample();
    let before = exported(&desk);
    desk.text(&["stock", "use", &lot(&desk), "1 skein"]);
    desk.text(&["backup", "b.db"]);
    desk.text(&["undo"]);
    desk.text(&["restore", "b.db"]);
    assert_ne!(exported(&desk), before);
    desk.text(&["undo"]);
    assert_eq!(exported(&desk), before);
    desk.text(&["verify"]);
    let listed = desk.text(&["--db", "b.db", "undo", "--list"]);
    assert!(listed.contains("1 skein used"), "{listed}");
}
