//! The shop floor: lots named by barcode, sales, reservations by customer, what runs low,
//! and a count of the shelves.

use crate::desk::Desk;
use serde_json::Value;
use std::thread;

const BARCODE: &str = "2900328717698";

fn rows(answer: &Value) -> &Vec<Value> {
    answer["rows"].as_array().unwrap()
}

/// What is left of every lot, and what of it is reserved.
fn stock(desk: &Desk) -> Vec<(String, String, String)> {
    let listed = desk.json(&["stock", "list"]);
    let text = |row: &Value, field: &str| row[field].as_str().unwrap().to_owned();
    let lots = rows(&listed).iter();
    lots.map(|row| {
        let number = row["number"].to_string();
        (number, text(row, "held"), text(row, "reserved"))
    })
    .collect()
}

fn held(desk: &Desk, lot: &str) -> String {
    let stock = stock(desk);
    let mut lots = stock.into_iter();
    lots.find(|(number, ..)| number == lot).unwrap().1
}

/// The number of the only lot of Umberlin DK, of ten skeins.
fn lot(desk: &Desk) -> String {
    let listed = desk.json(&["stock", "list", "Umberlin DK"]);
    rows(&listed)[0]["number"].to_string()
}

#[test]
fn yarn_is_sold_and_reserved_by_its_barcode() {
    let desk = Desk::with_sample();
    let lot = lot(&desk);
    desk.text(&["stock", "reserve", BARCODE, "4", "--for", "Anna"]);
    desk.run(&["stock", "sell", BARCODE, "7"])
        .code(1)
        .stderr("release");
    let told = desk.text(&["stock", "sell", BARCODE, "3", "--for", "anna"]);
    assert!(
        told.contains("Recorded: 3 skeins sold to anna. Left: 7 skeins"),
        "{told}"
    );
    let listed = desk.json(&["stock", "reservations"]);
    assert_eq!(rows(&listed)[0]["reserved"], "1 skein", "{listed}");
    desk.text(&["undo"]);
    assert_eq!(held(&desk, &lot), "10 skeins");
    let listed = desk.json(&["stock", "reservations", "Anna"]);
    assert_eq!(rows(&listed)[0]["reserved"], "4 skeins", "{listed}");
    for times in 0..2 {
        let told = desk.text(&["stock", "sell", BARCODE, "6", "--once", "till 9"]);
        assert_eq!(told.contains("nothing was changed"), times > 0, "{told}");
    }
    assert_eq!(held(&desk, &lot), "4 skeins");
    desk.text(&["verify"]);
}

#[test]
fn of_several_lots_one_must_be_meant() {
    let desk = Desk::with_sample();
    let before = stock(&desk);
    let refused = desk.run(&["stock", "sell", "Palvetta DK", "1"]).code(1);
    let refused = refused.stderr("there are several lots");
    assert!(refused.err.contains("P-07"), "{}", refused.err);
    desk.run(&["stock", "use", "Palvetta DK", "1", "--lot", "no such"])
        .code(1)
        .stderr("no such lot");
    desk.run(&["stock", "sell", "12345678", "1"])
        .code(2)
        .stderr("12345678");
    desk.run(&["stock", "sell", BARCODE, "many"])
        .code(2)
        .stderr("many");
    desk.run(&["stock", "sell", BARCODE, "20"])
        .code(1)
        .stderr("more than you have");
    assert_eq!(stock(&desk), before);
    desk.text(&["stock", "sell", "Palvetta DK", "1", "--lot", "P-07"]);
    assert_ne!(stock(&desk), before);
    desk.text(&["undo"]);
    assert_eq!(stock(&desk), before);
}

#[test]
fn what_is_reserved_for_one_customer_is_released_as_one_change() {
    let desk = Desk::with_sample();
    let before = stock(&desk);
    desk.text(&["stock", "reserve", BARCODE, "2", "--for", "Anna"]);
    desk.text(&["stock", "reserve", "Hathrel DK", "1", "--for", "Anna"]);
    desk.text(&["stock", "reserve", "Hathrel DK", "2", "--for", "Bo"]);
    let with_all = stock(&desk);
    let told = desk.text(&["stock", "reservations"]);
    assert!(
        told.find("Anna").unwrap() < told.find("Bo").unwrap(),
        "{told}"
    );
    desk.text(&["stock", "reservations", "anna", "--release"]);
    let listed = desk.json(&["stock", "reservations"]);
    assert_eq!(rows(&listed).len(), 1, "{listed}");
    desk.text(&["undo"]);
    assert_eq!(stock(&desk), with_all);
    desk.run(&["stock", "reservations", "Cleo"])
        .code(1)
        .stderr("nothing is reserved for `Cleo`");
    desk.run(&["stock", "reservations", "--release"]).code(2);
    for whom in ["Anna", "Bo"] {
        desk.text(&["stock", "reservations", whom, "--release"]);
    }
    assert_eq!(stock(&desk), before);
    assert!(
        desk.text(&["stock", "reservations"])
            .contains("Nothing is reserved.")
    );
}

