//! A yarn for each colour of a pattern, and one shopping list, through the whole program.
//! The yarns are invented.

use crate::{
    desk::{Desk, as_number},
    web::{House, query},
};
use axum::http::StatusCode;
use serde_json::{Value, json};

const YARNS: &str = "maker,name,length,mass,class,fibre,gauge,price,shades
Quay,Gannet,120 m,50 g,DK,100% wool,22 sts / 10 cm,5.00 EUR,moss|ash|ember
Quay,Petrel,100 m,50 g,DK,100% wool,22 sts / 10 cm,4.00 EUR,
Quay,Boulder,60 m,100 g,super bulky,100% wool,8 sts / 10 cm,7.00 GBP,
";
const STOCK: &str = "maker,name,shade,lot,amount
Quay,Gannet,moss,1,3 skeins
Quay,Gannet,ash,1,1 skein
Quay,Petrel,ember,7,10 skeins
";
/// 200 m and 150 m are 220 m and 165 m with a tenth to spare.
const PATTERN: &str = r#"
pattern = "Tidemark"
purpose = "accessory"
fit = "relaxed"
gauge = "22 sts / 10 cm"
margin_included = false

[[size]]
name = "one size"

[[yarn]]
key = "MC"
put_up = "120 m / 50 g"
class = "DK"
fibre = "100% wool"
needs = "200 m"

[[yarn]]
key = "CC"
put_up = "120 m / 50 g"
class = "DK"
fibre = "100% wool"
needs = "150 m"
"#;

fn desk() -> Desk {
    let desk = Desk::empty();
    let files = [
        ("yarns", "yarns.csv", YARNS),
        ("stock", "stock.csv", STOCK),
        ("pattern", "tidemark.toml", PATTERN),
    ];
    for (kind, name, text) in files {
        let file = desk.write(name, text);
        desk.run(&["import", kind, &file]).success();
    }
    desk
}

fn asked(with: &[&str]) -> Value {
    let with = with.iter().flat_map(|yarn| ["--with", yarn]);
    let asked: Vec<&str> = ["check", "--pattern", "Tidemark"]
        .into_iter()
        .chain(with)
        .collect();
    desk().json(&asked)
}

fn rows(answer: &Value) -> Vec<Value> {
    answer["shopping"].as_array().cloned().unwrap_or_default()
}

#[test]
fn each_colour_is_judged_against_its_own_yarn_and_the_weakest_verdict_is_that_of_all() {
    let answer = asked(&["MC=Quay, Gannet", "CC=Quay, Boulder"]);
    let roles = answer["roles"].as_array().unwrap();
    let verdicts: Vec<&Value> = roles.iter().map(|role| &role["verdict"]).collect();
    assert_eq!(verdicts, ["should work", "will not work"]);
    assert_eq!(answer["verdict"], "will not work");
    assert_eq!(answer["candidate"], "Quay, Gannet and Quay, Boulder");
    assert_eq!(roles[1]["candidate"], "Quay, Boulder");
    // The rest of each role is in its own yarn: 220 m are 2 balls of 120 m, 165 m 3 of 60 m.
    let skeins = answer["skeins"].as_array().unwrap().iter();
    let skeins: Vec<(&Value, &Value)> = skeins.map(|it| (&it["yarn"], &it["skeins"])).collect();
    assert_eq!(
        skeins,
        [(&json!("MC"), &json!(2)), (&json!("CC"), &json!(3))]
    );
}

/// Moss holds 360 m: MC takes 220 m of it, which leaves 140 m for CC, 25 m short of 165 m.
/// One ball, and not the two that each colour alone would be counted as.
#[test]
fn two_colours_of_one_shade_add_up_before_balls_are_counted_and_no_ball_is_promised_twice() {
    let answer = asked(&["MC=Quay, Gannet:moss", "CC=Quay, Gannet:moss"]);
    let [line] = rows(&answer).try_into().unwrap();
    assert_eq!(line["for"], json!(["MC", "CC"]));
    assert_eq!(line["shade"], "moss");
    assert!((as_number(&line["need_m"]) - 350.0).abs() < 1e-9);
    // 385 m with the spare are 3.2 balls, and one by one 2 and 2.
    assert_eq!(
        (&line["skeins"], &line["buy_skeins"]),
        (&json!(4), &json!(1))
    );
    assert_eq!(line["cost"], "5.00 EUR");
    let missing: Vec<f64> = answer["cover"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|it| it["missing_m"].as_f64())
        .collect();
    assert!(
        missing.len() == 1 && (missing[0] - 25.0).abs() < 1e-9,
        "{answer}"
    );
}

