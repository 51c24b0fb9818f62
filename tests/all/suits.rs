//! The other way round: the patterns that a yarn would work for, and what could replace
//! it in those that call for it.

use crate::desk::{Desk, as_number};
use serde_json::Value;

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

/// The line about one yarn of a pattern.
fn line<'a>(told: &'a Value, pattern: &str, key: &str) -> &'a Value {
    let mut lines = list(&told["patterns"]).iter();
    let found = lines.find(|line| line["pattern"] == pattern && line["yarn"] == key);
    found.unwrap_or_else(|| panic!("{pattern} {key}: {told}"))
}

const YARNS: [&str; 8] = [
    "Hathrel DK",
    "Umberlin DK",
    "Brockavane",
    "Saddlereed DK",
    "Bellaquist",
    "Hobbelin",
    "Tessimoor",
    "50 g = 125 m, 100% wool, plied, 22 sts / 10 cm",
];

/// For each yarn of each pattern the answer is the one that `check` gives for that
/// pattern: verdict, difference, skeins of each size and whether the stash has enough.
#[test]
fn prop_each_line_says_what_check_says() {
    let desk = Desk::with_sample();
    let patterns = ["Skerrablet", "Jotterhelm", "Mirrowhist", "Hobplate"];
    for yarn in YARNS {
        let suits = desk.json(&["suits", yarn]);
        assert_eq!(list(&suits["patterns"]).len(), 5, "{suits}");
        for pattern in patterns {
            let check = desk.json(&["check", "--pattern", pattern, "--yarn", yarn]);
            for role in list(&check["roles"]) {
                let key = role["yarn"].as_str().unwrap();
                let line = line(&suits, pattern, key);
                for field in ["verdict", "overall"] {
                    assert_eq!(line[field], role[field], "{yarn}: {pattern} {key}");
                }
                let of_role = |field: &str| {
                    let lines = list(&check[field]).iter();
                    lines.filter(|line| line["yarn"] == key).collect::<Vec<_>>()
                };
                let (skeins, cover) = (of_role("skeins"), of_role("cover"));
                let sizes = list(&line["sizes"]);
                assert_eq!(sizes.len(), skeins.len(), "{line}");
                for (size, bought) in sizes.iter().zip(&skeins) {
                    assert_eq!(size["size"], bought["size"]);
                    assert_eq!(size["skeins"], bought["skeins"]);
                    let covers = cover.iter().find(|it| it["size"] == size["size"]);
                    if let Some(covers) = covers {
                        assert_eq!(size["enough"], covers["covers"], "{yarn}: {line}");
                    }
                }
            }
        }
    }
}

/// 9 balls of 182 m are 1638 m, 17 balls of 100 m; 6 balls of 100 m are 7 of 90 m; 12
/// balls of 133 m are 1596 m, 11 balls of 149 m. Nothing is added, as in hand sums.
#[test]
fn skeins_are_those_that_one_reckons_by_hand() {
    for (own, balls, new, skeins) in [
        ("182 m / 91 g", 9, "50 g = 100 m", 17),
        ("100 m / 50 g", 6, "45 g = 90 m", 7),
        ("133 m / 50 g", 12, "56 g = 149 m", 11),
    ] {
        let desk = Desk::empty();
        let wants = format!("Fellwick ({own}, 100% wool), {balls} balls; 22 sts to 10 cm");
        let add = ["pattern", "add", "Orrinhap", "--purpose", "accessory"];
        desk.text(&[&add[..], &["--wants", &wants]].concat());
        let yarn = format!("{new}, 100% wool, 22 sts / 10 cm");
        let suits = desk.json(&["suits", &yarn, "--margin", "0%"]);
        let line = line(&suits, "Orrinhap", "A");
        assert_eq!(line["verdict"], "should work", "{suits}");
        assert_eq!(as_number(&line["sizes"][0]["skeins"]), f64::from(skeins));
        assert!(line["sizes"][0]["enough"].is_null(), "{line}");
    }
}

#[test]
fn the_best_come_first_and_the_headline_names_them() {
    let desk = Desk::with_sample();
    let told = desk.json(&["suits", "Hathrel DK"]);
    assert_eq!(told["headline"], "It should work for Skerrablet.");
    assert_eq!(told["patterns"][0]["pattern"], "Skerrablet");
    let text = desk.text(&["suits", "Hathrel DK"]);
    assert!(text.contains("enough for 4 of 6 sizes"), "{text}");
    let refused = "It will not work for Hobplate, Mirrowhist and Jotterhelm.";
    let evenly = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(evenly.contains(refused), "{text}");
    let all = desk.text(&["suits", "Hathrel DK", "--details"]);
    assert!(all.contains("Mirrowhist: will not work"), "{all}");
    assert!(
        all.contains("Skerrablet  M          6   87.60 GBP  enough"),
        "{all}"
    );
}

#[test]
fn what_cannot_be_judged_is_told_with_its_reason() {
    let desk = Desk::with_sample();
    let text = desk.text(&["suits", "100% wool"]);
    assert!(text.contains("cannot say yet"), "{text}");
    assert_eq!(text.matches("cannot say yet").count(), 1, "{text}");
}

