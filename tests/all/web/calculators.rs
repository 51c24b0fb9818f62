//! The pages of the calculators: every one of them, what is wrong with
//! what was typed, and the same numbers as from the command line.

use super::{HOSTILE, House, JUMPER, filled, getting, query};
use axum::{body::Body, http::StatusCode};

const WEIGHED: &str = include_str!("../../../sample-stash/weighed.toml");

const LAST: [(&str, &str); 6] = [
    ("before", "61.5 g"),
    ("left", "52.3 g"),
    ("scale", "0.1 g"),
    ("rows", "20"),
    ("rows-left", "60"),
    ("put-up", "230 m/100 g"),
];
const BALL: [(&str, &str); 7] = [
    ("mass", "312 g"),
    ("tare", "25 g"),
    ("length", "20 m"),
    ("weighs", "5.3 g"),
    ("fine-scale", "0.1 g"),
    ("wraps", "32"),
    ("over", "2 in"),
];
const SIZE: [(&str, &str); 3] = [
    ("stitches", "200"),
    ("rows", "168"),
    ("gauge", "22 sts x 30 rows / 10 cm"),
];
const SKEINS: [(&str, &str); 4] = [
    ("need", "9 x 125 m"),
    ("put-up", "120 m/50 g"),
    ("sure", "95%"),
    ("own-use", "5%"),
];
const GAUGE: [(&str, &str); 2] = [("pattern", "1"), ("own-gauge", "21 sts x 28 rows / 10 cm")];

fn asked(path: &str, fields: &[(&str, &str)]) -> String {
    format!("{path}?asked=yes&{}", query(fields))
}

/// What a program on the command line says of the same records.
fn told(house: &House, arguments: &[&str]) -> String {
    house.desk.run(&[&["--markdown"], arguments].concat()).out
}

/// The same values as options.
fn options<'f>(command: &'f str, fields: &[(&'f str, &'f str)]) -> Vec<String> {
    let options = fields
        .iter()
        .flat_map(|(name, value)| [format!("--{name}"), (*value).to_owned()]);
    std::iter::once(command.to_owned()).chain(options).collect()
}

/// The words of a page's answer, from its heading to the form below it.
fn answer(page: &str) -> String {
    let from = page
        .split("<h1>")
        .nth(1)
        .unwrap_or_else(|| panic!("{page}"));
    let answer = from.split("<h2 id=").next().unwrap();
    let answer = answer.split("<ul class=\"links\">").next().unwrap();
    // A picture says what its table says.
    let mut parts = answer.split("</figcaption>");
    let before = parts.next().unwrap().to_owned();
    let tables = parts.map(|part| part.split_once("<details>").unwrap().1);
    let answer = tables.fold(before, |text, table| text + table);
    let words: String = answer
        .split('<')
        .map(|part| part.split_once('>').map_or(part, |(_, words)| words))
        .collect::<Vec<_>>()
        .join(" ");
    [
        ("&#39;", "'"),
        ("&quot;", "\""),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&amp;", "&"),
    ]
    .iter()
    .fold(words, |words, (code, c)| words.replace(code, c))
}

/// Every number of a text, in order.
fn numbers(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_ascii_digit() && c != '.')
        .map(|number| number.trim_matches('.').to_owned())
        .filter(|number| !number.is_empty())
        .collect()
}

fn sorted(text: &str) -> Vec<String> {
    let mut numbers = numbers(text);
    numbers.sort();
    numbers
}

fn same_numbers(page: &str, told: &str, what: &str) {
    let (here, there) = (numbers(&answer(page)), numbers(told));
    assert!(
        there.len() > 5,
        "{what}: the command says too little: {told}"
    );
    assert_eq!(here, there, "{what}\n{}\n{told}", answer(page));
}

#[tokio::test]
async fn every_page_says_the_same_numbers_as_its_command() {
    let house = House::sample();
    let triangle: Vec<_> = LAST
        .into_iter()
        .chain([("shape", "triangle"), ("rows-done", "90")])
        .collect();
    for (command, fields) in [
        ("last", triangle.as_slice()),
        ("last", &LAST),
        ("unlabelled", &BALL),
        ("size", &SIZE),
        ("skeins", &SKEINS),
    ] {
        let page = house.get(&asked(&format!("/{command}"), fields)).await;
        assert_eq!(page.status, StatusCode::OK, "{command}: {}", page.text);
        let options = options(command, fields);
        let options: Vec<&str> = options.iter().map(String::as_str).collect();
        same_numbers(&page.text, &told(&house, &options), command);
    }
}

