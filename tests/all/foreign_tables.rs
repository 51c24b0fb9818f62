//! Tables of others, invented, as people and shops have them: headed in English, German,
//! French, Dutch, Spanish and Danish (words of the trade; common practice, no source),
//! with titles, sums, merged and empty cells, other encodings, decimal commas.

use crate::desk::{Desk, root};
use std::{fs, path::PathBuf};

fn table(name: &str) -> String {
    let path: PathBuf = root().join("tests/all/foreign").join(name);
    path.to_str().unwrap().to_owned()
}

/// Imports a table with answers, and gives what it said.
fn import(desk: &Desk, name: &str, answers: &[&str]) -> String {
    let file = table(name);
    desk.text(&[&["import", "table", file.as_str(), "--yes"], answers].concat())
}

#[test]
fn each_table_is_taken_with_one_answer_at_most() {
    let cases: [(&str, &[&str], usize, usize); 10] = [
        ("en-knitter.csv", &[], 3, 4),
        ("en-stash.csv", &[], 2, 3),
        ("de-supplier.csv", &[], 2, 0),
        ("fr-reserve.tsv", &[], 2, 2),
        ("nl-winkel.csv", &[], 2, 2),
        ("es-tienda.csv", &["--amounts", "skeins"], 2, 2),
        ("da-lager.csv", &[], 2, 2),
        ("en-merged.csv", &[], 3, 0),
        ("de-metrage.csv", &[], 1, 1),
        ("us-shop.csv", &["--amounts", "skeins"], 2, 2),
    ];
    for (name, answers, yarns, lots) in cases {
        let desk = Desk::empty();
        let said = import(&desk, name, answers);
        let listed = desk.json(&["yarn", "list"]);
        assert_eq!(
            listed["rows"].as_array().unwrap().len(),
            yarns,
            "{name}\n{said}"
        );
        let stock = desk.json(&["stock", "list"]);
        assert_eq!(
            stock["rows"].as_array().unwrap().len(),
            lots,
            "{name}\n{said}"
        );
        desk.text(&["verify"]);
        // What was taken is the same a second time.
        let again = import(&desk, name, answers);
        let did = |word: &str| again.lines().any(|line| line.trim().starts_with(word));
        assert!(
            did("already there") && !did("added") && !did("changed"),
            "{name}\n{again}"
        );
    }
}

#[test]
fn lengths_masses_and_prices_are_those_of_the_table() {
    let cases = [
        ("en-stash.csv", "Moorfoot", "137 yd", "50 g", ""),
        (
            "en-knitter.csv",
            "Brackwater Worsted",
            "1100 yd",
            "8.8 oz",
            "$19.50",
        ),
        (
            "de-supplier.csv",
            "Weißbruch",
            "1050 m",
            "100 g",
            "19.90 EUR",
        ),
        ("fr-reserve.tsv", "Linotte", "210 m", "25 g", ""),
        ("nl-winkel.csv", "Rietsok", "420 m", "100 g", "9,95 €"),
        ("es-tienda.csv", "Cierzo", "115 m", "50 g", "3.75 EUR"),
        ("da-lager.csv", "Tangvig", "175 m", "50 g", "38.50 DKK"),
        ("en-merged.csv", "Fenland Chunky", "110 m", "100 g", "£7.90"),
        ("de-metrage.csv", "Sandlauf Fein", "210 m", "50 g", ""),
        (
            "us-shop.csv",
            "Oat Fingering",
            "437 yd",
            "3.5 oz",
            "16.00 USD",
        ),
    ];
    for (file, name, length, mass, price) in cases {
        let desk = Desk::empty();
        let answers: &[&str] = match file {
            "es-tienda.csv" | "us-shop.csv" => &["--amounts", "skeins"],
            _ => &[],
        };
        import(&desk, file, answers);
        desk.text(&["export", "yarns", "out.csv"]);
        let text = fs::read_to_string(desk.path("out.csv")).unwrap();
        let row = text.lines().find(|line| line.contains(name)).unwrap();
        for cell in [length, mass, price] {
            assert!(row.contains(cell), "{file}: {cell} in {row}");
        }
    }
}

