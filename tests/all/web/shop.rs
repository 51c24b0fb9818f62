//! The pages of the shop floor: selling, reservations, what runs low, a count that goes
//! on from scan to scan.

use super::{HOSTILE, House, filled, query};
use std::{io::Write as _, process::Stdio};

const BARCODE: &str = "2900328717698";

fn held(house: &House, yarn: &str) -> String {
    let listed = house.desk.json(&["stock", "list", yarn]);
    listed["rows"][0]["held"].as_str().unwrap().to_owned()
}

/// The token of the first form that is sent to this path.
fn token(page: &str, path: &str) -> String {
    let form = &page[page.find(&format!("action=\"{path}\"")).unwrap()..];
    filled(form, "once").to_owned()
}

/// Sends a form of a page once more than once; the page that it leads to.
async fn send(house: &House, page: &str, path: &str, fields: &[(&str, &str)]) -> String {
    let token = token(page, path);
    let fields = [&[("once", token.as_str())], fields].concat();
    let mut next = String::new();
    for _ in 0..2 {
        let sent = house.post(path, &fields).await;
        assert!(sent.status.is_redirection(), "{path}: {}", sent.text);
        next = sent.place().to_owned();
    }
    house.get(&next).await.text
}

#[tokio::test]
async fn yarn_is_sold_reserved_and_released_by_scanning_it() {
    let house = House::sample();
    let sale = house.get("/stock/sell").await.text;
    assert!(sale.contains("autofocus"), "{sale}");
    let fields = [
        ("which", BARCODE),
        ("amount", "4"),
        ("for", "Anna"),
        ("do", "reserve"),
    ];
    let page = send(&house, &sale, "/stock/sell", &fields).await;
    assert!(page.contains("4 skeins reserved"), "{page}");
    assert_eq!(filled(&page, "for"), "Anna");
    let fields = [
        ("which", BARCODE),
        ("amount", ""),
        ("for", "anna"),
        ("do", "sell"),
    ];
    let page = send(&house, &page, "/stock/sell", &fields).await;
    assert!(page.contains("1 skein sold to anna"), "{page}");
    // The next customer is another one.
    assert_eq!(filled(&page, "for"), "");
    assert_eq!(held(&house, "Umberlin DK"), "9 skeins");
    let list = house.get("/stock/reservations").await.text;
    assert!(
        list.contains("Anna") && list.contains("3\u{a0}skeins"),
        "{list}"
    );
    let list = send(&house, &list, "/stock/reservations", &[("for", "Anna")]).await;
    assert!(list.contains("Nothing is reserved"), "{list}");
}

#[tokio::test]
async fn what_cannot_be_sold_is_told_beside_its_field_and_of_several_lots_one_is_chosen() {
    let house = House::sample();
    for (which, amount, words) in [
        ("", "", "missing"),
        ("12345678", "", "12345678"),
        ("Nosuchyarn", "", "Nosuchyarn"),
        (BARCODE, "many", "many"),
        (BARCODE, "12", "10 skeins"),
    ] {
        let fields = [("which", which), ("amount", amount), ("do", "sell")];
        let refused = house.post("/stock/sell", &fields).await;
        assert!(refused.status.is_client_error(), "{which} {amount}");
        assert!(refused.text.contains(words), "{words}: {}", refused.text);
    }
    let fields = [("which", "Palvetta DK"), ("amount", "1"), ("do", "sell")];
    let several = house.post("/stock/sell", &fields).await.text;
    assert!(
        several.contains("Which lot?") && several.contains("P-07"),
        "{several}"
    );
    let number = several.split("<option value=\"").nth(2).unwrap();
    let number = number.split('"').next().unwrap().to_owned();
    let fields = [&fields[..], &[("lot", number.as_str())]].concat();
    let sold = send(&house, &several, "/stock/sell", &fields).await;
    assert!(sold.contains("1 skein sold"), "{sold}");
}

/// Another program writes for longer than anybody waits.
#[tokio::test]
async fn a_sale_while_another_writes_is_told_with_what_was_typed_and_sent_again() {
    let house = House::sample();
    let mut import = house.desk.command(&["import", "yarns", "-"]);
    let mut import = import.stdin(Stdio::piped()).spawn().unwrap();
    let mut rows = "maker,name,length,mass\n".to_owned();
    for number in 0..4000 {
        rows += &format!("Quay,Dune {number},120 m,50 g\n");
    }
    import
        .stdin
        .as_mut()
        .unwrap()
        .write_all(rows.as_bytes())
        .unwrap();
    let fields = [
        ("which", BARCODE),
        ("amount", "3"),
        ("for", "Anna"),
        ("do", "sell"),
    ];
    let told = house.post("/stock/sell", &fields).await;
    assert_eq!(told.status.as_u16(), 503, "{}", told.text);
    assert!(
        told.text
            .contains("is being written by another program; try again")
    );
    assert_eq!(filled(&told.text, "for"), "Anna");
    assert_eq!(filled(&told.text, "amount"), "3");
    drop(import.stdin.take());
    assert!(import.wait().unwrap().success());
    let sold = send(&house, &told.text, "/stock/sell", &fields).await;
    assert!(sold.contains("3 skeins sold to Anna"), "{sold}");
    house.desk.text(&["verify"]);
}

#[tokio::test]
async fn what_runs_low_is_listed_and_a_wrong_number_is_told() {
    let house = House::sample();
    let page = house.get("/stock/low").await.text;
    assert!(page.contains("Running low"), "{page}");
    let refused = house
        .get(&format!("/stock/low?{}", query(&[("below", "few")])))
        .await;
    assert_eq!(refused.status.as_u16(), 422);
    assert!(refused.text.contains("whole number"), "{}", refused.text);
}

