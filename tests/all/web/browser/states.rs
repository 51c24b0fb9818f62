//! Every page and state that the stories do not come by.

use super::{
    super::{JUMPER, PAD, STOCK, YARNS},
    Visit,
};
use fantoccini::Locator;

impl Visit {
    /// Takes a pasted table.
    async fn take(&self, of: &str, table: &str) {
        self.go("/tables").await;
        self.click(&format!("#look input[value={of}]")).await;
        self.fill("look-text", table).await;
        self.click("#look button.main").await;
        self.told("What will change").await;
        self.click("#take button").await;
        self.told("imported").await;
    }

    /// Opens a page in the form of which another visitor changes something, so
    /// that keeping it clashes.
    async fn clash(&self, path: &str, field: &str, add: &str, button: &str, done: &str) {
        let first = self.client.window().await.unwrap();
        self.go(path).await;
        let second = self.client.new_window(true).await.unwrap();
        self.client.switch_to_window(second.handle).await.unwrap();
        self.go(path).await;
        self.append(field, add).await;
        self.click(button).await;
        self.told(done).await;
        self.client.close_window().await.unwrap();
        self.client.switch_to_window(first).await.unwrap();
        self.append(field, &add.replace("theirs", "mine")).await;
        self.click(button).await;
        self.told("someone else changed").await;
    }

    async fn append(&self, id: &str, text: &str) {
        let css = format!("#{id}");
        let field = self.client.find(Locator::Css(&css)).await.unwrap();
        field.send_keys(text).await.unwrap();
    }
}

/// The first yarns of the sample and the stock of them.
fn few() -> (String, String) {
    let yarns: Vec<&str> = YARNS.lines().take(12).collect();
    let known = |line: &&str| {
        let mut cells = line.split(',');
        let title = format!("{},{},", cells.next().unwrap(), cells.next().unwrap());
        yarns.iter().any(|yarn| yarn.starts_with(&title))
    };
    let stock: Vec<&str> = STOCK.lines().filter(known).collect();
    (yarns.join("\n"), stock.join("\n"))
}

#[tokio::test]
async fn the_passcode_is_asked_and_a_wrong_one_told() {
    let Some(visit) = Visit::locked("three small words").await else {
        return;
    };
    visit.go("/yarns").await;
    visit.told("Whoever runs the program set it").await;
    visit.look("enter").await;
    visit.fill("enter-passcode", "a wrong guess").await;
    visit.click("#enter button").await;
    visit.told("this is not the passcode").await;
    visit.look("enter-wrong").await;
    visit.fill("enter-passcode", "three small words").await;
    visit.click("#enter button").await;
    visit.told("Lock this device").await;
    visit.look("ask-locked").await;
    visit.click("form[action='/leave'] button").await;
    visit.told("Whoever runs the program set it").await;
    for _ in 0..5 {
        visit.fill("enter-passcode", "a wrong guess").await;
        visit.click("#enter button").await;
        visit.told("To correct").await;
    }
    visit.fill("enter-passcode", "a wrong guess").await;
    visit.click("#enter button").await;
    visit.told("too many wrong tries").await;
    visit.look("enter-limited").await;
}

#[tokio::test]
async fn yarns_and_swatches_in_every_state() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/yarns").await;
    visit.told("You have no yarns yet").await;
    visit.look("yarns-empty").await;
    visit.go("/yarns/new").await;
    visit.look("yarn-new").await;
    visit.go("/yarns/new?band=50+g+%3D+125+m%2C+zorp").await;
    visit.told("Read from the label").await;
    visit.look("yarn-new-read").await;
    visit.fill("yarn-mass", "heavy").await;
    visit.click("#yarn button.main").await;
    visit.told("To correct").await;
    visit.look("yarn-new-refused").await;
    let (yarns, _) = few();
    visit.take("yarns", &yarns).await;
    visit.go("/yarns").await;
    visit.look("yarns").await;
    visit.go("/yarns?q=Umbrelin").await;
    visit.look("yarns-like").await;
    visit.go("/yarns?q=zzzz").await;
    visit.look("yarns-none").await;
    visit.go("/yarns/1/swatches/new").await;
    visit.look("swatch-new").await;
    visit.fill("swatch-needle", "big").await;
    visit.click("#swatch button.main").await;
    visit.told("To correct").await;
    visit.look("swatch-refused").await;
    visit.fill("swatch-needle", "4 mm").await;
    visit
        .fill("swatch-before", "21 sts x 28 rows / 10 cm, garter, flat")
        .await;
    visit.fill("swatch-after", "20 sts x 27 rows / 10 cm").await;
    visit.click("#swatch button.main").await;
    visit.told("Swatch of").await;
    visit.look("yarn-with-swatch").await;
    visit
        .clash(
            "/swatches/1/edit",
            "swatch-notes",
            " theirs",
            "#swatch button.main",
            "saved",
        )
        .await;
    visit.look("swatch-clash").await;
    visit.go("/swatches/1/edit").await;
    visit.click("#remove summary").await;
    visit.look("swatch-edit").await;
    visit.click("#remove button").await;
    visit.told("Nothing was removed").await;
    visit.look("trouble").await;
    visit.go("/nowhere").await;
    visit.look("nowhere").await;
    visit.go("/?units").await;
    visit.click("button[value=yards]").await;
    visit.told("Yards and ounces come first").await;
    visit.go("/yarns/1").await;
    visit.look("yarn-yards").await;
}