#[test]
fn what_is_read_is_shown_and_nothing_is_changed_before_it_is_wanted() {
    let desk = Desk::empty();
    let file = table("de-supplier.csv");
    let look = desk.json(&["import", "table", &file]);
    assert_eq!(look["row_count"], 3);
    assert_eq!(look["read_as"], "text in windows-1252");
    let fields: Vec<&str> = look["columns"]
        .as_array()
        .unwrap()
        .iter()
        .map(|column| column["field"].as_str().unwrap_or("-"))
        .collect();
    let expected = [
        "maker", "name", "shade", "length", "mass", "fibre", "gtin", "price",
    ];
    assert_eq!(fields, expected);
    assert_eq!(look["left_out"][0]["line"], 7);
    assert_eq!(look["changes"][0]["added"], 2);
    assert_eq!(
        desk.json(&["yarn", "list"])["rows"]
            .as_array()
            .unwrap()
            .len(),
        0
    );
}

#[test]
fn what_nobody_can_know_is_asked_and_remembered_under_a_name() {
    let desk = Desk::empty();
    let text = "Artikel,Length,Price\nBarrow,125 m / 50 g,6.50\n";
    fs::write(desk.path("list.csv"), text).unwrap();
    let refused = desk
        .run(&["import", "table", "list.csv", "--yes"])
        .code(1)
        .err;
    assert!(
        refused.contains("--maker") && refused.contains("--currency"),
        "{refused}"
    );
    let said = [
        "--maker",
        "Quenby",
        "--currency",
        "GBP",
        "--layout",
        "supplier",
        "--yes",
    ];
    desk.text(&[&["import", "table", "list.csv"], &said[..]].concat());
    let text = text.replace("6.50", "7.25");
    fs::write(desk.path("list.csv"), text).unwrap();
    let again = [
        "import", "table", "list.csv", "--layout", "supplier", "--update", "--yes",
    ];
    let told = desk.text(&again);
    assert!(told.contains("7.25 GBP"), "{told}");
}

#[test]
fn a_table_of_prices_changes_prices_and_nothing_else() {
    let desk = Desk::empty();
    import(&desk, "de-supplier.csv", &[]);
    desk.text(&["export", "yarns", "before.csv"]);
    import(&desk, "prices-by-number.csv", &["--update"]);
    desk.text(&["export", "yarns", "after.csv"]);
    let before = fs::read_to_string(desk.path("before.csv")).unwrap();
    let after = fs::read_to_string(desk.path("after.csv")).unwrap();
    let expected = before
        .replace("6.50 EUR", "\"6,80 EUR\"")
        .replace("19.90 EUR", "\"21,00 EUR\"");
    assert_eq!(after, expected);
    // And back.
    desk.text(&["undo"]);
    desk.text(&["export", "yarns", "undone.csv"]);
    assert_eq!(fs::read_to_string(desk.path("undone.csv")).unwrap(), before);
}

#[test]
fn thirty_rows_with_faults_are_thirty_lines_and_nothing_is_taken() {
    let desk = Desk::empty();
    let mut text = "Marke;Garn;Gewicht;Lauflänge (m)\nQuenby;Moor;50 g;125\n".to_owned();
    for row in 0..30 {
        let mass = if row % 2 == 0 { "schwer" } else { "leicht" };
        text += &format!("Quenby;Moor {row};{mass};125\n");
    }
    fs::write(desk.path("list.csv"), text).unwrap();
    let refused = desk
        .run(&["import", "table", "list.csv", "--yes"])
        .code(1)
        .err;
    let faults = refused
        .lines()
        .filter(|line| line.contains(", mass:"))
        .count();
    assert_eq!(faults, 30, "{refused}");
    assert_eq!(
        desk.json(&["yarn", "list"])["rows"]
            .as_array()
            .unwrap()
            .len(),
        0
    );
}