#[test]
fn a_colour_whose_shade_is_named_has_it_before_one_that_takes_any() {
    let answer = asked(&["MC=Quay, Gannet", "CC=Quay, Gannet:moss"]);
    let shades: Vec<(Value, Value)> = rows(&answer)
        .iter()
        .map(|line| (line["for"].clone(), line["shade"].clone()))
        .collect();
    let of = |key: &str, shade: &str| (json!([key]), json!(shade));
    assert_eq!(shades, [of("MC", "ash"), of("CC", "moss")]);
    // Ash holds 120 m of the 220 m.
    assert_eq!(rows(&answer)[0]["buy_skeins"], 1);
    assert_eq!(rows(&answer)[1]["buy_skeins"], 0);
}

#[test]
fn a_colour_may_be_two_yarns_held_together_and_one_without_a_yarn_is_told() {
    let answer = asked(&["MC=Quay, Petrel", "MC=50 g = 800 m, 100% silk, lace"]);
    assert_eq!(answer["roles"].as_array().unwrap().len(), 1);
    let warnings = answer["warnings"].to_string();
    assert!(
        warnings.contains("No yarn is named for colour CC"),
        "{warnings}"
    );
    let yarns: Vec<Value> = rows(&answer)
        .iter()
        .map(|line| line["yarn"].clone())
        .collect();
    assert_eq!(yarns.len(), 2, "{answer}");
    assert_eq!(rows(&answer)[0]["buy_skeins"], 0);
}

#[test]
fn every_fault_of_the_yarns_of_colours_says_what_to_write() {
    let desk = desk();
    let refused = |options: &[&str], said: &[&str]| {
        let asked = [&["check", "--pattern", "Tidemark"][..], options].concat();
        let told = desk.run(&asked);
        assert_ne!(told.status, 0, "{options:?}");
        let told = told.err.replace(['\n', ' '], "");
        for said in said {
            assert!(
                told.contains(&said.replace(' ', "")),
                "{options:?}: {told} has no {said}"
            );
        }
    };
    refused(&["--with", "Quay, Gannet"], &["`MC=Quay, Gannet`"]);
    refused(&["--with", "XX=Quay, Gannet"], &["write MC or CC in front"]);
    refused(
        &["--with", "MC=Quay, Gannet:mos"],
        &["mos", "ash, ember or moss"],
    );
    refused(
        &["--with", "MC=Quay, Gannet", "--have", "3 balls"],
        &["--have"],
    );
    refused(
        &["--with", "MC=Quay, Gannet", "--yarn", "Quay, Petrel"],
        &["--with", "--yarn"],
    );
}

/// By hand: two strands of 240 m/100 g are 120, and 220 m of them take 440 m, 4 balls of 120.
#[test]
fn a_yarn_that_is_given_twice_for_a_colour_is_held_double() {
    let twice = ["--with", "MC=Quay, Gannet", "--with", "MC=Quay, Gannet"];
    let asked = [&["check", "--pattern", "Tidemark"][..], &twice].concat();
    let answer = desk().json(&asked);
    let offered = answer["roles"][0]["offered"].as_str().unwrap();
    assert!(offered.starts_with("120 m/100 g"), "{offered}");
    assert_eq!(answer["shopping"][0]["skeins"], 4, "{answer:#}");
}

#[tokio::test]
async fn the_page_takes_a_yarn_a_line_and_asks_again_for_a_name_that_is_unlike_any() {
    let house = House::on(desk(), |shop| shop);
    let asked = |with| {
        let sent = [("pattern", "1"), ("offered", "one"), ("with", with)];
        format!("/answer?{}", query(&sent))
    };
    let page = house
        .get(&asked("MC=Quay, Petrel\r\nCC=Quay, Gannet:moss"))
        .await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("Shopping list"), "{}", page.text);
    for yarn in ["Quay, Petrel", "Quay, Gannet"] {
        assert!(page.text.contains(&format!(">{yarn}</a>")), "{}", page.text);
    }
    let refused = house.get(&asked("MC=Quay, Petrel\r\nCC=Quay, Gannt")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let again = "CC%3DQuay%2C%20Gannet";
    assert!(refused.text.contains(again), "{}", refused.text);
    let both = [
        ("pattern", "1"),
        ("yarn", "Quay, Petrel"),
        ("with", "MC=Quay, Petrel"),
    ];
    let refused = house.get(&format!("/answer?{}", query(&both))).await;
    assert!(
        refused.text.contains("leave one of the two empty"),
        "{}",
        refused.text
    );
}
