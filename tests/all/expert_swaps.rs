//! Swaps with the verdict that an experienced knitter gives: common practice, no
//! source. `tests/cases/expert-swaps.csv` holds what is wanted, the yarn, options as
//! typed in a shell, the verdicts that are acceptable (`should could wont cannot`),
//! and words of which one must occur in the answer.

use crate::desk::{Desk, root};
use std::collections::HashMap;

type Row = HashMap<String, String>;

fn rows() -> Vec<Row> {
    let file = root().join("tests/cases/expert-swaps.csv");
    let mut table = csv::Reader::from_path(file).unwrap();
    table.deserialize().map(Result::unwrap).collect()
}

/// Words as a shell parts them, with double quotes.
fn typed(options: &str) -> Vec<String> {
    let (mut words, mut quoted) = (vec![String::new()], false);
    for letter in options.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().unwrap().push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

fn short(verdict: &str) -> &'static str {
    match verdict {
        "should work" => "should",
        "could work, if ..." => "could",
        "cannot say" => "cannot",
        "will not work" => "wont",
        other => panic!("{other}"),
    }
}

/// Whether an answer about one size is read at a glance: 24 lines of 80 columns.
fn is_brief(text: &str) -> bool {
    text.lines().count() <= 24 && text.lines().all(|line| line.chars().count() <= 80)
}

/// What is wrong with the answer to one swap, if anything.
fn failure(row: &Row, desk: &Desk) -> Option<String> {
    let mut asked = vec!["check", "--wants", &row["wants"], "--yarn", &row["yarn"]];
    let options = typed(&row["options"]);
    asked.extend(options.iter().map(String::as_str));
    let answer = desk.json(&asked);
    let verdict = short(answer["verdict"].as_str().unwrap());
    let conditions = answer["conditions"].as_array().unwrap().len();
    let brief = desk.text(&asked);
    let text = desk.text(&[asked.as_slice(), &["--details"]].concat());
    let text: Vec<&str> = text.split_whitespace().collect();
    let text = text.join(" ").to_lowercase();
    let mut mention = row["mention"].split('|');
    let mut wrong = Vec::new();
    if !row["accept"].split(' ').any(|accepted| accepted == verdict) {
        wrong.push(format!("{verdict}, where {} is right", row["accept"]));
    }
    if !mention.any(|word| text.contains(&word.to_lowercase())) {
        wrong.push(format!("nothing of {}", row["mention"]));
    }
    if (verdict == "could") != (conditions > 0) {
        wrong.push(format!("{verdict} with {conditions} conditions"));
    }
    if !is_brief(&brief) {
        wrong.push(format!("longer than 24 lines of 80 columns:\n{brief}"));
    }
    (!wrong.is_empty()).then(|| {
        format!(
            "{}: {} ({})\n{text}",
            row["id"],
            wrong.join("; "),
            row["why"]
        )
    })
}

#[test]
fn the_verdict_is_that_of_an_experienced_knitter() {
    let (desk, rows) = (Desk::empty(), rows());
    assert!(rows.len() >= 44, "{} swaps", rows.len());
    let failures: Vec<String> = rows.iter().filter_map(|row| failure(row, &desk)).collect();
    assert!(
        failures.is_empty(),
        "{} of {}:\n{}",
        failures.len(),
        rows.len(),
        failures.join("\n\n")
    );
}

/// Every yarn of the sample stash for a size of each of its patterns.
#[test]
fn an_answer_about_one_size_fits_one_screen() {
    let desk = Desk::with_sample();
    let stock = desk.json(&["stock", "list"]);
    let lots = stock["rows"].as_array().unwrap();
    let mut yarns: Vec<&str> = lots
        .iter()
        .map(|lot| lot["yarn"].as_str().unwrap())
        .collect();
    yarns.dedup();
    assert!(yarns.len() >= 20, "{}", yarns.len());
    let questions = [
        ["--pattern", "Skerrablet", "--size", "M"].as_slice(),
        &["--pattern", "Hobplate"],
        &["--pattern", "Mirrowhist"],
    ];
    for (place, yarn) in yarns.iter().enumerate() {
        let question = questions[place % questions.len()];
        let asked = [&["check", "--yarn", yarn], question].concat();
        let said = desk.text(&asked);
        assert!(is_brief(&said), "{asked:?}\n{said}");
    }
}