#[test]
fn wrong_names_and_no_patterns_lead_on() {
    let desk = Desk::with_sample();
    let near = desk.run(&["suits", "Umbrlin DK"]).code(1);
    assert!(near.err.contains("did you mean"), "{}", near.err);
    let near = desk.run(&["replace", "Umbrlin DK"]).code(1);
    assert!(near.err.contains("did you mean"), "{}", near.err);
    let bad = desk
        .run(&["suits", "Hathrel DK", "--tolerance", "much"])
        .code(2);
    assert!(bad.err.contains("--tolerance"), "{}", bad.err);
    assert_eq!(bad.err.matches("--tolerance").count(), 1, "{}", bad.err);
    let none = desk.text(&["replace", "Umberlin DK"]);
    assert!(
        none.contains("None of your patterns calls for it"),
        "{none}"
    );
    for pattern in ["Skerrablet", "Jotterhelm", "Mirrowhist", "Hobplate"] {
        desk.text(&["pattern", "remove", pattern]);
    }
    let none = desk.text(&["suits", "Hathrel DK"]);
    assert!(none.contains("`pattern add`"), "{none}");
    assert_eq!(
        list(&desk.json(&["suits", "Hathrel DK"])["patterns"]).len(),
        0
    );
}

/// A candidate is judged as `check` judges it for that yarn of the pattern, and is
/// never the yarn itself, nor one to buy that is discontinued.
#[test]
fn what_replaces_a_yarn_says_what_check_says() {
    let desk = Desk::with_sample();
    for (yarn, pattern, key) in [
        ("Grundlin DK", "Skerrablet", "A"),
        ("Brockavane", "Jotterhelm", "CC"),
        ("Quandrow, Oskirry Aran", "Jotterhelm", "MC"),
    ] {
        let told = desk.json(&["replace", yarn, "--top", "4"]);
        assert_eq!(list(&told["patterns"]).len(), 1, "{told}");
        let candidates = list(&line(&told, pattern, key)["candidates"]);
        assert!(candidates.len() > 2, "{told}");
        for found in candidates {
            let name = found["candidate"].as_str().unwrap();
            assert_ne!(found["candidate"], told["replaced"]);
            assert!(found["from"] == "stash" || found["discontinued"] == false);
            let one = ["check", "--pattern", pattern, "--for", key, "--yarn", name];
            let check = desk.json(&one);
            assert_eq!(found["verdict"], check["verdict"], "{name}");
            assert_eq!(found["overall"], check["overall"], "{name}");
            let skeins = |of: &Value| {
                let counts = list(of).iter().map(|size| size["skeins"].clone());
                counts.collect::<Vec<_>>()
            };
            assert_eq!(skeins(&found["sizes"]), skeins(&check["skeins"]), "{name}");
        }
    }
}

#[test]
fn a_yarn_that_only_a_pattern_names_is_replaced_too() {
    let desk = Desk::with_sample();
    let wants = "Fellwick DK (100% wool; 120 m / 50 g), 5 balls; 22 sts to 10 cm on 4 mm";
    let add = ["pattern", "add", "Orrinhap", "--purpose", "accessory"];
    desk.text(&[&add[..], &["--wants", wants]].concat());
    let told = desk.json(&["replace", "fellwick dk"]);
    assert!(!list(&line(&told, "Orrinhap", "A")["candidates"]).is_empty());
    let near = desk.run(&["replace", "Felwick DK"]).code(1);
    assert!(
        near.err.contains("did you mean Fellwick DK?"),
        "{}",
        near.err
    );
}

#[test]
fn fibres_to_avoid_are_never_named_instead() {
    let desk = Desk::with_sample();
    let told = desk.json(&["replace", "Grundlin DK", "--without", "wool"]);
    let blends = desk.text(&["export", "yarns"]);
    for found in list(&line(&told, "Skerrablet", "A")["candidates"]) {
        let name = found["candidate"].as_str().unwrap().split(", ").last();
        let row = blends.lines().find(|row| row.contains(name.unwrap()));
        assert!(!row.unwrap().contains("wool"), "{found}");
    }
}

/// The best of the stash is in the first line, for the one pattern that calls for it.
#[test]
fn what_replaces_a_yarn_in_one_pattern_is_named_first() {
    let told = Desk::with_sample().json(&["replace", "Grundlin DK"]);
    let headline = told["headline"].as_str().unwrap();
    assert_eq!(
        headline,
        "Vorrelith, Hathrel DK should work best for Skerrablet."
    );
}

/// What can hurt someone is said wherever a yarn is named for a piece: a hot pad still burns.
#[test]
fn cautions_are_said_of_each_pattern_and_project() {
    let desk = Desk::with_sample();
    let caution = "Hobplate: fibres that do not melt still burn";
    for asked in [
        vec!["suits", "Ambrelisse"],
        vec!["plan", "Hobplate", "Hobplate"],
        vec!["plan", "Hobplate", "--from", "catalogue"],
        vec!["replace", "Plattenock Cotton"],
    ] {
        let said = desk.text(&asked);
        assert_eq!(said.matches(caution).count(), 1, "{asked:?}: {said}");
    }
    let fields = desk.json(&["replace", "Plattenock Cotton"]);
    let first = &fields["patterns"][0]["candidates"][0];
    assert!(!list(&first["cautions"]).is_empty(), "{fields}");
    let fields = desk.json(&["suits", "Ambrelisse"]);
    let of_pad = &line(&fields, "Hobplate", "A")["cautions"];
    assert!(!list(of_pad).is_empty(), "{fields}");
}

#[test]
fn a_yarn_that_works_but_is_not_as_wished_is_not_said_not_to_work() {
    let desk = Desk::with_sample();
    let asked = ["suits", "Palvetta DK"];
    let plain = desk.text(&asked);
    assert!(plain.contains("It should work for"), "{plain}");
    let wished = desk.text(&[&asked[..], &["--max-cost", "1 GBP"]].concat());
    assert!(wished.contains("Nothing is as you wish."), "{wished}");
    assert!(!wished.contains("for any of"), "{wished}");
}
