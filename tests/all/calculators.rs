//! The calculators of a designer and a knitter: needs from what was weighed,
//! whether yarn lasts, a ball without a label, the chance of running out.

use crate::desk::{Desk, Outcome, ask, fields, number, sample};
use serde_json::Value;
use std::fs;

/// Exit status and complaint of a question that is refused.
fn refused(arguments: &[&str]) -> (i32, String) {
    let done = Desk::empty().run(arguments);
    (done.status, done.err)
}

/// `needs` for a file of this text, margin 0 and no step.
fn needs(text: &str) -> Value {
    let desk = Desk::empty();
    desk.write("n.toml", text);
    desk.json(&["needs", "n.toml", "--margin", "0%", "--step", "1 mm"])
}

fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within + 1e-12,
        "{found}, not {expected}"
    );
}

const IN: f64 = 0.0254;
const YD: f64 = 0.9144;
const SQ_IN: f64 = IN * IN;

const HEAD: &str = "pattern = \"p\"\n[[yarn]]\nkey = \"A\"\nput_up = \"200 yd / 100 g\"\n";

/// FlatOrRound example of common practice (C79), no source; recomputed: a swatch of 8
/// by 8 in weighs 10 g, so 2 in more of a body 40 in around take 12.5 g.
#[test]
fn a_weighed_swatch_tells_what_more_length_takes() {
    let told = needs(&format!(
        "{HEAD}
[[piece]]
name = \"more body\"
shape = \"tube\"
around = \"40 in\"
height = \"2 in\"
[[sample]]
shape = \"rectangle\"
width = \"8 in\"
height = \"8 in\"
mass = \"10 g\""
    ));
    near(number(&told, "/needs/0/need_g"), 12.5, 1e-9);
    near(number(&told, "/needs/0/fabric") / SQ_IN, 80.0, 1e-9);
    near(1.0 / number(&told, "/rates/0/g_per_m2") / SQ_IN, 6.4, 1e-9);
}

/// FlatOrRound example of common practice (C81), no source; recomputed: 25,200
/// stitches of a body at 45 stitches to the yard are 560 yd, and with sleeves of
/// a third of that 747.
#[test]
fn stitches_by_the_yard_tell_a_body_and_its_sleeves() {
    let told = needs(
        "pattern = \"p\"\ngauge = \"5 sts x 7 rows / in\"
[[yarn]]
key = \"A\"
put_up = \"200 yd / 100 g\"
[[piece]]
name = \"body\"
shape = \"tube\"
around = \"40 in\"
height = \"18 in\"
[[piece]]
name = \"sleeves\"
shape = \"tube\"
around = \"40 in\"
height = \"6 in\"
[[sample]]
rows = \"1-1: 45\"
mass = \"0.5 g\"",
    );
    near(number(&told, "/needs/0/need_m") / YD, 747.0, 0.5);
    near(
        number(&told, "/needs/0/fabric") / SQ_IN * 35.0 * 0.75,
        25_200.0,
        1e-6,
    );
}

const SWATCH: &str = "
[[sample]]
shape = \"rectangle\"
width = \"10 cm\"
height = \"10 cm\"
mass = \"4 g\"
";

/// FlatOrRound examples of common practice (C83, C85), no source; recomputed: 1534 sq
/// in; and a body of 812 with two sleeves of 110.25 and a cap of 40.625.
/// DIFFERENCE: C85 prints 81.25 for the cap, which is not halved, and so 383 for
/// two sleeves where 301.75 is right.
#[test]
fn sleeves_and_caps_are_trapezoids_and_halved() {
    let told = needs(&format!(
        "{HEAD}{SWATCH}
[[piece]]
name = \"back and front\"
shape = \"rectangle\"
width = \"20 in\"
height = \"28 in\"
times = 2
[[piece]]
name = \"sleeve\"
shape = \"trapezoid\"
width = \"8 in\"
top = \"15 in\"
height = \"18 in\"
times = 2"
    ));
    near(number(&told, "/needs/0/fabric") / SQ_IN, 1534.0, 1e-6);
    let told = needs(&format!(
        "{HEAD}{SWATCH}
[[piece]]
name = \"sleeve\"
shape = \"trapezoid\"
width = \"9 in\"
top = \"12 in\"
height = \"10.5 in\"
times = 2
[[piece]]
name = \"cap\"
shape = \"trapezoid\"
width = \"12 in\"
top = \"4.25 in\"
height = \"5 in\"
times = 2"
    ));
    near(number(&told, "/needs/0/fabric") / SQ_IN, 301.75, 1e-6);
}