#[tokio::test]
async fn pages_about_a_pattern_say_the_same_numbers_as_their_commands() {
    let house = House::sample();
    let gauge = house.get(&asked("/gauge", &GAUGE)).await;
    let options = [
        "gauge",
        "--pattern",
        "Skerrablet",
        "--own-gauge",
        GAUGE[1].1,
    ];
    same_numbers(&gauge.text, &told(&house, &options), "gauge");
    let of_size = house
        .get(&asked(
            "/gauge",
            &[("pattern", "1:2"), GAUGE[1], ("yarn", "Umberlin DK")],
        ))
        .await;
    let more = ["--size", "M", "--yarn", "Umberlin DK"];
    let options: Vec<&str> = options.into_iter().chain(more).collect();
    same_numbers(&of_size.text, &told(&house, &options), "gauge of a size");
    let held = [("held-with", "Mizzlet"), ("held-with-too", "Kettrine Sock")];
    let fields = [&[GAUGE[0], GAUGE[1], ("yarn", "Umberlin DK")][..], &held];
    let of_three = house.get(&asked("/gauge", &fields.concat())).await;
    let more = ["--yarn", "Umberlin DK", "--held-with", "Mizzlet"];
    let more = more.into_iter().chain(["--held-with", "Kettrine Sock"]);
    let options: Vec<&str> = options[..5].iter().copied().chain(more).collect();
    same_numbers(
        &of_three.text,
        &told(&house, &options),
        "gauge of three yarns",
    );
    let sheet = house
        .get(&asked(
            "/sheet",
            &[("pattern", "1"), ("from", "catalogue"), ("top", "3")],
        ))
        .await;
    let options = ["sheet", "--pattern", "Skerrablet", "--top", "3"];
    same_numbers(&sheet.text, &told(&house, &options), "sheet");
    let named = [
        ("pattern", "1"),
        ("from", "named"),
        ("with-2", "Umberlin DK"),
    ];
    let named = house.get(&asked("/sheet", &named)).await;
    let options = ["sheet", "--pattern", "Skerrablet", "--with", "Umberlin DK"];
    same_numbers(
        &named.text,
        &told(&house, &options),
        "sheet of a named yarn",
    );
    let needs = house
        .send(
            "/needs",
            &[("step", "50 yd")],
            ("weighed.toml", WEIGHED.as_bytes()),
        )
        .await;
    let file = house.desk.write("weighed.toml", WEIGHED);
    let options = ["needs", &file, "--step", "50 yd"];
    same_numbers(&needs.text, &told(&house, &options), "needs");
}

