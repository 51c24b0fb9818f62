//! Facts of the trade: common practice, no source.

use crate::desk::{ask, number};
use understudy::{
    measure::{Interval, NeedleSize},
    trade::{WeightClass, classes_by_needle},
};

/// Fact of the trade, common practice, no source: 355 yd are 325 m and 285 yd
/// are 261 m, to the metre.
#[test]
fn yards_are_so_many_whole_metres() {
    for (yards, metres) in [("355 yd", 325.0), ("285 yd", 261.0)] {
        let length = number(&ask(&["read", yards]), "/put_up/length_m");
        assert_eq!(length.round(), metres, "{yards}");
    }
}

fn grist_departure(yarn: &str, tolerance: &str) -> f64 {
    let asked = [
        "check",
        "--wants",
        "355 yd/200 g",
        "--yarn",
        yarn,
        "--tolerance",
        tolerance,
    ];
    number(&ask(&asked), "/departures/0/departure")
}

/// Fact of the trade, common practice, no source: a yarn does for one of 355 yd
/// in 200 g that lies within 20 to 30 yd (18 to 27 m) of it. Inside, at the edge
/// and outside, in yards and in metres.
#[test]
fn a_tolerance_in_yards_or_metres_accepts_inside_and_refuses_outside() {
    for (tolerance, inside, outside) in [
        (
            "20 yd/200 g",
            ["336 yd/200 g", "375 yd/200 g"],
            ["334 yd/200 g", "376 yd/200 g"],
        ),
        (
            "30 yd/200 g",
            ["325 yd/200 g", "384 yd/200 g"],
            ["324 yd/200 g", "386 yd/200 g"],
        ),
        (
            "18 m/200 g",
            ["307 m/200 g", "342 m/200 g"],
            ["306 m/200 g", "343 m/200 g"],
        ),
        (
            "27 m/200 g",
            ["298 m/200 g", "351 m/200 g"],
            ["297 m/200 g", "352 m/200 g"],
        ),
    ] {
        for yarn in inside {
            assert!(
                grist_departure(yarn, tolerance) <= 1.0 + 1e-9,
                "{yarn} within {tolerance}"
            );
        }
        for yarn in outside {
            assert!(
                grist_departure(yarn, tolerance) > 1.0 + 1e-9,
                "{yarn} beyond {tolerance}"
            );
        }
    }
}

#[test]
fn what_lies_outside_a_stated_tolerance_asks_for_another_cloth_and_beyond_a_fifth_will_not_work() {
    let verdict = |yarn: &str| {
        let asked = [
            "check",
            "--wants",
            "355 yd/200 g",
            "--yarn",
            yarn,
            "--tolerance",
            "30 yd/200 g",
        ];
        ask(&asked)["verdict"].clone()
    };
    // gauge is not given, so nothing more than `could` is said
    assert_eq!(verdict("330 yd/200 g"), "could work, if ...");
    // up to 20 %, the widest published tolerance, for those who like a firmer cloth
    assert_eq!(verdict("320 yd/200 g"), "could work, if ...");
    assert_eq!(verdict("284 yd/200 g"), "could work, if ...");
    assert_eq!(verdict("283 yd/200 g"), "will not work");
}

fn inches(stitches: &str, rows: &str) -> (f64, f64) {
    let asked = [
        "size",
        "--gauge",
        "18 sts x 24 rounds / 4 in",
        "--stitches",
        stitches,
        "--rows",
        rows,
    ];
    let told = ask(&asked);
    let metres = |side: &str| told[side].as_f64().unwrap() / 0.0254;
    (metres("width_m"), metres("height_m"))
}

/// Fact of the trade, common practice, no source: at 18 x 24 over 4 in, 252
/// stitches and 45 rounds are 56 by 7.5 in, 118 and 75 are 26.2 by 12.5 in.
#[test]
fn counts_measure_what_patterns_print() {
    let (width, height) = inches("252", "45");
    assert!((width - 56.0).abs() < 1e-9 && (height - 7.5).abs() < 1e-9);
    let (width, height) = inches("118", "75");
    assert!((width - 26.2).abs() < 0.05 && (height - 12.5).abs() < 1e-9);
}

/// Fact of the trade, common practice, no source: two sizes of one pattern, 355
/// yd for 56 by 7.5 in and 285 yd for 26.2 by 12.5 in, use the same length by
/// area to 3 %.
#[test]
fn two_sizes_use_as_much_yarn_by_area() {
    let by_area = |yards: f64, (width, height): (f64, f64)| yards / (width * height);
    let ratio = by_area(355.0, inches("252", "45")) / by_area(285.0, inches("118", "75"));
    assert!((ratio - 1.0).abs() < 0.03, "{ratio}");
}

/// Fact of the trade, common practice, no source: worsted is class 4 and is
/// knitted on 5 mm, US 8.
#[test]
fn worsted_is_class_4_and_is_knitted_on_5_mm() {
    let read = ask(&["read", "worsted, US 8"]);
    assert_eq!(read["weight_classes"], serde_json::json!([4]));
    assert_eq!(read["needles_mm"], serde_json::json!([5.0, 5.0]));
    let needle = Interval::one(NeedleSize::millimetres(5.0).unwrap());
    assert_eq!(classes_by_needle(needle), [WeightClass::new(4).unwrap()]);
}
