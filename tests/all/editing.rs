//! Records edited, renamed, moved and merged from the command line, each taken back by
//! one undo, and their history.

use crate::desk::Desk;
use serde_json::Value;

const PATTERNS: [&str; 4] = ["Skerrablet", "Jotterhelm", "Mirrowhist", "Hobplate"];

/// Everything that is kept, but for the lines of ledgers that undo adds.
fn all(desk: &Desk) -> Vec<String> {
    let tables = ["yarns", "stock", "swatches"].map(|table| desk.text(&["export", table]));
    let patterns = desk.json(&["pattern", "list"]);
    let patterns = rows(&patterns)
        .iter()
        .map(|row| row["name"].as_str().unwrap().to_owned());
    let patterns = patterns.map(|name| desk.text(&["export", "pattern", &name]));
    let lists = ["stock", "project"].map(|kind| desk.text(&[kind, "list", "--json"]));
    tables.into_iter().chain(patterns).chain(lists).collect()
}

fn rows(answer: &Value) -> &Vec<Value> {
    answer["rows"].as_array().unwrap()
}

/// The sample stash with a swatch, and a project that takes yarn that was chosen for it.
fn desk() -> Desk {
    let desk = Desk::with_sample();
    let swatch = ["--needle", "4 mm", "--after", "21 sts / 10 cm"];
    desk.text(&[&["swatch", "add", "Umberlin DK"], &swatch[..]].concat());
    desk.text(&["project", "add", "Skerrablet:M", "--name", "For Ada"]);
    desk.text(&["project", "pin", "For Ada", "Umberlin DK"]);
    desk
}

/// Runs a command that one undo takes back; gives what it says.
#[track_caller]
fn undone(desk: &Desk, command: &[&str]) -> String {
    let before = all(desk);
    desk.text(command);
    assert_ne!(all(desk), before, "{command:?} changed nothing");
    desk.text(&["undo"]);
    assert_eq!(all(desk), before, "{command:?}");
    desk.text(&["verify"]);
    desk.text(command)
}

/// A lot of this yarn.
fn lot(desk: &Desk, yarn: &str) -> String {
    let lots = desk.json(&["stock", "list", yarn]);
    rows(&lots)[0]["number"].to_string()
}

#[test]
fn every_edit_is_one_change_that_undo_takes_back() {
    let desk = desk();
    undone(
        &desk,
        &["yarn", "edit", "Umberlin DK", "--price", "4.20 EUR"],
    );
    let shown = desk.json(&["yarn", "show", "Umberlin DK"]);
    assert!(shown.to_string().contains("4.20 EUR"), "{shown}");
    undone(
        &desk,
        &["yarn", "edit", "Umberlin DK", "--name", "Umberlin"],
    );
    let projects = desk.text(&["project", "list", "--json"]);
    assert!(projects.contains("Umberlin\""), "{projects}");
    undone(&desk, &["swatch", "edit", "1", "--notes", "blocked hard"]);
    undone(&desk, &["swatch", "edit", "1", "--held-with", "Drindle"]);
    let history = desk.json(&["history", "yarn", "Drindle"]).to_string();
    let both =
        "swatch of Yeltamar, Umberlin + Quandrow, Drindle changed: held with: Quandrow, Drindle";
    assert!(history.contains(both), "{history}");
    undone(&desk, &["swatch", "edit", "1", "--held-with", ""]);
    undone(&desk, &["pattern", "rename", "Skerrablet", "Skerry jumper"]);
    let projects = desk.text(&["project", "list"]);
    assert!(projects.contains("Skerry jumper"), "{projects}");
    undone(
        &desk,
        &[
            "project",
            "edit",
            "For Ada",
            "--size",
            "L",
            "--without",
            "mohair",
        ],
    );
    let lot = lot(&desk, "Umberlin");
    undone(&desk, &["stock", "move", &lot, "the loft"]);
    let shade = desk.json(&["stock", "list", "Umberlin"]);
    let shade = rows(&shade)[0]["shade"].as_str().unwrap().to_owned();
    undone(&desk, &["yarn", "shade", "Umberlin", &shade, "storm"]);
    let stock = desk.text(&["stock", "list", "Umberlin"]);
    assert!(stock.contains("storm"), "{stock}");
}

