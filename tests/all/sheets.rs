//! The designer's desk, on the real program: materials sheets and their lint, and
//! a pattern at a gauge that is not its own.

use crate::desk::{Desk, as_number, root};
use serde_json::Value;

/// Findings of `lint`, which ends with 1 where there are any.
fn lint(desk: &Desk, arguments: &[&str]) -> Vec<Value> {
    let done = desk.run(&[&["lint"], arguments, &["--json"]].concat());
    let findings = done.json()["findings"].as_array().unwrap().clone();
    assert_eq!(done.status, i32::from(!findings.is_empty()));
    findings
}

/// `line kind` of each finding.
fn kinds(desk: &Desk, arguments: &[&str]) -> Vec<String> {
    let told = |finding: &Value| {
        let line = finding["line"]
            .as_u64()
            .map_or("-".to_owned(), |line| line.to_string());
        format!("{line} {}", finding["kind"].as_str().unwrap())
    };
    lint(desk, arguments).iter().map(told).collect()
}

/// Text with every run of space as one, so that lines may break anywhere.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A count in a table with a row for each size.
struct Row {
    size: String,
    yarn: String,
    count: String,
}

/// Every count in the tables of a sheet in Markdown.
fn rows_of_sizes(markdown: &str) -> Vec<Row> {
    let mut heads = Vec::new();
    let mut found = Vec::new();
    for line in markdown.lines() {
        let cells: Vec<&str> = line
            .trim_end_matches('|')
            .split('|')
            .map(str::trim)
            .collect();
        match cells.get(1) {
            Some(&"size") => heads = cells.iter().map(|&head| head.to_owned()).collect(),
            Some(&":--") => {}
            Some(&size) => {
                found.extend(heads.iter().zip(&cells).skip(2).map(|(yarn, count)| Row {
                    size: size.to_owned(),
                    yarn: yarn.clone(),
                    count: (*count).to_owned(),
                }))
            }
            None => heads.clear(),
        }
    }
    found
}

const PATTERNS: [&str; 4] = ["Skerrablet", "Jotterhelm", "Mirrowhist", "Hobplate"];

#[test]
fn a_sheet_says_the_same_numbers_in_every_form() {
    let desk = Desk::with_sample();
    for pattern in PATTERNS {
        let asked = ["sheet", "--pattern", pattern];
        let sheet = desk.json(&asked);
        let form = |form: &str| desk.text(&[&asked[..], &[form]].concat());
        let readable = [desk.text(&asked), form("--markdown"), form("--html")];
        let table = form("--csv");
        let mut rows = csv::Reader::from_reader(table.as_bytes());
        let heads = rows.headers().unwrap().clone();
        let rows: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
        let alternatives = sheet["alternatives"].as_array().unwrap();
        assert!(!alternatives.is_empty(), "{pattern}");
        assert_eq!(rows.len(), alternatives.len());
        for (line, row) in alternatives.iter().zip(&rows) {
            let cell = |head: &str| {
                let place = heads.iter().position(|known| known == head);
                row.get(place.unwrap_or_else(|| panic!("no column {head}")))
                    .unwrap()
            };
            let name = line["candidate"].as_str().unwrap();
            assert_eq!(
                (cell("alternative"), cell("yarn")),
                (name, line["yarn"].as_str().unwrap())
            );
            for text in &readable {
                assert!(flat(text).contains(name), "{name}");
            }
            let short = name.rsplit_once(", ").unwrap().1;
            for size in line["skeins"].as_array().unwrap() {
                let of = size["size"].as_str().unwrap();
                let count = size["skeins"].to_string();
                assert_eq!(cell(&format!("skeins {of}")), count);
                let rows = rows_of_sizes(&readable[1]);
                let is_told =
                    |row: &Row| row.size == of && row.yarn.starts_with(short) && row.count == count;
                assert!(rows.iter().any(is_told), "{short} {of}");
            }
            let per_100 = cell("m per 100 g").parse::<f64>().ok();
            let off = per_100
                .zip(line["m_per_100g"].as_f64())
                .map(|(a, b)| (a - b).abs());
            assert_eq!(per_100.is_some(), line["m_per_100g"].is_f64());
            assert!(off.is_none_or(|off| off <= 0.05 + 1e-9));
        }
    }
}

