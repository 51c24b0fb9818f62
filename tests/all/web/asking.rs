//! Asking and reading answers.

use super::{HOSTILE, House, filled, query};
use crate::desk::fields;
use axum::http::StatusCode;

const WANTS: &str = "9 balls of 50 g = 125 m each, 100% wool, DK, 22 sts x 30 rows / 10 cm";

fn asked(fields: &[(&str, &str)]) -> String {
    format!("/answer?{}", query(fields))
}

#[tokio::test]
async fn the_front_page_asks_and_offers_every_pattern_and_size() {
    let house = House::sample();
    let page = house.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    for part in [
        "<html lang=\"en-GB\">",
        "Skerrablet, every size",
        "Skerrablet, size M",
        "name=\"yarn\"",
        "href=\"#main\"",
    ] {
        assert!(page.text.contains(part), "{part}");
    }
    assert!(
        House::empty()
            .get("/")
            .await
            .text
            .contains("name=\"wants\"")
    );
}

#[tokio::test]
async fn one_yarn_is_judged_for_a_kept_pattern() {
    let house = House::sample();
    let page = house
        .get(&asked(&[
            ("pattern", "1"),
            ("offered", "one"),
            ("yarn", "Umberlin DK"),
        ]))
        .await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    for part in [
        "class=\"answer bad\"",
        "class=\"verdict\">Will not work: 21 % fewer",
        "<strong>12 (13, 14, 16, 19, 20) skeins</strong>",
        "class=\"reasons\"",
        "<svg",
        "<title",
        "aria-labelledby",
        "skeins</th>",
        "scope=\"col\"",
        "washed swatch",
        "role=\"region\"",
    ] {
        assert!(page.text.contains(part), "{part}");
    }
}

/// The verdict of each line of a list leads to the answer about that line, also of one
/// yarn that is held double.
#[tokio::test]
async fn each_line_of_a_list_leads_to_its_answer_in_full() {
    let house = House::sample();
    for (offered, together) in [("catalogue", "2"), ("stash", "1")] {
        let list = [
            ("pattern", "1:2"),
            ("offered", offered),
            ("together", together),
        ];
        let page = house.get(&asked(&list)).await.text;
        let cells = page.split("data-head=\"verdict\"><a href=\"").skip(1);
        let links: Vec<String> = cells
            .filter_map(|cell| cell.split_once('"'))
            .map(|(link, _)| link.replace("&amp;", "&"))
            .collect();
        assert_eq!(links.len(), 8, "{page}");
        let twice = "yarn=Quandrow%2C%20Drindle&second-yarn=Quandrow%2C%20Drindle";
        let is_pair = links.iter().any(|link| link.contains(twice));
        assert_eq!(is_pair, together == "2", "{links:?}");
        for link in links {
            let answer = house.get(&link).await;
            assert_eq!(answer.status, StatusCode::OK, "{link}");
            assert!(answer.text.contains("class=\"verdict\""), "{link}");
        }
    }
}