/// The list of the sample stash: a title, a sum, a mass in a head, an article number in
/// each row, and no maker.
#[test]
fn a_list_that_names_no_maker_asks_for_it() {
    let desk = Desk::with_sample();
    let file = crate::desk::sample("supplier.csv");
    let look = desk.json(&["import", "table", &file]);
    let questions = look["questions"].as_array().unwrap();
    assert_eq!(questions.len(), 1, "{look}");
    desk.text(&["import", "table", &file, "--maker", "Zellandine", "--yes"]);
    desk.text(&["export", "yarns", "out.csv"]);
    let text = fs::read_to_string(desk.path("out.csv")).unwrap();
    assert!(
        text.contains("Zellandine,Dunlorn Sport,145 m,50 g"),
        "{text}"
    );
    assert!(text.contains("moor|kiesel"), "{text}");
}

/// A supplier's list of 3,000 rows; printed, not judged: a time is no test.
#[test]
fn three_thousand_rows_are_taken() {
    let desk = Desk::empty();
    let mut text = "Hersteller;Garn;Farbe;Lauflänge (m);Gewicht (g);Preis €\n".to_owned();
    for row in 0..3000 {
        text += &format!("Quenby;Moor {};s{};125;50;6,50\n", row / 4, row % 4);
    }
    fs::write(desk.path("list.csv"), text).unwrap();
    let start = std::time::Instant::now();
    desk.text(&["import", "table", "list.csv", "--yes"]);
    println!("3,000 rows in {:?}", start.elapsed());
    assert_eq!(
        desk.json(&["yarn", "list", "Moor 7"])["rows"][0]["maker"],
        "Quenby"
    );
}

/// What cannot be right is refused with its line, and the records stay as they were.
#[test]
fn bad_tables_are_refused_and_nothing_is_lost() {
    let desk = Desk::empty();
    import(&desk, "de-supplier.csv", &[]);
    desk.text(&["export", "yarns", "before.csv"]);
    let before = fs::read(desk.path("before.csv")).unwrap();
    let long = "W".repeat(10_000);
    let heads = "Maker,Yarn,Length,Weight,Price,Skeins";
    let row = |cells: &str| format!("{heads}\n{cells}\n");
    let cases = [
        (String::new(), "no rows"),
        ("\n\n".to_owned(), "no rows"),
        ("one two three\n".to_owned(), "name of the yarn"),
        ("a,b,c\n1,2,3\n".to_owned(), "name of the yarn"),
        (row("Quenby,Dune,NaN m,50 g,,"), "line 2, length"),
        (row("Quenby,Dune,inf,50 g,,"), "line 2, length"),
        (row("Quenby,Dune,-5 m,50 g,,"), "line 2, length"),
        (row("Quenby,Dune,1e300 m,50 g,,"), "line 2, length"),
        (
            row("Quenby,Dune,99999999999999999999 m,50 g,,"),
            "line 2, length",
        ),
        (row("Quenby,Dune,125 m,50 g,6.50 ZZZ,"), "line 2, price"),
        (row("Quenby,Dune,125 m,50 g,,-3"), "line 2, amount"),
        (row(&format!("Quenby,{long},125 m,50 g,,")), "line 2, name"),
    ];
    for (text, expected) in cases {
        fs::write(desk.path("bad.csv"), &text).unwrap();
        let refused = desk
            .run(&["import", "table", "bad.csv", "--yes"])
            .code(1)
            .err;
        assert!(refused.contains(expected), "{expected} in {refused:.300}");
    }
    desk.text(&["export", "yarns", "after.csv"]);
    assert_eq!(fs::read(desk.path("after.csv")).unwrap(), before);
}

