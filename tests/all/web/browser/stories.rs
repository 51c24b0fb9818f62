//! The three people's stories, from empty records.

use super::{
    super::{JUMPER, PAD, YARNS},
    Visit,
};
use fantoccini::{Locator, key::Key, wd::PrintSize};

const BAND: &str = "100 g = 240 m, 100% wool, 22 sts x 30 rows / 10 cm, 4 mm";

#[tokio::test]
async fn a_knitter_begins_with_nothing_and_asks_corrects_weighs_and_prints() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/").await;
    visit.look("ask-empty").await;
    visit.go("/tables").await;
    visit.look("tables").await;
    visit
        .type_into(
            "look-text",
            &YARNS.lines().take(20).collect::<Vec<_>>().join("\n"),
        )
        .await;
    visit
        .client
        .find(Locator::Css("#look button"))
        .await
        .unwrap()
        .send_keys(&char::from(Key::Enter).to_string())
        .await
        .unwrap();
    visit.told("rows will be added").await;
    visit.look("tables-seen").await;
    visit
        .client
        .find(Locator::Css("#take button"))
        .await
        .unwrap()
        .send_keys(&char::from(Key::Enter).to_string())
        .await
        .unwrap();
    visit.told("imported").await;
    visit.go("/patterns/text").await;
    visit.look("pattern-new").await;
    let area = visit
        .client
        .find(Locator::Css("#pattern-table"))
        .await
        .unwrap();
    area.clear().await.unwrap();
    area.send_keys(JUMPER).await.unwrap();
    visit
        .client
        .find(Locator::Css("#pattern button"))
        .await
        .unwrap()
        .click()
        .await
        .unwrap();
    visit.told("Pattern Skerrablet saved").await;
    visit.look("pattern").await;
    visit.go("/").await;
    visit.look("ask").await;
    visit.type_into("ask-pattern", "Skerrablet, size M").await;
    visit.type_into("ask-band", BAND).await;
    visit
        .client
        .find(Locator::Css("#ask button"))
        .await
        .unwrap()
        .send_keys(&char::from(Key::Enter).to_string())
        .await
        .unwrap();
    let answer = visit.told("You need").await;
    assert!(
        answer.contains("What the label says, as understood"),
        "{answer}"
    );
    visit.look("answer").await;
    for (name, size) in [
        (
            "A5",
            PrintSize {
                width: 14.8,
                height: 21.0,
            },
        ),
        (
            "letter",
            PrintSize {
                width: 21.59,
                height: 27.94,
            },
        ),
    ] {
        assert_eq!(visit.sides(size).await, 1, "sides of {name}");
    }
    let field = visit
        .client
        .find(Locator::Css("#correct-offered-length"))
        .await
        .unwrap();
    field.clear().await.unwrap();
    field.send_keys("190 m").await.unwrap();
    visit.type_into("correct-offered-length", "").await;
    visit.enter().await;
    visit.told("21 % fewer metres per 100 g").await;
    visit.go("/answer?pattern=1&offered=catalogue").await;
    visit.look("answer-list").await;
    visit
        .go("/answer?wants=225+m%2F100+g&tolerance=a+bit&yarn=x")
        .await;
    visit.look("ask-refused").await;
}

#[tokio::test]
async fn a_shop_keeps_stock_and_the_second_editor_is_told() {
    shop(true).await;
}

#[tokio::test]
async fn a_shop_keeps_stock_with_script_off() {
    shop(false).await;
}

async fn shop(script: bool) {
    let Some(visit) = Visit::begin(script).await else {
        return;
    };
    visit.go("/yarns/new").await;
    for (field, text) in [
        ("maker", "Quenby"),
        ("name", "<script>alert(1)</script>"),
        ("length", "125 m"),
        ("mass", "50 g"),
    ] {
        visit.type_into(&format!("yarn-{field}"), text).await;
    }
    visit.enter().await;
    visit.told("Quenby, <script>alert(1)</script> saved").await;
    visit.look("yarn").await;
    visit.go("/stock/buy?yarn=Quenby").await;
    visit.type_into("buy-amount", "5 skeins").await;
    visit.type_into("buy-shade", "moss").await;
    visit.enter().await;
    visit.told("Left: 5 skeins").await;
    visit.go("/stock").await;
    visit.look("stock").await;
    visit.go("/stock/1").await;
    visit
        .client
        .find(Locator::Css("#entry input[value=weighed]"))
        .await
        .unwrap()
        .click()
        .await
        .unwrap();
    visit.type_into("entry-amount", "2 + 30 g").await;
    visit.enter().await;
    visit.told("Recorded: ").await;
    visit.look("lot").await;
    visit.go("/yarns/1/edit").await;
    visit.look("yarn-edit").await;
    let first = visit.client.new_window(true).await.unwrap();
    let second = visit.client.window().await.unwrap();
    for (window, text) in [(first.handle, "one"), (second, "two")] {
        visit.client.switch_to_window(window).await.unwrap();
        if text == "one" {
            visit.go("/yarns/1/edit").await;
        }
        visit
            .client
            .find(Locator::Css("#yarn-notes"))
            .await
            .unwrap()
            .send_keys(text)
            .await
            .unwrap();
        visit
            .client
            .find(Locator::Css("#yarn button.main"))
            .await
            .unwrap()
            .click()
            .await
            .unwrap();
        if text == "one" {
            visit.told("</script> saved").await;
        }
    }
    let told = visit.told("someone else changed").await;
    assert!(told.contains("as saved now"), "{told}");
    visit.look("yarn-clash").await;
}

#[tokio::test]
async fn a_customer_asks_about_a_hot_pad_and_something_for_a_nursery() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/patterns/text").await;
    visit.fill("pattern-table", PAD).await;
    visit.click("#pattern button").await;
    visit.told("Pattern Hobplate saved").await;
    visit.go("/").await;
    visit.type_into("ask-pattern", "Hobplate, one size").await;
    let acrylic =
        "50 g = 85 m, 100% acrylic, 18 sts x 24 rows / 10 cm, 4.5 mm, plied, machine wash, class 4";
    visit.type_into("ask-band", acrylic).await;
    visit.click("#ask button").await;
    let answer = visit.told("Will not work").await;
    assert!(answer.contains("Never for anything hot"), "{answer}");
    assert!(answer.contains("sticks to the skin"), "{answer}");
    visit.look("answer-hazard").await;
    visit.fill("correct-offered-fibre", "100% cotton").await;
    visit.click("#correct button").await;
    let answer = visit.told("still burn").await;
    assert!(answer.contains("Should work:"), "{answer}");
    visit.fill("correct-offered-fibre", "").await;
    visit.click("#correct button").await;
    let answer = visit.told("not known whether this yarn melts").await;
    assert!(!answer.contains("Should work:"), "{answer}");
    visit.go("/").await;
    let garland = "Nursery cord: 60 m, 50 g = 125 m, DK, 22 sts / 10 cm, 100% cotton";
    visit.type_into("ask-wants", garland).await;
    visit
        .type_into(
            "ask-band",
            "50 g = 125 m, 22 sts / 10 cm, 70% mohair 30% silk, brushed",
        )
        .await;
    visit.click("#ask details summary").await;
    visit.type_into("ask-purpose", "baby").await;
    visit.click("#ask button").await;
    let answer = visit.told("No cords or ties at a child's hood").await;
    assert!(answer.contains("away from babies"), "{answer}");
    assert!(answer.contains("the rules of your country"), "{answer}");
    visit.look("answer-baby").await;
}