#[tokio::test]
async fn a_count_goes_on_after_the_browser_is_closed_and_is_recorded_by_one_press() {
    let house = House::sample();
    let begin = house.get("/stock/count").await.text;
    let mut page = send(&house, &begin, "/stock/count", &[("place", "")]).await;
    let path = "/stock/count/1";
    for _ in 0..3 {
        page = send(&house, &page, path, &[("which", BARCODE)]).await;
    }
    page = send(&house, &page, path, &[("which", BARCODE), ("amount", "5")]).await;
    assert!(page.contains("1 lot counted: 1 difference"), "{page}");
    let unknown = house.post(path, &[("which", "12345678")]).await;
    assert!(unknown.status.is_client_error());
    assert!(unknown.text.contains("12345678"), "{}", unknown.text);
    // The browser is closed, another one goes on.
    let list = house.get("/stock/count").await.text;
    assert!(list.contains("Count of all places"), "{list}");
    page = house.get(path).await.text;
    assert!(page.contains("5 skeins of"), "{page}");
    let last = filled(&page[page.find("id=\"take-").unwrap()..], "take").to_owned();
    page = send(
        &house,
        &page[page.find("id=\"take-").unwrap()..],
        path,
        &[("take", &last)],
    )
    .await;
    page = send(&house, &page, path, &[("which", BARCODE), ("amount", "6")]).await;
    assert_eq!(held(&house, "Umberlin DK"), "10 skeins");
    let booked = &page[page.find("id=\"book\"").unwrap()..];
    let done = send(&house, booked, path, &[("do", "book")]).await;
    assert!(done.contains("1 difference recorded"), "{done}");
    assert!(!done.contains("Under way"), "{done}");
    assert_eq!(held(&house, "Umberlin DK"), "9 skeins");
    // It has ended: no one records it again.
    let again = house
        .post(path, &[("do", "book"), ("once", "another")])
        .await;
    assert!(again.status.is_client_error());
    house.desk.text(&["undo"]);
    assert_eq!(held(&house, "Umberlin DK"), "10 skeins");
    house.desk.text(&["verify"]);
}

#[tokio::test]
async fn a_count_that_is_given_up_records_nothing() {
    let house = House::sample();
    let begin = house.get("/stock/count").await.text;
    let page = send(&house, &begin, "/stock/count", &[("place", "window")]).await;
    let path = "/stock/count/1";
    // Yarn of another place is none of this count.
    let other = house.post(path, &[("which", BARCODE)]).await;
    let places = house.desk.json(&["stock", "list", "Umberlin DK"]);
    let is_here = places["rows"][0]["place"] == "window";
    assert_eq!(other.status.is_client_error(), !is_here);
    let refused = house.post(path, &[("do", "drop")]).await;
    assert!(refused.status.is_client_error());
    let dropped = &page[page.find("id=\"drop\"").unwrap()..];
    let done = send(&house, dropped, path, &[("do", "drop"), ("sure", "yes")]).await;
    assert!(done.contains("Nothing was recorded"), "{done}");
    assert_eq!(house.get(path).await.status.as_u16(), 404);
}

/// Names that are markup, that end an attribute, that turn direction, that are nothing
/// but signs, that are a formula of a spreadsheet.
const NAUGHTY: [&str; 5] = [
    HOSTILE,
    "\"><img src=x onerror=alert(1)>",
    "\u{202e}\u{200f}\u{feff}",
    "=cmd|'/C calc'!A0",
    "';DROP TABLE yarn;--",
];

#[tokio::test]
async fn naughty_text_in_any_new_field_stays_text() {
    for naughty in NAUGHTY {
        let house = House::sample();
        let sale = house.get("/stock/sell").await.text;
        let fields = [
            ("which", BARCODE),
            ("amount", "1"),
            ("for", naughty),
            ("do", "reserve"),
        ];
        let mut pages = vec![send(&house, &sale, "/stock/sell", &fields).await];
        let fields = [
            ("which", naughty),
            ("amount", naughty),
            ("for", naughty),
            ("do", naughty),
        ];
        pages.push(house.post("/stock/sell", &fields).await.text);
        let begin = house.get("/stock/count").await.text;
        pages.push(send(&house, &begin, "/stock/count", &[("place", naughty)]).await);
        let fields = [("which", naughty), ("amount", naughty)];
        pages.push(house.post("/stock/count/1", &fields).await.text);
        let ball = [
            ("mass", "80 g"),
            ("balance", "8 in"),
            ("keep", naughty),
            ("place", naughty),
        ];
        pages.push(house.post("/unlabelled/keep", &ball).await.text);
        let shade = [("from", "oat"), ("to", naughty)];
        pages.push(house.post("/yarns/1/shade", &shade).await.text);
        house
            .post("/tables/any/forget", &[("layout", naughty)])
            .await;
        let low = query(&[("below", naughty)]);
        for path in [
            "/stock/sell",
            "/stock/reservations",
            "/stock/count",
            "/stock/count/1",
            "/yarns",
            "/stock",
            "/yarns/1",
            "/undo",
            "/tables/any",
        ] {
            pages.push(house.get(path).await.text);
        }
        pages.push(house.get(&format!("/stock/low?{low}")).await.text);
        for page in pages {
            assert!(
                !page.contains("<script>alert") && !page.contains("<img src=x"),
                "{page}"
            );
        }
        house.desk.text(&["verify"]);
        house.desk.text(&["export", "yarns"]);
        house.desk.text(&["stock", "reservations"]);
    }
}