#[test]
fn a_count_tells_its_differences_and_books_them_as_one_change() {
    let desk = Desk::with_sample();
    let (before, lot) = (stock(&desk), lot(&desk));
    // Scanned nine times, a lot by its number, one by its name.
    let scans = [BARCODE; 9].join("\n");
    let file = desk.write(
        "count.txt",
        format!("{scans}\n\nOstrick DK = 10 balls\nHathrel DK; 6\n"),
    );
    let told = desk.json(&["stock", "count", &file]);
    let differing = rows(&told).iter().filter(|row| row["differs"] == true);
    let differing: Vec<_> = differing
        .map(|row| row["counted"].as_str().unwrap())
        .collect();
    assert_eq!(differing, ["9 skeins", "10 skeins"], "{told}");
    assert_eq!(
        told["not_counted"].as_array().unwrap().len(),
        before.len() - 3 - empty(&before)
    );
    assert_eq!(stock(&desk), before, "nothing is booked yet");
    let told = desk.text(&["stock", "count", &file, "--book"]);
    assert!(
        told.contains("3 lots counted: 2 differences recorded"),
        "{told}"
    );
    assert_eq!(held(&desk, &lot), "9 skeins");
    let again = desk.text(&["stock", "count", &file, "--book"]);
    assert!(again.contains("all as recorded"), "{again}");
    desk.text(&["undo"]);
    assert_eq!(stock(&desk), before);
    desk.text(&["verify"]);
}

fn empty(stock: &[(String, String, String)]) -> usize {
    stock
        .iter()
        .filter(|(_, held, _)| held == "0 skeins")
        .count()
}

#[test]
fn a_count_with_faults_names_every_line_and_books_nothing() {
    let desk = Desk::with_sample();
    let before = stock(&desk);
    let file = desk.write(
        "count.txt",
        "Umberlin DK = 3\nZzyx = 2\nOstrick DK = lots\nPalvetta DK\n",
    );
    let refused = desk.run(&["stock", "count", &file, "--book"]).code(2);
    for part in [
        "line 2: `Zzyx = 2`",
        "line 3: `Ostrick DK = lots`",
        "there are several lots",
    ] {
        assert!(refused.err.contains(part), "{part}: {}", refused.err);
    }
    let empty = desk.write("empty.txt", "\n \n");
    desk.run(&["stock", "count", &empty, "--book"])
        .code(2)
        .stderr("nothing was counted");
    assert_eq!(stock(&desk), before);
    let other = desk.write("loft.txt", "Umberlin DK = 10\n");
    let told = desk.json(&["stock", "count", &other, "--place", "loft"]);
    let places = told["not_counted"].as_array().unwrap().len();
    assert!(places > 0 && places < before.len() - 1, "{told}");
}

#[test]
fn what_runs_low_is_listed_from_the_least_on() {
    let desk = Desk::with_sample();
    let few = rows(&desk.json(&["stock", "low"])).len();
    let more = rows(&desk.json(&["stock", "low", "12"])).len();
    assert!(few < more, "{few} {more}");
    let listed = desk.json(&["stock", "low", "12"]);
    let free: Vec<f64> = rows(&listed)
        .iter()
        .map(|row| row["free_skeins"].as_f64().unwrap())
        .collect();
    assert!(
        free.is_sorted() && free.iter().all(|it| *it < 12.0),
        "{free:?}"
    );
    // What is reserved cannot be sold to others.
    desk.text(&["stock", "reserve", BARCODE, "9", "--for", "Anna"]);
    let told = desk.text(&["stock", "low"]);
    assert!(told.contains("Umberlin DK"), "{told}");
    desk.run(&["stock", "low", "0"]).code(2);
}

