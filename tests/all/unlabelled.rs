//! A ball without a label: kept as a yarn with the range that was measured, compared with
//! yarns of the records, used in answers, and named later.

use crate::{
    desk::Desk,
    web::{House, filled, query},
};
use serde_json::Value;

/// 10 m that weigh 4.1 g, of a ball of 187 g: some 244 m/100 g.
const BALL: [&str; 8] = [
    "--mass",
    "187 g",
    "--length",
    "10 m",
    "--weighs",
    "4.1 g",
    "--fine-scale",
    "0.1 g",
];

fn unlabelled<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&["unlabelled"], &BALL[..], more].concat()
}

fn kept() -> Desk {
    let desk = Desk::with_sample();
    desk.text(&unlabelled(&[
        "--keep",
        "grey cone",
        "--shade",
        "grey",
        "--place",
        "attic",
    ]));
    desk
}

#[test]
fn a_ball_is_kept_with_its_range_and_its_weight() {
    let desk = Desk::with_sample();
    let told = desk.text(&unlabelled(&["--keep", "grey cone", "--shade", "grey"]));
    for part in [
        "Unlabelled, grey cone saved",
        "243.9 m/100 g",
        "measured 238 to 250 m/100 g",
        "187 g (456 m)",
        "understudy yarn edit \"grey cone\"",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    let shown = desk.text(&["yarn", "show", "grey cone"]);
    assert!(shown.contains("length 10 m; weighs 4.1 g"), "{shown}");
    let lots = desk.json(&["stock", "list", "grey cone"]);
    let lot = &lots["rows"][0];
    assert_eq!(
        [&lot["held"], &lot["shade"]].map(|it| it.as_str().unwrap()),
        ["187 g", "grey"]
    );
    desk.run(&unlabelled(&["--keep", "grey cone"]))
        .code(1)
        .stderr("already a yarn");
    desk.text(&["undo"]);
    desk.run(&["yarn", "show", "grey cone"]).code(1);
    assert!(!desk.text(&["stock", "list"]).contains("grey cone"));
    desk.text(&["verify"]);
}

#[test]
fn the_same_ball_is_kept_once_under_its_text_and_without_a_name_it_is_not() {
    let desk = Desk::empty();
    for times in 0..2 {
        let told = desk.text(&unlabelled(&["--keep", "grey cone", "--once", "attic 1"]));
        assert_eq!(told.contains("nothing was changed"), times > 0, "{told}");
    }
    assert_eq!(
        desk.json(&["stock", "list"])["rows"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    desk.run(&unlabelled(&["--shade", "grey"])).code(2);
    desk.run(&unlabelled(&["--keep", " "]))
        .code(2)
        .stderr("keep");
}

#[test]
fn wraps_alone_keep_the_classes_that_are_possible_and_claim_no_length() {
    let desk = Desk::empty();
    desk.text(&[
        "unlabelled",
        "--wraps",
        "32",
        "--over",
        "2 in",
        "--keep",
        "blue",
    ]);
    let listed = desk.json(&["yarn", "list"]);
    let yarn = &listed["rows"][0];
    assert_eq!(yarn["m_per_100g"], Value::Null);
    assert_eq!(yarn["weight_classes"], serde_json::json!([0, 1, 2]));
    assert!(
        desk.json(&["stock", "list"])["rows"]
            .as_array()
            .unwrap()
            .is_empty()
    );
}

/// Yarns of the sample stash within 238 to 250 m/100 g are Hathrel DK (245), Grundlin DK
/// (240) and others; Umberlin DK has 190.
#[test]
fn yarns_of_the_records_that_it_could_be_are_listed_with_what_agrees_and_differs() {
    let desk = Desk::with_sample();
    let told = desk.json(&unlabelled(&["--wraps", "6", "--over", "1 in"]));
    let rows = told["could_be"]["rows"].as_array().unwrap();
    let found = |name: &str| {
        rows.iter()
            .find(|row| row["yarn"].as_str().unwrap().contains(name))
    };
    let hathrel = found("Hathrel DK").unwrap();
    assert_eq!(hathrel["in_stash"], true);
    assert_eq!(
        hathrel["agrees"],
        serde_json::json!(["measured off and weighed"])
    );
    assert_eq!(hathrel["differs"], serde_json::json!(["wraps"]));
    assert!(found("Umberlin DK").is_none());
    for row in rows {
        let grist = row["m_per_100g"].as_f64().unwrap();
        assert!((237.5..250.5).contains(&grist), "{row}");
    }
    // No records, nothing to compare with.
    let alone = Desk::empty().json(&unlabelled(&[]));
    assert_eq!(alone["could_be"], Value::Null);
}

#[test]
fn a_kept_ball_is_compared_by_what_became_known_of_it() {
    let desk = kept();
    desk.text(&["yarn", "edit", "grey cone", "--fibre", "100% cotton"]);
    let told = desk.json(&["yarn", "show", "grey cone"]);
    let rows = told["could_be"]["rows"].as_array().unwrap();
    let hathrel = rows
        .iter()
        .find(|row| row["yarn"].as_str().unwrap().contains("Hathrel DK"));
    let hathrel = hathrel.unwrap();
    assert_eq!(hathrel["agrees"], serde_json::json!(["metres per 100 g"]));
    assert_eq!(hathrel["differs"], serde_json::json!(["fibre"]));
    assert!(
        desk.json(&["yarn", "show", "Hathrel DK"])
            .get("could_be")
            .is_none()
    );
}

#[test]
fn its_range_stays_a_range_in_answers() {
    let desk = kept();
    let check = |more: &[&str]| {
        let asked = [
            "check",
            "--pattern",
            "Skerrablet",
            "--size",
            "M",
            "--yarn",
            "grey cone",
        ];
        desk.json(&[&asked, more].concat())
    };
    // 238 to 250 lies within 8 % of 240, and not within 3 %.
    let within = check(&[]);
    assert!(
        within["warnings"]
            .to_string()
            .contains("238 to 250 m/100 g"),
        "{within}"
    );
    assert!(
        !within["conditions"].to_string().contains("reaches beyond"),
        "{within}"
    );
    let beyond = check(&["--tolerance", "3%"]);
    assert_eq!(beyond["verdict"], "could work, if ...");
    assert!(
        beyond["conditions"]
            .to_string()
            .contains("238 to 250 m/100 g, which reaches beyond"),
        "{beyond}"
    );
    let found = desk.text(&[
        "find",
        "--pattern",
        "Skerrablet",
        "--size",
        "M",
        "--from",
        "stash",
        "--top",
        "40",
    ]);
    assert!(found.contains("grey cone"), "{found}");
}

#[test]
fn a_ball_that_gets_its_name_keeps_stock_swatches_and_history() {
    let desk = kept();
    desk.text(&[
        "swatch",
        "add",
        "grey cone",
        "--needle",
        "4 mm",
        "--after",
        "22 sts / 10 cm",
    ]);
    desk.text(&[
        "yarn",
        "edit",
        "grey cone",
        "--maker",
        "Quenby",
        "--name",
        "Sandgate",
    ]);
    let lots = desk.json(&["stock", "list", "Sandgate"]);
    assert_eq!(lots["rows"][0]["held"], "187 g");
    let swatches = desk.json(&["swatch", "list", "Sandgate"]);
    assert_eq!(swatches["rows"].as_array().unwrap().len(), 1);
    let history = desk.text(&["history", "yarn", "Sandgate"]);
    assert!(
        history.contains("name: Sandgate, was grey cone"),
        "{history}"
    );
    // With its label found, what that says counts.
    desk.text(&[
        "yarn", "edit", "Sandgate", "--length", "120 m", "--mass", "50 g",
    ]);
    let shown = desk.json(&["yarn", "list", "Sandgate"]);
    assert_eq!(shown["rows"][0]["m_per_100g"], 240.0);
    // It turns out to be a yarn that is known: its lot goes there.
    desk.text(&["yarn", "merge", "Sandgate", "Hathrel DK"]);
    let lots = desk.text(&["stock", "list", "Hathrel DK"]);
    assert!(lots.contains("187 g"), "{lots}");
    desk.text(&["verify"]);
}

#[test]
fn a_ball_goes_through_a_table_and_back() {
    let desk = kept();
    let table = desk.path("yarns.csv").display().to_string();
    desk.text(&["export", "yarns", &table]);
    let other = Desk::empty();
    other.text(&["import", "yarns", &table]);
    let shown = other.text(&["yarn", "show", "grey cone"]);
    assert!(shown.contains("measured 238 to 250 m/100 g"), "{shown}");
    desk.run(&[
        "yarn",
        "edit",
        "grey cone",
        "--count",
        "244 m/100 g (250 to 260)",
    ])
    .code(2)
    .stderr("does not lie in this range");
}

/// Nobody sells skeins of yarn that has no label: it is told in metres and grams.
#[test]
fn how_much_of_a_measured_ball_is_needed_is_told_in_what_is_known_of_it() {
    let desk = kept();
    for (command, needed) in [
        (
            &["check", "--yarn", "grey cone", "--pattern", "Skerrablet"][..],
            "m.",
        ),
        (
            &[
                "check",
                "--yarn",
                "grey cone",
                "--wants",
                "240 m/100 g",
                "--need",
                "1000 m",
            ],
            "need 1100 m (451 g). You have 456 m in grey: 644 m short.",
        ),
        (
            &[
                "check",
                "--yarn",
                "grey cone",
                "--wants",
                "240 m/100 g",
                "--need",
                "400 m",
            ],
            "need 440 m (180 g). You have enough in grey.",
        ),
    ] {
        let told = desk.text(command);
        let card: Vec<&str> = told.lines().skip(1).take(4).collect();
        let card = card.join(" ").replace("  ", " ");
        assert!(card.contains(needed), "{told}");
        assert!(!card.contains("skein"), "{told}");
    }
    let list = [
        "find",
        "--from",
        "stash",
        "--wants",
        "244 m/100 g",
        "--need",
        "1000 m",
        "--top",
        "40",
    ];
    let told = desk.text(&list);
    let row = told.lines().find(|line| line.contains("Unlabelled"));
    let row = row.unwrap_or_else(|| panic!("{told}"));
    assert!(
        row.contains("1100 m  ") && row.ends_with("  short"),
        "{told}"
    );
}

#[tokio::test]
async fn a_page_keeps_the_ball_and_goes_to_its_yarn() {
    let house = House::sample();
    let measured = [
        ("asked", "yes"),
        ("mass", "187 g"),
        ("length", "10 m"),
        ("weighs", "4.1 g"),
        ("fine-scale", "0.1 g"),
    ];
    let page = house
        .get(&format!("/unlabelled?{}", query(&measured)))
        .await
        .text;
    assert!(page.contains("Keep this ball"), "{page}");
    assert!(page.contains("Could be one of your yarns"), "{page}");
    let keep = &page[page.find("/unlabelled/keep").unwrap()..];
    let once = filled(keep, "once").to_owned();
    let mut typed = vec![
        ("once", once.as_str()),
        ("keep", "grey cone"),
        ("place", "attic"),
    ];
    typed.extend(&measured[1..]);
    let refused = [&[("once", "x")], &measured[1..]].concat();
    let told = house.post("/unlabelled/keep", &refused).await;
    assert_eq!(told.status.as_u16(), 422, "{}", told.text);
    for _ in 0..2 {
        let done = house.post("/unlabelled/keep", &typed).await;
        let next = done.place().to_owned();
        assert!(next.starts_with("/yarns/"), "{next}");
        let shown = house.get(&next).await.text;
        assert!(
            shown.contains("grey cone") && shown.contains("attic"),
            "{shown}"
        );
        assert!(shown.contains("238 to 250 m/100 g"), "{shown}");
    }
    assert_eq!(
        house.desk.json(&["stock", "list", "grey cone"])["rows"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
}