/// n = ceil(need x 1.1 / length), for each size and colour by itself; recomputed
/// from the needs that the sheet prints and the put-up.
#[test]
fn every_size_and_colour_is_recounted() {
    let desk = Desk::with_sample();
    let sheet = desk.json(&[
        "sheet",
        "--pattern",
        "Jotterhelm",
        "--with",
        "MC=90 m/50 g, 100% wool",
        "--with",
        "CC=60 m/25 g, 100% wool",
        "--margin",
        "10%",
    ]);
    for (line, length) in sheet["alternatives"]
        .as_array()
        .unwrap()
        .iter()
        .zip([90.0, 60.0])
    {
        let needs = sheet["needs"]
            .as_array()
            .unwrap()
            .iter()
            .find(|need| need["yarn"] == line["yarn"])
            .unwrap();
        let sizes = needs["sizes"].as_array().unwrap();
        assert_eq!(sizes.len(), 2);
        for (size, counted) in sizes.iter().zip(line["skeins"].as_array().unwrap()) {
            let strands = as_number(&line["strands"]);
            let expected = (as_number(&size["need_m"]) * strands * 1.1 / length - 1e-9).ceil();
            assert_eq!(as_number(&counted["skeins"]), expected);
        }
    }
    let keys: Vec<&str> = sheet["alternatives"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line["yarn"].as_str().unwrap())
        .collect();
    assert_eq!(keys, ["MC", "CC"]);
}

#[test]
fn the_length_at_the_patterns_put_up_is_given_with_that_of_100_g() {
    let desk = Desk::with_sample();
    let sheet = desk.json(&["sheet", "--pattern", "Skerrablet", "--with", "Hathrel DK"]);
    let line = &sheet["alternatives"][0];
    assert_eq!(as_number(&line["pattern_put_up_g"]), 50.0);
    assert!((as_number(&line["m_per_pattern_put_up"]) - 122.5).abs() < 1e-9);
    assert!((as_number(&line["m_per_100g"]) - 245.0).abs() < 1e-9);
}

#[test]
fn the_yarn_line_says_how_many_and_what_in_both_systems() {
    let desk = Desk::with_sample();
    let sheet = flat(&desk.text(&["sheet", "--pattern", "Skerrablet"]));
    assert!(sheet.contains("9 to 16 skeins of Thrumwick Yard, Grundlin DK (100% wool; 120 m (131 yd) per 50 g (1.76 oz); class 3 light)"));
    assert!(
        sheet.contains("Only a washed swatch proves a swap") && sheet.contains("Buy by length")
    );
    let copy = flat(&desk.text(&["sheet", "--pattern", "Skerrablet", "--working"]));
    assert!(copy.contains("A: Thrumwick Yard, Grundlin DK (100% wool; 120 m (131 yd) per 50 g (1.76 oz); class 3 light): 9 (10, 11, 13, 15, 16) skeins; 8 (9, 10, 11, 13, 14) without the spare"));
}

/// What a designer has to know and a reader does not.
const WORKING: [&str; 6] = [
    "How this was worked out",
    "difference over all",
    "is the limit",
    "source",
    "common practice",
    "you did not say",
];

#[test]
fn a_readers_sheet_shows_no_working_and_the_copy_shows_all() {
    let desk = Desk::with_sample();
    for pattern in PATTERNS {
        for form in ["--markdown", "--html", "--top=3"] {
            let asked = ["sheet", "--pattern", pattern, form];
            let sheet = flat(&desk.text(&asked)).to_lowercase();
            for said in WORKING {
                assert!(!sheet.contains(&said.to_lowercase()), "{pattern}: {said}");
            }
            let copy = flat(&desk.text(&[&asked[..], &["--working"]].concat())).to_lowercase();
            for said in [
                "how this was worked out",
                "difference over all",
                "is the limit",
            ] {
                assert!(copy.contains(said), "{pattern}: {said}");
            }
        }
    }
}

