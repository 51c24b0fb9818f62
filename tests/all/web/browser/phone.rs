//! An evening with a phone, from empty records: what would do of the stash, a part ball
//! on the scale, and taking that back. Then the same lists on a laptop.

use super::Visit;

/// The cells of the first yarn of an answer that are seen, each with where it ends.
const SEEN: &str = "
    const row = document.querySelector('table.strips tbody tr');
    return [...row.children].filter(cell => cell.getClientRects().length && cell.innerText.trim())
        .map(cell => [cell.dataset.head || '', cell.getBoundingClientRect().right]);";

/// Marks of the map, and whether each lies within its picture.
const MARKS: &str = "
    const map = document.querySelector('.map svg').getBoundingClientRect();
    return [...document.querySelectorAll('.map svg a')].map(mark => mark.getBoundingClientRect())
        .map(at => at.left >= map.left && at.right <= map.right + 1 && at.top >= map.top && at.bottom <= map.bottom + 1);";

/// Names on the map that cover a mark.
const ON_MARKS: &str = "
    const names = [...document.querySelectorAll('.name-of')].map(name => name.getBoundingClientRect());
    const marks = [...document.querySelectorAll('.map svg a :is(circle, path)')].map(mark => mark.getBoundingClientRect());
    const cover = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
    return names.filter(name => marks.some(mark => cover(name, mark))).length;";

/// Names on the map that cover each other.
const COVERED: &str = "
    const names = [...document.querySelectorAll('.name-of')].map(name => name.getBoundingClientRect());
    const cover = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
    return names.flatMap((a, n) => names.slice(n + 1).filter(b => cover(a, b))).length;";

#[tokio::test]
async fn a_knitter_with_a_phone_finds_weighs_and_takes_back() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.screen(320, 568).await;
    visit.with_sample().await;
    for from in ["stash", "catalogue"] {
        visit
            .go(&format!("/answer?pattern=1:2&offered={from}"))
            .await;
        visit.told("From your").await;
        let seen = visit.said(SEEN).await;
        let seen = seen.as_array().unwrap();
        let heads: Vec<&str> = seen.iter().map(|cell| cell[0].as_str().unwrap()).collect();
        assert!(
            heads.contains(&"verdict") && heads.contains(&"stash"),
            "{heads:?}"
        );
        let far = ["m/100\u{a0}g", "cost"];
        assert!(!heads.iter().any(|head| far.contains(head)), "{heads:?}");
        assert!(
            seen.iter().all(|cell| cell[1].as_f64().unwrap() <= 320.0),
            "{seen:?}"
        );
        visit.is_whole("cards of yarns").await;
        let head = "return document.querySelector('.strips thead').getBoundingClientRect().right";
        let head = visit.said(head).await.as_f64().unwrap();
        assert!(head <= 20.0, "heads lie over the cards: {head}");
        let inside = visit.said(MARKS).await;
        let inside = inside.as_array().unwrap();
        assert!(
            inside.len() > 2 && inside.iter().all(|mark| mark == true),
            "{inside:?}"
        );
        assert_eq!(visit.said(COVERED).await, 0, "names on the map");
        assert_eq!(visit.said(ON_MARKS).await, 0, "names over marks");
    }
    visit.go("/stock/1").await;
    visit.fill("weigh-grams", "75").await;
    visit.click("#weigh button").await;
    let told = visit.told("Recorded").await;
    assert!(told.contains("Undo"), "{told}");
    visit.click("#undo button").await;
    visit.told("Undone").await;
    visit.look("phone-lot").await;
}

/// Rows of a list that stand whole on the first screen.
const ROWS: &str = "return [...document.querySelectorAll('.list tbody tr')]
    .filter(row => row.getBoundingClientRect().bottom <= innerHeight).length";

#[tokio::test]
async fn a_laptop_shows_twenty_rows_of_a_list_at_once() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.with_sample().await;
    visit.screen(1280, 800).await;
    for list in ["/yarns", "/stock"] {
        visit.go(list).await;
        let rows = visit.said(ROWS).await.as_u64().unwrap();
        assert!(rows >= 20, "{list}: {rows} rows");
    }
    visit.go("/answer?pattern=1&offered=catalogue").await;
    visit.told("From your yarns").await;
    visit.screen(1280, 800).await;
    let key = "const key = document.querySelector('.key').getBoundingClientRect(), map = document.querySelector('.map > svg').getBoundingClientRect();
        return key.left >= map.right && key.top < map.bottom;";
    assert_eq!(visit.said(key).await, true, "the key is beside the map");
    visit.look("answer-map").await;
    for page in ["/patterns/1", "/yarns/1"] {
        visit.screen(320, 568).await;
        visit.go(page).await;
        let ways = "return [...document.querySelectorAll('h1 + .links a')].map(a => [a.innerText, a.getBoundingClientRect().bottom])";
        let ways = visit.said(ways).await;
        let ways = ways.as_array().unwrap();
        assert!(ways.iter().any(|way| way[0] == "Will it work?"), "{ways:?}");
        assert!(ways.iter().any(|way| way[0] == "Edit"), "{ways:?}");
        let is_seen = |way: &serde_json::Value| way[1].as_f64().unwrap() <= 568.0;
        assert!(ways.iter().all(is_seen), "{page}: {ways:?}");
    }
    visit.go("/patterns/1").await;
    visit.look("pattern-pictures").await;
    visit
        .go("/answer?pattern=1:2&offered=one&yarn=Drindle&sure=95%25")
        .await;
    visit.told("Chance of running out").await;
    visit.look("answer-chance").await;
    visit.go("/stock/buy").await;
    visit
        .fill(
            "read-band",
            "Vorrelith Orrin DK, 50 g = 125 m, shade 114 moss, lot A417",
        )
        .await;
    visit.click("#read button").await;
    visit.told("Fill the fields").await;
    visit.look("buy-label").await;
}
