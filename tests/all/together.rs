//! Different yarns held together as one strand.

use crate::desk::{Desk, as_number, ask};
use serde_json::Value;

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

const WANTED: [&str; 5] = [
    "check",
    "--wants",
    "50 g = 120 m, 100% wool, plied, DK, 22 sts / 10 cm",
    "--need",
    "1000 m",
];

fn held(yarns: &[&str]) -> Value {
    let yarns = yarns.iter().flat_map(|yarn| ["--yarn", yarn]);
    ask(&WANTED.into_iter().chain(yarns).collect::<Vec<_>>())
}

/// Worked by hand, common practice, no source: 100 m of the first weigh 25 g, of the
/// second 50 g x 100 / 300 = 16.667 g, together 41.667 g: 240 m/100 g, as wanted. Each
/// has the length of the cloth: 1000 m and a tenth to spare are 5.5 balls of 200 m and
/// 3.67 of 300 m. Of each 100 g 60 g are of the first: 60 % wool and 40 % silk.
#[test]
fn masses_per_metre_and_blends_add_and_each_yarn_is_bought_for_the_whole_length() {
    let told = held(&[
        "50 g = 200 m, 100% wool, plied",
        "50 g = 300 m, 100% silk, plied",
    ]);
    let departures = list(&told["departures"]);
    let of = |criterion: &str| {
        let mut found = departures.iter();
        found.find(|it| it["criterion"] == criterion).unwrap()
    };
    assert!((as_number(&of("grist")["offered_number"]) - 240.0).abs() < 1e-9);
    assert!(as_number(&of("grist")["departure"]) < 1e-9);
    assert_eq!(of("fibre")["offered"], "60% wool, 40% silk");
    assert_eq!(of("weight class")["departure"], 0.0);
    assert!(
        told["roles"][0]["reasons"]
            .to_string()
            .contains("predicted"),
        "{told}"
    );
    assert_eq!(told["verdict"], "should work");
    let [wool, silk] = list(&told["yarns"]).as_slice() else {
        panic!("{told}")
    };
    for (row, skeins, share) in [(wool, 6, 60.0), (silk, 4, 40.0)] {
        assert_eq!(row["skeins"], skeins);
        assert_eq!(row["need_m"], 1000.0);
        assert!((as_number(&row["share_percent"]) - share).abs() < 1e-9);
    }
    assert_eq!(told["skeins"], serde_json::json!([]));
}

/// Common practice, no source: two strands of one yarn halve its metres per 100 g, so two
/// yarns that are alike come to what `--strands 2` of one comes to.
#[test]
fn two_yarns_that_are_alike_are_two_strands_of_one() {
    let (one, other) = (
        "50 g = 240 m, 100% wool, plied",
        "100 g = 480 m, 100% wool, plied",
    );
    let pair = held(&[one, other]);
    let both = ask(&[&WANTED[..], &["--yarn", one, "--strands", "2"]].concat());
    let grist = |told: &Value| {
        let mut found = list(&told["departures"]).iter();
        let found = found.find(|it| it["criterion"] == "grist").unwrap();
        as_number(&found["offered_number"])
    };
    assert!((grist(&pair) - 240.0).abs() < 1e-9 && (grist(&both) - 240.0).abs() < 1e-9);
    assert_eq!(pair["verdict"], both["verdict"]);
}

/// Common practice, no source: mohair with fingering makes DK. Worked by hand: 100 m of
/// the fingering weigh 30.3 g, of the mohair 11.9 g: together 42.2 g, which is 237 m/100 g.
#[test]
fn mohair_beside_smooth_yarn_is_told_in_numbers_and_could_work_for_who_likes_a_halo() {
    let mohair = "25 g = 210 m, 70% mohair 30% silk, brushed";
    let told = held(&["100 g = 330 m, 100% wool, plied", mohair]);
    assert_eq!(told["verdict"], "could work, if ...");
    let conditions = told["conditions"].to_string();
    assert!(conditions.contains("If you like a halo"), "{conditions}");
    let departures = list(&told["departures"]).iter();
    let grist = departures.clone().find(|it| it["criterion"] == "grist");
    let metres = as_number(&grist.unwrap()["offered_number"]);
    assert!((metres - 100.0 / (100.0 / 330.0 + 25.0 / 210.0)).abs() < 1e-9);
    // More than half of the strand is mohair: nothing can be said of its length.
    let told = held(&["100 g = 900 m, 100% wool, plied", mohair]);
    let mut departures = list(&told["departures"]).iter();
    assert!(!departures.any(|it| it["criterion"] == "grist"), "{told}");
}

