//! Yarns, stock, patterns and swatches: kept, edited, removed.

use super::{
    HOSTILE, House, PAD, YARNS, filled,
    markup::{self, fields, hidden},
};
use axum::http::StatusCode;

const YARN: [(&str, &str); 6] = [
    ("maker", "Quenby"),
    ("name", "Sandgate"),
    ("length", "125 m"),
    ("mass", "50 g"),
    ("fibre", "100% wool"),
    ("notes", "two\r\nlines"),
];

fn with<'f>(
    fields: &[(&'f str, &'f str)],
    name: &'f str,
    text: &'f str,
) -> Vec<(&'f str, &'f str)> {
    let mut fields: Vec<(&str, &str)> =
        fields.iter().copied().filter(|(n, _)| *n != name).collect();
    fields.push((name, text));
    fields
}

#[tokio::test]
async fn a_yarn_is_added_shown_edited_and_removed() {
    let house = House::empty();
    let added = house.post("/yarns/new", &YARN).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER);
    let place = added.place().to_owned();
    assert!(place.starts_with("/yarns/1?done="));
    let page = house.get(&place).await;
    assert!(page.text.contains("Quenby, Sandgate saved") && page.text.contains("role=\"status\""));
    let edit = house.get("/yarns/1/edit").await;
    assert_eq!(filled(&edit.text, "length"), "125 m");
    let fields = with(
        &with(&YARN, "length", "120 m"),
        "version",
        filled(&edit.text, "version"),
    );
    assert_eq!(
        house.post("/yarns/1/edit", &fields).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(house.get("/yarns/1").await.text.contains("120 m"));
    assert_eq!(
        house.post("/yarns/1/remove", &[]).await.status,
        StatusCode::BAD_REQUEST
    );
    assert_eq!(
        house
            .post("/yarns/1/remove", &[("sure", "yes")])
            .await
            .status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(house.get("/yarns/1").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_name_is_offered_as_soon_as_its_yarn_is_kept() {
    let house = House::sample();
    assert_eq!(house.get("/suggest?text=xylofen+wug").await.text, "[]");
    let yarn = with(&with(&YARN, "maker", "Xylofen"), "name", "Wug");
    let added = house.post("/yarns/new", &yarn).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER);
    let offered = house.get("/suggest?text=xylofen+wug").await.text;
    assert_eq!(offered, "[\"Xylofen, Wug\"]");
}

#[tokio::test]
async fn a_form_comes_back_filled_with_every_message_beside_its_field() {
    let house = House::empty();
    let fields = with(&with(&YARN, "mass", "heavy"), "maker", "");
    let page = house.post("/yarns/new", &fields).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(filled(&page.text, "mass"), "heavy");
    assert_eq!(filled(&page.text, "length"), "125 m");
    for part in [
        "id=\"yarn-mass-error\"",
        "id=\"yarn-maker-error\"",
        "href=\"#yarn-mass\"",
        "role=\"alert\"",
        "two\nlines",
    ] {
        assert!(page.text.contains(part), "{part}");
    }
    assert!(page.text.contains("yarn-mass-hint yarn-mass-error"));
}

#[tokio::test]
async fn of_two_who_edit_one_yarn_the_second_is_told_and_nothing_is_lost() {
    let house = House::empty();
    house.post("/yarns/new", &YARN).await;
    let first = with(&with(&YARN, "notes", "from the first"), "version", "1");
    let second = with(&with(&YARN, "notes", "from the second"), "version", "1");
    house.post("/yarns/1/edit", &first).await;
    let told = house.post("/yarns/1/edit", &second).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    for part in [
        "someone else changed",
        "from the second",
        "from the first",
        "notes, as saved now",
    ] {
        assert!(told.text.contains(part), "{part}");
    }
    assert!(house.get("/yarns/1").await.text.contains("from the first"));
    let again = with(&second, "version", filled(&told.text, "version"));
    assert_eq!(
        house.post("/yarns/1/edit", &again).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(house.get("/yarns/1").await.text.contains("from the second"));
}

#[tokio::test]
async fn a_band_fills_the_fields_of_a_new_yarn() {
    let house = House::empty();
    let page = house
        .get("/yarns/new?band=50%20g%20%3D%20125%20m%2C%20100%25%20wool%2C%20zorp")
        .await;
    assert_eq!(filled(&page.text, "length"), "125 m");
    assert!(page.text.contains("zorp"), "what was not taken is told");
}

#[tokio::test]
async fn a_lot_is_bought_used_weighed_reserved_and_released() {
    let house = House::empty();
    house.post("/yarns/new", &YARN).await;
    let bought = house
        .post(
            "/stock/buy",
            &[
                ("yarn", "Quenby, Sandgate"),
                ("amount", "5 skeins"),
                ("shade", "moss"),
                ("lot", "A1"),
            ],
        )
        .await;
    assert_eq!(bought.status, StatusCode::SEE_OTHER, "{}", bought.text);
    let list = house.get(bought.place()).await;
    assert!(list.text.contains("role=\"status\""), "{}", list.text);
    for (kind, amount, held) in [
        ("used", "1 skein", "You have 4 skeins"),
        ("reserved", "2 skeins", "2 skeins of it reserved"),
        ("released", "2 skeins", "You have 4 skeins"),
        ("weighed", "73.5 g", "You have 73.5 g"),
    ] {
        let entered = house
            .post("/stock/1", &[("kind", kind), ("amount", amount)])
            .await;
        assert_eq!(
            entered.status,
            StatusCode::SEE_OTHER,
            "{kind}: {}",
            entered.text
        );
        assert!(house.get("/stock/1").await.text.contains(held), "{kind}");
    }
    let reserved = [("kind", "reserved"), ("amount", "1 skein"), ("for", "hat")];
    house.post("/stock/1", &reserved).await;
    let less = [("kind", "weighed"), ("amount", "10 g")];
    let less = house.post("/stock/1", &less).await;
    let told = house.get(less.place()).await.text;
    let beyond = "more is reserved than is there (reserved for hat): to release it, record it";
    assert!(told.contains(beyond), "{told}");
    let too_much = house
        .post("/stock/1", &[("kind", "used"), ("amount", "9 skeins")])
        .await;
    assert_eq!(too_much.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(too_much.text.contains("id=\"entry-amount-error\""));
    let unread = house
        .post(
            "/stock/1",
            &[("kind", "used"), ("amount", "some"), ("notes", "hat")],
        )
        .await;
    assert!(unread.text.contains("id=\"entry-amount-error\""));
    assert_eq!(filled(&unread.text, "amount"), "some");
    assert!(
        house
            .get("/stock?q=moss")
            .await
            .text
            .contains("<bdi>Quenby, Sandgate</bdi>")
    );
    assert!(house.get("/stock?q=rust").await.text.contains("No lot has"));
}

#[tokio::test]
async fn a_purchase_of_an_unknown_yarn_comes_back_filled() {
    let house = House::sample();
    let page = house
        .post(
            "/stock/buy",
            &[
                ("yarn", "Umbrelin DK"),
                ("amount", "2 skeins"),
                ("shade", "moss"),
            ],
        )
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(filled(&page.text, "shade"), "moss");
    assert!(page.text.contains("id=\"buy-yarn-error\""));
}

#[tokio::test]
async fn a_lot_is_edited_and_the_second_editor_is_told() {
    let house = House::sample();
    let edit = house.get("/stock/1/edit").await;
    let version = filled(&edit.text, "version").to_owned();
    let fields = [("place", "attic"), ("version", version.as_str())];
    assert_eq!(
        house.post("/stock/1/edit", &fields).await.status,
        StatusCode::SEE_OTHER
    );
    let told = house
        .post(
            "/stock/1/edit",
            &[("place", "cellar"), ("version", &version)],
        )
        .await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text.contains("attic") && told.text.contains("cellar"));
}

#[tokio::test]
async fn a_swatch_is_kept_edited_and_removed() {
    let house = House::empty();
    house.post("/yarns/new", &YARN).await;
    let bad = house
        .post(
            "/yarns/1/swatches/new",
            &[("needle", "big"), ("before", "21 sts / 10 cm")],
        )
        .await;
    assert!(
        bad.text.contains("id=\"swatch-needle-error\""),
        "{}",
        bad.text
    );
    let none = house
        .post("/yarns/1/swatches/new", &[("needle", "4 mm")])
        .await;
    assert!(none.text.contains("id=\"swatch-before-error\""));
    let fields = [
        ("needle", "4 mm"),
        ("before", "21 sts x 28 rows / 10 cm, garter, flat"),
        ("after", "20 sts / 10 cm"),
    ];
    assert_eq!(
        house.post("/yarns/1/swatches/new", &fields).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(
        house
            .get("/yarns/1")
            .await
            .text
            .contains("on 4 mm in garter, before washing 21 stitches")
    );
    let edit = house.get("/swatches/1/edit").await;
    assert_eq!(filled(&edit.text, "needle"), "4 mm");
    let version = filled(&edit.text, "version").to_owned();
    let edited = with(&with(&fields, "needle", "3.5 mm"), "version", &version);
    assert_eq!(
        house.post("/swatches/1/edit", &edited).await.status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(
        house.post("/swatches/1/edit", &edited).await.status,
        StatusCode::CONFLICT
    );
    house.post("/swatches/1/remove", &[("sure", "yes")]).await;
    assert!(house.get("/yarns/1").await.text.contains("No swatch of it"));
}

#[tokio::test]
async fn a_swatch_of_two_yarns_held_together_is_listed_with_both() {
    let house = House::empty();
    house.post("/yarns/new", &YARN).await;
    let other = with(&with(&YARN, "name", "Fenny Lace"), "gtin", "");
    house.post("/yarns/new", &other).await;
    let fields = [
        ("needle", "4 mm"),
        ("after", "20 sts / 10 cm"),
        ("held-with", "Fenny"),
    ];
    let unknown = with(&fields, "held-with", "Zzyx");
    let refused = house.post("/yarns/1/swatches/new", &unknown).await;
    assert!(refused.text.contains("id=\"swatch-held-with-error\""));
    let kept = house.post("/yarns/1/swatches/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    let page = house.get("/yarns/2").await.text;
    assert!(page.contains("held together with"), "{page}");
    let edit = house.get("/swatches/1/edit").await.text;
    assert!(filled(&edit, "held-with").contains("Fenny Lace"));
    assert_eq!(filled(&edit, "held-with-too"), "");
    let version = filled(&edit, "version").to_owned();
    let alone = with(&with(&fields, "held-with", ""), "version", &version);
    house.post("/swatches/1/edit", &alone).await;
    let page = house.get("/yarns/2").await.text;
    assert!(page.contains("No swatch of it"), "{page}");
}

#[tokio::test]
async fn a_pattern_is_kept_as_text_edited_and_the_second_editor_is_told() {
    let house = House::empty();
    assert_eq!(
        house.post("/patterns/text", &[("table", PAD)]).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(house.get("/patterns/1").await.text.contains("Hobplate"));
    let edited = PAD.replace("110 m", "120 m");
    let fields = [("table", edited.as_str()), ("version", "1")];
    assert_eq!(
        house.post("/patterns/text/1/edit", &fields).await.status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(
        house.post("/patterns/text/1/edit", &fields).await.status,
        StatusCode::CONFLICT
    );
    let bad = PAD.replace("hot pad", "hat stand");
    let told = house.post("/patterns/text", &[("table", &bad)]).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        told.text.contains("hat stand") && told.text.contains("line 2"),
        "{}",
        told.text
    );
    let file = house.get("/patterns/1/file").await;
    assert!(
        file.headers["content-disposition"]
            .to_str()
            .unwrap()
            .starts_with("attachment")
    );
    assert!(file.text.contains("120 m"));
}

#[tokio::test]
async fn a_pattern_file_is_shown_in_the_form_before_it_is_kept() {
    let house = House::empty();
    let page = house
        .send("/patterns/upload", &[], ("pad.toml", PAD.as_bytes()))
        .await;
    assert!(page.text.contains("Hobplate") && page.text.contains("<textarea"));
    assert!(
        house
            .get("/patterns")
            .await
            .text
            .contains("You have no patterns")
    );
}

#[tokio::test]
async fn hostile_records_are_shown_as_text_everywhere() {
    let house = House::empty();
    let long = "x".repeat(10_000);
    let fields = with(
        &with(&YARN, "name", HOSTILE),
        "maker",
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd}",
    );
    assert_eq!(
        house.post("/yarns/new", &fields).await.status,
        StatusCode::SEE_OTHER
    );
    house
        .post(
            "/stock/buy",
            &[
                ("yarn", HOSTILE),
                ("amount", "2 skeins"),
                ("shade", HOSTILE),
                ("place", &long),
                ("notes", HOSTILE),
            ],
        )
        .await;
    for path in [
        "/yarns",
        "/yarns/1",
        "/yarns/1/edit",
        "/stock",
        "/stock/1",
        "/stock/1/edit",
        "/yarns/1/swatches/new",
    ] {
        let page = house.get(path).await;
        assert_eq!(page.status, StatusCode::OK, "{path}");
        assert_eq!(page.text.matches("<script").count(), 1, "{path}");
        assert!(!page.text.contains("alert(1)</script>"), "{path}");
    }
    let too_long = with(&YARN, "name", &long);
    let page = house.post("/yarns/new", &too_long).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(
        filled(&page.text, "name").len(),
        10_000,
        "nothing typed is lost"
    );
}

#[tokio::test]
async fn lists_have_pages() {
    let house = House::sample();
    let first = house.get("/yarns").await;
    assert!(first.text.contains("After these"));
    let second = house.get("/yarns?q=&from=40").await;
    assert!(second.text.contains("Before these") && !second.text.contains("After these"));
    assert!(
        house
            .get("/yarns?q=Umbrelin")
            .await
            .text
            .contains("similar name")
    );
}

/// The fields of a form as it was shown, with its token.
async fn token_of(house: &House, path: &str) -> String {
    filled(&house.get(path).await.text, "once").to_owned()
}

#[tokio::test]
async fn a_form_that_is_sent_twice_changes_once_and_tells_the_same() {
    let house = House::empty();
    let once = token_of(&house, "/yarns/new").await;
    let yarn = with(&YARN, "once", &once);
    // Both at once, as by a double click.
    let (first, second) = tokio::join!(
        house.post("/yarns/new", &yarn),
        house.post("/yarns/new", &yarn)
    );
    for answer in [&first, &second] {
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
        assert!(answer.place().starts_with("/yarns/1?done="));
        let told = house.get(answer.place()).await.text;
        assert!(told.contains("Quenby, Sandgate saved"));
    }
    let once = token_of(&house, "/stock/buy").await;
    let bought = [
        ("yarn", "Quenby, Sandgate"),
        ("amount", "5 skeins"),
        ("once", &once),
    ];
    house.post("/stock/buy", &bought).await;
    let again = house.post("/stock/buy", &bought).await;
    assert!(house.get(again.place()).await.text.contains("5 skeins"));
    let once = token_of(&house, "/stock/1").await;
    let used = |amount| [("kind", "used"), ("amount", amount), ("once", &*once)];
    house.post("/stock/1", &used("1 skein")).await;
    house.post("/stock/1", &used("1 skein")).await;
    assert!(
        house
            .get("/stock/1")
            .await
            .text
            .contains("You have 4 skeins")
    );
    // Going back and writing something else is a change of its own.
    house.post("/stock/1", &used("2 skeins")).await;
    assert!(
        house
            .get("/stock/1")
            .await
            .text
            .contains("You have 2 skeins")
    );
}

#[tokio::test]
async fn a_swatch_that_is_sent_twice_is_kept_and_removed_once() {
    let house = House::empty();
    house.post("/yarns/new", &YARN).await;
    let once = token_of(&house, "/yarns/1/swatches/new").await;
    let swatch = [
        ("needle", "4 mm"),
        ("before", "22 sts / 10 cm"),
        ("once", &once),
    ];
    for _ in 0..2 {
        let kept = house.post("/yarns/1/swatches/new", &swatch).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text);
    }
    assert_eq!(
        house.get("/swatches/2/edit").await.status,
        StatusCode::NOT_FOUND
    );
    let page = house.get("/swatches/1/edit").await.text;
    let removal = page.split("id=\"remove\"").nth(1).unwrap();
    let sure = [("sure", "yes"), ("once", filled(removal, "once"))];
    for _ in 0..2 {
        let removed = house.post("/swatches/1/remove", &sure).await;
        assert!(removed.place().starts_with("/yarns/1?done="));
    }
}

#[tokio::test]
async fn what_was_used_is_undone_beside_the_message_and_on_the_page_of_the_lot() {
    let house = House::empty();
    house.post("/yarns/new", &YARN).await;
    let bought = [("yarn", "Quenby, Sandgate"), ("amount", "5 skeins")];
    house.post("/stock/buy", &bought).await;
    let used = [("kind", "used"), ("amount", "2 skeins")];
    let told = house.get(house.post("/stock/1", &used).await.place()).await;
    assert_eq!(told.text.matches(">Undo</button>").count(), 1);
    let form = hidden(&told.text, "undo");
    let plain = house.get("/stock/1").await.text;
    assert!(
        plain.contains("Last change: 2 skeins used of Quenby, Sandgate."),
        "{plain}"
    );
    assert_eq!(hidden(&plain, "undo")[1..], form[1..]);
    let first = house.send_fields("/undo", &form).await;
    assert!(
        first.place().starts_with("/stock/1?done="),
        "{}",
        first.place()
    );
    let again = house.send_fields("/undo", &form).await;
    assert_eq!(again.status, StatusCode::SEE_OTHER);
    let undone = house.get(again.place()).await.text;
    for part in [
        "Undone: 2 skeins used of Quenby, Sandgate.",
        "5 skeins (625 m)",
        "undone",
    ] {
        assert!(undone.contains(part), "{part}: {undone}");
    }
    // Another form of the same change, as of a page that was open elsewhere.
    let late = house.send_fields("/undo", &hidden(&plain, "undo")).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text.contains("was undone before"), "{}", late.text);
}

#[tokio::test]
async fn a_change_that_someone_followed_up_is_not_undone_and_that_is_told() {
    let house = House::empty();
    let added = house.post("/yarns/new", &YARN).await;
    let mine = house.get(added.place()).await.text;
    let bought = [("yarn", "Quenby, Sandgate"), ("amount", "5 skeins")];
    house.post("/stock/buy", &bought).await;
    let refused = house.send_fields("/undo", &hidden(&mine, "undo")).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(
        refused.text.contains("first purchase of Quenby, Sandgate"),
        "{}",
        refused.text
    );
    assert!(!house.get("/yarns/1").await.text.contains(">Undo</button>"));
    assert_eq!(
        house
            .get("/undo")
            .await
            .text
            .matches(">Undo</button>")
            .count(),
        1
    );
}

#[tokio::test]
async fn a_removed_yarn_is_undone_from_the_message_and_from_the_list() {
    let house = House::empty();
    for id in ["undo", "undo-1"] {
        house.post("/yarns/new", &YARN).await;
        let number = if id == "undo" { 1 } else { 2 };
        let remove = format!("/yarns/{number}/remove");
        let removed = house.post(&remove, &[("sure", "yes")]).await;
        let page = match id {
            "undo" => house.get(removed.place()).await.text,
            _ => house.get("/undo").await.text,
        };
        assert!(page.contains("Quenby, Sandgate removed"), "{page}");
        let back = house.send_fields("/undo", &hidden(&page, id)).await;
        assert!(back.place().starts_with(&format!("/yarns/{number}?done=")));
        let page = house.get(back.place()).await.text;
        assert!(
            page.contains("Undone: yarn Quenby, Sandgate removed."),
            "{page}"
        );
        house.post(&remove, &[("sure", "yes")]).await;
    }
}

#[tokio::test]
async fn a_part_ball_is_weighed_in_grams_alone() {
    let house = House::sample();
    let weighed = [("kind", "weighed"), ("grams", "27,5")];
    let done = house.post("/stock/1", &weighed).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text);
    let page = house.get("/stock/1").await.text;
    assert!(page.contains("You have 27.5 g"), "{page}");
    assert!(page.contains("inputmode=\"decimal\""));
    let unread = [("kind", "weighed"), ("grams", "heavy")];
    let told = house.post("/stock/1", &unread).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(told.text.contains("id=\"weigh-grams-error\""));
    assert_eq!(filled(&told.text, "grams"), "heavy");
}

#[tokio::test]
async fn whoever_has_no_records_may_try_the_sample_stash() {
    let house = House::empty();
    for path in ["/stock", "/yarns", "/patterns"] {
        let page = house.get(path).await.text;
        assert!(page.contains("action=\"/sample\""), "{path}");
    }
    let taken = house.post("/sample", &[]).await;
    assert_eq!(
        (taken.status, &taken.place()[..2]),
        (StatusCode::SEE_OTHER, "/?")
    );
    assert!(house.get("/stock").await.text.contains("Hathrel DK"));
    assert!(house.get("/patterns").await.text.contains("Skerrablet"));
    let nothing = house.get("/yarns?q=zzzz").await.text;
    assert!(
        !nothing.contains("action=\"/sample\""),
        "nothing found is not nothing kept"
    );
}

#[tokio::test]
async fn a_list_is_filtered_put_in_order_and_shown_whole() {
    let house = House::sample();
    let rows = |page: &str| page.matches("<th role=\"rowheader\"").count();
    let first = house.get("/yarns").await.text;
    assert_eq!(rows(&first), 40);
    let all = house.get("/yarns?all=yes").await.text;
    assert_eq!(rows(&all), YARNS.trim_end().lines().count() - 1);
    assert!(first.contains("Show all") && !all.contains("Show all"));
    let yarns = rows(&all);
    assert!(first.contains(&format!("1 to 40 of {yarns} yarns")));
    assert!(all.contains(&format!(">{yarns} yarns<")));
    let silk = house.get("/yarns?fibre=silk&sort=grist").await.text;
    assert!(silk.contains(&format!(">{} yarns found<", rows(&silk))));
    assert!(first.contains("data-head=\"weight\">3 light<"));
    assert!(all.contains("data-head=\"note\">discontinued<"));
    assert!(rows(&silk) > 1 && rows(&silk) < 20, "{}", rows(&silk));
    assert!(silk.contains("aria-sort=\"ascending\" scope=\"col\" class=\"right\">metres per"));
    assert!(silk.contains("href=\"/yarns?fibre=silk&amp;sort=class\""));
    let named = house.get("/yarns/named?name=Umberlin+DK").await;
    assert_eq!(named.status, StatusCode::SEE_OTHER);
    let page = house.get(named.place()).await.text;
    assert!(page.contains("Umberlin DK"));
}

#[tokio::test]
async fn lots_that_are_empty_come_last_in_the_list_of_the_stash() {
    let house = House::sample();
    let empty = "data-head=\"you have\">0 skeins<";
    let all = house.get("/stock?all=yes").await.text;
    let rows: Vec<&str> = all.split("<th role=\"rowheader\"").skip(1).collect();
    let first = rows.iter().position(|row| row.contains(empty)).unwrap();
    assert!(first > 0 && rows[first..].iter().all(|row| row.contains(empty)));
    assert!(all.contains(&format!(">{} lots<", rows.len())));
    // Where the list goes on they are not on its first page.
    let part = house.get("/stock").await.text;
    assert!(part.contains(&format!("1 to 40 of {} lots", rows.len())));
    assert!(!part.contains(empty));
    let by_place = house.get("/stock?sort=place&all=yes").await.text;
    let last = by_place.split("<th role=\"rowheader\"").last().unwrap();
    assert!(last.contains(empty));
}

/// Sends the form of a lot as a browser does, with these changes.
async fn send_lot(house: &House, lot: &str, changed: &[(&str, &str)]) -> super::Answered {
    let path = format!("/stock/{lot}/edit");
    let typed = fields(&house.get(&path).await.text, "lot");
    house
        .send_fields(&path, &markup::with(&typed, changed))
        .await
}

#[tokio::test]
async fn a_colour_is_typed_or_picked_without_a_script_and_shown_wherever_the_shade_is_named() {
    let house = House::sample();
    let (lot, chip) = ("2", "fill=\"#2f6f8f\"");
    // A picker always sends a colour; only another one than was shown counts.
    let saved = send_lot(&house, lot, &[]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    assert_eq!(
        filled(&house.get("/stock/2/edit").await.text, "colour"),
        "#5b6b3a"
    );
    send_lot(&house, lot, &[("colour-picked", "#2f6f8f")]).await;
    let list = house.get("/stock").await.text;
    assert_eq!(
        list.matches(chip).count(),
        2,
        "both lots of the shade: {list}"
    );
    let page = house.get(&format!("/stock/{lot}")).await.text;
    let title = page
        .split("<title>")
        .nth(1)
        .unwrap()
        .split("</title>")
        .next()
        .unwrap();
    assert!(title.chars().all(|c| u32::from(c) < 0xf_0000), "{title}");
    assert!(
        page.split("<h1>")
            .nth(1)
            .unwrap()
            .split("</h1>")
            .next()
            .unwrap()
            .contains(chip)
    );
    assert!(page.contains("aria-hidden=\"true\""));
    assert!(page.chars().all(|c| u32::from(c) < 0xf_0000));
    // What is typed counts before what is picked.
    send_lot(
        &house,
        lot,
        &[("colour", "Navy"), ("colour-picked", "#ff0000")],
    )
    .await;
    let form = house.get(&format!("/stock/{lot}/edit")).await.text;
    assert_eq!(filled(&form, "colour"), "Navy");
    assert_eq!(filled(&form, "colour-picked"), "#000080");
    send_lot(&house, lot, &[("colour", "")]).await;
    let form = house.get(&format!("/stock/{lot}/edit")).await.text;
    assert_eq!(filled(&form, "colour"), "");
    let refused = send_lot(&house, lot, &[("colour", "muddy")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("id=\"lot-colour-error\""));
    assert_eq!(filled(&refused.text, "colour"), "muddy");
}

#[tokio::test]
async fn a_shade_that_is_called_like_a_colour_is_offered_as_one() {
    let house = House::sample();
    send_lot(&house, "2", &[("shade", "teal"), ("colour", "")]).await;
    let form = house.get("/stock/2/edit").await.text;
    assert!(
        form.contains("The shade is called teal, which is also a colour"),
        "{form}"
    );
    assert_eq!(filled(&form, "colour"), "");
    send_lot(&house, "2", &[("shade", "sea")]).await;
    let form = house.get("/stock/2/edit").await.text;
    assert!(!form.contains("which is also a colour"));
}