#[tokio::test]
async fn a_second_yarn_is_held_together_with_the_first() {
    let house = House::sample();
    let held = [
        ("pattern", "1:2"),
        ("offered", "one"),
        ("yarn", "Drindle"),
        ("second-yarn", "Kettrine Sock"),
    ];
    let page = house.get(&asked(&held)).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    for part in [
        "Should work",
        "6 skeins of Quandrow, Drindle and 4 skeins of Thrumwick Yard, Kettrine Sock",
        "2 short of",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    assert_eq!(filled(&page.text, "second-yarn"), "Kettrine Sock");
    let besides = house
        .get(&asked(&[
            ("pattern", "1"),
            ("offered", "stash"),
            ("second-yarn", "Drindle"),
        ]))
        .await;
    assert!(besides.text.contains("there is a yarn below as well"));
}

#[tokio::test]
async fn pairs_of_the_stash_are_chosen_on_the_page() {
    let house = House::sample();
    let of_stash = |count| {
        [
            ("pattern", "1:2"),
            ("offered", "stash"),
            ("together", count),
        ]
    };
    let pairs = house.get(&asked(&of_stash("2"))).await;
    assert_eq!(pairs.status, StatusCode::OK, "{}", pairs.text);
    for part in ["2 strands of <a href", "ways to hold 2 strands"] {
        assert!(pairs.text.contains(part), "{part}: {}", pairs.text);
    }
    let single = house.get(&asked(&of_stash("1"))).await;
    assert!(!single.text.contains("ways to hold"), "{}", single.text);
    let threes = asked(&[
        ("pattern", "1:2"),
        ("offered", "catalogue"),
        ("together", "3"),
    ]);
    let refused = house.get(&threes).await;
    assert!(
        refused.text.contains("in your stash only"),
        "{}",
        refused.text
    );
}

#[tokio::test]
async fn the_answer_says_what_the_command_line_says() {
    let house = House::sample();
    let records = understudy::app::Records::open(&house.desk.db()).unwrap();
    let request = understudy::app::CheckRequest {
        question: understudy::app::QuestionRequest::about("Skerrablet"),
        yarn: vec!["Umberlin DK".to_owned()],
        ..Default::default()
    };
    let answer = understudy::app::check(&records, &request).unwrap();
    let report = fields(&answer);
    let page = house
        .get(&asked(&[("pattern", "1"), ("yarn", "Umberlin DK")]))
        .await;
    let listed = |name: &str| report[name].as_array().unwrap();
    assert!(!listed("skeins").is_empty() && !listed("roles").is_empty());
    for line in listed("skeins") {
        let skeins = format!(">{}<", line["skeins"]);
        assert!(page.text.contains(&skeins), "{line:?}");
    }
    let said = |text: &serde_json::Value| {
        let said = understudy::report::escaped(text.as_str().unwrap());
        assert!(page.text.contains(&said), "{said}");
    };
    for line in listed("departures") {
        said(&line["wanted"]);
        said(&line["offered"]);
        line["notes"].as_array().unwrap().iter().for_each(said);
    }
    said(&report["headline"]);
}

#[tokio::test]
async fn what_was_read_is_shown_field_by_field_and_can_be_corrected() {
    let house = House::empty();
    let band = "100 g = 240 m, 100% wool, 22 sts / 10 cm";
    let page = house.get(&asked(&[("wants", WANTS), ("band", band)])).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    assert_eq!(filled(&page.text, "wanted-length"), "125 m");
    assert_eq!(filled(&page.text, "offered-length"), "240 m");
    let fields = [
        ("wants", WANTS),
        ("band", band),
        ("wanted-read", "yes"),
        ("wanted-length", "125 m"),
        ("wanted-mass", "50 g"),
        ("need", "900 m"),
        ("offered-read", "yes"),
        ("offered-length", "90 m"),
        ("offered-mass", "100 g"),
    ];
    let corrected = house.get(&asked(&fields)).await;
    assert!(
        corrected.text.contains("90 m (98 yd)"),
        "{}",
        corrected.text
    );
    assert!(!corrected.text.contains("240 m (262 yd)"));
    let wrong: Vec<(&str, &str)> = fields
        .iter()
        .map(|(name, text)| {
            (
                *name,
                if *name == "offered-mass" {
                    "heavy"
                } else {
                    *text
                },
            )
        })
        .collect();
    let told = house.get(&asked(&wrong)).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(filled(&told.text, "offered-mass"), "heavy");
    assert_eq!(filled(&told.text, "wanted-length"), "125 m");
    assert!(told.text.contains("id=\"correct-offered-mass-error\""));
}

#[tokio::test]
async fn a_question_that_is_not_read_comes_back_filled_with_the_message_beside_its_field() {
    let house = House::sample();
    for (field, text) in [
        ("tolerance", "a bit"),
        ("margin", "lots"),
        ("own-gauge", "tight"),
        ("strands", "many"),
        ("need", "enough"),
    ] {
        let wants = if field == "need" {
            "225 m/100 g"
        } else {
            WANTS
        };
        let page = house
            .get(&asked(&[
                ("wants", wants),
                ("yarn", "Umberlin DK"),
                (field, text),
            ]))
            .await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}");
        assert_eq!(filled(&page.text, field), text);
        assert_eq!(filled(&page.text, "yarn"), "Umberlin DK");
        for part in [
            format!("id=\"ask-{field}-error\""),
            "role=\"alert\"".to_owned(),
            "aria-invalid".to_owned(),
            "<title>To correct".to_owned(),
        ] {
            assert!(page.text.contains(&part), "{field}: {part}");
        }
    }
}

#[tokio::test]
async fn a_name_that_is_nearly_right_is_asked_about_with_links() {
    let house = House::sample();
    let page = house
        .get(&asked(&[("pattern", "1"), ("yarn", "Umbrelin DK")]))
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("did you mean") && page.text.contains("offered=one"),
        "{}",
        page.text
    );
}

#[tokio::test]
async fn questions_that_contradict_themselves_are_asked_about() {
    let house = House::sample();
    for fields in [
        vec![("pattern", "1"), ("wants", WANTS), ("yarn", "Umberlin DK")],
        vec![("yarn", "Umberlin DK")],
        vec![("pattern", "1")],
        vec![
            ("pattern", "1"),
            ("yarn", "Umberlin DK"),
            ("band", "50 g = 125 m"),
        ],
        vec![
            ("pattern", "1"),
            ("offered", "stash"),
            ("yarn", "Umberlin DK"),
        ],
        vec![("pattern", "99"), ("yarn", "Umberlin DK")],
        vec![("pattern", "1:99"), ("yarn", "Umberlin DK")],
    ] {
        let page = house.get(&asked(&fields)).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        assert!(page.text.contains("-error\""), "{fields:?}");
    }
}