/// Answers that cannot be right are refused with what may be written.
#[test]
fn bad_answers_are_refused_with_what_may_be_written() {
    let desk = Desk::empty();
    let file = table("us-shop.csv");
    for (option, value, expected) in [
        ("--currency", "pounds of wool", "three letters"),
        ("--lengths", "parsec", "m or yd"),
        ("--weights", "stone", "g or oz"),
        ("--amounts", "handfuls", "skeins, g or oz"),
        ("--column", "Nowhere=name", "Manufacturer"),
        ("--column", "Qty=quantity", "amount"),
        ("--column", "Qty", "the head of a column"),
    ] {
        let told = desk
            .run(&["import", "table", &file, option, value])
            .code(2)
            .err;
        assert!(told.contains(expected), "{option} {value}: {told}");
    }
}

const TWICE: &str = "Brand,Yarn,Notes,Notes,Skeins,Colour,Colour code\n\
                     Quenby,Moor,soft,125 m,3,sea,#2f6f8f\nQuenby,Fen,splits,90 m,2,moss,\n";

#[test]
fn of_two_columns_with_one_head_each_is_named_by_its_number() {
    let desk = Desk::empty();
    let file = desk.write("twice.csv", TWICE);
    let table = |more: &[&str]| desk.run(&[&["import", "table", &file], more].concat());
    let shown = table(&[]).success().out;
    assert!(shown.contains("#4"), "{shown}");
    table(&["--column", "Notes=length"])
        .code(2)
        .stderr("#3 or #4");
    table(&["--column", "#9=length"]).code(2).stderr("#9");
    table(&["--column", "#4=length", "--layout", "twice", "--yes"]).success();
    let yarns = desk.json(&["yarn", "show", "Moor"]);
    assert!(yarns["details"].to_string().contains("125 m"), "{yarns}");
    // What was remembered counts for the next table of these columns.
    let more = desk.write(
        "more.csv",
        TWICE.replace("Fen,splits,90 m", "Heath,splits,80 m"),
    );
    desk.text(&[
        "import", "table", &more, "--layout", "twice", "--update", "--yes",
    ]);
    let yarn = desk.text(&["yarn", "show", "Heath"]);
    assert!(yarn.contains("80 m"), "{yarn}");
}

#[test]
fn the_colour_of_a_shade_is_taken_from_its_column_where_there_are_lots() {
    let desk = Desk::empty();
    let file = desk.write("twice.csv", TWICE);
    desk.text(&["import", "table", &file, "--yes"]);
    let lots = desk.json(&["stock", "list", "Moor"]);
    assert_eq!(lots["rows"][0]["shade"], "sea");
    assert_eq!(lots["rows"][0]["colour_hex"], "#2f6f8f");
    // A list of prices has no lots that could have it.
    let prices = desk.write(
        "prices.csv",
        "Brand,Yarn,Price,Hex\nQuenby,Moor,4.50 EUR,#112233\n",
    );
    let look = desk.json(&["import", "table", &prices, "--update"]);
    let hex = look["columns"].as_array().unwrap().iter();
    let hex = hex.filter(|column| column["column"] == "Hex");
    assert!(
        hex.into_iter().all(|column| column["field"].is_null()),
        "{look}"
    );
}

#[test]
fn remembered_layouts_are_listed_and_removed() {
    let desk = Desk::empty();
    assert!(
        desk.text(&["import", "layouts"])
            .contains("No layout is remembered")
    );
    let file = desk.write("twice.csv", TWICE);
    desk.text(&[
        "import",
        "table",
        &file,
        "--column",
        "#4=length",
        "--layout",
        "twice",
        "--yes",
    ]);
    let listed = desk.json(&["import", "layouts"]);
    assert_eq!(listed["rows"][0]["name"], "twice");
    assert_eq!(listed["rows"][0]["said"][0]["text"], "#4=length");
    desk.run(&["import", "layouts", "--remove", "thrice"])
        .code(1)
        .stderr("twice");
    for times in 0..2 {
        let told = desk.text(&["import", "layouts", "--remove", "twice", "--once", "tidy"]);
        assert_eq!(told.contains("nothing was changed"), times > 0, "{told}");
    }
    assert!(
        desk.text(&["import", "layouts"])
            .contains("No layout is remembered")
    );
}