#[test]
fn a_sheet_has_a_row_for_each_size_and_a_column_for_each_yarn() {
    let desk = Desk::with_sample();
    let asked = ["sheet", "--pattern", "Skerrablet", "--top=3", "--markdown"];
    let rows = rows_of_sizes(&desk.text(&asked));
    let sizes: Vec<&str> = rows
        .iter()
        .map(|row| row.size.as_str())
        .step_by(6)
        .collect();
    assert_eq!(sizes, ["XS", "S", "M", "L", "XL", "2XL"]);
    let yarns: Vec<&str> = rows[..6].iter().map(|row| row.yarn.as_str()).collect();
    assert_eq!(yarns[..2], ["needed m", "yd"]);
    assert_eq!(yarns[2], "Grundlin DK, 120 m (131 yd)");
    // 1200 m x 1.1 / 120 m = 11.
    let m = rows
        .iter()
        .find(|row| row.size == "M" && row.yarn == yarns[2]);
    assert_eq!(m.map(|row| row.count.as_str()), Some("11"));
}

#[test]
fn a_yarn_that_will_not_work_is_named_and_not_counted() {
    let desk = Desk::with_sample();
    let asked = [
        "sheet",
        "--pattern",
        "Skerrablet",
        "--with",
        "Umberlin DK",
        "--markdown",
    ];
    let sheet = desk.text(&asked);
    assert!(
        sheet.contains("will not work: 21 % fewer metres per 100 g"),
        "{sheet}"
    );
    assert!(
        !rows_of_sizes(&sheet)
            .iter()
            .any(|row| row.yarn.contains("Umberlin"))
    );
}

#[test]
fn the_yarn_of_the_pattern_and_yarns_no_longer_made_are_not_proposed() {
    let desk = Desk::with_sample();
    let sheet = desk.json(&["sheet", "--pattern", "Skerrablet", "--top", "60"]);
    let names: Vec<&str> = sheet["alternatives"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line["candidate"].as_str().unwrap())
        .collect();
    assert!(!names.contains(&"Thrumwick Yard, Grundlin DK"));
    assert!(!names.contains(&"Drummelaine, Jorvanne"));
    assert!(names.len() > 5);
}

#[test]
fn the_html_of_a_sheet_stands_alone_and_escapes_names() {
    let desk = Desk::with_sample();
    desk.text(&[
        "yarn",
        "add",
        "--maker",
        "<b>Quill</b>",
        "--name",
        "Reed & \"Co\"",
        "50 g = 120 m, 100% wool, plied, DK",
    ]);
    let html = desk.text(&[
        "sheet",
        "--pattern",
        "Skerrablet",
        "--with",
        "<b>Quill</b>, Reed & \"Co\"",
        "--html",
    ]);
    assert!(html.starts_with("<!doctype html>") && html.contains("@media print"));
    assert!(html.contains("&lt;b&gt;Quill&lt;/b&gt;, Reed &amp; &quot;Co&quot;"));
    assert!(!html.contains("<b>Quill"));
    assert_eq!(
        html.matches("<table").count(),
        html.matches("</table>").count()
    );
    desk.run(&["sheet", "--pattern", "Skerrablet", "--html", "--json"])
        .code(2);
}

#[test]
fn what_the_program_writes_has_no_findings() {
    let desk = Desk::with_sample();
    for pattern in PATTERNS {
        assert_eq!(
            kinds(&desk, &["--pattern", pattern]),
            Vec::<String>::new(),
            "{pattern}"
        );
        let file = format!(
            "{}/sample-stash/patterns/{}.toml",
            root().display(),
            pattern.to_lowercase()
        );
        assert_eq!(kinds(&desk, &[&file]), Vec::<String>::new(), "{file}");
        for (form, name) in [
            ("--markdown", "sheet.md"),
            ("--csv", "sheet.csv"),
            ("--from=catalogue", "sheet.txt"),
        ] {
            desk.write(name, desk.text(&["sheet", "--pattern", pattern, form]));
            assert_eq!(
                kinds(&desk, &[name, "--pattern", pattern]),
                Vec::<String>::new(),
                "{pattern} {form}"
            );
        }
    }
}