#[tokio::test]
async fn a_barcode_finds_its_yarn_and_a_misread_one_is_told() {
    let house = House::sample();
    let yarn = [
        ("maker", "Quenby"),
        ("name", "Sandgate"),
        ("length", "125 m"),
        ("mass", "50 g"),
        ("gtin", "5012345678900"),
    ];
    assert_eq!(
        house.post("/yarns/new", &yarn).await.status,
        StatusCode::SEE_OTHER
    );
    let page = house
        .get(&asked(&[("pattern", "1"), ("yarn", "5012345678900")]))
        .await;
    assert!(
        page.text.contains(">Quenby, Sandgate</a> for "),
        "{}",
        page.text
    );
    let page = house
        .get(&asked(&[("pattern", "1"), ("yarn", "5012345678901")]))
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("its last digit should be"));
}

#[tokio::test]
async fn units_are_remembered() {
    let house = House::sample();
    let chosen = house
        .post("/units", &[("units", "yards"), ("back", "/yarns")])
        .await;
    assert_eq!(
        (chosen.status, chosen.place()),
        (StatusCode::SEE_OTHER, "/yarns")
    );
    let cookie = chosen.headers["set-cookie"].to_str().unwrap().to_owned();
    assert!(cookie.starts_with("units=yards"));
    let path = asked(&[("pattern", "1"), ("yarn", "Umberlin DK")]);
    let metres = house.get(&path).await;
    let request = super::getting(&path).header("cookie", "units=yards");
    let yards = house
        .ask(request.body(axum::body::Body::empty()).unwrap())
        .await;
    assert!(
        metres
            .text
            .contains("scope=\"col\" class=\"right\">needs m</th>")
    );
    assert!(
        yards
            .text
            .contains("scope=\"col\" class=\"right\">needs yd</th>")
    );
    let row = |page: &str| {
        let rows = page.split("class=\"reasons\"").nth(1).unwrap();
        rows.split("</li>").next().unwrap().to_owned()
    };
    assert!(
        row(&metres.text).contains(">metres per 100 g<") && row(&metres.text).contains(">259<")
    );
    assert!(row(&yards.text).contains(">yards per 100 g<") && row(&yards.text).contains(">283<"));
    assert!(!row(&yards.text).contains("metres"), "{}", yards.text);
}

#[tokio::test]
async fn names_are_offered_while_one_types() {
    let house = House::sample();
    let names = house.get("/suggest?text=Umber").await;
    let names: Vec<String> = serde_json::from_str(&names.text).unwrap();
    assert!(names.iter().any(|name| name.contains("Umberlin")));
}

#[tokio::test]
async fn hostile_text_is_shown_as_text() {
    let house = House::sample();
    let long = "x".repeat(10_000);
    for text in [
        HOSTILE,
        long.as_str(),
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd}",
        "</textarea><script>",
    ] {
        for fields in [
            vec![("wants", text), ("yarn", text)],
            vec![("wants", WANTS), ("band", text)],
            vec![("pattern", text), ("yarn", text)],
        ] {
            let page = house.get(&asked(&fields)).await;
            assert!(
                page.status.is_client_error() || page.status.is_success(),
                "{text}"
            );
            let markup = page.text.matches("<script").count();
            assert_eq!(markup, 1, "the program's own script only: {text}");
            assert!(!page.text.contains("</textarea><script>"));
        }
    }
}

#[tokio::test]
async fn no_page_speaks_of_arguments_of_the_command_line() {
    let house = House::sample();
    for fields in [
        vec![("pattern", "1"), ("yarn", "Umberlin DK")],
        vec![
            ("wants", "225 m/100 g, 22 sts / 10 cm"),
            ("band", "50 g = 125 m, blah"),
        ],
        vec![("pattern", "2"), ("offered", "stash")],
    ] {
        let page = house.get(&asked(&fields)).await;
        assert_eq!(page.status, StatusCode::OK, "{}", page.text);
        for word in [
            "--tolerance",
            "--margin",
            "--need",
            "--wants",
            "--yarn",
            "--update",
            "import yarns",
        ] {
            assert!(!page.text.contains(word), "{word}: {}", page.text);
        }
    }
}

#[tokio::test]
async fn a_name_that_is_not_kept_is_not_taken_for_a_band_that_says_its_class() {
    let house = House::sample();
    let ask = async |yarn: &str| house.get(&asked(&[("pattern", "1"), ("yarn", yarn)])).await;
    let page = ask("Wrobbitsnag Aran").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text.contains("there is no yarn"), "{}", page.text);
    let band = ask("50 g = 125 m, Wrobbitsnag").await;
    assert_eq!(band.status, StatusCode::OK);
}