/// FlatOrRound example of common practice (C87), no source; recomputed: 20 rows of 20
/// stitches, twice 20 for the cast-on and 20 for the bind-off weigh 2 g: 230
/// stitches to the gram.
#[test]
fn stitches_by_the_gram_come_from_a_counted_swatch() {
    let told = needs(&format!(
        "{HEAD}
[[piece]]
name = \"p\"
rows = \"1-10: 46\"
[[sample]]
rows = \"1-23: 20\"
mass = \"2 g\""
    ));
    assert_eq!(told["basis"], "stitches");
    near(1.0 / number(&told, "/rates/0/g_per_stitch"), 230.0, 1e-9);
    near(number(&told, "/needs/0/need_g"), 2.0, 1e-9);
}

/// FlatOrRound example of common practice (C91), no source; recomputed: square inches
/// by the gram of the same yarn and counts in four stitches.
#[test]
fn every_stitch_has_a_rate_of_its_own() {
    let rows = [
        ("stockinette", 9.0, 5.75, 4.75, 3.03),
        ("garter", 9.0, 5.75, 3.25, 2.08),
        ("single crochet", 19.0, 6.25, 5.75, 1.89),
        ("half double", 28.0, 6.75, 9.25, 2.23),
    ];
    let mut text = HEAD.to_owned();
    for (stitch, grams, width, height, _) in rows {
        let measures = format!(
            "stitch = \"{stitch}\"\nshape = \"rectangle\"\nwidth = \"{width} in\"\nheight = \"{height} in\"\n"
        );
        text += &format!("[[piece]]\nname = \"{stitch}\"\n{measures}");
        text += &format!("[[sample]]\nmass = \"{grams} g\"\n{measures}");
    }
    let told = needs(&text);
    for (place, (stitch, .., expected)) in rows.iter().enumerate() {
        assert_eq!(told["rates"][place]["stitch"], *stitch);
        let rate = number(&told, &format!("/rates/{place}/g_per_m2"));
        near(1.0 / rate / SQ_IN, *expected, 0.005);
    }
}

/// FlatOrRound examples of common practice (C93, C95, C69), no source; recomputed: a
/// tail of 4 times 9 in is 36 in, one of 3 times 10 in is 30; 103 to 40 g and 52
/// to 34 g are 63 and 18 g used.
#[test]
fn edges_take_their_multiple_and_weighings_their_difference() {
    let told = needs(&format!(
        "{HEAD}
[[piece]]
name = \"p\"
shape = \"rectangle\"
width = \"9 in\"
height = \"9 in\"
[[edge]]
name = \"cast-on\"
length = \"9 in\"
takes = 4
[[edge]]
name = \"other\"
length = \"10 in\"
takes = \"3 times\"
[[sample]]
shape = \"rectangle\"
width = \"1 m\"
height = \"1 m\"
before = \"103 g\"
after = \"40 g\"
[[sample]]
shape = \"rectangle\"
width = \"1 m\"
height = \"0.3 m\"
before = \"52 g\"
after = \"34 g\""
    ));
    near(number(&told, "/needs/0/edges_m") / IN, 66.0, 1e-9);
    near(number(&told, "/left_out/0/weighed_g"), 63.0, 1e-9);
    near(number(&told, "/left_out/1/weighed_g"), 18.0, 1e-9);
    near(number(&told, "/left_out/1/error_percent"), 5.0, 1e-6);
}