#[test]
fn a_spoilt_pattern_file_is_told_line_by_line() {
    let desk = Desk::with_sample();
    desk.write(
        "bad.toml",
        r#"pattern = "Bad"
purpose = "garment"
fit = "relaxed"
gauge = "20 sts x 28 rows / 4 in"
multiple = "6 + 2"
[[size]]
name = "S"
width = "36 in (95 cm)"
height = "50 cm"
cast_on = 182
rows = 100
[[size]]
name = "M"
width = "100 cm"
cast_on = 190
[[yarn]]
key = "A"
called = "Drummelaine, Jorvanne"
put_up = "100 m / 50 g"
needs = ["9 x 120 m", "1200 m"]
[[yarn]]
key = "B"
needs = ["200 m", "200 m"]
"#,
    );
    assert_eq!(
        kinds(&desk, &["bad.toml"]),
        [
            "8 units disagree",
            "11 rows against height",
            "15 cast-on against width",
            "15 multiple",
            "18 no longer made",
            "20 not covered",
            "23 does not grow",
        ]
    );
    let cast_on = lint(&desk, &["bad.toml"]).remove(2);
    assert!(
        cast_on["given"]
            .as_str()
            .unwrap()
            .starts_with("190 stitches")
    );
    // 100 cm at 20 over 4 in are 196.85 stitches; 6 x 32 + 2 and 6 x 33 + 2 are
    // 194 and 200.
    assert!(
        cast_on["should_be"]
            .as_str()
            .unwrap()
            .starts_with("194 stitches")
            || cast_on["should_be"]
                .as_str()
                .unwrap()
                .starts_with("200 stitches")
    );
}

#[test]
fn a_pattern_file_that_lacks_a_size_is_told() {
    let desk = Desk::with_sample();
    desk.write("short.toml", "pattern = \"Short\"\npurpose = \"garment\"\nfit = \"relaxed\"\n[[size]]\nname = \"S\"\n[[size]]\nname = \"M\"\n[[size]]\nname = \"L\"\n[[yarn]]\nkey = \"A\"\nneeds = \"800 (900) m\"\n");
    let findings = lint(&desk, &["short.toml"]);
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0]["line"], 12);
}

#[test]
fn a_spoilt_sheet_is_told_line_by_line() {
    let desk = Desk::with_sample();
    let asked = ["sheet", "--pattern", "Skerrablet", "--top=2", "--markdown"];
    let sheet = desk.text(&asked);
    let spoilt = sheet
        .replacen("116 m (127 yd)", "116 m (137 yd)", 1)
        .replacen(
            "| M | 1200 | 1312 | 11 | 6 | 12 |",
            "| M | 1000 | 1312 | 11 | 4 | 12 |",
            1,
        );
    assert_ne!(sheet, spoilt);
    desk.write("spoilt.md", &spoilt);
    let line_of = |text: &str| spoilt.lines().position(|line| line.contains(text)).unwrap() + 1;
    let table = line_of("| size |");
    let found = kinds(&desk, &["spoilt.md", "--pattern", "Skerrablet"]);
    let mut expected = vec![
        format!("{table} units disagree"),
        format!("{table} does not grow"),
        format!("{table} does not grow"),
        format!("{table} another need"),
        format!("{table} not covered"),
        format!("{table} units disagree"),
    ];
    let mut told = found.clone();
    told.sort();
    expected.sort();
    assert_eq!(told, expected, "{spoilt}");
    let fewer = sheet.replacen("| L | 1320 | 1444 | 13 | 6 | 13 |\n", "", 1);
    assert_ne!(sheet, fewer);
    desk.write("fewer.md", &fewer);
    let found = kinds(&desk, &["fewer.md", "--pattern", "Skerrablet"]);
    assert_eq!(found, [format!("{table} size missing")]);
}

#[test]
fn a_line_of_plain_text_is_held_against_itself_and_the_records() {
    let desk = Desk::with_sample();
    desk.write("line.txt", "Sizes S (M, L)\nChest 33 (36, 40) in / 84 (95, 102) cm\nDrummelaine, Jorvanne, 229 m (250 yd)/100 g, 4 (5, 5) skeins\nsome DK, 120 m/50 g: 7 (9, 11) skeins for 900 (1050, 1200) m\n");
    assert_eq!(
        kinds(&desk, &["line.txt"]),
        ["2 units disagree", "3 no longer made", "4 not covered"]
    );
    let gone = lint(&desk, &["line.txt"]);
    assert_eq!(gone[0]["should_be"], "83.8, 91.4, 101.6 cm");
    assert!(
        gone[2]["given"]
            .as_str()
            .unwrap()
            .starts_with("size 1: 7 skeins")
    );
}

#[test]
fn lint_wants_something_to_look_at() {
    let desk = Desk::with_sample();
    desk.run(&["lint"]).code(2);
    desk.run(&["lint", "nothing.txt"]).code(1);
}

