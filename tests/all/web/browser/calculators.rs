//! The pages of the calculators in Chromium: by keyboard, with a word for
//! every state, looked over with axe and at three widths.

use super::{Key, Locator, PrintSize, Visit};
use crate::web::{JUMPER, fill};

async fn reaches(visit: &Visit, fields: &[(&str, &str)], tells: &str) -> String {
    for (field, text) in fields {
        visit.type_into(field, text).await;
    }
    visit.enter().await;
    visit.told(tells).await
}

/// Presses the button of a form.
async fn send(visit: &Visit, form: &str) {
    let button = format!("#{form} button");
    let button = visit.client.find(Locator::Css(&button)).await.unwrap();
    let enter = char::from(Key::Enter).to_string();
    button.send_keys(&enter).await.unwrap();
}

#[tokio::test]
async fn a_knitter_weighs_measures_and_swatches_by_keyboard() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    fill(&visit.desk, &[JUMPER]);
    visit.go("/questions").await;
    visit.look("questions").await;
    visit.go("/last").await;
    visit.look("last").await;
    let fields = [
        ("last-before", "61.5"),
        ("last-rows", "20"),
        ("last-left", "52.3 g"),
        ("last-rows-left", "60"),
        ("last-shape", "A triangle"),
        ("last-rows-done", "90"),
    ];
    reaches(&visit, &fields, "the 60 rows").await;
    let bars = "return [...document.querySelectorAll('.bars li')].map(bar => [bar.querySelector('.label').innerText, bar.querySelector('rect').getBoundingClientRect().width])";
    let bars = visit.said(bars).await;
    let bars = bars.as_array().unwrap();
    let labels: Vec<&str> = bars.iter().filter_map(|bar| bar[0].as_str()).collect();
    assert_eq!(labels, ["used", "left to knit with", "still to knit"]);
    let widths: Vec<f64> = bars.iter().filter_map(|bar| bar[1].as_f64()).collect();
    assert!(
        (widths[0] / widths[1] - 9.2 / 52.3).abs() < 0.01,
        "{widths:?}"
    );
    visit.look("last-answer").await;
    visit.go("/last?asked=yes&left=heavy&rows=many").await;
    visit.look("last-refused").await;
    visit.go("/unlabelled").await;
    visit.look("unlabelled").await;
    let fields = [
        ("unlabelled-mass", "312 g"),
        ("unlabelled-length", "20 m"),
        ("unlabelled-weighs", "5.3 g"),
        ("unlabelled-wraps", "32"),
        ("unlabelled-over", "2 in"),
    ];
    reaches(&visit, &fields, "is possible").await;
    visit
        .go("/unlabelled?asked=yes&mass=312+g&length=20+m&weighs=5.3+g&wraps=32&over=2+in&burn=yes")
        .await;
    visit.told("Before a burn test").await;
    visit.look("unlabelled-answer").await;
    visit.go("/gauge?pattern=1").await;
    visit.look("gauge").await;
    let fields = [("gauge-own-gauge", "21 sts x 28 rows / 10 cm")];
    reaches(&visit, &fields, "To keep the size").await;
    visit.look("gauge-answer").await;
    visit
        .go("/size?asked=yes&stitches=200&rows=168&gauge=22+sts+x+30+rows+%2F+10+cm")
        .await;
    visit.look("size-answer").await;
    visit
        .go("/skeins?asked=yes&need=9+x+125+m&put-up=120+m%2F50+g&sure=95%25")
        .await;
    visit.look("skeins-answer").await;
    visit
        .go("/answer?pattern=1%3A2&offered=one&yarn=Umberlin+DK&sure=95%25&own-use=5%25")
        .await;
    visit.told("sure of enough").await;
    visit.look("answer-chance").await;
}

#[tokio::test]
async fn only_fields_of_the_chosen_shape_are_seen_without_a_script_too() {
    let Some(visit) = Visit::begin(false).await else {
        return;
    };
    for (shape, seen) in [
        ("straight", [false, false, false]),
        ("triangle", [true, false, false]),
        ("crescent", [false, true, true]),
        ("yoke", [false, true, true]),
    ] {
        visit.go(&format!("/last?shape={shape}")).await;
        for (field, is_seen) in ["rows-done", "stitches", "each"].into_iter().zip(seen) {
            let css = format!("#last-{field}");
            let field = visit.client.find(Locator::Css(&css)).await.unwrap();
            let found = field.is_displayed().await.unwrap();
            assert_eq!(found, is_seen, "{shape}: {css}");
        }
    }
    // What is wrong is seen in any case.
    visit
        .go("/last?asked=yes&before=61&rows=20&left=52&each=2")
        .await;
    visit.told("To correct").await;
    let each = visit.client.find(Locator::Css("#last-each")).await.unwrap();
    assert!(each.is_displayed().await.unwrap());
}

#[tokio::test]
async fn a_designer_reckons_prints_and_looks_over() {
    designer(true).await;
}

#[tokio::test]
async fn a_designer_does_so_with_script_off() {
    designer(false).await;
}

async fn designer(script: bool) {
    let Some(visit) = Visit::begin(script).await else {
        return;
    };
    fill(&visit.desk, &[JUMPER]);
    visit.go("/needs").await;
    visit.look("needs").await;
    visit.type_into("needs-text", "# mine\n").await;
    send(&visit, "needs").await;
    let told = visit.told("Save the result as a pattern").await;
    assert!(told.contains("900 (1050, 1200) m"), "{told}");
    visit.look("needs-answer").await;
    visit.go("/needs/begin").await;
    visit.look("needs-begin").await;
    let fields = [
        ("begin-pattern", "Scarf"),
        ("begin-sizes", "short\nlong"),
        ("begin-put-up", "120 m / 50 g"),
        ("begin-width", "30 cm"),
        ("begin-height", "120 cm\n180 cm"),
        ("begin-size", "short"),
        ("begin-mass", "150 g"),
    ];
    let told = reaches(&visit, &fields, "Add more pieces").await;
    assert!(told.contains("396 (594) m"), "{told}");
    visit.look("needs-begin-answer").await;
    visit
        .go("/needs/begin?asked=yes&shape=tube&width=wide")
        .await;
    visit.look("needs-begin-refused").await;
    visit.go("/sheet?pattern=1").await;
    visit.look("sheet").await;
    visit
        .go("/sheet?asked=yes&pattern=1&top=3&from=catalogue")
        .await;
    visit.told("Yarn for Skerrablet").await;
    visit.look("sheet-answer").await;
    for (name, width, height) in [("A4", 21.0, 29.7), ("letter", 21.59, 27.94)] {
        let size = PrintSize { width, height };
        assert_eq!(visit.sides(size).await, 1, "sides of {name}");
    }
    visit
        .go("/sheet?asked=yes&pattern=1&from=named&with-1=Umbrelin+DK")
        .await;
    visit.look("sheet-refused").await;
    visit.go("/lint").await;
    visit.look("lint").await;
    let sheet = "A: 7 (8) skeins of 120 m (141 yd), 50 g";
    visit.type_into("lint-text", sheet).await;
    send(&visit, "lint").await;
    visit.told("finding").await;
    visit.look("lint-answer").await;
}