#[tokio::test]
async fn stock_and_tables_in_every_state() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/stock").await;
    visit.look("stock-empty").await;
    let (yarns, stock) = few();
    visit.take("yarns", &yarns).await;
    visit.take("stock", &stock).await;
    visit.look("tables-taken").await;
    visit.go("/stock").await;
    visit.look("stock-full").await;
    visit.go("/stock/buy").await;
    visit.look("buy").await;
    visit.fill("buy-yarn", "Drindel").await;
    visit.fill("buy-amount", "some").await;
    visit.click("#buy button.main").await;
    visit.told("To correct").await;
    visit.look("buy-refused").await;
    visit.go("/stock/1").await;
    visit.fill("entry-amount", "999 skeins").await;
    visit.click("#entry button.main").await;
    visit.told("To correct").await;
    visit.look("lot-refused").await;
    visit.go("/stock/1/edit").await;
    visit.look("lot-edit").await;
    visit
        .clash(
            "/stock/1/edit",
            "lot-place",
            " theirs",
            "#lot button.main",
            "changed",
        )
        .await;
    visit.look("lot-clash").await;
    visit.go("/tables").await;
    let bad = "maker,name,length,mass\nQuenby,Moor,long,50 g\nQuenby,Sandgate,125 m,50 g\n";
    visit.fill("look-text", bad).await;
    visit.click("#look button.main").await;
    visit.told("1 row with faults").await;
    visit.look("tables-bad").await;
    visit.go("/tables").await;
    visit.click("#look button.main").await;
    visit.told("there is no file and no text").await;
    visit.look("tables-refused").await;
}

#[tokio::test]
async fn patterns_and_questions_in_every_state() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/patterns").await;
    visit.look("patterns-empty").await;
    for (nth, pattern) in [JUMPER, PAD].into_iter().enumerate() {
        visit.go("/patterns/text").await;
        visit.fill("pattern-table", pattern).await;
        visit.click("#pattern button").await;
        visit
            .told(["Skerrablet saved", "Hobplate saved"][nth])
            .await;
    }
    visit.go("/patterns").await;
    visit.look("patterns").await;
    visit.go("/patterns/text/2/edit").await;
    visit.look("pattern-edit").await;
    visit
        .fill("pattern-table", &PAD.replace("hot pad", "hat stand"))
        .await;
    visit.click("#pattern button").await;
    visit.told("To correct").await;
    visit.look("pattern-refused").await;
    visit
        .clash(
            "/patterns/text/2/edit",
            "pattern-table",
            "\n# theirs",
            "#pattern button",
            "saved",
        )
        .await;
    visit.look("pattern-clash").await;
    let (yarns, stock) = few();
    visit.take("yarns", &yarns).await;
    visit.take("stock", &stock).await;
    visit.go("/answer?pattern=1&offered=stash").await;
    visit.look("answer-stash").await;
    visit.go("/answer?pattern=1&offered=one&yarn=Drindle").await;
    visit.told("metres per 100 g").await;
    visit.look("answer-cover").await;
    visit.go("/answer?pattern=1&offered=one&yarn=Drindel").await;
    visit.told("did you mean").await;
    visit.look("ask-perhaps").await;
    visit.click("button[value=yards]").await;
    visit.told("Yards and ounces come first").await;
    visit
        .go("/answer?pattern=1:2&offered=one&yarn=Drindle")
        .await;
    visit.look("answer-yards").await;
}

#[tokio::test]
async fn a_pattern_is_entered_in_fields() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/patterns/new").await;
    visit.look("pattern-paste").await;
    visit.fill("read-name", "Skerrablet").await;
    let text = "MC: Umberlin DK (100% wool; 120 m / 50 g), 10 (11, 12) balls; CC1: Hathrel DK (125 m / 50 g), 1 (1, 2) balls; 22 sts and 30 rows to 10 cm on 4 mm; sizes S (M, L), zorp";
    visit.fill("read-text", text).await;
    visit.click("#read button").await;
    visit.told("zorp").await;
    visit.look("pattern-fields").await;
    visit.click("button[value=size]").await;
    visit.told("Name of size 4").await;
    visit.click("#pattern button.main").await;
    visit.told("To correct").await;
    visit.look("pattern-fields-refused").await;
    visit
        .click("#pattern-purpose label:first-of-type input")
        .await;
    visit.click("#pattern button.main").await;
    visit.told("Pattern Skerrablet saved").await;
    visit.go("/patterns/1/edit").await;
    visit.look("pattern-fields-edit").await;
}

#[tokio::test]
async fn a_table_with_other_columns_is_read_answered_and_imported() {
    for script in [true, false] {
        let Some(visit) = Visit::begin(script).await else {
            return;
        };
        visit.go("/tables/any").await;
        visit.look("tables-any").await;
        let list = std::fs::read_to_string(crate::desk::sample("supplier.csv")).unwrap();
        visit.fill("look-text", &list).await;
        visit.click("#look button.main").await;
        visit.told("Who makes these yarns?").await;
        visit.look("tables-any-question").await;
        visit.fill("again-maker", "Zellandine").await;
        visit.click("#again button.main").await;
        visit.told("Importing it will add 3 yarns").await;
        visit.look("tables-any-read").await;
        visit.click("#take button").await;
        visit.told("imported").await;
    }
}