#[test]
fn the_order_of_the_yarns_changes_nothing_but_the_order() {
    let yarns = [
        "50 g = 200 m, wool",
        "25 g = 210 m, mohair, brushed",
        "50 g = 400 m, silk",
    ];
    let (told, turned) = (
        held(&[yarns[0], yarns[1], yarns[2]]),
        held(&[yarns[2], yarns[0], yarns[1]]),
    );
    assert_eq!(told["verdict"], turned["verdict"]);
    assert_eq!(list(&told["yarns"]).len(), 3);
    for row in list(&told["yarns"]) {
        let skeins = |told: &Value| {
            let mut rows = list(&told["yarns"]).iter();
            rows.find(|it| it["yarn"] == row["yarn"]).unwrap()["skeins"].clone()
        };
        assert_eq!(skeins(&told), skeins(&turned));
    }
}

#[test]
fn the_stash_covers_each_yarn_or_says_of_which_it_is_short() {
    let desk = Desk::with_sample();
    let question = [
        "check",
        "--pattern",
        "Skerrablet",
        "--size",
        "M",
        "--yarn",
        "Drindle",
        "--yarn",
        "Kettrine Sock",
    ];
    let told = desk.json(&question);
    let enough = |row: &Value| row["enough_in_stock"].as_bool().unwrap();
    let covers: Vec<bool> = list(&told["yarns"]).iter().map(enough).collect();
    assert_eq!(covers, [true, false]);
    let text = desk.text(&question);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "6 skeins of Quandrow, Drindle and 4 skeins of Thrumwick Yard, Kettrine Sock (83.20 GBP)",
        "enough of Quandrow, Drindle; 2 short of Thrumwick Yard, Kettrine Sock",
    ] {
        assert!(text.contains(part), "{text}");
    }
}

#[test]
fn four_yarns_are_refused_with_what_to_do() {
    let desk = Desk::with_sample();
    let refused = |yarns: &[&str], says: &str| {
        let yarns = yarns.iter().flat_map(|yarn| ["--yarn", yarn]);
        let question = ["check", "--pattern", "Skerrablet"]
            .into_iter()
            .chain(yarns);
        desk.run(&question.collect::<Vec<_>>()).code(2).stderr(says);
    };
    refused(
        &["Drindle", "Mizzlet", "Sifflane", "Hathrel DK"],
        "at most 3",
    );
}

const FIND: [&str; 5] = ["find", "--pattern", "Skerrablet", "--size", "M"];

/// Each pair of the list is what `check` says of its two yarns, also of one yarn twice.
#[test]
fn the_best_pairs_are_told_as_check_tells_them() {
    let desk = Desk::with_sample();
    let told = desk.json(&[&FIND[..], &["--together", "2", "--top", "8"]].concat());
    let candidates = list(&told["candidates"]);
    assert_eq!((candidates.len(), &told["together"]), (8, &2.into()));
    for found in candidates {
        let names: Vec<&str> = found["candidate"].as_str().unwrap().split(" + ").collect();
        let [one, other] = names.as_slice() else {
            panic!("{found}")
        };
        let asked = ["--yarn", one, "--yarn", other];
        let checked = desk.json(&[&["check"], &FIND[1..], &asked].concat());
        assert_eq!(found["verdict"], checked["verdict"], "{found}");
        assert_eq!(found["overall"], checked["overall"], "{found}");
        assert_eq!(found["yarns"], checked["yarns"], "{found}");
    }
}

#[test]
fn threes_are_found_in_the_stash_and_refused_elsewhere() {
    let desk = Desk::with_sample();
    let threes = [&FIND[..], &["--together", "3"]].concat();
    desk.run(&threes).code(2).stderr("in your stash only");
    let told = desk.json(&[&threes[..], &["--from", "stash"]].concat());
    assert_eq!(list(&told["candidates"]).len(), 5);
    let text = desk.text(&[&threes[..], &["--from", "stash"]].concat());
    assert!(text.contains("3 strands of"), "{text}");
    let unknown = ["find", "--wants", "DK, 22 sts / 10 cm", "--together", "2"];
    desk.run(&unknown).code(2).stderr("metres per 100 g");
}

/// A fibre that is left out is left out of every part, and the cost is that of both.
#[test]
fn wishes_hold_for_each_yarn_of_a_pair_and_the_cost_for_both() {
    let desk = Desk::with_sample();
    let pairs = [&FIND[..], &["--together", "2", "--top", "50"]].concat();
    let wished = ["--without", "mohair", "--max-cost", "80 GBP"];
    let told = desk.json(&[&pairs[..], &wished].concat());
    assert!(!list(&told["candidates"]).is_empty());
    for found in list(&told["candidates"]) {
        let cost = |row: &Value| -> f64 {
            let text = row["cost"].as_str().unwrap();
            let (amount, currency) = text.split_once(' ').unwrap();
            assert_eq!(currency, "GBP");
            amount.parse().unwrap()
        };
        let sum: f64 = list(&found["yarns"]).iter().map(cost).sum();
        assert!(sum <= 80.0 + 1e-9, "{found}");
    }
}

