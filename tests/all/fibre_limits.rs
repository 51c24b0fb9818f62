//! Fibres that the asker must keep away from, through the whole program. The yarns are
//! invented.

use crate::desk::Desk;

const WANTS: &str = "DK, 225 m/100 g, 22 sts / 10 cm, 100% wool, plied";
const YARNS: &str = "maker,name,length,mass,class,fibre,gauge
Quay,Gannet,225 m,100 g,DK,100% wool,22 sts / 10 cm
Quay,Petrel,225 m,100 g,DK,100% acrylic,22 sts / 10 cm
Quay,Skua,224 m,100 g,DK,98% acrylic 2% wool,22 sts / 10 cm
Quay,Tern,226 m,100 g,DK,100% cotton,22 sts / 10 cm
Quay,Shag,225 m,100 g,DK,unknown,22 sts / 10 cm
Quay,Fulmar,225 m,100 g,DK,95% cotton 5% elastodiene,22 sts / 10 cm
";

fn desk() -> Desk {
    let desk = Desk::empty();
    let table = desk.write("yarns.csv", YARNS);
    desk.run(&["import", "yarns", &table]).success();
    desk
}

fn names(answer: &serde_json::Value) -> Vec<String> {
    let candidates = answer["candidates"].as_array().unwrap();
    let mut names: Vec<String> = candidates
        .iter()
        .map(|found| found["candidate"].as_str().unwrap().to_owned())
        .collect();
    names.sort();
    names
}

fn find(desk: &Desk, options: &[&str]) -> serde_json::Value {
    let mut asked = vec!["find", "--top", "20"];
    asked.extend(options);
    desk.json(&asked)
}

#[test]
fn a_list_leaves_out_what_the_asker_avoids_and_what_is_not_known_and_counts_both() {
    let desk = desk();
    let answer = find(&desk, &["--wants", WANTS, "--without", "wool"]);
    assert_eq!(
        names(&answer),
        ["Quay, Fulmar", "Quay, Petrel", "Quay, Tern"]
    );
    assert_eq!(answer["without"], serde_json::json!(["wool"]));
    let left_out =
        serde_json::json!([{"why": "wool", "yarns": 2}, {"why": "fibre not known", "yarns": 1}]);
    assert_eq!(answer["left_out"], left_out);
    let text = desk.text(&["find", "--wants", WANTS, "--without", "wool"]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("3 left out: 2 with wool, 1 of unknown fibre"),
        "{text}"
    );
}

#[test]
fn words_of_the_wish_say_the_same_as_the_option() {
    let desk = desk();
    for (words, options) in [
        ("no wool", ["--without", "wool"]),
        ("wool free", ["--without", "wool"]),
        ("vegan", ["--without", "animal"]),
        ("without latex", ["--without", "rubber"]),
    ] {
        let bare = "DK, 225 m/100 g, 22 sts / 10 cm";
        let said = find(&desk, &["--wants", &format!("{bare}, {words}")]);
        let chosen = find(&desk, &[&["--wants", bare][..], &options].concat());
        assert_eq!(names(&said), names(&chosen), "{words}");
        assert_eq!(said["without"], chosen["without"], "{words}");
    }
}

#[test]
fn only_leaves_out_everything_else() {
    let answer = find(&desk(), &["--wants", WANTS, "--only", "plant"]);
    assert_eq!(names(&answer), ["Quay, Tern"]);
}

#[test]
fn a_yarn_asked_about_that_holds_it_will_not_work_and_that_comes_first() {
    let asked = [
        "check",
        "--wants",
        WANTS,
        "--yarn",
        WANTS,
        "--without",
        "animal",
    ];
    let answer = Desk::empty().json(&asked);
    assert_eq!(answer["verdict"], "will not work");
    let first = answer["roles"][0]["reasons"][0].as_str().unwrap();
    assert!(first.contains("animal fibre"), "{first}");
}

#[test]
fn a_yarn_of_unknown_fibre_is_never_passed_where_something_is_avoided() {
    let yarn = "DK, 225 m/100 g, 22 sts / 10 cm, plied";
    let asked = [
        "check",
        "--wants",
        WANTS,
        "--yarn",
        yarn,
        "--without",
        "latex",
    ];
    let answer = Desk::empty().json(&asked);
    assert_eq!(answer["verdict"], "cannot say");
    let first = answer["roles"][0]["reasons"][0].as_str().unwrap();
    assert!(first.contains("label"), "{first}");
}

#[test]
fn a_word_that_is_no_fibre_is_refused_with_what_is_allowed() {
    let asked = [
        "check",
        "--wants",
        WANTS,
        "--yarn",
        WANTS,
        "--without",
        "hedgehog",
    ];
    let refused = Desk::empty().run(&asked).code(2);
    refused
        .stderr("--without")
        .stderr("hedgehog")
        .stderr("animal");
}