#[test]
fn a_garment_that_grows_both_ways_grows_by_the_product() {
    let told = needs(&format!(
        "sizes = [\"S\", \"M\"]\n{HEAD}{SWATCH}
[[piece]]
name = \"body\"
shape = \"tube\"
around = [\"100 cm\", \"110 cm\"]
height = [\"50 cm\", \"55 cm\"]"
    ));
    near(number(&told, "/needs/1/growth"), 1.21, 1e-9);
    assert_eq!(told["warnings"], serde_json::json!([]));
    let told = needs(&format!(
        "sizes = [\"S\", \"M\"]\n{HEAD}{SWATCH}
[[piece]]
name = \"body\"
shape = \"tube\"
around = [\"100 cm\", \"110 cm\"]
height = \"50 cm\""
    ));
    near(number(&told, "/needs/1/growth"), 1.1, 1e-9);
    let warned = told["warnings"][0].as_str().unwrap();
    assert!(warned.contains("only one of its measurements"), "{warned}");
}

/// The rows of size M make its fabric a tenth closer than its measures and gauge
/// do: by the geometry it would take sqrt(1.21) = 1.1 of it.
#[test]
fn a_size_whose_counts_are_not_those_of_its_measures_is_told() {
    let told = needs(&format!(
        "sizes = [\"S\", \"M\"]\ngauge = \"20 sts x 30 rows / 10 cm\"\n{HEAD}
[[piece]]
name = \"back\"
shape = \"rectangle\"
width = [\"50 cm\", \"55 cm\"]
height = [\"50 cm\", \"52 cm\"]
rows = [\"1-150: 100\", \"1-156: 133.1\"]
[[sample]]
size = \"S\"
mass = \"110 g\""
    ));
    near(number(&told, "/needs/0/geometry_percent"), 0.0, 1e-6);
    near(number(&told, "/needs/1/geometry_percent"), 10.0, 1e-6);
    let warned = told["warnings"].to_string();
    assert!(warned.contains("Size M, yarn A"), "{warned}");
    assert!(!warned.contains("Size S"), "{warned}");
}

#[test]
fn a_stitch_that_nothing_tells_is_asked_for_and_a_figure_of_ones_own_will_do() {
    let piece = |stitch: &str| {
        format!(
            "[[piece]]\nname = \"{stitch}\"\nstitch = \"{stitch}\"\nshape = \"rectangle\"\nwidth = \"1 m\"\nheight = \"1 m\"\n"
        )
    };
    let swatch = SWATCH.replace("[[sample]]", "[[sample]]\nstitch = \"plain\"");
    let text = format!("{HEAD}{}{}{swatch}", piece("plain"), piece("rib"));
    let desk = Desk::empty();
    desk.write("n.toml", &text);
    desk.run(&["needs", "n.toml"])
        .code(1)
        .stderr("how much yarn `rib` uses")
        .stderr("takes` and `of`");
    let own = "[[stitch]]\nname = \"rib\"\ntakes = \"120 %\"\nof = \"plain\"\n";
    let told = needs(&format!("{text}{own}"));
    near(number(&told, "/needs/0/need_g"), 400.0 * 2.2, 1e-6);
    assert_eq!(told["rates"][1]["learned"], false);
    assert_eq!(told["rates"][0]["stitch"], "plain");
}

#[test]
fn two_colours_have_needs_of_their_own_and_one_step() {
    let text = format!(
        "{HEAD}[[yarn]]\nkey = \"B\"\nput_up = \"100 yd / 100 g\"\n{SWATCH}
[[piece]]
name = \"body\"
shape = \"rectangle\"
width = \"1 m\"
height = \"1 m\"
[[piece]]
name = \"band\"
yarn = \"B\"
shape = \"rectangle\"
width = \"1 m\"
height = \"10 cm\""
    );
    let desk = Desk::empty();
    desk.write("n.toml", text);
    let told = desk.json(&["needs", "n.toml", "--margin", "10%", "--step", "25 g"]);
    near(number(&told, "/needs/0/need_g"), 400.0, 1e-6);
    near(number(&told, "/needs/0/stated_g"), 450.0, 1e-6);
    near(number(&told, "/needs/1/need_g"), 80.0, 1e-6);
    near(number(&told, "/needs/1/stated_g"), 100.0, 1e-6);
    assert_eq!(
        (&told["needs"][0]["skeins"], &told["needs"][1]["skeins"]),
        (&5.into(), &1.into())
    );
}

#[test]
fn a_bad_file_of_needs_is_refused_with_line_and_key() {
    let desk = Desk::empty();
    desk.write(
        "n.toml",
        format!("{HEAD}[[piece]]\nname = \"p\"\nshape = \"oval\"\n"),
    );
    desk.run(&["needs", "n.toml"])
        .code(1)
        .stderr("line 7, character 9, piece 1, shape: `oval`");
}

/// FlatOrRound example of common practice (C89), no source; recomputed: 38 to 35 g over
/// 4 rows, 26 rows left and 6 g kept: 0.75 g a row, 9.5 g and 12.67 rows to spare.
#[test]
fn two_weighings_tell_what_is_spare() {
    let told = ask(&[
        "last",
        "--before",
        "38 g",
        "--left",
        "35 g",
        "--rows",
        "4",
        "--rows-left",
        "26",
        "--keep",
        "6 g",
        "--scale",
        "0.1 g",
    ]);
    near(number(&told, "/row_now_g"), 0.75, 1e-9);
    near(number(&told, "/takes_g") + 6.0, 25.5, 1e-9);
    near(number(&told, "/spare_g/value"), 9.5, 1e-9);
    near(number(&told, "/spare_rows/value"), 12.67, 0.005);
    assert_eq!(told["lasts"], "yes");
    assert!(number(&told, "/stop_after_rows") >= 26.0);
}

/// A worked example of common practice, no source; recomputed: 77 % of the rows of
/// a triangle are 59 % of its yarn.
#[test]
fn a_triangle_is_not_judged_by_its_rows() {
    let triangle = |left: &str| {
        ask(&[
            "last",
            "--label",
            "100 g",
            "--left",
            left,
            "--rows",
            "77",
            "--rows-left",
            "23",
            "--shape",
            "triangle",
        ])
    };
    let told = triangle("41 g");
    near(number(&told, "/rows_done_percent"), 77.0, 1e-9);
    near(number(&told, "/yarn_done_percent"), 59.0, 0.5);
    assert_eq!(told["lasts"], "too close to say");
    assert!(told["working"].to_string().contains("76/211/EEC"));
    // By rows alone 23 % would be enough; it is far from it.
    assert_eq!(triangle("25 g")["lasts"], "no");
    assert_eq!(triangle("60 g")["lasts"], "yes");
}

#[test]
fn a_coarser_scale_and_damper_air_widen_what_is_told() {
    let width = |scale: &str, damp: &str| {
        let told = ask(&[
            "last",
            "--before",
            "50 g",
            "--left",
            "38 g",
            "--rows",
            "10",
            "--rows-left",
            "20",
            "--scale",
            scale,
            "--damp",
            damp,
        ]);
        number(&told, "/spare_g/high") - number(&told, "/spare_g/low")
    };
    assert!(width("1 g", "0%") > 5.0 * width("0.1 g", "0%"));
    assert!(width("0.1 g", "2%") > width("0.1 g", "0%"));
}

#[test]
fn what_cannot_be_is_refused_as_wrong_usage() {
    for arguments in [
        &["last", "--before", "38 g", "--left", "38 g", "--rows", "4"][..],
        &["last", "--left", "38 g", "--rows", "4"],
        &["last", "--before", "50 g", "--left", "38 g", "--rows", "0"],
        &[
            "last", "--before", "50 g", "--left", "38 g", "--rows", "4", "--shape", "yoke",
        ],
        &[
            "last",
            "--before",
            "50 g",
            "--left",
            "38 g",
            "--rows",
            "9",
            "--shape",
            "triangle",
            "--rows-done",
            "8",
        ],
        &["last", "--label", "3 kg", "--left", "38 g", "--rows", "9"],
        &["unlabelled", "--mass", "50 g"],
        &[
            "unlabelled",
            "--mass",
            "50 g",
            "--tare",
            "50 g",
            "--balance",
            "8 in",
        ],
        &["unlabelled", "--turns", "0", "--reel", "1 m"],
        &[
            "skeins", "--need", "900 m", "--put-up", "120 m", "--sure", "100%",
        ],
        &[
            "skeins", "--need", "900 m", "--put-up", "120 m", "--sure", "20%",
        ],
        &[
            "skeins",
            "--need",
            "900 m",
            "--put-up",
            "120 m",
            "--own-use",
            "5%",
        ],
    ] {
        let (status, told) = refused(arguments);
        assert_eq!(status, 2, "{arguments:?}: {told}");
        assert!(!told.is_empty());
    }
}

/// FlatOrRound example of common practice (C73), no source; recomputed: a balance
/// strand of 8.4 in is 840 yd/lb, and a cone of 12 oz holds 630 yd.
#[test]
fn a_balance_strand_tells_a_cone() {
    let told = ask(&["unlabelled", "--mass", "12 oz", "--balance", "8.4 in"]);
    near(number(&told, "/methods/0/length_m/value") / YD, 630.0, 1e-6);
    let grist = number(&told, "/methods/0/grist_m_per_100g/value") / 100.0;
    near(grist * 453.592_37 / YD, 840.0, 1e-6);
    // The tare comes off.
    let cone = ask(&[
        "unlabelled",
        "--mass",
        "13 oz",
        "--tare",
        "1 oz",
        "--balance",
        "8.4 in",
    ]);
    near(number(&cone, "/methods/0/length_m/value") / YD, 630.0, 1e-6);
}

#[test]
fn wraps_alone_never_settle_a_class_and_no_way_tells_the_fibre() {
    for wraps in ["5", "9", "12", "16", "30"] {
        let told = ask(&["unlabelled", "--wraps", wraps, "--over", "1 in"]);
        assert!(
            told["weight_classes"].as_array().unwrap().len() > 1,
            "{told}"
        );
        assert_eq!(told["fibre"], Value::Null);
        assert_eq!(told["burn"], Value::Null);
    }
}

#[test]
fn ways_that_disagree_are_told() {
    let told = ask(&[
        "unlabelled",
        "--mass",
        "50 g",
        "--length",
        "10 m",
        "--weighs",
        "4.4 g",
        "--fine-scale",
        "0.1 g",
        "--turns",
        "100",
        "--reel",
        "1.5 m",
    ]);
    near(number(&told, "/methods/1/length_m/value"), 150.0, 1e-9);
    assert!(
        told["warnings"][0]
            .as_str()
            .unwrap()
            .contains("do not agree"),
        "{told}"
    );
}

#[test]
fn the_burn_test_comes_with_its_cautions_only() {
    let told = ask(&["unlabelled", "--wraps", "12", "--over", "1 in", "--burn"]);
    assert!(told["burn"]["cautions"].as_array().unwrap().len() >= 3);
    let text = told["burn"].to_string();
    assert!(
        text.contains("first indication") && text.contains("Blends"),
        "{text}"
    );
}

#[test]
fn the_chance_is_told_only_where_it_is_asked_for() {
    let plain = ask(&["skeins", "--need", "900 m", "--put-up", "120 m/50 g"]);
    assert_eq!(plain.get("sure"), None);
    let asked = |sure: &str| {
        ask(&[
            "skeins",
            "--need",
            "960 m",
            "--put-up",
            "120 m/50 g",
            "--sure",
            sure,
            "--own-use",
            "6%",
        ])
    };
    let told = asked("95%");
    let line = &told["sure"][0];
    assert_eq!(line["skeins"], 9);
    assert!(number(line, "/chance_percent") <= 5.0);
    assert_eq!(line["chances"][1]["skeins"], 8);
    near(number(line, "/chances/1/chance_percent"), 50.0, 1e-9);
    let working = told["working"].to_string();
    for basis in ["76/211/EEC", "as you say", "counted as exact"] {
        assert!(working.contains(basis), "{working}");
    }
    assert_eq!(asked("50%")["sure"][0]["skeins"], 8);
}

#[test]
fn needs_become_a_pattern_file_that_is_never_overwritten_unasked() {
    let desk = Desk::empty();
    fs::copy(sample("weighed.toml"), desk.path("w.toml")).unwrap();
    let file = desk.path("p.toml");
    let plain = ["needs", "w.toml", "--pattern", "p.toml"];
    let whole = [&plain[..], &["--purpose", "garment", "--fit", "relaxed"]].concat();
    desk.run(&plain).code(2);
    assert!(!file.exists(), "what it is for is asked, not guessed");
    let told = desk.json(&whole);
    let written = fs::read_to_string(&file).unwrap();
    for line in told["needs"].as_array().unwrap() {
        assert!(
            written.contains(&format!("\"{} m\"", number(line, "/stated_m"))),
            "{written}"
        );
    }
    fs::write(&file, "mine").unwrap();
    desk.run(&whole).code(1);
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
    let replaced = [&whole[..], &["--replace"]].concat();
    desk.json(&replaced);
    assert_eq!(fs::read_to_string(&file).unwrap(), written);
    desk.write("w.toml", "pattern = 1");
    desk.run(&replaced).code(1);
    assert_eq!(
        fs::read_to_string(&file).unwrap(),
        written,
        "whole or not at all"
    );
    desk.text(&["import", "pattern", "p.toml"]);
}

#[test]
fn what_would_be_left_unused_is_refused() {
    for arguments in [
        &[
            "last", "--left", "5 g", "--before", "9 g", "--rows", "4", "--each", "2",
        ][..],
        &[
            "last",
            "--left",
            "5 g",
            "--before",
            "9 g",
            "--rows",
            "4",
            "--rows-done",
            "9",
        ],
    ] {
        let (status, told) = refused(arguments);
        assert!(status == 2 && told.contains("this needs"), "{told}");
    }
}

#[test]
fn a_list_tells_of_each_yarn_the_chance_that_its_own_answer_tells() {
    let desk = Desk::empty();
    let mut records = understudy::app::Records::open(&desk.db()).unwrap();
    let yarns = include_str!("../../sample-stash/yarns.csv");
    understudy::app::import_table(
        &mut records,
        understudy::app::TableKind::Yarns,
        "y",
        yarns.as_bytes(),
        false,
        |_| (),
    )
    .unwrap();
    let question = understudy::app::QuestionRequest {
        of: understudy::app::PatternRequest {
            wants: Some("120 m/50 g, 22 sts / 10 cm, 100% wool".to_owned()),
            need: Some("8 (9, 10) skeins".to_owned()),
            ..Default::default()
        },
        chance: understudy::app::ChanceRequest {
            sure: Some("95%".to_owned()),
            own_use: Some("5%".to_owned()),
        },
        ..Default::default()
    };
    let best_for = |question: &understudy::app::QuestionRequest| {
        let request = understudy::app::FindRequest {
            question: question.clone(),
            ..Default::default()
        };
        let found = understudy::app::find(&records, &request).unwrap();
        found.iter().map(fields).collect::<Vec<_>>()
    };
    let list = best_for(&question);
    let lines = list[0]["candidates"].as_array().unwrap();
    assert_eq!(lines.len(), 5);
    for line in lines.iter().filter(|line| line["strands"] == 1) {
        let request = understudy::app::CheckRequest {
            question: question.clone(),
            yarn: line["candidate"]
                .as_str()
                .map(str::to_owned)
                .into_iter()
                .collect(),
            ..Default::default()
        };
        let one = understudy::app::check(&records, &request).unwrap();
        assert_eq!(fields(&one)["sure"], line["sure"], "{line}");
    }
    let known = lines
        .iter()
        .filter(|line| line["sure"].as_array().is_some_and(|sure| sure.len() == 3))
        .count();
    assert!(known > 2, "of those with a length every size is told");
    let told = list[0]["working"].to_string();
    for basis in ["76/211/EEC", "as you say", "anything in its range"] {
        assert!(told.contains(basis), "{told}");
    }
    let plain = understudy::app::QuestionRequest {
        chance: understudy::app::ChanceRequest::default(),
        ..question
    };
    let list = best_for(&plain);
    let lines = list[0]["candidates"].as_array().unwrap();
    assert!(!lines.is_empty() && lines.iter().all(|line| line.get("sure").is_none()));
}

#[test]
fn check_tells_the_chance_for_every_size() {
    let told = ask(&[
        "check",
        "--wants",
        "120 m/50 g",
        "--need",
        "8 (9, 10) skeins",
        "--yarn",
        "50 g = 125 m",
        "--sure",
        "95%",
    ]);
    let skeins: Vec<&Value> = told["sure"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| &line["skeins"])
        .collect();
    assert_eq!(skeins, [8, 9, 10]);
    assert!(
        told["working"]
            .to_string()
            .contains("anything in its range")
    );
}

/// Recomputed: 20 rows from 120 to 200 stitches are 3200 stitches for 16 g, 0.005 g
/// each; of 36 g 7200 stitches come, and rows r with r (200 + 2 r) = 7200 are 28.1.
#[test]
fn a_crescent_takes_more_with_every_row() {
    let shape = ["--shape", "crescent", "--stitches", "200", "--each", "4"];
    let mut asked = vec!["last", "--before", "52 g", "--left", "36 g", "--rows", "20"];
    asked.extend(shape);
    let told = ask(&asked);
    near(number(&told, "/row_now_g"), 1.0, 1e-9);
    near(number(&told, "/rows_remain/value"), 28.1, 0.05);
}

/// Recomputed: a yoke that loses 4 of 200 stitches with each row closes after 50
/// rows, and 50 x 200 / 2 of its stitches at 2 m the row of 200 are 50 m.
#[test]
fn a_yoke_closes_and_a_row_may_be_known_by_its_length() {
    let told = ask(&[
        "last",
        "--left",
        "40 g",
        "--row-takes",
        "2 m",
        "--put-up",
        "100 m/50 g",
        "--rows-left",
        "50",
        "--shape",
        "yoke",
        "--stitches",
        "200",
        "--each",
        "4",
    ]);
    near(number(&told, "/takes_m"), 50.0, 1e-6);
    near(number(&told, "/ends_after_rows"), 50.0, 1e-9);
    near(number(&told, "/spare_m/value"), 30.0, 1e-6);
    assert_eq!(told["lasts"], "yes");
}

fn last_pieces(more: &[&str]) -> Outcome {
    let file = crate::desk::sample("weighed.toml");
    Desk::empty().run(&[&["last", "--pieces", &file], more].concat())
}

/// By the file size M takes 92.6 g for the yoke, 50.4 for a sleeve and 41.7 for the bands.
#[test]
fn what_is_left_makes_pieces_in_their_order_until_it_is_short() {
    let asked = |left: &str| {
        let told = last_pieces(&[
            "--size",
            "M",
            "--done",
            "body, 1 sleeve",
            "--left",
            left,
            "--json",
        ]);
        told.success().json()["yarns"][0].clone()
    };
    let told = asked("150 g");
    let pieces = told["pieces"].as_array().unwrap();
    let names: Vec<&str> = pieces
        .iter()
        .map(|it| it["piece"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["yoke", "sleeve", "bands"]);
    near(number(&pieces[0], "/left_after_g"), 150.0 - 92.6, 0.05);
    near(
        number(&pieces[1], "/left_after_g"),
        150.0 - 92.6 - 50.4,
        0.1,
    );
    assert!(number(&pieces[2], "/left_after_g") < 0.0);
    assert_eq!(told["lasts"], "no");
    assert_eq!(asked("190 g")["lasts"], "too close to say");
    assert_eq!(asked("215 g")["lasts"], "yes");
    let words = last_pieces(&["--size", "M", "--done", "body, 1 sleeve", "--left", "150 g"]);
    let words = words.success().out;
    assert!(
        words.contains("No: 150 g make yoke and sleeve. Stop before the bands"),
        "{words}"
    );
    let none = last_pieces(&["--size", "M", "--left", "10 g"])
        .success()
        .out;
    assert!(none.contains("do not make one piece"), "{none}");
}

#[test]
fn what_does_not_go_with_pieces_is_refused() {
    for (more, says) in [
        (&["--left", "10 g", "--rows", "3"][..], "--rows"),
        (&["--size", "XL", "--left", "10 g"], "XL"),
        (
            &["--size", "M", "--done", "bodice", "--left", "10 g"],
            "bodice",
        ),
        (
            &[
                "--size",
                "M",
                "--done",
                "body, yoke, sleeve, bands",
                "--left",
                "10 g",
            ],
            "every piece is done",
        ),
        (&["--size", "M", "--left", " "], "left"),
    ] {
        last_pieces(more).code(2).stderr(says);
    }
    let alone = Desk::empty().run(&["last", "--left", "10 g", "--size", "M"]);
    alone.code(2);
}