#[test]
fn a_part_of_a_lot_is_moved_and_joins_what_is_there() {
    let desk = Desk::empty();
    desk.text(&[
        "yarn",
        "add",
        "--maker",
        "Quenby",
        "--name",
        "Marram",
        "50 g = 120 m, wool",
    ]);
    desk.text(&[
        "stock", "buy", "Marram", "5 balls", "--shade", "moss", "--place", "loft",
    ]);
    undone(&desk, &["stock", "move", "1", "window", "2 balls"]);
    desk.text(&["stock", "move", "1", "window", "50 g"]);
    let stock = desk.json(&["stock", "list"]);
    let held: Vec<(&str, &str)> = rows(&stock)
        .iter()
        .map(|row| {
            (
                row["place"].as_str().unwrap(),
                row["held"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(held, [("loft", "2 skeins"), ("window", "2 skeins + 50 g")]);
    desk.run(&["stock", "move", "1", "loft"])
        .code(2)
        .stderr("already");
    desk.run(&["stock", "move", "1", "window", "9 balls"])
        .code(1)
        .stderr("more than you have");
    desk.run(&["stock", "move", "77", "window"])
        .code(1)
        .stderr("no lot");
    desk.text(&["verify"]);
}

#[test]
fn a_project_takes_its_reservations_along_to_a_new_name() {
    let desk = desk();
    let lot = lot(&desk, "Umberlin DK");
    desk.text(&["stock", "reserve", &lot, "2 skeins", "--for", "For Ada"]);
    undone(&desk, &["project", "edit", "For Ada", "--name", "For Bo"]);
    let listed = desk.json(&["project", "list"]);
    assert!(listed.to_string().contains("2 skeins"), "{listed}");
    let reserved = desk.text(&["stock", "list"]);
    assert!(reserved.contains("2 skeins for For Bo"), "{reserved}");
    assert!(!reserved.contains("for For Ada"), "{reserved}");
    desk.run(&["project", "edit", "1"]).code(2).stderr("--name");
    desk.run(&["project", "edit", "1", "--size", "XXXL"])
        .code(1)
        .stderr("XXXL");
}

#[test]
fn a_yarn_entered_twice_is_merged_and_nothing_is_lost() {
    let desk = desk();
    desk.text(&[
        "yarn",
        "add",
        "--maker",
        "Ferivale",
        "--name",
        "Umberlin",
        "50 g = 120 m, 2900000000001, 3 mm",
        "--notes",
        "from the fair",
    ]);
    desk.text(&[
        "yarn",
        "edit",
        "Ferivale, Umberlin",
        "--care",
        "dry clean",
        "--shades",
        "storm",
    ]);
    desk.text(&[
        "stock",
        "buy",
        "Ferivale, Umberlin",
        "4 balls",
        "--shade",
        "storm",
        "--colour",
        "navy",
    ]);
    desk.text(&[
        "swatch",
        "add",
        "Ferivale, Umberlin",
        "--needle",
        "3 mm",
        "--after",
        "23 sts / 10 cm",
    ]);
    for (yarn, other) in [
        ("Drindle", "Ferivale, Umberlin"),
        ("Ferivale, Umberlin", "Umberlin DK"),
    ] {
        let swatch = ["--needle", "5 mm", "--after", "17 sts / 10 cm"];
        desk.text(&[&["swatch", "add", yarn, "--held-with", other], &swatch[..]].concat());
    }
    desk.text(&["project", "add", "Mirrowhist"]);
    desk.text(&["project", "pin", "Mirrowhist", "Ferivale, Umberlin"]);
    let merge = ["yarn", "merge", "Ferivale, Umberlin", "Umberlin DK"];
    let told = undone(&desk, &merge);
    let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("Ferivale, Umberlin merged into"), "{told}");
    assert!(flat.contains("1 lot, 3 swatches and 1 project"), "{told}");
    let doubled = "1 swatch held both together: it now holds Yeltamar, Umberlin DK more than once";
    assert!(flat.contains(doubled), "{told}");
    assert!(flat.contains("the other said `dry clean`"), "{told}");
    let stock = desk.text(&["stock", "list", "Umberlin DK", "--json"]);
    assert!(stock.contains("storm") && stock.contains("navy"), "{stock}");
    assert_eq!(
        rows(&desk.json(&["swatch", "list", "Umberlin DK"])).len(),
        4
    );
    let yarn = desk.text(&["yarn", "show", "Umberlin DK"]);
    let yarn = yarn.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        yarn.contains("from the fair") && yarn.contains("storm"),
        "{yarn}"
    );
    let projects = desk.text(&["project", "list", "--json"]);
    assert!(!projects.contains("Ferivale, Umberlin"), "{projects}");
    let history = desk.json(&["history", "yarn", "Umberlin DK"]).to_string();
    assert!(history.contains("Ferivale, Umberlin removed"), "{history}");
    assert!(history.contains("dry clean"), "{history}");
    desk.run(&merge).code(1).stderr("no yarn");
    desk.text(&["verify"]);
    let told = desk.text(&["undo"]);
    assert!(!told.contains("of ,") && !told.contains(" , "), "{told}");
}

#[test]
fn what_cannot_be_merged_is_told_and_changes_nothing() {
    let desk = desk();
    let before = all(&desk);
    desk.run(&["yarn", "merge", "Umberlin DK", "Umberlin DK"])
        .code(1)
        .stderr("name two yarns");
    desk.run(&["yarn", "merge", "Zzyx", "Umberlin DK"])
        .code(1)
        .stderr("no yarn");
    assert_eq!(all(&desk), before);
    for name in ["Marram", "Maram"] {
        desk.text(&[
            "yarn",
            "add",
            "--maker",
            "Quenby",
            "--name",
            name,
            "50 g = 120 m",
        ]);
        desk.text(&[
            "stock",
            "buy",
            &format!("Quenby, {name}"),
            "1 ball",
            "--shade",
            "moss",
        ]);
    }
    let before = all(&desk);
    desk.run(&["yarn", "merge", "Quenby, Maram", "Quenby, Marram"])
        .code(1)
        .stderr("nothing was merged");
    assert_eq!(all(&desk), before);
}

#[test]
fn lots_of_another_put_up_keep_it_in_a_merge() {
    let desk = Desk::empty();
    for (name, label) in [("Marram", "50 g = 120 m"), ("Maram", "100 g = 240 m")] {
        desk.text(&["yarn", "add", "--maker", "Quenby", "--name", name, label]);
    }
    desk.text(&[
        "stock",
        "buy",
        "Quenby, Maram",
        "3 balls",
        "--shade",
        "moss",
    ]);
    let metres = |desk: &Desk| {
        rows(&desk.json(&["stock", "list"]))[0]["held_m"]
            .as_f64()
            .unwrap()
    };
    let before = metres(&desk);
    desk.text(&["yarn", "merge", "Quenby, Maram", "Quenby, Marram"]);
    assert!((metres(&desk) - before).abs() < 1e-9 && (before - 720.0).abs() < 1e-9);
}

#[test]
fn bad_input_is_refused_with_what_to_type_and_keeps_nothing() {
    let desk = desk();
    let before = all(&desk);
    let refused: [(&[&str], i32, &str); 10] = [
        (&["yarn", "edit", "Umberlin DK"], 2, "--price"),
        (
            &["yarn", "edit", "Umberlin DK", "--mass", "heavy"],
            2,
            "heavy",
        ),
        (&["yarn", "edit", "Umberlin DK", "--name", ""], 2, "name"),
        (
            &["yarn", "edit", "Umberlin DK", "--gtin", "12345"],
            2,
            "12345",
        ),
        (
            &["yarn", "shade", "Umberlin DK", "no such", "moss"],
            1,
            "no shade",
        ),
        (&["swatch", "edit", "1"], 2, "--needle"),
        (&["swatch", "edit", "1", "--needle", "blunt"], 2, "blunt"),
        (&["swatch", "edit", "99", "--notes", "x"], 1, "no swatch"),
        (
            &["pattern", "rename", "Skerrablet", "Hobplate"],
            1,
            "already",
        ),
        (&["history", "lot", "many"], 1, "no lot"),
    ];
    for (command, code, told) in refused {
        desk.run(command).code(code).stderr(told);
    }
    assert_eq!(all(&desk), before);
}

#[test]
fn a_history_names_each_change_with_what_was_there_before() {
    let desk = desk();
    desk.text(&["yarn", "edit", "Umberlin DK", "--care", "hand wash"]);
    desk.text(&["yarn", "edit", "Umberlin DK", "--care", "dry clean"]);
    desk.text(&["undo"]);
    let history = desk.json(&["history", "yarn", "Umberlin DK"]);
    let rows = rows(&history);
    let fields = rows
        .iter()
        .flat_map(|row| row["fields"].as_array().unwrap());
    let care: Vec<_> = fields.filter(|field| field["field"] == "care").collect();
    assert_eq!(care.len(), 1, "{history}");
    assert_eq!(care[0]["after"], "hand wash");
    assert!(rows.last().unwrap()["undone_at"].is_string(), "{history}");
    let lot = lot(&desk, "Umberlin DK");
    desk.text(&["stock", "use", &lot, "1 skein", "--for", "a hat"]);
    let told = desk.text(&["history", "lot", &lot]);
    assert!(told.contains("1 skein used"), "{told}");
    for kind in [
        ["pattern", PATTERNS[0]],
        ["project", "For Ada"],
        ["swatch", "1"],
    ] {
        let told = desk.text(&["history", kind[0], kind[1]]);
        assert!(told.starts_with("History of"), "{told}");
    }
}

#[test]
fn a_text_of_once_makes_each_edit_once() {
    let desk = desk();
    let commands: [&[&str]; 6] = [
        &["yarn", "edit", "Umberlin DK", "--notes", "soft"],
        &["swatch", "edit", "1", "--notes", "soft"],
        &["project", "edit", "For Ada", "--size", "L"],
        &["stock", "move", "1", "window", "1 skein"],
        &["pattern", "rename", "Hobplate", "Hobpad"],
        &["yarn", "merge", "Grundlin DK", "Umberlin DK"],
    ];
    for (place, command) in commands.iter().enumerate() {
        let text = format!("text {place}");
        let once = [command, &["--once", &text][..]].concat();
        desk.text(&once);
        let after = all(&desk);
        let told = desk.text(&once);
        assert!(told.contains("nothing was changed"), "{told}");
        assert_eq!(all(&desk), after, "{command:?}");
    }
}

#[test]
fn the_history_of_what_is_gone_is_found_by_its_name() {
    let desk = Desk::with_sample();
    desk.text(&["yarn", "remove", "Nubrielle"]);
    for name in ["Nubrielle", "nubrielle"] {
        let told = desk.text(&["history", "yarn", name]);
        assert!(told.contains("removed"), "{told}");
    }
    desk.text(&["pattern", "remove", "Hobplate"]);
    assert!(
        desk.text(&["history", "pattern", "Hobplate"])
            .contains("removed")
    );
    desk.text(&["project", "add", "Skerrablet:M", "--name", "For Ada"]);
    desk.text(&["project", "edit", "For Ada", "--name", "For Ida"]);
    let told = desk.text(&["history", "project", "For Ada"]);
    assert!(told.contains("For Ida, was For Ada"), "{told}");
    desk.text(&["project", "remove", "For Ida"]);
    assert!(
        desk.text(&["history", "project", "For Ida"])
            .contains("removed")
    );
    desk.run(&["history", "yarn", "Nothing like it"]).code(1);
    // One that is there counts before one that is gone.
    desk.text(&["yarn", "merge", "Grundlin DK", "Umberlin DK"]);
    let told = desk.text(&["history", "yarn", "Grundlin DK"]);
    assert!(told.contains("Grundlin DK"), "{told}");
}

/// A lot, a swatch and a yarn may have the same number.
#[test]
fn the_history_of_a_yarn_is_headed_by_its_name() {
    let desk = Desk::empty();
    let name = ["--maker", "Quenby", "--name", "Marram"];
    desk.text(&[&["yarn", "add", "50 g = 120 m"], &name[..]].concat());
    desk.text(&["stock", "buy", "Marram", "2 balls", "--shade", "moss"]);
    let history = desk.json(&["history", "yarn", "Marram"]);
    assert_eq!(history["headline"], "History of yarn Quenby, Marram");
}
