//! A day in a shop, by scanner and by hand, and an evening in which a knitter takes back
//! what went wrong; with and without script, on a phone's screen where that counts.

use super::Visit;
use fantoccini::Locator;

/// Ten skeins of one lot, and the yarn of two lots.
const BARCODE: &str = "2900328717698";
const TWO_LOTS: &str = "Quandrow, Palvetta DK";

impl Visit {
    /// How much there is of the first lot of a yarn.
    fn held(&self, yarn: &str) -> String {
        let listed = self.desk.json(&["stock", "list", yarn]);
        listed["rows"][0]["held"].as_str().unwrap().to_owned()
    }

    async fn count_of(&self, css: &str) -> usize {
        self.client.find_all(Locator::Css(css)).await.unwrap().len()
    }
}

#[tokio::test]
async fn a_shop_sells_reserves_and_releases_by_scanning() {
    for script in [true, false] {
        let Some(visit) = Visit::begin(script).await else {
            return;
        };
        sells(&visit).await;
    }
}

async fn sells(visit: &Visit) {
    visit.with_sample().await;
    visit.screen(320, 568).await;
    visit.go("/stock/sell").await;
    visit.scan(BARCODE).await;
    visit.told("1 skein sold").await;
    assert_eq!(visit.held("Umberlin DK"), "9 skeins");
    visit.is_whole("a sale on a phone").await;
    visit.click("#undo button").await;
    visit.told("Undone").await;
    assert_eq!(visit.held("Umberlin DK"), "10 skeins");

    visit.go("/stock/sell").await;
    visit.look("sell").await;
    visit.click("#sale input[value=reserve]").await;
    visit.fill("sale-amount", "4").await;
    visit.fill("sale-for", "Anna").await;
    visit.fill("sale-which", BARCODE).await;
    visit.enter().await;
    visit.told("4 skeins reserved").await;
    // For the same customer, until a sale ends it: the next scan is one ball.
    visit.scan(BARCODE).await;
    visit.told("1 skein reserved").await;
    visit.fill("sale-for", "Bo").await;
    visit.fill("sale-which", TWO_LOTS).await;
    visit.enter().await;
    visit.told("Which lot?").await;
    visit.look("sell-which-lot").await;
    visit.click("#sale-lot option:nth-child(3)").await;
    visit.click("#sale button.main").await;
    visit.told("1 skein reserved").await;
    visit.fill("sale-amount", "8").await;
    visit.fill("sale-for", "Cleo").await;
    visit.fill("sale-which", BARCODE).await;
    visit.enter().await;
    let refused = visit.told("To correct").await;
    assert!(refused.contains("5 skeins"), "{refused}");
    visit.look("sell-refused").await;

    visit.go("/stock/reservations").await;
    let list = visit.told("Release all for Anna").await;
    let (anna, bo) = (list.find("Anna").unwrap(), list.find("Bo").unwrap());
    assert!(anna < bo && list.contains("5 skeins"), "{list}");
    visit.look("reservations").await;
    visit.click("#release-1 button").await;
    visit.told("Released: all that was reserved for Anna").await;
    let list = visit.told("Release all for Bo").await;
    assert!(!list.contains("Release all for Anna"), "{list}");
    visit.click("#undo button").await;
    visit.told("Undone").await;
    visit.go("/stock/reservations").await;
    visit.told("Release all for Anna").await;

    // What was reserved for a customer goes with the sale.
    visit.go("/stock/sell").await;
    visit.fill("sale-for", "Anna").await;
    visit.fill("sale-amount", "5").await;
    visit.fill("sale-which", BARCODE).await;
    visit.enter().await;
    visit.told("5 skeins sold to Anna").await;
    visit.go("/stock/reservations").await;
    let list = visit.told("Release all for Bo").await;
    assert!(!list.contains("Anna"), "{list}");
    visit.desk.text(&["verify"]);
}

#[tokio::test]
async fn what_runs_low_is_narrowed_down_and_leads_to_its_yarn() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.with_sample().await;
    visit.screen(320, 568).await;
    visit.go("/stock").await;
    visit.click("a[href='/stock/low']").await;
    visit.told("Running low").await;
    let all = visit.count_of("tbody tr").await;
    // The list may be long; what narrows it down is on the first screen.
    let field = "return document.querySelector('#low-below').getBoundingClientRect().bottom";
    assert!(visit.said(field).await.as_f64().unwrap() <= 568.0);
    visit.look("low").await;
    visit.fill("low-below", "1").await;
    visit.enter().await;
    visit.told("fewer than 1 skein free").await;
    let few = visit.count_of("tbody tr").await;
    assert!(0 < few && few < all, "{few} of {all}");
    visit.fill("low-below", "few").await;
    visit.enter().await;
    visit.told("To correct").await;
    visit.look("low-refused").await;
    visit.go("/stock/low?below=1").await;
    visit.click("tbody a").await;
    visit.told("As its label says").await;
}

#[tokio::test]
async fn the_shelves_are_counted_and_the_differences_recorded_and_taken_back() {
    for script in [true, false] {
        let Some(visit) = Visit::begin(script).await else {
            return;
        };
        counts(&visit).await;
    }
}

