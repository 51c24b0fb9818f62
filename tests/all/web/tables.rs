//! Tables in and out.

use super::{House, STOCK, YARNS, filled};
use axum::http::StatusCode;
use understudy::report::{Style, error_words};

#[tokio::test]
async fn a_table_is_seen_row_by_row_before_it_is_taken() {
    let house = House::empty();
    let seen = house
        .send(
            "/tables/look",
            &[("of", "yarns")],
            ("yarns.csv", YARNS.as_bytes()),
        )
        .await;
    assert_eq!(seen.status, StatusCode::OK, "{}", seen.text);
    assert!(seen.text.contains("61 rows will be added") && seen.text.contains("will be added"));
    assert!(
        house
            .get("/yarns")
            .await
            .text
            .contains("You have no yarns yet"),
        "nothing is written yet"
    );
    let file = filled(&seen.text, "file").to_owned();
    let once = filled(&seen.text, "once").to_owned();
    // A second click takes nothing twice, and is told what the first did.
    for _ in 0..2 {
        let take = [("once", once.as_str()), ("file", file.as_str())];
        let taken = house.post("/tables/take", &take).await;
        assert_eq!(taken.status, StatusCode::SEE_OTHER);
        assert!(house.get(taken.place()).await.text.contains("61 yarns"));
    }
    let again = house.post("/tables/take", &[("file", &file)]).await;
    assert_eq!(again.status, StatusCode::GONE, "what was taken is let go");
    let stock = house
        .send(
            "/tables/look",
            &[("of", "stock")],
            ("stock.csv", STOCK.as_bytes()),
        )
        .await;
    assert!(stock.status == StatusCode::OK && stock.text.contains("Import it"));
}

#[tokio::test]
async fn bad_rows_are_told_as_the_command_line_words_them_and_nothing_can_be_taken() {
    let house = House::empty();
    let bad = "maker,name,length,mass\nQuenby,Moor,long,50 g\nQuenby,Sandgate,125 m,50 g\n";
    let seen = house
        .send(
            "/tables/look",
            &[("of", "yarns")],
            ("b.csv", bad.as_bytes()),
        )
        .await;
    assert_eq!(seen.status, StatusCode::UNPROCESSABLE_ENTITY);
    let mut records = understudy::app::Records::in_memory().unwrap();
    let told = understudy::app::import_table(
        &mut records,
        understudy::app::TableKind::Yarns,
        "b.csv",
        bad.as_bytes(),
        false,
        |_| (),
    );
    let told = error_words(&told.unwrap_err(), &Style::default());
    let line = told.lines().nth(1).unwrap().trim();
    assert!(
        seen.text
            .contains(&understudy::report::escaped_message(line)),
        "{line}"
    );
    assert!(!seen.text.contains("Import it"));
}

