//! Patterns and yarns from what is printed: pasted, read into fields, corrected, saved.

use super::{
    House, filled,
    markup::{fields, with},
    query,
};
use axum::http::StatusCode;

const MATERIALS: &str = "Umberlin DK (100% wool; 120 m / 50 g), 10 (11, 12, 14) balls; 22 sts and 30 rows to 10 cm on 4 mm; sizes S (M, L, XL)";

async fn read(house: &House, name: &str, text: &str) -> String {
    let path = format!("/patterns/new?{}", query(&[("name", name), ("text", text)]));
    let page = house.get(&path).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    page.text
}

#[tokio::test]
async fn a_pasted_pattern_is_corrected_saved_and_asked_about() {
    let house = House::empty();
    let first = house.get("/patterns/new").await;
    assert!(first.text.contains("name=\"text\"") && !first.text.contains("name=\"table\""));
    let page = read(&house, "Skerrablet", &format!("{MATERIALS}, zorp")).await;
    assert!(
        page.contains("Not understood, left out: <code>zorp</code>"),
        "{page}"
    );
    for (field, text) in [
        ("name", "Skerrablet"),
        ("yarn-1-key", "A"),
        ("yarn-1-name", "Umberlin DK"),
        ("yarn-1-length", "120 m"),
        ("yarn-1-mass", "50 g"),
        ("yarn-1-needle", "on 4 mm"),
        ("size-2-name", "M"),
        ("size-2-yarn-1", "11 balls"),
        ("size-4-yarn-1", "14 balls"),
    ] {
        assert_eq!(filled(&page, field), text, "{field}");
    }
    let typed = fields(&page, "pattern");
    let refused = house
        .send_fields(
            "/patterns/new",
            &with(&typed, &[("size-2-yarn-1", "a few")]),
        )
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    for part in [
        "id=\"pattern-purpose-error\"",
        "id=\"pattern-size-2-yarn-1-error\"",
        "a few",
    ] {
        assert!(refused.text.contains(part), "{part}");
    }
    let typed = with(
        &fields(&refused.text, "pattern"),
        &[
            ("size-2-yarn-1", "11 balls"),
            ("purpose", "garment"),
            ("yarn-1-maker", "Thrumwick Yard"),
        ],
    );
    let saved = house.send_fields("/patterns/new", &typed).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let told = house.get(saved.place()).await;
    for part in [
        "Pattern Skerrablet saved",
        "Assumed: relaxed fit",
        "/?pattern=1",
    ] {
        assert!(told.text.contains(part), "{part}\n{}", told.text);
    }
    let label = "50 g = 120 m, 100% wool, plied, DK, 22 sts x 30 rows / 10 cm, 4 mm";
    let asked = query(&[("pattern", "1:1"), ("yarn", label)]);
    let answer = house.get(&format!("/answer?{asked}")).await;
    // 11 balls and a tenth more are 12.1, so 13.
    assert!(answer.text.contains("13 skeins"), "{}", answer.text);
    let json = house.desk.json(&[
        "check",
        "--pattern",
        "Skerrablet",
        "--size",
        "M",
        "--yarn",
        label,
    ]);
    assert!(json.to_string().contains("\"skeins\":13"), "{json}");
}

#[tokio::test]
async fn sizes_and_yarns_are_added_with_buttons_and_nothing_typed_is_lost() {
    let house = House::empty();
    let page = read(&house, "Skerrablet", MATERIALS).await;
    let typed = with(
        &fields(&page, "pattern"),
        &[("purpose", "garment"), ("notes", "<b>&\"")],
    );
    let more = house
        .send_fields("/patterns/new", &with(&typed, &[("another", "size")]))
        .await;
    assert_eq!(more.status, StatusCode::OK);
    let typed = fields(&more.text, "pattern");
    let more = house
        .send_fields("/patterns/new", &with(&typed, &[("another", "yarn")]))
        .await;
    let typed = fields(&more.text, "pattern");
    for field in ["size-5-name", "size-5-yarn-2", "yarn-2-key"] {
        assert_eq!(filled(&more.text, field), "", "{field}");
    }
    assert!(
        typed.contains(&("notes".to_owned(), "<b>&\"".to_owned())),
        "{typed:?}"
    );
    assert_eq!(house.get("/patterns/1").await.status, StatusCode::NOT_FOUND);
    let amounts = [
        ("yarn-2-key", "B"),
        ("yarn-2-length", "125 m"),
        ("yarn-2-mass", "50 g"),
    ];
    let mut whole = with(&typed, &amounts);
    for size in 1..=4 {
        whole = with(&whole, &[(&format!("size-{size}-yarn-2"), "1 ball")]);
    }
    let saved = house.send_fields("/patterns/new", &whole).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let edit = house.get("/patterns/1/edit").await;
    assert_eq!(filled(&edit.text, "size-4-yarn-2"), "1 ball");
    assert!(
        !edit.text.contains("size-5-name"),
        "an empty row is no size"
    );
    let typed = with(
        &fields(&edit.text, "pattern"),
        &[("size-1-yarn-1", "9 balls")],
    );
    let more = house
        .send_fields("/patterns/1/edit", &with(&typed, &[("another", "size")]))
        .await;
    assert_eq!(filled(&more.text, "size-1-yarn-1"), "9 balls");
    let saved = house
        .send_fields("/patterns/1/edit", &fields(&more.text, "pattern"))
        .await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let again = house.send_fields("/patterns/1/edit", &typed).await;
    assert_eq!(
        again.status,
        StatusCode::CONFLICT,
        "the second editor is told"
    );
    let text = house.get("/patterns/text/1/edit").await;
    assert!(text.text.contains("9 balls"), "{}", text.text);
}

