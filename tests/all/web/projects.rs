//! Projects on the page of the plan: added, moved, given a yarn by hand, reserved,
//! removed.

use super::{
    HOSTILE, House,
    markup::{first_between, hidden, with, without_tags},
};
use crate::desk::{Desk, sample};
use axum::http::StatusCode;

/// The sample stash with all its patterns, and some projects.
fn house(projects: &[&str]) -> House {
    let desk = Desk::with_sample();
    for project in projects {
        desk.text(&["project", "add", project]);
    }
    House::on(desk, |shop| shop)
}

/// Sends the form with this id, with further fields, and gives the page that follows.
async fn send(house: &House, (form, action): (&str, &str), more: &[(&str, &str)]) -> String {
    let page = house.get("/plan").await.text;
    let fields = with(&hidden(&page, form), more);
    let sent = house.send_fields(action, &fields).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    house.get(sent.place()).await.text
}

/// The headings of the projects, in order, without their links.
fn headings(page: &str) -> Vec<String> {
    let heads = page.split("<h2>").skip(1);
    let heads = heads.map(|rest| without_tags(rest.split("</h2>").next().unwrap()));
    heads
        .filter(|head| head.starts_with(|c: char| c.is_ascii_digit()))
        .collect()
}

#[tokio::test]
async fn without_projects_the_page_says_what_one_is_and_offers_the_first() {
    let page = house(&[]).get("/plan").await.text;
    assert!(page.contains("What do you want to make?"), "{page}");
    assert!(page.contains(">Skerrablet, size M</option>"), "{page}");
    assert!(page.contains("href=\"/plan/try\""), "{page}");
    let nothing = House::empty().get("/plan").await.text;
    assert!(nothing.contains("href=\"/patterns/new\""), "{nothing}");
}

#[tokio::test]
async fn projects_are_added_moved_and_removed_and_each_can_be_undone() {
    let house = house(&["Hobplate"]);
    let add = ("add", "/plan");
    let page = house.get("/plan").await.text;
    let choices = first_between(&page, "<select id=\"add-pattern\"", "</select>");
    let value = |size: &str| {
        let option = choices
            .split("<option ")
            .find(|it| it.contains(size))
            .unwrap();
        first_between(option, "value=\"", "\"").to_owned()
    };
    let medium = value("Skerrablet, size M<");
    let page = send(&house, add, &[("pattern", &medium), ("without", "mohair")]).await;
    assert!(page.contains("Project Skerrablet M added"), "{page}");
    assert!(page.contains(">Undo</button>"), "{page}");
    assert_eq!(headings(&page), ["1. Hobplate", "2. Skerrablet M"]);
    let page = send(&house, ("project-2", "/plan/2"), &[("do", "up")]).await;
    assert_eq!(headings(&page), ["1. Skerrablet M", "2. Hobplate"]);
    let page = send(&house, ("project-2", "/plan/2"), &[("do", "remove")]).await;
    assert!(page.contains("Project Skerrablet M removed"), "{page}");
    assert_eq!(headings(&page), ["1. Hobplate"]);
    house.desk.text(&["undo"]);
    assert_eq!(headings(&house.get("/plan").await.text).len(), 2);
    for (field, text) in [("pattern", "99:0"), ("pattern", ""), ("without", "tweedle")] {
        let mut fields = vec![("pattern", medium.as_str())];
        fields.retain(|(name, _)| *name != field);
        fields.push((field, text));
        let refused = house.post("/plan", &fields).await;
        assert_eq!(
            refused.status,
            StatusCode::UNPROCESSABLE_ENTITY,
            "{field}: {text}"
        );
        assert!(
            refused.text.contains(&format!("id=\"add-{field}-error\"")),
            "{}",
            refused.text
        );
        assert_eq!(headings(&refused.text).len(), 2);
    }
}

#[tokio::test]
async fn a_yarn_that_is_chosen_is_planned_at_once_and_the_second_who_chooses_is_told() {
    let house = house(&["Skerrablet:M"]);
    let page = house.get("/plan").await.text;
    let choices = first_between(&page, "<select id=\"project-1-yarn-0\"", "</select>");
    let palvetta = choices
        .split("<option ")
        .find(|it| it.contains("Palvetta DK"))
        .unwrap();
    let palvetta = first_between(palvetta, "value=\"", "\"").to_owned();
    let old = hidden(&page, "project-1");
    let page = send(&house, ("project-1", "/plan/1"), &[("yarn-0", &palvetta)]).await;
    assert!(page.contains("Yarn chosen for Skerrablet M"), "{page}");
    assert!(
        page.contains(&format!("value=\"{palvetta}\" selected")),
        "{page}"
    );
    let table = first_between(&page, "<h2>1. ", "<form");
    assert!(table.contains("Palvetta DK"), "{table}");
    let late = with(&old, &[("yarn-0", "")]);
    let told = house.send_fields("/plan/1", &late).await;
    assert_eq!(told.status, StatusCode::CONFLICT, "{}", told.text);
    let page = send(&house, ("project-1", "/plan/1"), &[("yarn-0", "")]).await;
    assert!(page.contains("The plan chooses the yarn"), "{page}");
    for yarn in ["9999:moss", "9999"] {
        let fields = with(&hidden(&page, "project-1"), &[("yarn-0", yarn)]);
        let told = house.send_fields("/plan/1", &fields).await;
        assert!(told.status.is_client_error(), "{yarn}: {}", told.text);
    }
}