/// Recomputed: 228 stitches at 21 over 10 cm are 108.57 cm; 228 x 21/22 = 217.6,
/// nearest multiple of 4 is 216.
#[test]
fn a_kept_swatch_resizes_every_size() {
    let desk = Desk::with_sample();
    desk.text(&[
        "swatch",
        "add",
        "Hathrel DK",
        "--needle",
        "4 mm",
        "--before",
        "23 sts x 31 rows / 10 cm, stockinette, in the round",
        "--after",
        "21 sts x 30 rows / 10 cm",
    ]);
    let answer = desk.json(&[
        "gauge",
        "--pattern",
        "Skerrablet",
        "--swatch-of",
        "Hathrel DK",
    ]);
    let sizes = answer["sizes"].as_array().unwrap();
    assert_eq!(sizes.len(), 6);
    let m = &sizes[2];
    assert!((as_number(&m["counts_kept"]["width_m"]) - 2.28 / 2.1).abs() < 1e-9);
    assert_eq!(
        (m["to_stitches"].as_u64(), m["to_rows"].as_u64()),
        (Some(216), Some(180))
    );
    for size in sizes {
        assert_eq!(size["to_stitches"].as_u64().unwrap() % 4, 0);
    }
    assert!((as_number(&answer["growth"]["across"]) - 23.0 / 21.0).abs() < 1e-9);
    assert!((as_number(&answer["growth"]["along"]) - 31.0 / 30.0).abs() < 1e-9);
    assert!(answer["growth"]["applied_to"].is_null());
    let before = &m["before_washing"];
    assert!((as_number(&before["width_m"]) - 1.04 * 21.0 / 23.0).abs() < 1e-9);
}

/// k of each way to keep something, with p = own / pattern's stitches and q = rows;
/// skeins = ceil(need x k x 1.1 / 245 m).
#[test]
fn the_need_changes_both_ways() {
    let desk = Desk::with_sample();
    let answer = desk.json(&[
        "gauge",
        "--pattern",
        "Skerrablet",
        "--own-gauge",
        "20 sts x 27 rows / 10 cm, washed",
        "--yarn",
        "Hathrel DK",
        "--size",
        "M",
    ]);
    let k = (20.0 / 22.0 * 27.0 / 30.0_f64).sqrt();
    let line = &answer["skeins"][0];
    for (form, factor) in [
        ("at_pattern_gauge", 1.0),
        ("counts_kept", 1.0 / k),
        ("stitches_kept", (0.9 * 22.0 / 20.0_f64).sqrt()),
        ("size_kept", k),
    ] {
        let need = as_number(&line[form]["need_m"]);
        assert!((need - 1200.0 * factor).abs() < 1e-6, "{form}");
        let skeins = (need * 1.1 / 245.0 - 1e-9).ceil();
        assert_eq!(as_number(&line[form]["skeins"]), skeins, "{form}");
    }
    // Counts of S at this gauge measure 204 / 2.0 = 102 cm, those of M 114 cm.
    assert_eq!(answer["sizes"][0]["knit_instead"], "S");
    // Its lengths are worked until they measure, unless the rows are counted too: the
    // need of S times sqrt(q / p), and M is 60 cm high where S is 58.
    let stitches = 1080.0 * (0.9 * 22.0 / 20.0_f64).sqrt() * 60.0 / 58.0;
    assert!((as_number(&line["instead"]["need_m"]) - stitches).abs() < 1e-6);
    assert_eq!(
        (answer["keep"].as_str(), answer["keep_assumed"].as_bool()),
        (Some("stitches"), Some(true))
    );
    let counts = desk.json(&[
        "gauge",
        "--pattern",
        "Skerrablet",
        "--own-gauge",
        "20 sts x 27 rows / 10 cm, washed",
        "--yarn",
        "Hathrel DK",
        "--size",
        "M",
        "--keep",
        "counts",
    ]);
    let line = &counts["skeins"][0];
    assert!((as_number(&line["instead"]["need_m"]) - 1080.0 / k).abs() < 1e-6);
    assert_eq!(
        (counts["keep"].as_str(), counts["keep_assumed"].as_bool()),
        (Some("counts"), Some(false))
    );
}

