//! The history of a record on its page, and two entries of a yarn made one.

use super::House;
use crate::desk::Desk;
use axum::http::StatusCode;

fn house() -> House {
    let desk = Desk::empty();
    for (name, care) in [("Marram", "hand wash"), ("Maram", "machine wash")] {
        let label = format!("50 g = 120 m, {care}");
        desk.text(&["yarn", "add", "--maker", "Quenby", "--name", name, &label]);
    }
    desk.text(&[
        "stock",
        "buy",
        "Quenby, Maram",
        "3 balls",
        "--shade",
        "moss",
    ]);
    House::on(desk, |shop| shop)
}

#[tokio::test]
async fn two_entries_of_a_yarn_are_merged_on_its_page_and_apart_again() {
    let house = house();
    let page = house.get("/yarns/2").await.text;
    assert!(page.contains("Entered twice? Merge"), "{page}");
    let refused = house.post("/yarns/2/merge", &[("into", "Zzyx")]).await;
    assert!(refused.status.is_client_error());
    assert!(refused.text.contains("Zzyx"), "{}", refused.text);
    let refused = house.post("/yarns/2/merge", &[("into", "")]).await;
    assert!(refused.status.is_client_error(), "{}", refused.text);
    let done = house
        .post("/yarns/2/merge", &[("into", "Quenby, Marram")])
        .await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text);
    let page = house.get(done.place()).await.text;
    assert!(
        page.contains("Quenby, Maram merged into Quenby, Marram"),
        "{page}"
    );
    assert!(page.contains("machine wash"), "{page}");
    assert!(page.contains("3 balls"), "{page}");
    assert_eq!(house.get("/yarns/2").await.status, StatusCode::NOT_FOUND);
    let change = super::filled(&page, "change").to_owned();
    house.post("/undo", &[("change", &change)]).await;
    assert_eq!(house.get("/yarns/2").await.status, StatusCode::OK);
}

#[tokio::test]
async fn the_page_of_a_record_tells_its_history() {
    let house = house();
    let page = house.get("/yarns/1").await.text;
    assert!(!page.contains(">History<"), "only added: {page}");
    house
        .desk
        .text(&["yarn", "edit", "Quenby, Marram", "--care", "dry clean"]);
    let page = house.get("/yarns/1").await.text;
    assert!(page.contains(">History<"), "{page}");
    assert!(page.contains("care: dry clean, was hand wash"), "{page}");
    house
        .desk
        .text(&["stock", "edit", "1", "--notes", "<b>bold</b>"]);
    let page = house.get("/stock/1").await.text;
    assert!(page.contains("notes: &lt;b&gt;bold&lt;/b&gt;"), "{page}");
}

#[tokio::test]
async fn a_shade_is_renamed_on_the_page_of_its_yarn() {
    let house = House::sample();
    let listed = house.desk.json(&["stock", "list", "Umberlin DK"]);
    let shade = listed["rows"][0]["shade"].as_str().unwrap().to_owned();
    let named = house.get("/yarns/named?name=Umberlin%20DK").await;
    let path = named.place().to_owned();
    let page = house.get(&path).await.text;
    let form = &page[page.find("id=\"shade\"").unwrap()..];
    let once = super::filled(form, "once").to_owned();
    let to = format!("{path}/shade");
    let fields = [
        ("once", once.as_str()),
        ("from", shade.as_str()),
        ("to", "pale oat"),
    ];
    for _ in 0..2 {
        let done = house.post(&to, &fields).await;
        assert!(done.status.is_redirection(), "{}", done.text);
    }
    let listed = house.desk.json(&["stock", "list", "Umberlin DK"]);
    assert_eq!(listed["rows"][0]["shade"], "pale oat");
    for (from, to_name) in [("", "x"), ("pale oat", ""), ("no such", "x")] {
        let refused = house.post(&to, &[("from", from), ("to", to_name)]).await;
        assert!(refused.status.is_client_error(), "{from} {to_name}");
    }
}