#[tokio::test]
async fn a_sheet_is_taken_along_in_every_form_with_the_same_numbers() {
    let house = House::sample();
    let query = query(&[("asked", "yes"), ("pattern", "1"), ("top", "2")]);
    let page = house.get(&format!("/sheet?{query}")).await;
    let told = told(&house, &["sheet", "--pattern", "Skerrablet", "--top", "2"]);
    same_numbers(&page.text, &told, "sheet");
    for (kind, mime) in [
        ("sheet.md", "text/markdown"),
        ("sheet.txt", "text/plain"),
        ("sheet.html", "text/html"),
        ("sheet.csv", "text/csv"),
    ] {
        let link = format!("/sheet/{kind}?");
        assert!(page.text.contains(&link), "{kind}");
        let file = house.get(&format!("{link}{query}")).await;
        assert_eq!(file.status, StatusCode::OK);
        let head = |name: &str| file.headers[name].to_str().unwrap().to_owned();
        assert!(head("content-type").starts_with(mime), "{kind}");
        assert_eq!(
            head("content-disposition"),
            format!("attachment; filename*=UTF-8''Skerrablet-{kind}")
        );
        match kind {
            "sheet.html" => same_numbers(&file.text, &told, kind),
            "sheet.csv" => assert_eq!(file.text.lines().count(), 3),
            // Cells that are wrapped come in another order.
            "sheet.txt" => assert_eq!(sorted(&file.text), sorted(&told)),
            _ => assert_eq!(file.text, told),
        }
    }
    for path in ["/sheet/sheet.pdf", "/sheet/sheet.md"] {
        assert_eq!(house.get(path).await.status, StatusCode::NOT_FOUND);
    }
    let wrong = house.get("/sheet/sheet.md?asked=yes&pattern=99").await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn what_is_wrong_comes_back_in_the_form_with_the_message_beside_its_field() {
    let house = House::sample();
    for (path, fields, field, says) in [
        ("/last", vec![("left", "heavy")], "left", "heavy"),
        (
            "/last",
            vec![("left", "50 g"), ("before", "60 g")],
            "rows",
            "‘Weight before’ needs it",
        ),
        (
            "/last",
            vec![("left", "50 g"), ("rows", "many")],
            "rows",
            "many",
        ),
        ("/last", vec![("left", "50 g")], "before", "‘Weight before’"),
        (
            "/last",
            vec![("left", "50 g"), ("before", "40 g"), ("rows", "4")],
            "",
            "nothing was used",
        ),
        (
            "/last",
            vec![
                ("left", "30 g"),
                ("before", "40 g"),
                ("label", "50 g"),
                ("rows", "4"),
            ],
            "label",
            "this does not go with ‘Weight before’",
        ),
        (
            "/last",
            vec![
                ("left", "30 g"),
                ("before", "40 g"),
                ("rows", "4"),
                ("shape", "yoke"),
            ],
            "stitches",
            "yoke",
        ),
        (
            "/last",
            vec![
                ("left", "30 g"),
                ("before", "40 g"),
                ("rows", "4"),
                ("each", "2"),
            ],
            "each",
            "yoke",
        ),
        (
            "/last",
            vec![("left", "30 g"), ("row-takes", "2 m")],
            "row-takes",
            "as in <code>230 m/100 g</code>",
        ),
        (
            "/unlabelled",
            vec![("mass", "50 g")],
            "length",
            "at least one",
        ),
        (
            "/unlabelled",
            vec![("tare", "5 g"), ("balance", "8 in")],
            "tare",
            "‘Weight of the ball’",
        ),
        (
            "/unlabelled",
            vec![("length", "20 m")],
            "length",
            "this needs",
        ),
        (
            "/unlabelled",
            vec![("wraps", "some"), ("over", "2 in")],
            "wraps",
            "some",
        ),
        (
            "/unlabelled",
            vec![("wraps", "0"), ("over", "2 in")],
            "wraps",
            "above 0",
        ),
        (
            "/size",
            vec![("stitches", "200"), ("gauge", "22 sts")],
            "gauge",
            "10 cm",
        ),
        (
            "/size",
            vec![("gauge", "22 sts / 10 cm")],
            "stitches",
            "both",
        ),
        (
            "/skeins",
            vec![("need", "much"), ("put-up", "120 m")],
            "need",
            "much",
        ),
        (
            "/skeins",
            vec![("need", "900 m"), ("put-up", "50 g")],
            "put-up",
            "the length is missing",
        ),
        (
            "/skeins",
            vec![("need", "900 m"), ("put-up", "120 m"), ("own-use", "5%")],
            "own-use",
            "How sure you want to be that it is enough",
        ),
        (
            "/skeins",
            vec![
                ("need", "900 m"),
                ("put-up", "120 m"),
                ("own-gauge", "20 sts / 10 cm"),
            ],
            "own-gauge",
            "both",
        ),
        (
            "/skeins",
            vec![("need", "900 m"), ("put-up", "120 m"), ("strands", "0")],
            "strands",
            "1 to 9",
        ),
        (
            "/gauge",
            vec![("own-gauge", "20 sts / 10 cm")],
            "pattern",
            "choose one",
        ),
        (
            "/gauge",
            vec![("pattern", "1")],
            "own-gauge",
            "your gauge is not known",
        ),
        (
            "/gauge",
            vec![("pattern", "1"), ("own-gauge", "20 sts")],
            "own-gauge",
            "over what length",
        ),
        (
            "/gauge",
            vec![
                ("pattern", "1"),
                ("own-gauge", "20 sts / 10 cm"),
                ("needle", "4 mm"),
            ],
            "needle",
            "write one of the two",
        ),
        (
            "/gauge",
            vec![("pattern", "1"), ("yarn", "Umbrelin DK")],
            "yarn",
            "did you mean",
        ),
        (
            "/gauge",
            vec![
                ("pattern", "1"),
                ("own-gauge", "20 sts / 10 cm"),
                ("yarn", "Umberlin DK"),
                ("held-with-too", "Mizzlit"),
            ],
            "held-with-too",
            "did you mean",
        ),
        (
            "/gauge",
            vec![
                ("pattern", "1"),
                ("yarn", "Umberlin DK"),
                ("needle", "9 mm"),
            ],
            "own-gauge",
            "page of that yarn",
        ),
        (
            "/sheet",
            vec![("from", "catalogue")],
            "pattern",
            "choose one",
        ),
        (
            "/sheet",
            vec![("pattern", "1"), ("from", "named")],
            "with-1",
            "the yarn is missing",
        ),
        (
            "/sheet",
            vec![
                ("pattern", "1"),
                ("from", "stash"),
                ("with-1", "Umberlin DK"),
            ],
            "from",
            "there are yarns below",
        ),
        (
            "/sheet",
            vec![
                ("pattern", "1"),
                ("from", "named"),
                ("with-3", "Umbrelin DK"),
            ],
            "with-3",
            "did you mean",
        ),
        (
            "/sheet",
            vec![("pattern", "1"), ("top", "0")],
            "top",
            "1 to 40",
        ),
        (
            "/sheet",
            vec![("pattern", "1"), ("tolerance", "a bit")],
            "tolerance",
            "a bit",
        ),
    ] {
        let page = house.get(&asked(path, &fields)).await;
        let what = format!("{path} {fields:?}\n{}", page.text);
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{what}");
        let id = path.trim_start_matches('/');
        if !field.is_empty() {
            assert!(
                page.text.contains(&format!("id=\"{id}-{field}-error\"")),
                "{field}: {what}"
            );
        }
        for part in ["role=\"alert\"", "<title>To correct", says] {
            assert!(page.text.contains(part), "{part}: {what}");
        }
        for (name, text) in fields
            .iter()
            .filter(|(name, _)| !["pattern", "shape", "from"].contains(name))
        {
            assert_eq!(filled(&page.text, name), *text, "{what}");
        }
        assert!(!page.text.contains("--"), "{what}");
    }
}

#[tokio::test]
async fn all_values_that_are_not_read_are_told_at_once() {
    let house = House::sample();
    for (path, pattern, wrong) in [
        ("/last", "", vec!["left", "before", "rows", "each", "damp"]),
        ("/unlabelled", "", vec!["mass", "length", "turns", "over"]),
        ("/skeins", "", vec!["put-up", "margin", "price", "strands"]),
        ("/gauge", "1", vec!["own-gauge", "margin"]),
        ("/sheet", "1", vec!["tolerance", "margin", "top"]),
        ("/needs/begin", "Scarf", vec!["put-up", "gauge"]),
    ] {
        let fields = wrong.iter().map(|field| (*field, "wool"));
        let fields: Vec<_> = fields.chain([("pattern", pattern)]).collect();
        let page = house.get(&asked(path, &fields)).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        let told = page.text.matches("-error\">To correct:").count();
        println!("{path}: {told} of {}", wrong.len());
        assert!(told >= 2, "{path}: {}", page.text);
    }
}

#[tokio::test]
async fn a_name_that_is_nearly_right_is_asked_about_with_a_link_that_answers() {
    let house = House::sample();
    for (path, fields) in [
        (
            "/gauge",
            vec![
                ("pattern", "1"),
                ("own-gauge", "20 sts x 28 rows / 10 cm"),
                ("yarn", "Umbrelin DK"),
            ],
        ),
        (
            "/sheet",
            vec![
                ("pattern", "1"),
                ("from", "named"),
                ("with-2", "Umbrelin DK"),
            ],
        ),
    ] {
        let page = house.get(&asked(path, &fields)).await;
        let link = page
            .text
            .split("<a href=\"")
            .find(|part| part.starts_with(&format!("{path}?")))
            .unwrap();
        let link = link.split('"').next().unwrap().replace("&amp;", "&");
        let then = house.get(&link).await;
        assert_eq!(then.status, StatusCode::OK, "{link}: {}", then.text);
    }
}

const PAGES: [&str; 13] = [
    "/questions",
    "/last",
    "/unlabelled",
    "/size",
    "/skeins",
    "/gauge",
    "/sheet",
    "/lint",
    "/needs",
    "/needs/begin",
    "/suits",
    "/replace",
    "/stripes",
];

#[tokio::test]
async fn what_is_left_goes_on_to_the_pieces_that_it_makes() {
    let house = House::sample();
    let asked = [
        ("asked", "yes"),
        ("before", "60"),
        ("rows", "20"),
        ("left", "52.5"),
        ("keep", "2"),
    ];
    let page = house.get(&format!("/last?{}", query(&asked))).await.text;
    let link = page
        .split("href=\"")
        .find(|link| link.starts_with("/needs?"));
    let link = link.unwrap_or_else(|| panic!("{page}"));
    let link = link.split('"').next().unwrap();
    let form = house.get(link).await.text;
    let left = form.split("name=\"left\"").nth(1).unwrap();
    assert!(left.starts_with(" value=\"50.5 g\""), "{left:.100}");
    assert!(form.contains("[[piece]]"), "the example is there");
    let plain = house.get("/last").await.text;
    assert!(!plain.contains("/needs?left="), "{plain}");
}

#[tokio::test]
async fn the_page_of_questions_leads_to_each_and_each_is_guarded() {
    let house = House::sample();
    let start = house.get("/questions").await.text;
    assert!(house.get("/").await.text.contains("href=\"/questions\""));
    for path in PAGES {
        let page = house.get(path).await;
        assert_eq!(page.status, StatusCode::OK, "{path}");
        let linked = start.contains(&format!("href=\"{path}\""));
        assert!(linked || path == "/needs/begin", "{path}");
        assert!(
            page.text.contains("<h1>") && page.text.contains("aria-current=\"page\""),
            "{path}"
        );
        let policy = page.headers["content-security-policy"].to_str().unwrap();
        assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"));
        for inline in [
            " style=",
            "onclick=",
            "javascript:",
            "http://",
            "https://",
            "--",
        ] {
            assert!(!page.text.contains(inline), "{path} holds {inline}");
        }
        let empty = House::empty().get(path).await;
        assert_eq!(empty.status, StatusCode::OK, "{path} of empty records");
    }
    let locked = House::locked("three small words");
    for path in PAGES {
        let page = locked.get(path).await;
        assert_eq!(
            (page.status, page.place()),
            (StatusCode::SEE_OTHER, "/enter"),
            "{path}"
        );
    }
}

#[tokio::test]
async fn the_page_of_a_yarn_leads_to_its_patterns_and_to_what_replaces_it() {
    let house = House::sample();
    let named = house.get("/yarns/named?name=Thrumwick%20Yard%2C%20Grundlin%20DK");
    let page = house.get(named.await.place()).await.text;
    for (path, says) in [
        ("/suits", "should work for"),
        ("/replace", "should work best for"),
    ] {
        let mut links = page.split("href=\"");
        let link = links.find(|rest| rest.starts_with(path)).unwrap();
        let link = link.split('"').next().unwrap().replace("&amp;", "&");
        let answer = house.get(&link).await.text;
        assert!(answer.contains(says), "{answer}");
        assert!(answer.contains("href=\"/patterns/"), "{answer}");
        let near = house
            .get(&format!("{path}?asked=yes&yarn=Grundlin+DKK"))
            .await;
        assert!(
            near.text.contains(&format!("{path}?asked=yes&amp;yarn=")),
            "{}",
            near.text
        );
    }
}

#[tokio::test]
async fn hostile_text_in_any_field_is_shown_as_text() {
    let house = House::sample();
    let long = "x".repeat(1_000);
    for path in PAGES[1..7].iter().chain(&["/needs/begin"]) {
        let form = house.get(path).await.text;
        let names: Vec<&str> = form
            .split(" name=\"")
            .skip(1)
            .map(|part| part.split('"').next().unwrap())
            .filter(|name| !["asked", "back", "units", "viewport"].contains(name))
            .collect();
        assert!(names.len() > 2, "{path}");
        for text in [
            HOSTILE,
            long.as_str(),
            "\u{5e9}\u{5dc}\u{5d5}\u{5dd}",
            "a % # + & = ? \" '",
        ] {
            let fields: Vec<(&str, &str)> = names.iter().map(|name| (*name, text)).collect();
            let all = house.get(&asked(path, &fields)).await;
            hostile_is_text(&all.text, path);
            for name in &names {
                let mut fields = vec![
                    ("pattern", "1"),
                    ("left", "5 g"),
                    ("before", "9 g"),
                    ("rows", "3"),
                ];
                fields.retain(|(known, _)| known != name);
                fields.push((name, text));
                let one = house.get(&asked(path, &fields)).await;
                hostile_is_text(&one.text, name);
            }
        }
    }
    for path in ["/lint", "/needs"] {
        for of in ["sheet", "pattern"] {
            let page = house
                .send(
                    path,
                    &[("of", of), ("margin", HOSTILE), ("text", HOSTILE)],
                    ("", b""),
                )
                .await;
            hostile_is_text(&page.text, path);
            let page = house.send(path, &[], (of, HOSTILE.as_bytes())).await;
            hostile_is_text(&page.text, path);
        }
    }
}

fn hostile_is_text(page: &str, what: &str) {
    assert_eq!(
        page.matches("<script").count(),
        1,
        "{what}: the program's own script only"
    );
    assert!(
        !page.contains("\u{202e}") || page.contains("value=\""),
        "{what}"
    );
}

/// What the rows of tables are of, in order.
fn row_heads(page: &str) -> String {
    let heads = page.split("scope=\"row\">").skip(1);
    let heads = heads.filter_map(|rest| rest.split("</th>").next());
    heads.collect::<Vec<_>>().join(", ").replace('\u{a0}', " ")
}

#[tokio::test]
async fn units_come_in_the_order_that_is_preferred() {
    let house = House::sample();
    for (path, metric, imperial) in [
        (asked("/last", &LAST), "g, m, yd", "g, yd, m"),
        (
            asked("/unlabelled", &BALL),
            "m/100 g, yd/lb, length m",
            "yd/lb, m/100 g, length yd",
        ),
        (
            asked("/size", &SIZE),
            "90.9 cm (35.79 in) wide",
            "35.79 in (90.9 cm) wide",
        ),
        (asked("/gauge", &GAUGE), "wanted cm</th>", "wanted in</th>"),
        (
            asked("/sheet", &[("pattern", "1")]),
            "needed m</th>",
            "needed yd</th>",
        ),
    ] {
        // Tables of many columns say their roles, for phones.
        let plain = |text: String| text.replace(" role=\"columnheader\"", "");
        let metres = plain(house.get(&path).await.text);
        let request = getting(&path).header("cookie", "units=yards");
        let yards = house.ask(request.body(Body::empty()).unwrap()).await.text;
        let yards = plain(yards);
        let says = |page: &str, text| page.contains(text) || row_heads(page).contains(text);
        assert!(says(&metres, metric), "{path}: {metres}");
        assert!(says(&yards, imperial), "{path}: {yards}");
        // A length, or a length per mass, that stands alone is told in one unit.
        if !path.starts_with("/sheet") && !path.starts_with("/gauge") {
            assert_eq!(sorted(&answer(&metres)), sorted(&answer(&yards)), "{path}");
        }
    }
}

#[tokio::test]
async fn a_burn_test_comes_with_its_cautions_first_and_only_when_asked() {
    let house = House::sample();
    let without = house.get(&asked("/unlabelled", &BALL)).await.text;
    assert!(!without.contains("Before a burn test"));
    assert!(without.contains("Not known: measuring cannot show it."));
    let fields: Vec<_> = BALL.into_iter().chain([("burn", "yes")]).collect();
    let with = house.get(&asked("/unlabelled", &fields)).await.text;
    let at = |part: &str| with.find(part).unwrap_or_else(|| panic!("{part}"));
    assert!(at("Before a burn test") < at("Signs near a flame"));
    for caution in understudy::trade::BURN_CAUTIONS {
        assert!(
            with.contains(&understudy::report::escaped_message(caution)),
            "{caution}"
        );
    }
}

#[tokio::test]
async fn the_chance_of_running_out_is_told_only_when_asked_each_assumption_named() {
    let house = House::sample();
    let fields = [
        ("pattern", "1:2"),
        ("offered", "one"),
        ("yarn", "Umberlin DK"),
    ];
    let plain = house.get(&format!("/answer?{}", query(&fields))).await.text;
    assert!(!plain.contains("sure of enough</h") && plain.contains("Ask for it here"));
    assert!(plain.contains("id=\"chance-sure\""));
    let options = [
        "check",
        "--pattern",
        "Skerrablet",
        "--size",
        "M",
        "--yarn",
        "Umberlin DK",
    ];
    for (sure, own_use) in [("90%", ""), ("95%", "5%"), ("99%", "5%")] {
        let fields: Vec<_> = fields
            .into_iter()
            .chain([("sure", sure), ("own-use", own_use)])
            .collect();
        let page = house.get(&format!("/answer?{}", query(&fields))).await.text;
        let mut options = options.to_vec();
        options.extend(["--sure", sure]);
        if !own_use.is_empty() {
            options.extend(["--own-use", own_use]);
        }
        let told = told(&house, &options);
        let part = |text: &str, at: usize, end: &str| {
            let from = text
                .split("sure of enough")
                .nth(at)
                .unwrap_or_else(|| panic!("{text}"));
            numbers(from.split(end).next().unwrap())
        };
        let here = answer(&page);
        // In one sentence first, then size by size where it is unfolded.
        let sentence = |text: &str| part(text, 1, " %");
        assert_eq!(sentence(&here), sentence(&told));
        assert!(!sentence(&told).is_empty());
        // Then as bars, in both from the same numbers.
        let bars = |text: &str| -> Vec<String> {
            let bars = text.split("running out, by").nth(1);
            numbers(bars.unwrap_or_else(|| panic!("{text}")))
                .into_iter()
                .take(7)
                .collect()
        };
        assert_eq!(bars(&here), bars(&told));
        for assumption in [
            "Chance, label:",
            "Chance, own use:",
            "Chance, need:",
            "the spare is not counted",
        ] {
            assert!(page.contains(assumption), "{assumption}");
        }
        assert_eq!(filled(&page, "own-use"), own_use);
    }
    let list = query(&[("pattern", "1:2"), ("offered", "stash"), ("sure", "95%")]);
    let list = house.get(&format!("/answer?{list}")).await.text;
    assert!(list.contains("To be 95 % sure of enough") && list.contains("id=\"chance-sure\""));
    assert!(!answer(&list).contains("--"), "{list}");
    let alone: Vec<_> = fields.into_iter().chain([("own-use", "5%")]).collect();
    let page = house.get(&format!("/answer?{}", query(&alone))).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_text_or_a_file_is_looked_over_and_shown_to_be_corrected() {
    let house = House::sample();
    let sheet = told(&house, &["sheet", "--pattern", "Skerrablet", "--top", "2"]);
    let spoilt = sheet.replace("(131 yd)", "(141 yd)");
    assert_ne!(sheet, spoilt);
    let good = house
        .send("/lint", &[("text", &sheet), ("pattern", "1")], ("", b""))
        .await;
    assert!(good.text.contains("No mistakes found."), "{}", good.text);
    let bad = house
        .send(
            "/lint",
            &[("pattern", "1")],
            ("sheet.md", spoilt.as_bytes()),
        )
        .await;
    let file = house.desk.write("sheet.md", &spoilt);
    let findings = told(&house, &["lint", &file, "--pattern", "Skerrablet"]);
    let count = findings
        .lines()
        .filter(|line| line.starts_with("- "))
        .count();
    assert!(count > 0);
    assert_eq!(answer(&bad.text).matches("sheet.md, line").count(), count);
    assert!(
        bad.text.contains("(141 yd)"),
        "the text of the file is in the form"
    );
    let kept = house.send("/lint", &[("pattern", "1")], ("", b"")).await;
    assert!(
        kept.text
            .contains("<h1>pattern <a href=\"/patterns/1\">Skerrablet</a></h1>"),
        "{}",
        kept.text
    );
    let broken = JUMPER.replace("fitted", "snug as a bug");
    for text in [("of", "pattern"), ("of", "sheet")] {
        let page = house
            .send("/lint", &[text, ("text", &broken)], ("", b""))
            .await;
        assert_eq!(
            answer(&page.text).contains("not readable: given as a bug"),
            text.1 == "pattern",
            "{}",
            page.text
        );
    }
    let nothing = house.send("/lint", &[], ("", b"")).await;
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        nothing.text.contains("id=\"lint-text-error\"") && !nothing.text.contains("--"),
        "{}",
        nothing.text
    );
    let bytes = house
        .send("/lint", &[], ("sheet.md", &[0xff, 0xfe, 0x00]))
        .await;
    assert_eq!(bytes.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(bytes.text.contains("UTF-8"), "{}", bytes.text);
    for path in ["/lint", "/needs"] {
        let much = "x".repeat(600 * 1024);
        let page = house.send(path, &[("text", &much)], ("", b"")).await;
        assert_eq!(page.status, StatusCode::PAYLOAD_TOO_LARGE, "{path}");
    }
}

#[tokio::test]
async fn needs_begin_with_an_example_and_become_a_pattern() {
    let house = House::empty();
    let page = house.get("/needs").await;
    assert!(page.text.contains("[[sample]]"));
    let reckoned = house.send("/needs", &[("text", WEIGHED)], ("", b"")).await;
    assert_eq!(reckoned.status, StatusCode::OK, "{}", reckoned.text);
    let hidden = filled(&reckoned.text, "text").replace("&quot;", "\"");
    assert_eq!(hidden, WEIGHED);
    let unsaid = house
        .post("/needs/pattern", &[("text", WEIGHED), ("as", "kept")])
        .await;
    assert_eq!(unsaid.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        unsaid.text.contains("id=\"as-pattern-purpose-error\""),
        "{}",
        unsaid.text
    );
    let fields = [
        ("text", WEIGHED),
        ("as", "file"),
        ("purpose", "garment"),
        ("fit", "relaxed"),
        ("step", "25 g"),
    ];
    let file = house.post("/needs/pattern", &fields).await;
    assert_eq!(file.status, StatusCode::OK);
    assert_eq!(
        file.headers["content-disposition"],
        "attachment; filename*=UTF-8''Skerrablet.toml"
    );
    assert!(
        file.text.contains("375 g") && file.text.contains("margin_included = true"),
        "{}",
        file.text
    );
    let mut fields = fields;
    fields[1].1 = "kept";
    let kept = house.post("/needs/pattern", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let shown = house.get(kept.place()).await;
    assert!(
        shown.text.contains("Pattern Skerrablet saved") && shown.text.contains("375 (450, 500) g"),
        "{}",
        shown.text
    );
    let again = house.post("/needs/pattern", &fields).await;
    assert_eq!(
        again.status,
        StatusCode::UNPROCESSABLE_ENTITY,
        "{}",
        again.text
    );
    assert!(
        again.text.contains("id=\"as-pattern-as-error\""),
        "{}",
        again.text
    );
}

const SCARF: [(&str, &str); 8] = [
    ("pattern", "Scarf"),
    ("sizes", "short\r\nlong"),
    ("put-up", "120 m / 50 g"),
    ("shape", "rectangle"),
    ("width", "30 cm"),
    ("height", "120 cm\r\n180 cm"),
    ("size", "short"),
    ("mass", "150 g"),
];

#[tokio::test]
async fn needs_may_begin_with_one_piece_and_go_on_as_a_text() {
    let house = House::empty();
    assert!(
        house
            .get("/needs")
            .await
            .text
            .contains("href=\"/needs/begin\"")
    );
    let page = house.get(&asked("/needs/begin", &SCARF)).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    let text = filled(&page.text, "text").replace("&quot;", "\"");
    let file = house.desk.write("scarf.toml", &text);
    let told = told(&house, &["needs", &file]);
    same_numbers(&page.text, &told, "a scarf");
    // Recomputed: 150 g of 120 m/50 g are 360 m, and half as much again for half
    // as much again of the same width; with 10 %, 396 m and 594 m.
    assert!(answer(&page.text).contains("396 (594) m"), "{}", page.text);
    let fields = [
        ("text", text.as_str()),
        ("as", "kept"),
        ("purpose", "accessory"),
        ("fit", "unfitted"),
    ];
    let kept = house.post("/needs/pattern", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let more = house
        .send("/needs", &[("text", text.as_str())], ("", b""))
        .await;
    same_numbers(&more.text, &told, "the same as a text");
}

#[tokio::test]
async fn what_is_wrong_with_a_beginning_stands_beside_its_fields() {
    let house = House::empty();
    for wrong in [
        vec![("put-up", "120 m"), ("gauge", "tight")],
        vec![("width", "wide"), ("height", "")],
        vec![("mass", "")],
        vec![("margin", "lots")],
    ] {
        let fields: Vec<(&str, &str)> = SCARF
            .into_iter()
            .filter(|(name, _)| !wrong.iter().any(|(other, _)| other == name))
            .chain(wrong.iter().copied())
            .collect();
        let page = house.get(&asked("/needs/begin", &fields)).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        for (field, text) in wrong {
            let error = format!("id=\"begin-{field}-error\"");
            assert!(page.text.contains(&error), "{field}: {}", page.text);
            assert!(page.text.contains(text) && page.text.contains("short\nlong"));
        }
    }
}

#[tokio::test]
async fn needs_that_are_not_read_are_told_beside_the_text() {
    let house = House::empty();
    let bad = WEIGHED.replace("\"93 cm\"", "\"93 widgets\"");
    for page in [
        house.send("/needs", &[("text", &bad)], ("", b"")).await,
        house
            .send("/needs", &[], ("mine.toml", bad.as_bytes()))
            .await,
        house.send("/needs", &[], ("", b"")).await,
    ] {
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(
            page.text.contains("id=\"needs-text-error\""),
            "{}",
            page.text
        );
    }
    let page = house
        .send("/needs", &[("text", WEIGHED), ("step", "some")], ("", b""))
        .await;
    assert!(
        page.text.contains("id=\"needs-step-error\""),
        "{}",
        page.text
    );
}

#[tokio::test]
async fn a_plan_says_the_same_as_its_command_and_asks_for_patterns() {
    let house = House::sample();
    let chosen = [
        ("project-1", "1:2"),
        ("project-3", "2:0"),
        ("tolerance", "8%"),
    ];
    let page = house.get(&asked("/plan", &chosen)).await.text;
    assert!(
        page.contains(r#"<option value="1:2" selected>Skerrablet, size M</option>"#),
        "{page}"
    );
    same_numbers(
        &page,
        &told(
            &house,
            &["plan", "Skerrablet:M", "Hobplate", "--tolerance", "8%"],
        ),
        "plan",
    );
    let none = house.get(&asked("/plan", &[])).await;
    assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY);
    let gone = house.get(&asked("/plan", &[("project-1", "99:0")])).await;
    assert!(gone.text.contains("no longer there"), "{}", gone.text);
}