#[test]
fn an_unwashed_gauge_takes_the_growth_of_the_yarns_swatches() {
    let desk = Desk::with_sample();
    desk.text(&[
        "swatch",
        "add",
        "Hathrel DK",
        "--needle",
        "4 mm",
        "--before",
        "23 sts x 31 rows / 10 cm",
        "--after",
        "21 sts x 30 rows / 10 cm",
    ]);
    let asked = [
        "gauge",
        "--pattern",
        "Skerrablet",
        "--own-gauge",
        "22 sts x 30 rows / 10 cm, before washing",
        "--yarn",
    ];
    let grown = desk.json(&[&asked[..], &["Hathrel DK"]].concat());
    assert!((as_number(&grown["stitch_ratio"]) - 21.0 / 23.0).abs() < 1e-9);
    assert!(!grown["growth"]["applied_to"].is_null());
    let unknown = desk.json(&[&asked[..], &["Grundlin DK"]].concat());
    assert!((as_number(&unknown["stitch_ratio"]) - 1.0).abs() < 1e-9);
    assert!(unknown["growth"].is_null());
    assert!(unknown["warnings"].to_string().contains("before washing"));
}

/// m x n / (n + 4), recomputed: two swatches at 21 for a label of 22.
#[test]
fn the_own_tendency_is_shown_always_and_used_only_when_asked() {
    let desk = Desk::with_sample();
    let none = desk.json(&[
        "gauge",
        "--pattern",
        "Skerrablet",
        "--own-gauge",
        "22 sts / 10 cm",
    ]);
    assert_eq!(
        (
            none["tendency"]["swatches"].as_u64(),
            none["tendency"]["used"].as_bool()
        ),
        (Some(0), Some(false))
    );
    for needle in ["4 mm", "4.5 mm"] {
        desk.text(&[
            "swatch",
            "add",
            "Hathrel DK",
            "--needle",
            needle,
            "--after",
            "21 sts x 30 rows / 10 cm",
        ]);
    }
    let asked = [
        "gauge",
        "--pattern",
        "Skerrablet",
        "--swatch-of",
        "Palvetta DK",
    ];
    desk.run(&asked).code(2);
    let used = desk.json(&[&asked[..], &["--own-tendency"]].concat());
    let factor = ((21.0_f64 / 22.0).ln() * 2.0 / 6.0).exp();
    assert!((as_number(&used["tendency"]["factor"]) - factor).abs() < 1e-9);
    assert!((as_number(&used["stitch_ratio"]) - factor).abs() < 1e-9);
    assert_eq!(used["tendency"]["used"], true);
    let measured = desk.json(&[
        "gauge",
        "--pattern",
        "Skerrablet",
        "--swatch-of",
        "Hathrel DK",
        "--own-tendency",
    ]);
    assert_eq!(
        (
            measured["tendency"]["used"].as_bool(),
            measured["tendency"]["swatches"].as_u64()
        ),
        (Some(false), Some(2))
    );
    assert!((as_number(&measured["stitch_ratio"]) - 21.0 / 22.0).abs() < 1e-9);
}

#[test]
fn the_swatch_in_the_patterns_stitch_on_the_named_needle_is_used() {
    let desk = Desk::with_sample();
    let add = |needle: &str, gauge: &str| {
        desk.text(&[
            "swatch",
            "add",
            "Hathrel DK",
            "--needle",
            needle,
            "--before",
            gauge,
            "--after",
            gauge.split(',').next().unwrap(),
        ]);
    };
    add("4 mm", "22 sts x 30 rows / 10 cm, stockinette");
    add("3.5 mm", "24 sts x 32 rows / 10 cm, stockinette");
    add("4 mm", "20 sts x 36 rows / 10 cm, garter");
    let ratio = |more: &[&str]| {
        let asked = [
            "gauge",
            "--pattern",
            "Skerrablet",
            "--swatch-of",
            "Hathrel DK",
        ];
        as_number(&desk.json(&[&asked[..], more].concat())["stitch_ratio"])
    };
    assert!((ratio(&[]) - 24.0 / 22.0).abs() < 1e-9);
    assert!((ratio(&["--needle", "4 mm"]) - 1.0).abs() < 1e-9);
}