async fn counts(visit: &Visit) {
    visit.with_sample().await;
    visit.screen(320, 568).await;
    visit.go("/stock/count").await;
    visit.look("count-begin").await;
    visit.click("#begin button").await;
    visit.told("Nothing is counted yet").await;
    for scanned in 1..=3 {
        visit.scan(BARCODE).await;
        let line = format!("{scanned} skein");
        visit.told(&line).await;
    }
    visit.told("1 difference").await;
    visit.scan(TWO_LOTS).await;
    visit.told("Which lot?").await;
    visit.click("#scan-lot option:nth-child(2)").await;
    visit.fill("scan-amount", "7").await;
    visit.click("#scan button.main").await;
    visit.told("2 lots counted: 1 difference").await;
    visit.fill("scan-which", "12345678").await;
    visit.enter().await;
    visit.told("12345678").await;
    visit.look("count-refused").await;

    // The page is closed; whoever goes on finds it as it was.
    visit.go("/stock/count").await;
    visit.told("Under way").await;
    visit.click("main .links a").await;
    visit.told("2 lots counted: 1 difference").await;
    visit.look("count").await;
    visit.is_whole("a count on a phone").await;
    // The line that was scanned last is taken out, then put right.
    visit.click("form[id^=take-] button").await;
    visit.told("1 lot counted").await;
    visit.fill("scan-amount", "4").await;
    visit.fill("scan-which", BARCODE).await;
    visit.enter().await;
    visit.told("7 skeins").await;
    assert_eq!(visit.held("Umberlin DK"), "10 skeins", "not yet recorded");
    visit.click("#book button").await;
    visit.told("1 difference recorded").await;
    assert_eq!(visit.held("Umberlin DK"), "7 skeins");
    visit.look("count-recorded").await;
    visit.go("/undo").await;
    visit.click("#undo-1 button").await;
    visit.told("Undone").await;
    assert_eq!(visit.held("Umberlin DK"), "10 skeins");

    // A count of one place that is given up records nothing.
    visit.go("/stock/count").await;
    visit.fill("begin-place", "shelf 3").await;
    visit.click("#begin button").await;
    visit.told("Count of shelf 3").await;
    visit.click("#drop summary").await;
    visit.click("#drop-sure").await;
    visit.click("#drop button").await;
    visit.told("Nothing was recorded").await;
    visit.desk.text(&["verify"]);
}

#[tokio::test]
async fn a_knitter_takes_back_one_mistake_after_the_other() {
    for script in [true, false] {
        let Some(visit) = Visit::begin(script).await else {
            return;
        };
        takes_back(&visit).await;
    }
}

async fn takes_back(visit: &Visit) {
    visit.with_sample().await;
    visit.screen(320, 568).await;
    let exported = visit.desk.text(&["export", "stock"]);
    let yarns = visit.desk.text(&["export", "yarns"]);
    let lot = visit.desk.json(&["stock", "list", "Umberlin DK"]);
    let lot = lot["rows"][0]["number"].to_string();
    // A wrong length, then yarn used from the wrong lot.
    visit.go("/yarns/named?name=Yeltamar%2C+Umberlin+DK").await;
    visit.click("a[href$='/edit']").await;
    visit.told("Edit").await;
    visit.fill("yarn-length", "9.5 m").await;
    visit.click("#yarn button.main").await;
    visit.told("saved").await;
    visit.go(&format!("/stock/{lot}")).await;
    visit.fill("entry-amount", "3 skeins").await;
    visit.click("#entry button.main").await;
    visit.told("Left: 7 skeins").await;
    visit.go(&format!("/stock/{lot}/edit")).await;
    visit.fill("lot-place", "the wrong drawer").await;
    visit.click("#lot button.main").await;
    visit.told("changed").await;
    visit.look("mistakes-lot").await;
    // The last mistake by the button beside it, the others from the list of changes.
    visit.click("#undo button").await;
    visit.told("Undone").await;
    visit.go("/undo").await;
    visit.told("Undo").await;
    visit.look("undo").await;
    visit.click("#undo-1 button").await;
    visit.told("Undone").await;
    visit.told("10 skeins").await;
    visit.go("/undo").await;
    visit.click("#undo-1 button").await;
    visit.told("Undone").await;
    assert_eq!(visit.desk.text(&["export", "stock"]), exported);
    assert_eq!(visit.desk.text(&["export", "yarns"]), yarns);

    // A yarn is removed by mistake, and comes back; one that the stash has is not.
    for (yarn, told) in [
        ("Quandrow%2C+Drindle", "still in use by a lot"),
        ("Bexolune%2C+Wrongabel+Lace", "removed"),
    ] {
        visit.go(&format!("/yarns/named?name={yarn}")).await;
        visit.click("a[href$='/edit']").await;
        visit.click("#remove summary").await;
        visit.click("#remove-sure").await;
        visit.click("#remove button").await;
        visit.told(told).await;
        visit.is_whole("a removal on a phone").await;
    }
    let kept = visit.desk.text(&["export", "yarns"]);
    assert!(kept.contains("Drindle") && !kept.contains("Wrongabel"));
    visit.click("#undo button").await;
    visit.told("Undone").await;
    assert_eq!(visit.desk.text(&["export", "stock"]), exported);
    assert_eq!(visit.desk.text(&["export", "yarns"]), yarns);
    visit.desk.text(&["verify"]);
}