#[tokio::test]
async fn what_is_wished_of_a_projects_yarn_is_added_shown_and_changed() {
    let house = house(&["Skerrablet:M", "Hobplate"]);
    let page = house.get("/plan").await.text;
    for field in ["max-cost", "enough", "one-lot", "shade", "place"] {
        assert!(page.contains(&format!("id=\"add-{field}\"")), "{field}");
    }
    assert!(page.contains("href=\"/plan/1/edit\""), "{page}");
    let edit = house.get("/plan/1/edit").await.text;
    assert!(edit.contains("value=\"Skerrablet M\""), "{edit}");
    let typed = [
        ("name", "For Ada"),
        ("size", "M"),
        ("place", "trunk"),
        ("one-lot", "yes"),
        ("max-cost", "40 EUR"),
    ];
    let sent = with(&hidden(&edit, "project"), &typed);
    let saved = house.send_fields("/plan/1/edit", &sent).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let page = house.get(saved.place()).await.text;
    let wanted = "You want: at most 40 EUR, one dye lot a yarn, from trunk.";
    assert!(page.contains(wanted), "{page}");
    assert_eq!(headings(&page)[0], "1. For Ada (Skerrablet, size M)");
    house.desk.text(&["undo"]);
    let page = house.get("/plan").await.text;
    assert!(!page.contains("You want:"), "{page}");
}

#[tokio::test]
async fn the_plan_that_is_seen_is_reserved_once_and_no_other() {
    let house = house(&["Skerrablet:M", "Mirrowhist"]);
    let stale = house.get("/plan").await.text;
    let lots = house.desk.json(&["plan"])["made"][0]["yarns"][0]["lots"].clone();
    let lot = lots[0]["number"].to_string();
    house
        .desk
        .text(&["stock", "use", &lot, "2 skeins", "--for", "a customer"]);
    let fields = hidden(&stale, "reserve");
    let told = house.send_fields("/plan/reserve", &fields).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text.contains("nothing was reserved"), "{}", told.text);
    assert!(
        told.text.contains(">Reserve this plan</button>"),
        "{}",
        told.text
    );
    let page = send(&house, ("reserve", "/plan/reserve"), &[]).await;
    assert!(page.contains("Yarn reserved for"), "{page}");
    assert!(page.contains("Reserved for it:"), "{page}");
    let stash = house.get("/stock").await.text;
    assert!(stash.contains("for Skerrablet M"), "{stash}");
    house.desk.text(&["verify"]);
}

#[tokio::test]
async fn names_that_try_to_become_markup_stay_text() {
    let desk = Desk::with_sample();
    desk.text(&["project", "add", "Hobplate", "--name", HOSTILE]);
    desk.text(&["project", "pin", "1", "Ambrelisse", "--shade", HOSTILE]);
    let house = House::on(desk, |shop| shop);
    let page = house.get("/plan").await.text;
    assert!(!page.contains("<script>alert"), "{page}");
    let gone = sample("patterns/hobplate.toml");
    house.desk.text(&["pattern", "remove", "Hobplate"]);
    let page = house.get("/plan").await.text;
    assert!(page.contains("pattern was removed"), "{page}");
    house.desk.text(&["import", "pattern", &gone]);
    assert!(house.get("/plan/try").await.text.contains("Choice 1"));
}

#[tokio::test]
async fn a_project_is_edited_on_its_page_and_of_two_who_edit_neither_undoes_the_other() {
    let house = house(&["Skerrablet:M"]);
    let plan = house.get("/plan").await.text;
    assert!(plan.contains("/plan/1/edit"), "{plan}");
    let page = house.get("/plan/1/edit").await.text;
    let shown = hidden(&page, "project");
    let send = |changes: &[(&str, &str)]| {
        let held = ["name", "size", "without", "only", "care"].map(|name| {
            let was = shown.iter().find(|(it, _)| *it == format!("was-{name}"));
            (name.to_owned(), was.unwrap().1.clone())
        });
        let mut fields: Vec<(String, String)> = shown.iter().cloned().chain(held).collect();
        for (name, text) in changes {
            let field = fields.iter_mut().find(|(it, _)| it == name).unwrap();
            field.1 = (*text).to_owned();
        }
        fields
    };
    for changes in [
        [("name", "For Ada")],
        [("without", "mohair")],
        [("without", "")],
    ] {
        let done = house.send_fields("/plan/1/edit", &send(&changes)).await;
        let changed = done.status == StatusCode::SEE_OTHER;
        // The form that was shown first had no fibres: to leave them empty changes nothing.
        assert_eq!(changed, !changes[0].1.is_empty(), "{}", done.text);
    }
    let listed = house.desk.json(&["project", "list"]);
    assert_eq!(listed["rows"][0]["name"], "For Ada");
    assert_eq!(listed["rows"][0]["without"], "mohair");
    let page = house.get("/plan/1/edit").await.text;
    assert!(
        page.contains("History") && page.contains("was Skerrablet M"),
        "{page}"
    );
    let refused = house
        .post("/plan/1/edit", &[("size", "9XL"), ("was-size", "M")])
        .await;
    assert!(refused.status.is_client_error());
    assert_eq!(
        house.get("/plan/99/edit").await.status,
        StatusCode::NOT_FOUND
    );
}
