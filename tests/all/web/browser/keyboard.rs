//! A story without a pointer: Tab, arrows, typing, Enter and Space. Wherever the
//! keyboard is, that is seen.

use super::{super::JUMPER, FOCUS, Visit};
use fantoccini::{
    actions::{InputSource, KeyAction, KeyActions},
    key::Key,
};

/// Where the keyboard is.
struct Focus {
    tag: String,
    id: String,
    text: String,
}

impl Visit {
    /// Where the keyboard is; it is in sight and has a ring around it.
    async fn focus(&self) -> Focus {
        let at = self.said(FOCUS).await;
        let text = |name: &str| at[name].as_str().unwrap().to_owned();
        let tag = text("tag");
        // Nothing has the keyboard yet, or what a link led to has it.
        if !["body", "main"].contains(&tag.as_str()) {
            assert_eq!(at["ring"], true, "no ring around {at}");
            assert_eq!(at["seen"], true, "out of sight: {at}");
        }
        Focus {
            tag,
            id: text("id"),
            text: text("text"),
        }
    }

    /// Goes on with Tab until the keyboard is where it is wanted.
    async fn tab_to(&self, what: &str, is_it: impl Fn(&Focus) -> bool) {
        for _ in 0..120 {
            if is_it(&self.focus().await) {
                return;
            }
            self.press(Key::Tab).await;
        }
        panic!("{what} is not reached with Tab");
    }

    async fn follow(&self, text: &str) {
        self.tab_to(text, |at| at.tag == "a" && at.text == text)
            .await;
        self.enter().await;
    }

    async fn push(&self, text: &str, with: Key) {
        self.tab_to(text, |at| at.tag == "button" && at.text == text)
            .await;
        self.press(with).await;
    }

    async fn go_in(&self, id: &str) {
        self.tab_to(id, |at| at.id == id).await;
    }

    async fn write(&self, id: &str, text: &str) {
        self.go_in(id).await;
        self.keys(text).await;
    }

    /// Types, key by key.
    async fn keys(&self, text: &str) {
        let mut keys = KeyActions::new("keys".to_owned());
        for value in text.chars() {
            let value = if value == '\n' {
                char::from(Key::Enter)
            } else {
                value
            };
            keys = keys
                .then(KeyAction::Down { value })
                .then(KeyAction::Up { value });
        }
        self.client.perform_actions(keys).await.unwrap();
    }

    async fn select_all(&self) {
        let control = char::from(Key::Control);
        let keys = KeyActions::new("keys".to_owned())
            .then(KeyAction::Down { value: control })
            .then(KeyAction::Down { value: 'a' })
            .then(KeyAction::Up { value: 'a' })
            .then(KeyAction::Up { value: control });
        self.client.perform_actions(keys).await.unwrap();
    }
}

#[tokio::test]
async fn all_of_it_goes_by_keyboard_and_where_one_is_is_seen() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.client.set_window_size(900, 700).await.unwrap();
    visit.go("/").await;
    visit.press(Key::Tab).await;
    let first = visit.focus().await;
    assert_eq!(first.text, "Skip to the content");
    visit.enter().await;
    visit.press(Key::Tab).await;
    assert_eq!(
        visit.focus().await.id,
        "ask-wants",
        "the links were skipped"
    );

    // A yarn is kept and a purchase of it entered.
    visit.go("/").await;
    visit.follow("Stash").await;
    visit.told("Your stash is empty").await;
    visit.follow("Your yarns").await;
    visit.told("You have no yarns yet").await;
    visit.follow("Add a yarn").await;
    visit.told("What the label says").await;
    for (field, text) in [
        ("maker", "Quenby"),
        ("name", "Sandgate"),
        ("length", "120 m"),
        ("mass", "50 g"),
        ("fibre", "100% wool"),
        ("gauge", "22 sts x 30 rows / 10 cm"),
    ] {
        visit.write(&format!("yarn-{field}"), text).await;
    }
    visit.enter().await;
    visit.told("Quenby, Sandgate saved").await;
    visit.follow("Add yarn you bought").await;
    visit.told("Dye lot").await;
    visit.write("buy-amount", "5 skeins").await;
    visit.write("buy-shade", "moss").await;
    visit.push("Add to the stash", Key::Space).await;
    visit.told("Left: 5 skeins").await;
    visit.follow("Stash").await;
    visit.told("Yarn, shade, lot or place").await;
    visit.follow("Quenby, Sandgate").await;
    visit.told("All entries").await;

    // A part ball is weighed: the arrow goes on within the choices.
    visit.tab_to("the choices", |at| at.text == "used").await;
    visit.press(Key::Down).await;
    assert_eq!(visit.focus().await.text, "weighed");
    visit.write("entry-amount", "2 + 30 g").await;
    visit.enter().await;
    visit.told("Recorded: ").await;

    // A pattern, in the place of the example.
    visit.follow("Patterns").await;
    visit.told("You have no patterns yet").await;
    visit.follow("Add a pattern").await;
    visit.follow("Write or upload a pattern file").await;
    visit.told("The pattern as text").await;
    visit.go_in("pattern-table").await;
    visit.select_all().await;
    visit.keys(JUMPER).await;
    visit.push("Save", Key::Space).await;
    visit.told("Pattern Skerrablet saved").await;

    // A question, refused first: the message leads to its field.
    visit.follow("Will it work?").await;
    visit.told("What the pattern wants").await;
    visit.write("ask-pattern", "Skerrablet, size M").await;
    visit.write("ask-yarn", "Quenby, Sandgate").await;
    visit.tab_to("the settings", |at| at.tag == "summary").await;
    visit.enter().await;
    visit.write("ask-tolerance", "a bit").await;
    visit.push("Will it work?", Key::Enter).await;
    visit.told("To correct").await;
    visit
        .tab_to("the message", |at| {
            at.tag == "a" && at.text.contains("a bit")
        })
        .await;
    visit.enter().await;
    assert_eq!(visit.focus().await.id, "ask-tolerance");
    visit.select_all().await;
    visit.keys("8%").await;
    visit.enter().await;
    visit.told("metres per 100 g").await;
    // What is folded can be reached, so that it can be opened.
    visit
        .tab_to("how it compares", |at| at.tag == "summary")
        .await;

    // Units, and a removal that is confirmed.
    visit.push("Put yards and ounces first", Key::Enter).await;
    visit.told("Yards and ounces come first").await;
    visit.follow("Patterns").await;
    visit.told("Add a pattern").await;
    visit.follow("Skerrablet").await;
    visit.told("Materials sheet").await;
    visit.follow("Edit").await;
    visit.told("Edit Skerrablet").await;
    visit
        .tab_to("the removal", |at| {
            at.tag == "summary" && at.text.starts_with("Remove")
        })
        .await;
    visit.enter().await;
    visit.go_in("remove-sure").await;
    visit.press(Key::Space).await;
    visit.push("Remove this pattern", Key::Enter).await;
    visit.told("You have no patterns yet").await;
}