#[test]
fn sales_at_two_tills_sell_no_ball_twice() {
    let desk = Desk::with_sample();
    let lot = lot(&desk);
    let sold: usize = thread::scope(|scope| {
        let tills = (0..4).map(|_| {
            scope.spawn(|| {
                let sales = (0..4).map(|_| desk.run(&["stock", "sell", BARCODE, "1"]).status);
                sales.filter(|status| *status == 0).count()
            })
        });
        let tills: Vec<_> = tills.collect();
        tills.into_iter().map(|till| till.join().unwrap()).sum()
    });
    assert_eq!(sold, 10, "there were ten");
    assert_eq!(held(&desk, &lot), "0 skeins");
    desk.text(&["verify"]);
}

/// Yarns of the sample stash with many skeins are low where they say so.
#[test]
fn a_yarn_says_itself_how_few_are_low() {
    let desk = Desk::with_sample();
    let low = |arguments: &[&str]| {
        let listed = desk.json(&[&["stock", "low"], arguments].concat());
        let names = rows(&listed).iter().map(|row| row["yarn"].to_string());
        names.collect::<Vec<_>>().join(";")
    };
    assert!(!low(&[]).contains("Umberlin DK"));
    desk.text(&["yarn", "edit", "Umberlin DK", "--low", "11"]);
    assert!(low(&[]).contains("Umberlin DK"));
    let told = desk.text(&["stock", "low"]);
    assert!(told.contains("low below"), "{told}");
    // What is asked for counts for all.
    assert!(!low(&["10"]).contains("Umberlin DK"));
    desk.text(&["yarn", "edit", "Umberlin DK", "--low", ""]);
    assert!(!low(&[]).contains("Umberlin DK"));
    for bad in ["0", "1001", "few"] {
        desk.run(&["yarn", "edit", "Umberlin DK", "--low", bad])
            .code(2)
            .stderr("low");
    }
}

#[test]
fn the_same_count_is_recorded_once_whatever_was_sold_since() {
    let desk = Desk::with_sample();
    let lot = lot(&desk);
    let file = desk.write("count.txt", format!("{BARCODE} = 9\n"));
    let book = ["stock", "count", &file, "--book", "--once", "May"];
    let told = desk.text(&book);
    assert!(told.contains("1 difference recorded"), "{told}");
    desk.text(&["stock", "sell", BARCODE, "2"]);
    let told = desk.json(&book);
    assert!(
        told["warnings"].to_string().contains("nothing was changed"),
        "{told}"
    );
    assert_eq!(held(&desk, &lot), "7 skeins");
    let other = desk.write("count.txt", format!("{BARCODE} = 8\n"));
    desk.run(&["stock", "count", &other, "--book", "--once", "May"])
        .code(1);
    assert_eq!(held(&desk, &lot), "7 skeins");
}

const OTHER_BARCODE: &str = "4006381333931";

#[test]
fn the_second_barcode_of_a_merged_yarn_is_found_by_scanning_it() {
    let desk = Desk::with_sample();
    desk.text(&["yarn", "edit", "Grundlin DK", "--gtin", OTHER_BARCODE]);
    desk.text(&["yarn", "merge", "Grundlin DK", "Umberlin DK"]);
    for code in [BARCODE, OTHER_BARCODE, "04006381333931"] {
        let shown = desk.text(&["yarn", "show", code]);
        assert!(shown.contains("Umberlin DK"), "{code}: {shown}");
        assert!(shown.contains(OTHER_BARCODE), "{code}: {shown}");
    }
    // A price list that has the second one leaves the first.
    let prices = desk.write(
        "prices.csv",
        format!("gtin;price\n{OTHER_BARCODE};4,40 EUR\n"),
    );
    desk.text(&["import", "table", &prices, "--update", "--yes"]);
    let shown = desk.text(&["yarn", "show", BARCODE]);
    assert!(shown.contains("4,40 EUR"), "{shown}");
    // Both go through a table and back.
    let table = desk.path("yarns.csv").display().to_string();
    desk.text(&["export", "yarns", &table]);
    let other = Desk::empty();
    other.text(&["import", "yarns", &table]);
    assert!(
        other
            .text(&["yarn", "show", OTHER_BARCODE])
            .contains("Umberlin DK")
    );
    desk.text(&["undo"]);
    desk.text(&["undo"]);
    assert!(
        desk.text(&["yarn", "show", OTHER_BARCODE])
            .contains("Grundlin DK")
    );
    desk.run(&["yarn", "edit", "Umberlin DK", "--gtin", "4006381333931|12"])
        .code(2)
        .stderr("gtin");
    desk.text(&["verify"]);
}