/// FlatOrRound examples of common practice, no source; recomputed (cases C43 and C45):
/// 312 stitches meant for 48 in at 6.5 come out at 52 in at 6; 36 in at 4 take 144
/// and come out at 32 in at 4.5.
#[test]
fn patterns_come_out_as_the_worked_examples_say() {
    let desk = Desk::with_sample();
    for (name, size, gauge, own, stitches, wanted, expected) in [
        (
            "Six",
            "cast_on = 312",
            "6.5 sts/in",
            "6 sts/in",
            Some(288),
            48.0,
            52.0,
        ),
        (
            "Four",
            "width = \"36 in\"",
            "4 sts/in",
            "4.5 sts/in",
            Some(162),
            36.0,
            32.0,
        ),
    ] {
        desk.write("p.toml", format!("pattern = \"{name}\"\npurpose = \"garment\"\nfit = \"relaxed\"\ngauge = \"{gauge}\"\n[[size]]\nname = \"one\"\n{size}\n[[yarn]]\nkey = \"A\"\nneeds = \"900 m\"\n"));
        desk.text(&["import", "pattern", "p.toml"]);
        let answer = desk.json(&["gauge", "--pattern", name, "--own-gauge", own]);
        let line = &answer["sizes"][0];
        let inches = |value: &Value| as_number(value) / 0.0254;
        assert!((inches(&line["wanted"]["width_m"]) - wanted).abs() < 1e-9);
        assert!((inches(&line["counts_kept"]["width_m"]) - expected).abs() < 1e-9);
        assert_eq!(line["to_stitches"].as_u64(), stitches);
    }
}

#[test]
fn sizes_without_measures_are_named_not_tabled() {
    let desk = Desk::empty();
    desk.write("p.toml", "pattern = \"Bare\"\npurpose = \"garment\"\nfit = \"relaxed\"\ngauge = \"22 sts x 30 rows / 10 cm\"\n[[size]]\nname = \"one\"\n[[yarn]]\nkey = \"A\"\nput_up = \"120 m / 50 g\"\nneeds = \"900 m\"\n");
    desk.text(&["import", "pattern", "p.toml"]);
    let text = desk.text(&[
        "gauge",
        "--pattern",
        "Bare",
        "--own-gauge",
        "20 sts x 27 rows / 10 cm",
    ]);
    assert!(text.contains("is not known: the pattern gives"), "{text}");
    assert!(
        !text.contains("knit instead") && text.contains("stitches as written"),
        "{text}"
    );
}

#[test]
fn a_swatch_of_one_yarn_counts_no_skeins_of_another() {
    let desk = Desk::with_sample();
    let typed = [
        "gauge",
        "--pattern",
        "Skerrablet",
        "--swatch-of",
        "Hathrel DK",
        "--yarn",
        "Umberlin DK",
    ];
    desk.run(&typed).code(2).stderr("--yarn");
}

#[test]
fn a_sheet_is_held_against_the_gauge_needs_and_sizes_of_its_pattern() {
    let desk = Desk::with_sample();
    desk.write("s.txt", "Sizes: XS (S, M, L, XL)\nGauge: 20 sts x 28 rows / 10 cm\nNeedles: US 8 / 5.5 mm\nYarn A: 70% wool, 20% nylon, 120 m / 50 g\nNeeded: 900 (1000, 1200, 1320, 1560, 1680) m\n");
    assert_eq!(
        kinds(&desk, &["s.txt", "--pattern", "Skerrablet"]),
        [
            "1 size missing",
            "2 another gauge",
            "3 needles disagree",
            "4 shares of fibres",
            "5 another need"
        ]
    );
    desk.write("good.txt", "Sizes: XS (S, M, L, XL, 2XL)\nGauge: 22 sts x 30 rows / 4 in\nNeedles: US 6 / 4 mm\nNeeded: 960 (1080, 1200, 1320, 1560, 1680) m\nTo buy: 1056 (1188, 1320, 1452, 1716, 1848) m\n");
    assert_eq!(
        kinds(&desk, &["good.txt", "--pattern", "Skerrablet"]),
        Vec::<String>::new()
    );
}

#[test]
fn a_gauge_that_says_nothing_of_its_length_is_refused() {
    let desk = Desk::with_sample();
    desk.run(&["gauge", "--pattern", "Skerrablet", "--own-gauge", "22 sts"])
        .code(2);
    desk.run(&["gauge", "--pattern", "Skerrablet"]).code(2);
}