#[tokio::test]
async fn a_pasted_table_is_seen_and_comes_back_on_an_error() {
    let house = House::empty();
    let seen = house
        .send(
            "/tables/look",
            &[("of", "yarns"), ("text", "maker,nome\nx,y\n")],
            ("", b""),
        )
        .await;
    assert_eq!(seen.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(seen.text.contains("maker,nome") && seen.text.contains("role=\"alert\""));
    let none = house
        .send("/tables/look", &[("of", "yarns")], ("", b""))
        .await;
    assert!(none.text.contains("id=\"look-file-error\""));
}

#[tokio::test]
async fn what_differs_is_replaced_only_when_that_is_ticked() {
    let house = House::sample();
    let changed = YARNS.replacen("100 g", "101 g", 1);
    let plain = house
        .send(
            "/tables/look",
            &[("of", "yarns")],
            ("y.csv", changed.as_bytes()),
        )
        .await;
    assert!(
        plain
            .text
            .contains("Replace what you have where the table differs")
            && !plain.text.contains("--update")
    );
    assert_eq!(plain.status, StatusCode::UNPROCESSABLE_ENTITY);
    let ticked = house
        .send(
            "/tables/look",
            &[("of", "yarns"), ("update", "yes")],
            ("y.csv", changed.as_bytes()),
        )
        .await;
    assert_eq!(ticked.status, StatusCode::OK);
    assert!(ticked.text.contains("will be changed"));
}

#[tokio::test]
async fn tables_that_were_saved_can_be_taken_again() {
    let house = House::sample();
    let swatch = [("needle", "4 mm"), ("before", "20 sts / 10 cm, garter")];
    house.post("/yarns/1/swatches/new", &swatch).await;
    assert_eq!(house.get("/swatches.csv").await.text.lines().count(), 2);
    let desk = &house.desk;
    desk.text(&["project", "add", "Skerrablet:M"]);
    desk.text(&["stock", "reserve", "1", "1 skein", "--for", "Anna"]);
    for (path, of) in [
        ("/yarns.csv", "yarns"),
        ("/stock.csv", "stock"),
        ("/swatches.csv", "swatches"),
        ("/projects.csv", "projects"),
        ("/reservations.csv", "reservations"),
    ] {
        let saved = house.get(path).await;
        assert!(
            saved.headers["content-type"]
                .to_str()
                .unwrap()
                .starts_with("text/csv")
        );
        let seen = house
            .send(
                "/tables/look",
                &[("of", of)],
                ("again.csv", saved.text.as_bytes()),
            )
            .await;
        assert_eq!(seen.status, StatusCode::OK, "{}", seen.text);
        assert!(
            seen.text.contains("0 rows will be added, 0 changed"),
            "{of}"
        );
    }
}

#[tokio::test]
async fn swatches_are_seen_and_taken_and_taken_again_change_nothing() {
    let house = House::sample();
    let table = "maker,name,needle,before\nThrumwick Yard,Grundlin DK,4 mm,22 sts / 10 cm\n";
    for fate in ["<dt>added</dt><dd>1 swatch", "unchanged</dt><dd>1 swatch"] {
        let seen = house
            .send(
                "/tables/look",
                &[("of", "swatches")],
                ("w.csv", table.as_bytes()),
            )
            .await;
        assert_eq!(seen.status, StatusCode::OK, "{}", seen.text);
        assert!(seen.text.contains("Thrumwick Yard, Grundlin DK"));
        let file = filled(&seen.text, "file").to_owned();
        let taken = house.post("/tables/take", &[("file", &file)]).await;
        let told = house.get(taken.place()).await.text;
        assert!(told.contains(fate), "{told}");
    }
    assert_eq!(house.get("/swatches.csv").await.text.lines().count(), 2);
    let bad = table.replace("4 mm", "thick");
    let seen = house
        .send(
            "/tables/look",
            &[("of", "swatches")],
            ("w.csv", bad.as_bytes()),
        )
        .await;
    assert_eq!(seen.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(seen.text.contains("line 2, needle"), "{}", seen.text);
}

#[tokio::test]
async fn what_contradicts_itself_in_a_table_is_told_in_the_units_of_the_visitor() {
    let table = b"maker,name,length,mass,class\nQuenby,Moor,125 m,50 g,bulky\n";
    for (cookie, told, other) in [
        ("", "250 m/100 g", "yd/lb"),
        ("units=yards", "1240 yd/lb", "m/100 g"),
    ] {
        let seen = House::empty()
            .send_with(cookie, "/tables/look", &[("of", "yarns")], ("y.csv", table))
            .await;
        assert!(seen.text.contains(told), "{}", seen.text);
        assert!(!seen.text.contains(other), "{}", seen.text);
    }
}

/// A list of a supplier: looked at, one question answered, taken once.
#[tokio::test]
async fn a_table_with_other_columns_is_looked_at_answered_and_taken_once() {
    let house = House::empty();
    let list = std::fs::read(crate::desk::sample("supplier.csv")).unwrap();
    let look = "/tables/any/look";
    let seen = house.send(look, &[], ("supplier.csv", &list)).await;
    assert_eq!(seen.status, StatusCode::OK, "{}", seen.text);
    assert!(
        seen.text.contains("Who makes these yarns?"),
        "{}",
        seen.text
    );
    assert!(!seen.text.contains("Import it"), "{}", seen.text);
    let held = filled(&seen.text, "held").to_owned();
    let answers = [
        ("held", held.as_str()),
        ("maker", "Zellandine"),
        ("head-1", "Farbe"),
        ("column-1", "-"),
    ];
    let seen = house.send(look, &answers, ("", b"")).await;
    assert!(
        seen.text.contains("Importing it will add 3 yarns"),
        "{}",
        seen.text
    );
    let once = filled(&seen.text, "once").to_owned();
    let take = [&answers[..], &[("once", once.as_str())]].concat();
    for _ in 0..2 {
        let taken = house.post("/tables/any/take", &take).await;
        assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text);
    }
    let export = house.get("/yarns.csv").await.text;
    assert!(
        export.contains("Zellandine,Dunlorn Sport,145 m,50 g"),
        "{export}"
    );
    assert!(
        !export.contains("moor"),
        "its column was left out: {export}"
    );
    let gone = house.post("/tables/any/take", &answers).await;
    assert_eq!(gone.status, StatusCode::GONE);
    // A wrong answer comes back with its field, and the table need not be sent again.
    let seen = house.send(look, &[], ("supplier.csv", &list)).await;
    let held = filled(&seen.text, "held").to_owned();
    let wrong = [("held", held.as_str()), ("lengths", "parsec")];
    let told = house.send(look, &wrong, ("", b"")).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(filled(&told.text, "held"), held);
    let none = house.send(look, &[], ("", b"")).await;
    assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn columns_of_one_head_have_a_menu_each_and_layouts_are_removed_by_a_button() {
    let house = House::empty();
    let table = b"Brand,Yarn,Notes,Notes\nQuenby,Moor,soft,125 m\n";
    let look = "/tables/any/look";
    let seen = house.send(look, &[], ("twice.csv", table)).await;
    let held = filled(&seen.text, "held").to_owned();
    let answers = [
        ("held", held.as_str()),
        ("head-0", "Brand"),
        ("head-1", "Yarn"),
        ("head-2", "Notes"),
        ("head-3", "Notes"),
        ("column-2", "notes"),
        ("column-3", "length"),
        ("layout", "twice"),
    ];
    let seen = house.send(look, &answers, ("", b"")).await;
    assert!(seen.text.contains("add 1 yarn"), "{}", seen.text);
    let once = filled(&seen.text, "once").to_owned();
    let take = [&answers[..], &[("once", once.as_str())]].concat();
    house.post("/tables/any/take", &take).await;
    let export = house.get("/yarns.csv").await.text;
    assert!(export.contains("Quenby,Moor,125 m"), "{export}");
    assert!(export.contains("soft"), "{export}");
    let page = house.get("/tables/any").await.text;
    assert!(
        page.contains("twice: ") && page.contains("#4=length"),
        "{page}"
    );
    let forget = &page[page.find("id=\"forget-1\"").unwrap()..];
    let once = filled(forget, "once").to_owned();
    for _ in 0..2 {
        let fields = [("once", once.as_str()), ("layout", "twice")];
        let done = house.post("/tables/any/forget", &fields).await;
        assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text);
    }
    let page = house.get("/tables/any").await.text;
    assert!(!page.contains("twice"), "{page}");
}
