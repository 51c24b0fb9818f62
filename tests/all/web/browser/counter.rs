//! The counter in Chromium: a queue of customers with a scanner, which types digits
//! and Enter and has neither pointer nor Tab.

use super::{Key, Visit};
use crate::web::{JUMPER, fill};
use fantoccini::actions::{InputSource, KeyAction, KeyActions};

/// Barcodes of yarns of the sample.
const HATHREL: &str = "2900307019638";
const UMBERLIN: &str = "2900328717698";
const UNKNOWN: &str = "5012345678900";

impl Visit {
    /// The count of balls is on a screen of this height without scrolling.
    async fn count_is_seen(&self, page: &str, height: u32) {
        let place = "return document.querySelector('.count strong').getBoundingClientRect().bottom";
        let bottom = self.said(place).await.as_f64().unwrap();
        assert!(
            (1.0..=f64::from(height)).contains(&bottom),
            "{page}: the count ends at {bottom} of {height}"
        );
    }

    /// What a scanner types, wherever the keyboard is.
    pub(super) async fn scan(&self, digits: &str) {
        let mut keys = KeyActions::new("scanner".to_owned());
        for value in digits.chars().chain([char::from(Key::Enter)]) {
            keys = keys
                .then(KeyAction::Down { value })
                .then(KeyAction::Up { value });
        }
        self.client.perform_actions(keys).await.unwrap();
    }
}

#[tokio::test]
async fn three_customers_in_a_row_are_answered_with_the_scanner_alone() {
    three_customers(true).await;
}

#[tokio::test]
async fn so_they_are_with_script_off() {
    three_customers(false).await;
}

async fn three_customers(script: bool) {
    let Some(visit) = Visit::begin(script).await else {
        return;
    };
    fill(&visit.desk, &[JUMPER]);
    visit.client.set_window_size(768, 1024).await.unwrap();
    visit.go("/counter?pattern=1:2").await;
    visit.told("Scan a ball").await;
    visit.scan(HATHREL).await;
    let first = visit.told("Hathrel DK for Skerrablet").await;
    assert!(!first.contains("would work instead"), "{first}");
    visit.look("counter").await;
    visit.scan(UMBERLIN).await;
    let second = visit.told("Umberlin DK for Skerrablet").await;
    let places = ["Umberlin DK for", "Hathrel DK for"].map(|name| second.find(name));
    assert!(
        places.is_sorted() && places[0].is_some(),
        "newest first: {second}"
    );
    visit.told("would work instead").await;
    visit.look("counter-no").await;
    visit.scan(UNKNOWN).await;
    let told = visit.told("Read its label").await;
    assert!(told.contains(UNKNOWN), "the digits stay: {told}");
    assert!(told.contains("Umberlin DK for"), "answers stay: {told}");
    visit.look("counter-unknown").await;
    visit.scan(HATHREL).await;
    for _ in 0..100 {
        let told = visit.told("Hathrel DK for Skerrablet").await;
        if !told.contains("Read its label") {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("what was not known is still told");
}

#[tokio::test]
async fn a_scan_lands_in_its_field_wherever_the_keyboard_is() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    fill(&visit.desk, &[JUMPER]);
    visit.go("/counter?pattern=1:2&yarn=Umberlin+DK").await;
    visit.told("Umberlin DK for Skerrablet").await;
    for start in ["nav a", "#counter-pattern", ".links a"] {
        let focus = format!("document.querySelector('{start}').focus()");
        visit.said(&focus).await;
        visit.scan(UNKNOWN).await;
        visit.told("Read its label").await;
        let typed = "const at = document.activeElement; return at.value.slice(at.selectionStart, at.selectionEnd)";
        assert_eq!(visit.said(typed).await, UNKNOWN, "put back and selected");
        visit.go("/counter?pattern=1:2&yarn=Umberlin+DK").await;
    }
}

/// Whether the frame of the keyboard stays within the window's margins, what the field
/// is called, and the place in the navigation.
const FIELD: &str = "
    const at = document.activeElement, box = at.getBoundingClientRect(), style = getComputedStyle(at);
    const out = Math.max(0, parseFloat(style.outlineWidth) + parseFloat(style.outlineOffset));
    const main = document.querySelector('main'), side = parseFloat(getComputedStyle(main).paddingLeft);
    const seen = main.getBoundingClientRect();
    const button = document.querySelector('#counter button').getBoundingClientRect();
    return { inside: box.left - out >= seen.left + side - 0.5 && box.right + out <= seen.right - side + 0.5,
        label: at.labels[0].innerText, heading: document.querySelector('h1').getBoundingClientRect().height,
        here: document.querySelector('nav [aria-current]').innerText,
        row: Math.abs(button.top + button.height / 2 - box.top - box.height / 2) < 8 && button.left >= box.right };";

#[tokio::test]
async fn the_counter_says_what_to_do_and_its_field_and_button_are_one_row() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    fill(&visit.desk, &[JUMPER]);
    for (width, height) in [(320, 568), (768, 1024), (1280, 800)] {
        visit.screen(width, height).await;
        visit.go("/counter").await;
        visit.told("Scan a ball").await;
        let field = visit.said(FIELD).await;
        assert_eq!(field["inside"], true, "{width}: {field}");
        assert_eq!(field["row"], true, "{width}: {field}");
        assert_eq!(field["label"], "Scan a ball, or type its barcode or name");
        assert_eq!(field["here"], "Will it work?");
        assert!(field["heading"].as_f64().unwrap() > 10.0, "{field}");
    }
    for page in ["/", "/questions"] {
        visit.go(page).await;
        let way = "return document.querySelectorAll('main a[href=\"/counter\"]').length";
        assert_eq!(visit.said(way).await, 1, "{page}");
    }
}

/// A tablet and a phone.
const SCREENS: [(u32, u32); 2] = [(768, 1024), (320, 568)];

#[tokio::test]
async fn a_shop_goes_from_empty_records_to_the_count_of_a_known_barcode() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.with_sample().await;
    for (width, height) in SCREENS {
        visit.screen(width, height).await;
        visit.go("/counter?pattern=1:2").await;
        visit.told("Scan a ball").await;
        visit.scan(UMBERLIN).await;
        visit.told("Umberlin DK for Skerrablet").await;
        visit.count_is_seen("/counter", height).await;
    }
}

#[tokio::test]
async fn the_count_of_balls_is_on_the_first_screen() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    fill(&visit.desk, &[JUMPER]);
    for (width, height) in SCREENS {
        visit.screen(width, height).await;
        for page in [
            "/answer?pattern=1:2&offered=one&yarn=",
            "/counter?pattern=1:2&yarn=",
        ] {
            visit.go(&format!("{page}{UMBERLIN}")).await;
            visit.told("Umberlin DK for Skerrablet").await;
            visit.count_is_seen(page, height).await;
        }
    }
}