/// The sample stash with a washed swatch of two of its yarns, held together.
fn with_a_swatch_of_two(stitches: &str) -> Desk {
    let desk = Desk::with_sample();
    let counted = format!("{stitches} sts / 10 cm");
    let swatch = ["--needle", "4 mm", "--after", &counted];
    let add = ["swatch", "add", "Drindle", "--held-with", "Mizzlet"];
    desk.text(&[&add[..], &swatch].concat());
    desk
}

/// What `check` says of these yarns, with the reason of each difference.
fn checked(desk: &Desk, yarns: &[&str]) -> Value {
    let yarns = yarns.iter().flat_map(|yarn| ["--yarn", yarn]);
    let question = ["check"].into_iter().chain(FIND.into_iter().skip(1));
    desk.json(&question.chain(yarns).collect::<Vec<_>>())
}

fn stitches(told: &Value) -> f64 {
    let mut found = list(&told["departures"]).iter();
    let gauge = found.find(|it| it["criterion"] == "gauge").unwrap();
    as_number(&gauge["offered_number"])
}

#[test]
fn a_swatch_of_two_yarns_counts_for_both_held_together_in_any_order() {
    let desk = with_a_swatch_of_two("21.9");
    for yarns in [["Drindle", "Mizzlet"], ["Mizzlet", "Drindle"]] {
        let told = checked(&desk, &yarns);
        assert!((stitches(&told) - 21.9).abs() < 1e-9, "{told}");
        assert!(told.to_string().contains("your washed swatch"), "{told}");
    }
    let with = ["--with", "A=Mizzlet", "--with", "A=Drindle"];
    let told = desk.json(&[&["check"], &FIND[1..], &with].concat());
    assert!(told.to_string().contains("your washed swatch"), "{told}");
}

#[test]
fn a_swatch_of_two_yarns_says_nothing_of_either_nor_of_another_strand() {
    let (desk, bare) = (with_a_swatch_of_two("21.9"), Desk::with_sample());
    for yarns in [
        &["Drindle"][..],
        &["Mizzlet"],
        &["Drindle", "Drindle", "Mizzlet"],
        &["Drindle", "Sifflane"],
    ] {
        assert_eq!(checked(&desk, yarns), checked(&bare, yarns));
    }
    let found = |desk: &Desk| desk.json(&[&FIND[..], &["--top", "60"]].concat());
    assert_eq!(found(&desk), found(&bare));
}

/// Two strands of one yarn are one strand whether they are named twice or counted.
#[test]
fn a_swatch_of_two_strands_of_one_yarn_counts_for_both_ways_to_ask() {
    let swatches = [
        &["--before", "21.9 sts / 10 cm, 2 strands"][..],
        &["--held-with", "Drindle", "--before", "21.9 sts / 10 cm"],
    ];
    for swatch in swatches {
        let desk = Desk::with_sample();
        let add = ["swatch", "add", "Drindle", "--needle", "4 mm"];
        desk.text(&[&add[..], swatch].concat());
        let told = checked(&desk, &["Drindle", "Drindle"]);
        assert!((stitches(&told) - 21.9).abs() < 1e-9, "{told}");
        let counted = ["--yarn", "Drindle", "--strands", "2"];
        let told = desk.json(&[&["check"], &FIND[1..], &counted].concat());
        assert!((stitches(&told) - 21.9).abs() < 1e-9, "{told}");
        let alone = checked(&desk, &["Drindle"]).to_string();
        assert!(!alone.contains("your swatch"), "{alone}");
    }
}

/// What was measured moves a pair up, or down, from where a prediction put it.
#[test]
fn the_best_pairs_know_the_swatches_of_pairs() {
    let desk = Desk::with_sample();
    let pairs = [&FIND[..], &["--together", "2", "--top", "8"]].concat();
    let place = |pair: &str| {
        let told = desk.json(&pairs);
        let mut names = list(&told["candidates"]).iter();
        names.position(|it| it["candidate"] == pair).unwrap_or(8)
    };
    let twice = "Quandrow, Drindle + Quandrow, Drindle";
    let pair = "Quandrow, Fandrel Sport + Vorrelith, Sifflane";
    let (first, before) = (place(twice), place(pair));
    assert_eq!(first, 0);
    let swatch = |yarn, other, stitches| {
        let counted = format!("{stitches} sts / 10 cm");
        let needle = ["--needle", "4 mm", "--after", &counted];
        desk.text(&[&["swatch", "add", yarn, "--held-with", other], &needle[..]].concat());
    };
    swatch("Sifflane", "Fandrel Sport", 22);
    assert!(place(pair) < before);
    swatch("Drindle", "Drindle", 17);
    assert!(place(twice) > 0);
    let listed = desk.json(&["swatch", "list", "Fandrel Sport"]);
    assert_eq!(listed["rows"][0]["held_with"][0], "Vorrelith, Sifflane");
}