#[tokio::test]
async fn a_saved_form_is_the_same_pattern_as_its_file() {
    let house = House::sample();
    for number in [1, 2] {
        let edit = house.get(&format!("/patterns/{number}/edit")).await;
        let fields = fields(&edit.text, "pattern");
        let saved = house
            .send_fields(&format!("/patterns/{number}/edit"), &fields)
            .await;
        assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
        let file = house.get(&format!("/patterns/{number}/file")).await.text;
        let file = house.desk.write("again.toml", file);
        let told = house.desk.text(&["import", "pattern", &file]);
        assert!(
            told.contains("nothing changed") || told.contains("unchanged"),
            "{told}"
        );
    }
}

#[tokio::test]
async fn bad_input_is_refused_at_its_field() {
    let house = House::empty();
    for text in [
        "((((",
        "size size size",
        "MC: CC: A:",
        "\u{202e}\u{0}",
        "sizes S (M, L",
    ] {
        let page = read(&house, "", text).await;
        let refused = house
            .send_fields("/patterns/new", &fields(&page, "pattern"))
            .await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{text}");
        assert!(refused.text.contains("id=\"pattern-name-error\""), "{text}");
    }
    let long = "x".repeat(400);
    let page = read(&house, &long, MATERIALS).await;
    let typed = with(&fields(&page, "pattern"), &[("purpose", "garment")]);
    let refused = house.send_fields("/patterns/new", &typed).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("400 characters"), "{}", refused.text);
}

#[tokio::test]
async fn a_label_keeps_maker_name_shade_and_lot() {
    let house = House::empty();
    let label = "Thrumwick Yard, Umberlin DK, 100% wool, 120 m / 50 g, shade 14 Ferry, lot 8832";
    let page = house
        .get(&format!("/yarns/new?{}", query(&[("band", label)])))
        .await;
    for (field, text) in [
        ("maker", "Thrumwick Yard"),
        ("name", "Umberlin DK"),
        ("shades", "14 Ferry"),
        ("lot", "8832"),
    ] {
        assert_eq!(filled(&page.text, field), text, "{field}");
    }
    let saved = house
        .send_fields("/yarns/new", &fields(&page.text, "yarn"))
        .await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let purchase = house.get(saved.place()).await;
    for (field, text) in [
        ("yarn", "Thrumwick Yard, Umberlin DK"),
        ("shade", "14 Ferry"),
        ("lot", "8832"),
    ] {
        assert_eq!(filled(&purchase.text, field), text, "{field}");
    }
    assert!(house.get("/yarns/1").await.text.contains("14 Ferry"));
    let read = house.desk.json(&["read", label]);
    assert_eq!(
        (&read["maker"], &read["name"], &read["lot"]),
        (
            &"Thrumwick Yard".into(),
            &"Umberlin DK".into(),
            &"8832".into()
        )
    );
}

#[tokio::test]
async fn a_pasted_label_fills_yarn_shade_and_lot_of_a_purchase() {
    let house = House::sample();
    let label = "Vorrelith, Hathrel DK, 50 g = 125 m, shade 14 Moss, lot 5519";
    let page = house
        .get(&format!("/stock/buy?{}", query(&[("band", label)])))
        .await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    assert_eq!(
        filled(&page.text, "yarn"),
        "Vorrelith, Hathrel DK",
        "{}",
        page.text
    );
    assert_eq!(filled(&page.text, "lot"), "5519");
    assert!(
        filled(&page.text, "shade").contains("Moss"),
        "{}",
        page.text
    );
    assert!(!page.text.contains("Add this yarn"), "{}", page.text);
    // The barcode names the yarn that is kept.
    let page = house.get("/stock/buy?band=2900307019638").await;
    assert_eq!(filled(&page.text, "yarn"), "2900307019638");
    assert!(!page.text.contains("Add this yarn"), "{}", page.text);
}

#[tokio::test]
async fn a_label_of_a_yarn_that_is_not_kept_leads_to_adding_it_from_the_same_label() {
    let house = House::empty();
    let label = "Quenby, Moor DK, 50 g = 125 m, lot 7";
    let page = house
        .get(&format!("/stock/buy?{}", query(&[("band", label)])))
        .await;
    assert_eq!(
        filled(&page.text, "yarn"),
        "Quenby, Moor DK",
        "{}",
        page.text
    );
    let link = page.text.split("href=\"/yarns/new?band=").nth(1).unwrap();
    let link = link.split('"').next().unwrap();
    let page = house.get(&format!("/yarns/new?band={link}")).await;
    assert_eq!(filled(&page.text, "maker"), "Quenby");
    assert_eq!(filled(&page.text, "lot"), "7");
}

#[tokio::test]
async fn a_page_that_names_a_yarn_a_lot_or_a_pattern_links_it() {
    let house = House::sample();
    let lot = house.get("/stock/1").await.text;
    assert!(
        lot.contains("<a href=\"/yarns/named?name=Thrumwick%20Yard%2C%20Grundlin%20DK\">"),
        "{lot}"
    );
    for path in [
        "/gauge?asked=yes&pattern=1&own-gauge=20+sts+x+28+rows+/+10+cm",
        "/sheet?asked=yes&pattern=1&from=catalogue",
        "/answer?pattern=1&yarn=Drindle",
        "/answer?pattern=1&offered=stash",
    ] {
        let page = house.get(path).await.text;
        assert!(
            page.contains("<a href=\"/patterns/1\">Skerrablet</a>"),
            "{path}: {page}"
        );
    }
    let changed = house
        .post("/stock/1", &[("kind", "used"), ("amount", "1 skein")])
        .await;
    assert_eq!(changed.status, StatusCode::SEE_OTHER, "{}", changed.text);
    let undo = house.get("/undo").await.text;
    assert!(undo.contains("<a href=\"/stock/1\">"), "{undo}");
}
